//! The sentences of the model that are neither the engine's nor the records'. One place, so that they can be translated.

use crate::what_if::{Choice, FilterState};
use crate::work::Refused;
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

/// Says that a year cannot be told.
pub(crate) fn no_date() -> Refused {
    Refused {
        says: "The last test has no date, so the year is not known".to_owned(),
        hint: Some("state the date on the screen of the test".to_owned()),
        lies_in_site: false,
    }
}

/// Names a change after what it changes.
pub(crate) fn change(choice: &Choice) -> String {
    let bore = choice.bore.as_ref();
    let returns = bore.map(|size| format!("returns in {size} pipe"));
    let filter = match choice.filter {
        FilterState::AsTested => None,
        FilterState::Clean => Some("a clean filter"),
        FilterState::HalfMore => Some("a filter at 1.5 times its clean drop"),
        FilterState::Double => Some("a filter at twice its clean drop"),
        FilterState::Triple => Some("a filter at 3 times its clean drop"),
    };
    let parts: Vec<String> = returns
        .into_iter()
        .chain(filter.map(str::to_owned))
        .collect();
    sentence_start(&parts.join(", "))
}

/// A hint as a sentence of its own.
fn sentence(hint: &str) -> String {
    format!("{}.", sentence_start(hint))
}

fn sentence_start(text: &str) -> String {
    let mut characters = text.chars();
    let first = characters.next().map(char::to_uppercase);
    let start: String = first.into_iter().flatten().collect();
    format!("{start}{}", characters.as_str())
}

/// What is said of a test whose file of readings is missing.
pub(crate) const READINGS_MISSING: &str = "the file of readings that the test names is missing";
/// What to do about that.
pub(crate) const READINGS_MISSING_HINT: &str = "add the file of readings, or type them anew";
/// What is expected of the speed of a row.
pub(crate) const SPEED_EXPECTED: &str = "the speed of the row in rpm, 0 for standby";
/// What is expected where the cells of a test have decimal commas.
pub(crate) const COMMA_EXPECTED: &str =
    "a comma before the decimals, as in other cells of the test";

/// Asks which of two numbers is meant.
pub(crate) fn write_one_of(one: &str, other: &str) -> String {
    format!("write {one} or {other}")
}
