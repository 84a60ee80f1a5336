//! How the file of a draft lies on the page: the order of its columns, and the bytes of what nobody has touched.

use super::{DraftColumn, DraftRow, RowKey};
use records::Separator;
use std::collections::BTreeMap;

/// What a column of the file holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Slot {
    Speed,
    /// The cell of a column of the draft.
    Cell(usize),
    Note,
}

/// The layout of a file of readings.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Layout {
    /// The bare name of the file, where it has another than the test's.
    pub(super) file: Option<String>,
    /// The heading of the speeds.
    pub(super) speed_heading: String,
    /// The columns of the file, from the left.
    pub(super) slots: Vec<Slot>,
    /// What was read, with its bytes.
    pub(super) read: Option<AsRead>,
}

/// A file as it was read.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct AsRead {
    pub(super) separator: Separator,
    pub(super) columns: Vec<DraftColumn>,
    /// The bytes up to the first row.
    pub(super) start: String,
    /// Each row with its bytes.
    pub(super) rows: BTreeMap<RowKey, (DraftRow, String)>,
}

impl Layout {
    /// The layout of a new file: speed, the columns, note.
    pub(super) fn of(columns: usize) -> Self {
        let cells = (0..columns).map(Slot::Cell);
        Self {
            file: None,
            speed_heading: "speed [rpm]".to_owned(),
            slots: std::iter::once(Slot::Speed)
                .chain(cells)
                .chain([Slot::Note])
                .collect(),
            read: None,
        }
    }

    /// The same with another set of columns; those that are new stand before the note, and nothing keeps its bytes.
    pub(super) fn with_columns(&self, columns: usize) -> Self {
        Self {
            file: self.file.clone(),
            speed_heading: self.speed_heading.clone(),
            ..Self::of(columns)
        }
    }
}

impl AsRead {
    /// The bytes of a row that is as it was read.
    pub(super) fn text_of(&self, row: &DraftRow) -> Option<&str> {
        let (read, text) = self.rows.get(&row.key)?;
        (read == row).then_some(text.as_str())
    }
}
