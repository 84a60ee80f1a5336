//! The words, the rounding and the content of every answer, for terminal and JSON.
//!
//! The analysis comes in as numbers and codes and is never computed on here. [`content`] puts it into neutral
//! blocks, answer first; [`terminal`] renders blocks as text, and [`json`] the numbers as the contract names them.
//! [`figures`] puts the same answers into pictures, and [`circuit`] the pad. [`report`] composes what is handed to an owner,
//! and [`html`] renders it. English is the source text; `language` says it in another.

pub mod alternatives;
pub mod cautions;
pub mod circuit;
pub mod content;
pub mod figures;
pub mod html;
pub mod json;
pub mod language;
pub mod loss;
pub mod method;
pub(crate) mod money;
pub mod names;
pub mod number;
pub mod parts;
pub mod plan;
pub mod problems;
pub mod report;
pub mod schedule;
pub mod solved;
pub mod terminal;
pub mod track;
pub mod units;
pub mod words;
pub mod year;

#[cfg(test)]
mod readable;
