//! From the files of a test to its draft and back. Files that are opened and written unchanged are the same bytes.

use super::layout::{AsRead, Layout, Slot};
use super::{DraftColumn, DraftRow, RowKey, TestDraft, default_columns};
use crate::words;
use records::{
    CellText, Measured, Problem, Separator, Site, Source, TestFiles, TypedHeading, TypedReadings,
    UnitSystem, read_typed, readings_file, write_typed_row,
};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The head of a test of which nothing is known yet.
pub const EMPTY_HEAD: &str = "format = 1\n";

/// Why the files of a test cannot be shown as a table. Their texts are kept and can be mended as texts.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum OpenError {
    /// The readings stand as `[[step]]` tables in the test file.
    #[error("the readings of this test stand in the test file itself, as [[step]] tables")]
    InlineSteps,
    /// The texts cannot be read that far.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Texts(Vec<Problem>),
}

/// The readings as they are written, and where each row stands in them.
pub(super) struct Written {
    pub(super) text: String,
    /// How many of its bytes come before the first row.
    pub(super) start: usize,
    /// The line of each row, from 1.
    pub(super) lines: Vec<usize>,
}

impl TestDraft {
    /// Makes an empty test.
    ///
    /// # Inputs
    /// The stem of its files' names; the site; the units to read in where the site names none.
    pub fn new(name: &str, site: &Site, units: UnitSystem) -> Self {
        let columns = default_columns(site, units);
        let layout = Layout::of(columns.len());
        Self {
            name: name.to_owned(),
            head_text: format!("{EMPTY_HEAD}readings = \"{name}.csv\"\n"),
            columns,
            rows: Vec::new(),
            separator: Separator::Comma,
            layout: Arc::new(layout),
            next_key: 0,
        }
    }

    /// Opens the files of a test.
    ///
    /// # Errors
    /// What keeps the readings from being shown as a table.
    pub fn from_files(files: &TestFiles) -> Result<Self, OpenError> {
        let named = readings_file(&files.test).map_err(OpenError::Texts)?;
        if named.is_none() && files.readings.is_none() {
            return Err(OpenError::InlineSteps);
        }
        let name = stem(&files.test.name).to_owned();
        let Some(source) = &files.readings else {
            return Err(OpenError::Texts(vec![Problem {
                file: files.test.name.clone(),
                line: 0,
                column: 0,
                message: words::readings_missing(),
                hint: Some(words::readings_missing_hint()),
            }]));
        };
        let typed = read_typed(source).map_err(OpenError::Texts)?;
        Ok(opened(name, files.test.text.clone(), &source.name, typed))
    }

    /// Writes the files of the test. Whatever was typed stands in them as typed.
    pub fn to_files(&self) -> TestFiles {
        TestFiles {
            test: Source {
                name: format!("{}.toml", self.name),
                text: self.head_text.clone(),
            },
            readings: Some(Source {
                name: self.readings_name(),
                text: self.readings_text(),
            }),
        }
    }

    /// Returns the bare name of the file of readings.
    pub fn readings_name(&self) -> String {
        let own = || format!("{}.csv", self.name);
        self.layout.file.clone().unwrap_or_else(own)
    }

    /// Writes the file of readings, as `records` reads it.
    pub fn readings_text(&self) -> String {
        self.written().text
    }

    /// Lists the line of each row in the file of readings, by which findings and rulings call it.
    pub fn lines(&self) -> Vec<usize> {
        self.written().lines
    }

    pub(super) fn written(&self) -> Written {
        let slots = self.slots();
        let read = self.layout.read.as_ref().filter(|read| {
            (read.separator, &read.columns) == (self.separator, &self.columns)
                && slots.len() == self.layout.slots.len()
        });
        let line_end = match read {
            Some(read) if read.start.ends_with("\r\n") => "\r\n",
            _ => "\n",
        };
        let mut text = read.map_or_else(|| self.heading_row(&slots), |read| read.start.clone());
        let start = text.len();
        let mut lines = Vec::with_capacity(self.rows.len());
        let mut line = 1 + line_ends(&text);
        for row in &self.rows {
            if !text.ends_with(['\n', '\r']) {
                text.push_str(line_end);
                line += 1;
            }
            lines.push(line);
            let kept = read.and_then(|read| read.text_of(row)).map(str::to_owned);
            let piece = kept.unwrap_or_else(|| {
                let written = self.row_text(row, &slots);
                written.trim_end_matches('\n').to_owned() + line_end
            });
            line += line_ends(&piece);
            text.push_str(&piece);
        }
        Written { text, start, lines }
    }

