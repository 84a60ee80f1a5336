//! The empty file of readings that belongs to a plan: its columns and its speeds, and nothing that was not read.

use super::Subject;
use crate::number;
use crate::units::Printing;
use fieldtest::Why;
use records::{CellText, Separator, UnitSystem, write_typed_row};

/// A file is text for a machine, the same in every language.
const MACHINE: Printing = Printing::english(UnitSystem::Si);

/// Writes the file for the valves of the plan; another line-up is a test of its own with the same columns.
pub fn readings(subject: &Subject<'_>) -> String {
    let columns = &subject.plan.columns;
    let mut text = String::new();
    let mut row = |first: &str, cells: Vec<CellText<'_>>, note: &str| {
        let mut all = vec![CellText::Free(first)];
        all.extend(cells);
        all.push(CellText::Free(note));
        text.push_str(&write_typed_row(&all, Separator::Comma));
    };
    let headings = columns
        .iter()
        .map(|column| CellText::Free(&column.column.heading));
    row("speed [rpm]", headings.collect(), "note");
    let empty = || {
        columns
            .iter()
            .map(|_| CellText::Reading(""))
            .collect::<Vec<_>>()
    };
    row("0", empty(), "pump off");
    for step in &subject.plan.steps {
        let note = match step.why {
            Why::Narrows { .. } => "",
            Why::DriftCheck => "again",
            Why::LineUp { .. } => continue,
        };
        row(&number::rpm(MACHINE, step.speed_rpm), empty(), note);
    }
    text
}
