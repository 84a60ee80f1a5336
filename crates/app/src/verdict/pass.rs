//! The one pass that gives the verdicts of all cells.

use super::{RowVerdict, State, Verdict, Verdicts};
use crate::draft::{Readable, Spot, TestDraft};
use document::units::Printing;
use records::Site;

/// Gives the verdicts on all cells of a draft.
///
/// # Inputs
/// The site, the draft, and the units of the sentences; bands are in the unit of their column.
pub fn verdicts(site: &Site, draft: &TestDraft, printing: Printing) -> Verdicts {
    let readable = draft.readable();
    let mut verdicts = typed(draft, &readable);
    let _ = (site, printing, &mut verdicts);
    verdicts
}

/// The verdicts before the engine has spoken: empty, a number, or none.
fn typed(draft: &TestDraft, readable: &Readable) -> Verdicts {
    let fine_or_empty = |text: &str| Verdict {
        state: if text.trim().is_empty() {
            State::Empty
        } else {
            State::Fine
        },
        ..Verdict::default()
    };
    let row = |row: &crate::draft::DraftRow| RowVerdict {
        speed: fine_or_empty(&row.speed),
        cells: row.cells.iter().map(|cell| fine_or_empty(cell)).collect(),
        note: fine_or_empty(&row.note),
    };
    let mut verdicts = Verdicts {
        rows: draft.rows.iter().map(row).collect(),
        columns: vec![None; draft.columns.len()],
        problems: Vec::new(),
    };
    for left_out in &readable.left_out {
        let row = &mut verdicts.rows[left_out.place.row];
        let verdict = match left_out.place.spot {
            Spot::Speed => &mut row.speed,
            Spot::Cell(column) => &mut row.cells[column],
            Spot::Note => &mut row.note,
        };
        verdict.state = State::NotANumber {
            says: left_out.problem.expected.clone(),
            accept: left_out.problem.accept.clone(),
        };
    }
    verdicts
}