    /// The columns of the file; one of notes joins them where the file has none and a note was typed.
    pub(super) fn slots(&self) -> Vec<Slot> {
        let mut slots = self.layout.slots.clone();
        let has_notes = self.rows.iter().any(|row| !row.note.is_empty());
        if has_notes && !slots.contains(&Slot::Note) {
            slots.push(Slot::Note);
        }
        slots
    }

    fn heading_row(&self, slots: &[Slot]) -> String {
        let heading = |slot: &Slot| match slot {
            Slot::Speed => self.layout.speed_heading.as_str(),
            Slot::Cell(column) => self
                .columns
                .get(*column)
                .map_or("", |column| &column.heading),
            Slot::Note => "note",
        };
        let cells: Vec<CellText<'_>> = slots
            .iter()
            .map(|slot| CellText::Free(heading(slot)))
            .collect();
        write_typed_row(&cells, self.separator)
    }

    pub(super) fn row_text(&self, row: &DraftRow, slots: &[Slot]) -> String {
        let cell = |slot: &Slot| match slot {
            Slot::Speed => CellText::Reading(&row.speed),
            Slot::Cell(column) => CellText::Reading(row.cells.get(*column).map_or("", |cell| cell)),
            Slot::Note => CellText::Free(&row.note),
        };
        let cells: Vec<CellText<'_>> = slots.iter().map(cell).collect();
        write_typed_row(&cells, self.separator)
    }

    /// Adds a row behind the others.
    pub(super) fn push_row(&mut self, speed: String) {
        self.insert_row(self.rows.len(), speed);
    }

    pub(super) fn insert_row(&mut self, at: usize, speed: String) {
        let row = DraftRow {
            key: RowKey(self.next_key),
            speed,
            cells: vec![String::new(); self.columns.len()],
            note: String::new(),
        };
        self.next_key += 1;
        self.rows.insert(at.min(self.rows.len()), row);
    }
}

fn opened(name: String, head_text: String, file: &str, typed: TypedReadings) -> TestDraft {
    let mut columns = Vec::new();
    let mut layout = Layout {
        file: (file != format!("{name}.csv")).then(|| file.to_owned()),
        ..Layout::default()
    };
    for heading in typed.headings {
        let slot = match heading {
            TypedHeading::Note => Slot::Note,
            TypedHeading::Column(column) if column.measured == Measured::Speed => {
                layout.speed_heading = column.heading;
                Slot::Speed
            }
            TypedHeading::Column(column) => {
                // A heading of a file always names its unit.
                columns.extend(column.unit.map(|unit| DraftColumn {
                    heading: column.heading,
                    measured: column.measured,
                    meter: column.meter,
                    unit,
                }));
                Slot::Cell(columns.len() - 1)
            }
        };
        layout.slots.push(slot);
    }
    let mut rows = Vec::new();
    let mut as_read = BTreeMap::new();
    for (key, typed) in (0..).map(RowKey).zip(typed.rows) {
        let row = row(key, &layout.slots, typed.cells, columns.len());
        as_read.insert(key, (row.clone(), typed.text));
        rows.push(row);
    }
    layout.read = Some(AsRead {
        separator: typed.separator,
        columns: columns.clone(),
        start: typed.start,
        rows: as_read,
    });
    TestDraft {
        name,
        head_text,
        columns,
        next_key: u32::try_from(rows.len()).unwrap_or(u32::MAX),
        rows,
        separator: typed.separator,
        layout: Arc::new(layout),
    }
}

fn row(key: RowKey, slots: &[Slot], texts: Vec<String>, columns: usize) -> DraftRow {
    let mut row = DraftRow {
        key,
        speed: String::new(),
        cells: vec![String::new(); columns],
        note: String::new(),
    };
    for (slot, text) in slots.iter().zip(texts) {
        match slot {
            Slot::Speed => row.speed = text,
            Slot::Note => row.note = text,
            Slot::Cell(column) => {
                if let Some(cell) = row.cells.get_mut(*column) {
                    *cell = text;
                }
            }
        }
    }
    row
}

fn stem(name: &str) -> &str {
    name.rsplit_once('.').map_or(name, |(stem, _)| stem)
}

/// Counts line ends; a carriage return and a line feed after it are one.
pub(super) fn line_ends(text: &str) -> usize {
    let bytes = text.as_bytes();
    let ends = |at: &usize| match bytes.get(*at) {
        Some(b'\n') => true,
        Some(b'\r') => bytes.get(at + 1) != Some(&b'\n'),
        _ => false,
    };
    (0..bytes.len()).filter(ends).count()
}
