//! A test while it is typed: the text of its head, and its readings as a table of texts.
//!
//! The texts are the truth. A cell holds what was typed, number or not, and goes into the file of readings as it is;
//! rows and headings that nobody touched keep the very bytes that they were read with. Nothing here judges a reading:
//! that is [`crate::verdict`]'s, by the engine.

mod columns;
mod edit;
mod file;
mod history;
mod layout;
mod paste;
mod place;
mod readable;
mod speeds;

pub use columns::{default_columns, heading};
pub use edit::{Edit, EditError};
pub use file::{EMPTY_HEAD, OpenError};
pub use history::{Editing, MOST_UNDONE};
pub use paste::Pasted;
pub use place::{Place, Spot};
pub use readable::{LeftOut, Readable};
pub use speeds::{next_speed, speeds_of, start_speeds};

use layout::Layout;
use records::unit::Unit;
use records::{Measured, Separator};
use std::sync::Arc;

/// A test while it is typed.
#[derive(Clone, Debug)]
pub struct TestDraft {
    /// The stem of its files' names, by which results tell tests apart.
    pub name: String,
    /// The text of the test file.
    pub head_text: String,
    /// The columns of readings, without speed and note, which every row has.
    pub columns: Vec<DraftColumn>,
    /// The rows, in the order of the file.
    pub rows: Vec<DraftRow>,
    /// What parts the cells of the file of readings, and so whether decimals may stand after a comma.
    pub separator: Separator,
    layout: Arc<Layout>,
    /// The key of the next row.
    next_key: u32,
}

/// A column of readings.
#[derive(Clone, Debug, PartialEq)]
pub struct DraftColumn {
    /// The heading as it stands in the file: `flow A [gpm]`.
    pub heading: String,
    /// What it measures.
    pub measured: Measured,
    /// The meter that it is read on, where the heading names one.
    pub meter: Option<String>,
    /// The unit of its cells.
    pub unit: &'static Unit,
}

impl DraftColumn {
    /// The heading without its unit, as findings and rulings call the column.
    pub fn name(&self) -> String {
        self.column().name()
    }

    fn column(&self) -> records::Column {
        records::Column {
            heading: self.heading.clone(),
            measured: self.measured,
            meter: self.meter.clone(),
            unit: Some(self.unit),
        }
    }
}

/// A row, alike from edit to edit whatever moves around it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RowKey(u32);

/// One row as typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DraftRow {
    /// Which row it is.
    pub key: RowKey,
    /// The speed.
    pub speed: String,
    /// One text for each column.
    pub cells: Vec<String>,
    /// The note.
    pub note: String,
}

impl PartialEq for TestDraft {
    /// Whether the same is typed in both.
    fn eq(&self, other: &Self) -> bool {
        (&self.name, &self.head_text, self.separator)
            == (&other.name, &other.head_text, other.separator)
            && (&self.columns, &self.rows) == (&other.columns, &other.rows)
    }
}
