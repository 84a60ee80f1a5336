//! A file of readings as a form holds it: every cell as text, and nothing judged but the headings.
//!
//! A person who types is mostly in the middle of something: "7." is no number to keep a test from, and "abc" in one cell
//! says nothing of the others. So this reading refuses only what no form can show, and gives the text of each row
//! back byte for byte. What the cells mean is still told by [`crate::read_readings`], and of one cell by [`read_cell`].

use crate::unit::Unit;
use crate::{Cell, Column, Measured, Told};

/// What parts the cells of a file of readings.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Separator {
    /// A comma; decimals stand after a point.
    #[default]
    Comma,
    /// A semicolon; decimals stand after a point or a comma.
    Semicolon,
    /// A tab; decimals stand after a point.
    Tab,
}

impl Separator {
    /// The character.
    pub fn character(self) -> char {
        match self {
            Self::Comma => ',',
            Self::Semicolon => ';',
            Self::Tab => '\t',
        }
    }

    /// The separator that a byte of a text is.
    pub(crate) fn of(byte: u8) -> Self {
        match byte {
            b';' => Self::Semicolon,
            b'\t' => Self::Tab,
            _ => Self::Comma,
        }
    }
}

/// A heading of a file of readings.
#[derive(Clone, Debug, PartialEq)]
pub enum TypedHeading {
    /// The column of notes.
    Note,
    /// A column of readings, that of the speeds included.
    Column(Column),
}

/// A row of a file of readings as typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TypedRow {
    /// The line of the file that it starts on, from 1.
    pub line: usize,
    /// Its text up to the next row, line ends included.
    pub text: String,
    /// One text for each heading, as typed; of notes without what keeps spreadsheets from running them.
    pub cells: Vec<String>,
}

/// A file of readings as typed. Its text is `start`, and the texts of the rows after it.
#[derive(Clone, Debug, PartialEq)]
pub struct TypedReadings {
    /// What parts the cells.
    pub separator: Separator,
    /// The text up to the first row.
    pub start: String,
    /// The headings, in the order of the file.
    pub headings: Vec<TypedHeading>,
    /// The rows, in the order of the file.
    pub rows: Vec<TypedRow>,
}

/// Why a cell is no reading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CellProblem {
    /// What is accepted there: "a number in gpm".
    pub expected: Told,
    /// The one thing to do next, where there is one.
    pub hint: Option<Told>,
    /// What to type instead, where that is known.
    pub accept: Option<String>,
    /// Whether the text is a number, which no such reading can have.
    pub is_number: bool,
}

/// Reads one cell of a column in its unit.
///
/// # Errors
/// What is wrong with the text, for the person who typed it.
pub fn read_cell(
    text: &str,
    measured: Measured,
    unit: &'static Unit,
    separator: Separator,
) -> Result<Cell, CellProblem> {
    crate::read::read_typed_cell(text, measured, unit, separator)
}

/// Checks a note.
///
/// # Errors
/// That it has a character which no file of readings may have.
pub fn check_note(text: &str) -> Result<(), CellProblem> {
    crate::read::check_typed_note(text)
}

/// A cell to be written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CellText<'t> {
    /// A reading, written as typed.
    Reading(&'t str),
    /// A note or a heading, written so that no spreadsheet runs it.
    Free(&'t str),
}
