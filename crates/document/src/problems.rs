//! Problems of the input files as text and as JSON.

use records::Problem;
use serde::Serialize;

#[derive(Serialize)]
struct Document<'a> {
    format: u32,
    problems: Vec<Item<'a>>,
}

#[derive(Serialize)]
struct Item<'a> {
    file: &'a str,
    line: usize,
    column: usize,
    message: &'a str,
    hint: Option<&'a str>,
}

/// Writes problems as JSON.
pub fn json(problems: &[Problem]) -> String {
    let items = problems.iter().map(|problem| Item {
        file: &problem.file,
        line: problem.line,
        column: problem.column,
        message: &problem.message,
        hint: problem.hint.as_deref(),
    });
    crate::json::text(&Document {
        format: crate::json::FORMAT,
        problems: items.collect(),
    })
}

/// Writes problems one below the other.
pub fn text(problems: &[Problem]) -> String {
    let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
    lines.join("\n")
}
