//! The sentences of the model that are neither the engine's nor the records'. One place, so that they can be translated.

use records::CellProblem;

/// Says what is wrong with a text that is no reading.
pub(crate) fn not_a_reading(text: &str, problem: &CellProblem) -> String {
    format!(
        "“{}” is kept, but not counted; expected {}.",
        text.trim(),
        problem.expected
    )
}

/// Says what to do with a text that is no reading.
pub(crate) fn mend(problem: &CellProblem) -> String {
    problem
        .hint
        .as_ref()
        .map_or_else(|| "Type it again.".to_owned(), |hint| sentence(hint))
}

/// Says what to do about a speed that is missing.
pub(crate) const SPEED_MISSING: &str =
    "Type the speed first: without it no reading of this row counts.";

/// A hint as a sentence of its own.
fn sentence(hint: &str) -> String {
    let mut characters = hint.chars();
    let first = characters.next().map(char::to_uppercase);
    let start: String = first.into_iter().flatten().collect();
    format!("{start}{}.", characters.as_str())
}
