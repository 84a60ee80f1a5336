//! Separated values cut into records and cells, each with the byte that it starts at.

use crate::number::DecimalMark;
use csv::{Reader, ReaderBuilder, StringRecord};

/// The records of a text that hold anything.
pub(super) struct Records<'s> {
    text: &'s str,
    delimiter: u8,
    reader: Reader<&'s [u8]>,
    /// Where the last record starts.
    last: usize,
}

/// One record.
pub(super) struct Record<'s> {
    text: &'s str,
    delimiter: u8,
    start: usize,
    cells: StringRecord,
}

impl<'s> Records<'s> {
    pub(super) fn new(text: &'s str) -> Self {
        let delimiter = delimiter(text);
        let reader = ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(delimiter)
            .from_reader(text.as_bytes());
        Self {
            text,
            delimiter,
            reader,
            last: 0,
        }
    }

    /// Which decimal marks the cells may have: a comma only where it parts no cells.
    pub(super) fn decimal_mark(&self) -> DecimalMark {
        if self.delimiter == b';' {
            DecimalMark::PointOrComma
        } else {
            DecimalMark::Point
        }
    }

    /// The start of a cell whose quotes are never closed; to be asked after the last record.
    pub(super) fn open_quote(&self) -> Option<usize> {
        let mut scan = CellScan::new(self.delimiter);
        let mut start = self.last;
        for (at, byte) in self.text.bytes().enumerate().skip(self.last) {
            if scan.step(byte) == Step::NextCell {
                start = at + 1;
            }
        }
        (scan.state == State::Quoted).then_some(start)
    }
}

impl<'s> Iterator for Records<'s> {
    type Item = Record<'s>;

    fn next(&mut self) -> Option<Record<'s>> {
        loop {
            let mut cells = StringRecord::new();
            // The text is UTF-8 and in memory, so that neither error of the reader can arise.
            if !self.reader.read_record(&mut cells).unwrap_or(false) {
                return None;
            }
            let before = cells
                .position()
                .and_then(|position| usize::try_from(position.byte()).ok())
                .unwrap_or(0);
            let start = skip_line_ends(self.text, before);
            self.last = start;
            if cells.iter().any(|cell| !cell.trim().is_empty()) {
                return Some(Record {
                    text: self.text,
                    delimiter: self.delimiter,
                    start,
                    cells,
                });
            }
        }
    }
}

impl Record<'_> {
    /// The cells as text, without their quotes.
    pub(super) fn cells(&self) -> impl Iterator<Item = &str> {
        self.cells.iter()
    }

    /// What parts its cells.
    pub(super) fn delimiter(&self) -> u8 {
        self.delimiter
    }

    /// Where the record starts.
    pub(super) fn start(&self) -> usize {
        self.start
    }

    /// Where a cell starts, past its leading spaces.
    pub(super) fn at(&self, index: usize) -> usize {
        let rest = self.text.as_bytes().get(self.start..).unwrap_or_default();
        let mut scan = CellScan::new(self.delimiter);
        let mut ends = rest
            .iter()
            .enumerate()
            .filter(|(_, byte)| scan.step(**byte) == Step::NextCell);
        let cell = match index.checked_sub(1) {
            Some(before) => ends.nth(before).map_or(0, |(at, _)| at + 1),
            None => 0,
        };
        let spaces = rest
            .iter()
            .skip(cell)
            .take_while(|byte| **byte == b' ')
            .count();
        self.start + cell + spaces
    }
}

/// A reader of the parts that a record is made of, for places only.
struct CellScan {
    delimiter: u8,
    state: State,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    /// Before the first byte of a cell.
    Start,
    /// In a cell without quotes.
    Bare,
    /// Between quotes.
    Quoted,
    /// After a quote within quotes, which may be the first of two.
    Quote,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Step {
    Within,
    NextCell,
}

impl CellScan {
    fn new(delimiter: u8) -> Self {
        Self {
            delimiter,
            state: State::Start,
        }
    }

    fn step(&mut self, byte: u8) -> Step {
        let ends_cell = byte == self.delimiter || byte == b'\n' || byte == b'\r';
        let (state, step) = match (self.state, byte) {
            (State::Quoted, b'"') => (State::Quote, Step::Within),
            (State::Quoted, _) | (State::Start | State::Quote, b'"') => {
                (State::Quoted, Step::Within)
            }
            _ if ends_cell => (State::Start, Step::NextCell),
            _ => (State::Bare, Step::Within),
        };
        self.state = state;
        step
    }
}

fn skip_line_ends(text: &str, at: usize) -> usize {
    let rest = text.as_bytes().get(at..).unwrap_or_default();
    at + rest
        .iter()
        .take_while(|byte| matches!(byte, b'\n' | b'\r'))
        .count()
}

/// The separator that stands most often in the headings, outside quotes.
fn delimiter(text: &str) -> u8 {
    let headings = text
        .trim_start_matches(['\n', '\r'])
        .lines()
        .next()
        .unwrap_or("");
    let mut quoted = false;
    let (mut commas, mut semicolons, mut tabs) = (0_usize, 0_usize, 0_usize);
    for byte in headings.bytes() {
        match byte {
            b'"' => quoted = !quoted,
            b',' if !quoted => commas += 1,
            b';' if !quoted => semicolons += 1,
            b'\t' if !quoted => tabs += 1,
            _ => {}
        }
    }
    if semicolons > commas && semicolons >= tabs {
        b';'
    } else if tabs > commas {
        b'\t'
    } else {
        b','
    }
}
