//! The sentences of the model that are neither the engine's nor the records'. One place, so that they can be translated.

use crate::what_if::{Choice, FilterState};
use crate::work::Refused;
use document::problems::said;
use document::say;
use document::units::Printing;
use records::{CellProblem, Told, told};

/// Says what is wrong with a text that is no reading.
pub(crate) fn not_a_reading(text: &str, problem: &CellProblem, printing: Printing) -> String {
    say!(
        printing,
        "“{text}” is kept, but not counted; expected {expected}.",
        text = text.trim(),
        expected = said(&problem.expected, printing)
    )
}

/// Says what to do with a text that is no reading.
pub(crate) fn mend(problem: &CellProblem, printing: Printing) -> String {
    problem.hint.as_ref().map_or_else(
        || say!(printing, "Type it again.").to_owned(),
        |hint| sentence(&said(hint, printing)),
    )
}

/// Says what to do about a speed that is missing.
pub(crate) fn speed_missing(printing: Printing) -> String {
    say!(
        printing,
        "Type the speed first: without it no reading of this row counts."
    )
    .to_owned()
}

/// Says that a year cannot be told.
pub(crate) fn no_date(printing: Printing) -> Refused {
    Refused {
        says: say!(
            printing,
            "The last test has no date, so the year is not known"
        )
        .to_owned(),
        hint: Some(say!(printing, "state the date on the screen of the test").to_owned()),
        lies_in_site: false,
    }
}

/// Names a change after what it changes.
pub(crate) fn change(choice: &Choice, printing: Printing) -> String {
    let bore = choice.bore.as_ref();
    let returns = bore.map(|size| say!(printing, "returns in {size} pipe", size));
    let filter = match choice.filter {
        FilterState::AsTested => None,
        FilterState::Clean => Some(say!(printing, "a clean filter")),
        FilterState::HalfMore => Some(say!(printing, "a filter at 1.5 times its clean drop")),
        FilterState::Double => Some(say!(printing, "a filter at twice its clean drop")),
        FilterState::Triple => Some(say!(printing, "a filter at 3 times its clean drop")),
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
pub(crate) fn readings_missing() -> Told {
    told!("the file of readings that the test names is missing")
}

/// What to do about that.
pub(crate) fn readings_missing_hint() -> Told {
    told!("add the file of readings, or type them anew")
}

/// What is expected of the speed of a row.
pub(crate) fn speed_expected() -> Told {
    told!("the speed of the row in rpm, 0 for standby")
}

/// What is expected where the cells of a test have decimal commas.
pub(crate) fn comma_expected() -> Told {
    told!("a comma before the decimals, as in other cells of the test")
}

/// Asks which of two numbers is meant.
pub(crate) fn write_one_of(one: &str, other: &str) -> Told {
    told!("write {one} or {other}", one, other)
}
