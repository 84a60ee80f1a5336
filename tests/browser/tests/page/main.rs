//! The page in a browser, with and without a network.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::case_sensitive_file_extension_comparisons,
    reason = "a test stops where something is missing and prints what it measured, and the names of our own files are as we wrote them"
)]

mod answer;
mod circuit;
#[path = "../../../../crates/pdf/tests/composed/mod.rs"]
mod composed;
mod files;
mod handing;
mod keeping;
mod kills;
mod language;
mod looks;
mod offline;
mod pad;
mod report;
mod shelf;
mod speed;
mod start;
mod steps;
mod trials;
mod update;
mod views;
mod worker;
