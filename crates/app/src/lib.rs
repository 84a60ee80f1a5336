//! The page without its screen: what goes into the engine and what comes out of it, as plain data.
//!
//! Everything here runs natively too and is tested there. What needs a browser is in `page`, which is part of the
//! program alone. Nothing here computes: readings go to the engine as text, and its answer comes back as words.

pub mod answer;
pub mod backup;
pub mod circuit;
pub mod day_form;
pub mod demo;
pub mod draft;
pub mod engine;
pub mod first_steps;
pub mod gathered;
pub mod guided;
pub mod letterhead;
pub mod library;
pub mod lineup;
pub mod marks;
pub mod next;
pub mod origin;
pub mod parts;
pub mod planned;
pub mod plumbing;
pub mod store;
pub mod verdict;
pub mod what_if;
mod words;
pub mod work;
