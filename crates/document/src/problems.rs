//! Problems of the input files as text and as JSON.

use crate::json::FORMAT;
use crate::language::{later, text as translated};
use crate::units::Printing;
use records::{Language, Problem, Told};
use serde::Serialize;

#[derive(Serialize)]
struct Document {
    format: u32,
    problems: Vec<Item>,
}

#[derive(Serialize)]
struct Item {
    file: String,
    line: usize,
    column: usize,
    message: String,
    hint: Option<String>,
}

/// Says what is told of a file.
pub fn said(told: &Told, printing: Printing) -> String {
    told.said(&|source| translated(printing.language, "", source))
}

/// Says what to do, where there is something.
pub fn hint(problem: &Problem, printing: Printing) -> Option<String> {
    let hint = problem.hint.as_ref()?;
    Some(said(hint, printing))
}

/// Writes problems as JSON.
pub fn json(problems: &[Problem], printing: Printing) -> String {
    let items = problems.iter().map(|problem| Item {
        file: problem.file.clone(),
        line: problem.line,
        column: problem.column,
        message: said(&problem.message, printing),
        hint: hint(problem, printing),
    });
    crate::json::text(&Document {
        format: FORMAT,
        problems: items.collect(),
    })
}

/// Writes problems one below the other.
pub fn text(problems: &[Problem], language: Language) -> String {
    let lines = problems.iter().map(|problem| {
        let hint = translated(language, "", later!("hint"));
        problem.written(hint, &|source| translated(language, "", source))
    });
    lines.collect::<Vec<String>>().join("\n")
}
