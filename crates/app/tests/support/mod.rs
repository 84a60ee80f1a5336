//! The demo's site and tests, and drafts of them, for the tests of the model.

#![expect(clippy::unwrap_used, reason = "what tests share fails by panicking")]
#![allow(dead_code, reason = "each test binary uses its share")]

use app::demo;
use app::draft::{Edit, Editing, Place, Spot, TestDraft};
use records::{Site, TestFiles, UnitSystem, read_site};

/// The site of the demo.
pub(crate) fn site() -> Site {
    read_site(&demo::pad().site).unwrap()
}

/// The files of a test of the demo.
pub(crate) fn files(index: usize) -> TestFiles {
    demo::pad().tests[index].clone()
}

/// The draft of a test of the demo.
pub(crate) fn draft(index: usize) -> TestDraft {
    TestDraft::from_files(&files(index)).unwrap()
}

/// An empty draft at the site of the demo.
pub(crate) fn empty() -> TestDraft {
    TestDraft::new("2026-07-01", &site(), UnitSystem::Us)
}

/// A cell of a draft.
pub(crate) fn cell(row: usize, column: usize) -> Place {
    Place {
        row,
        spot: Spot::Cell(column),
    }
}

/// The edit that types a text.
pub(crate) fn set(place: Place, text: &str) -> Edit {
    Edit::Set {
        place,
        text: text.to_owned(),
    }
}

/// Types rows of a test of the demo into an empty draft, in an order.
pub(crate) fn typed_like(index: usize, rows: impl Iterator<Item = usize>) -> TestDraft {
    let like = draft(index);
    let mut editing = Editing::new(empty());
    for (to, from) in rows.enumerate() {
        let from = &like.rows[from];
        let speed = from.speed.clone();
        editing.apply(&Edit::AddRow { speed }).unwrap();
        for (column, text) in from.cells.iter().enumerate() {
            editing.apply(&set(cell(to, column), text)).unwrap();
        }
    }
    editing.draft().clone()
}
