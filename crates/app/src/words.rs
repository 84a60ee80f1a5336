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

/// The evaluation of uncertainty behind every answer.
pub(crate) const GUIDE: &str =
    "Guide to the expression of uncertainty in measurement, JCGM 100:2008, section 5.1.2.";
/// How flow is computed.
pub(crate) const FLOW_LAW: &str = "One law through all flows that count: Q flow, N speed, s slope, N₀ the speed at which flow starts. The law carries a smooth departure of 3 % or what 8 steps and more show.";
/// How power is computed.
pub(crate) const POWER_LAW: &str = "One law through all powers that count: P₀ is the draw that does not depend on speed, m the exponent of the rest. The law carries a smooth departure of 4 % or what 8 steps and more show.";
/// How energy per volume is computed.
pub(crate) const ENERGY_LAW: &str = "The law of power over the law of flow at the speed.";
/// How the fixed draw is computed.
pub(crate) const FIXED_DRAW_LAW: &str =
    "The running law drawn on to zero speed. It is not the reading with the pump at rest.";
/// What the exponent of power says.
pub(crate) const EXPONENT_LAW: &str = "How steeply the moving part of the draw grows with speed; the affinity laws alone would say 3.";
