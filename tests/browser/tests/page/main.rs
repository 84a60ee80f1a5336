//! The page in a browser, with and without a network.

mod answer;
mod looks;
mod offline;
mod start;
mod update;
