//! The words of the screens, one file for each: whole sentences, so that they can be put into another language.

pub(super) mod circuit;
pub(super) mod first_steps;
pub(super) mod guided;
pub(super) mod help;
pub(super) mod hints;
pub(super) mod next;
pub(super) mod plan;
pub(super) mod report;
pub(super) mod result;
pub(super) mod settings;
pub(super) mod shell;
pub(super) mod site;
pub(super) mod sites;
pub(super) mod test;
pub(super) mod undo;

use document::number;
use document::units::Printing;
use records::UnitSystem;

/// Writes a speed, in revolutions a minute in every system of units.
pub(super) fn rpm(speed_rpm: f64) -> String {
    number::rpm(Printing::english(UnitSystem::default()), speed_rpm)
}

/// Writes a day, kept as `2026-11-28`. The one place where the page does: the same way everywhere, which reads alike in
/// every country.
pub(super) fn date(day: &str) -> String {
    day.to_owned()
}
