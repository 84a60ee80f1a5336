//! The readings as they were typed; those that are left out are struck through, and numbered by why.

use super::{Subject, heading};
use crate::content::{Block, Struck, Table};
use crate::language::say;
use crate::names;
use crate::units::{Printing, written};
use crate::words;
use fieldtest::{Finding, ReadingUse, TestResult};
use records::{Cell, Column, Row, Test};

/// Composes the readings of all tests.
pub(super) fn readings(subject: &Subject<'_>) -> Vec<Block> {
    let several = subject.tests.len() > 1;
    let tests = subject.tests.iter().zip(&subject.analysis.tests);
    tests
        .filter(|(test, _)| !test.readings.rows.is_empty())
        .flat_map(|(test, result)| {
            let name = if several {
                say!(
                    subject.printing,
                    "Readings as typed, test {test}",
                    test = test.name
                )
            } else {
                say!(subject.printing, "Readings as typed").to_owned()
            };
            let mut reasons = Reasons {
                subject,
                result,
                said: Vec::new(),
            };
            let table = table(test, &mut reasons, subject.printing);
            let mut blocks = vec![heading(&name), Block::Table(table)];
            blocks.extend(reasons.notes());
            blocks
        })
        .collect()
}

fn table(test: &Test, reasons: &mut Reasons<'_>, printing: Printing) -> Table {
    let columns = &test.readings.columns;
    let has_notes = test.readings.rows.iter().any(|row| !row.note.is_empty());
    let mut headings = vec![say!(printing, "row").to_owned()];
    headings.extend(
        columns
            .iter()
            .map(|column| column_heading(column, printing)),
    );
    if has_notes {
        headings.push(say!(printing, "note").to_owned());
    }
    let mut table = Table {
        headings,
        ..Table::default()
    };
    for row in &test.readings.rows {
        let (cells, struck) = cells(row, columns, reasons);
        let at = table.rows.len();
        let struck = struck.into_iter();
        table.struck.extend(struck.map(|(column, why)| Struck {
            row: at,
            column,
            mark: format!("[{why}]"),
        }));
        let mut written = vec![row.line.to_string()];
        written.extend(cells);
        if has_notes {
            written.push(row.note.clone());
        }
        table.rows.push(written);
    }
    table
}

/// Writes the heading of a column, with its unit below.
fn column_heading(column: &Column, printing: Printing) -> String {
    let name = names::column(name(column), printing);
    match column.unit {
        Some(unit) => format!("{name}\n{}", written(unit.name)),
        None => name,
    }
}

fn name(column: &Column) -> &str {
    let heading = column.heading.as_str();
    heading
        .split_once('[')
        .map_or(heading, |(name, _)| name)
        .trim()
}

/// Writes the cells of a row, and which columns of the table are struck out, each with the number of its reason.
fn cells(
    row: &Row,
    columns: &[Column],
    reasons: &mut Reasons<'_>,
) -> (Vec<String>, Vec<(usize, usize)>) {
    /// The column of the row's number.
    const BEFORE: usize = 1;
    let mut struck = Vec::new();
    let mut written = Vec::new();
    for (index, (cell, column)) in row.cells.iter().zip(columns).enumerate() {
        let text = match cell {
            Cell::Empty => String::new(),
            Cell::Value { text, .. } | Cell::Below { text, .. } => text.trim().to_owned(),
        };
        let left_out = reasons.of_cell(row.line, name(column));
        struck.extend(left_out.map(|why| (BEFORE + index, why)));
        written.push(text);
    }
    (written, struck)
}

/// Why readings are left out: each reason once, numbered as it is met.
struct Reasons<'a> {
    subject: &'a Subject<'a>,
    result: &'a TestResult,
    said: Vec<String>,
}

impl Reasons<'_> {
    /// Returns the number of the reason for which a reading is left out; `None` where it counts.
    fn of_cell(&mut self, row: usize, column: &str) -> Option<usize> {
        let same = |reading: &&ReadingUse| reading.row == row && reading.column == column;
        let reading = self.result.readings.iter().find(same)?;
        if reading.used {
            return None;
        }
        let text = self.words(reading);
        let known = self.said.iter().position(|said| *said == text);
        Some(
            1 + known.unwrap_or_else(|| {
                self.said.push(text);
                self.said.len() - 1
            }),
        )
    }

    fn words(&self, reading: &ReadingUse) -> String {
        match reading.why {
            Some("below-meter-range") => {
                say!(self.subject.printing, "Below what the meter shows.").to_owned()
            }
            Some("ruled-out") => say!(
                self.subject.printing,
                "Ruled out by the person who read it."
            )
            .to_owned(),
            Some("part-of-the-flow") => say!(
                self.subject.printing,
                "Not counted for the whole pump: its meter sees a part of the flow."
            )
            .to_owned(),
            Some("not-independent") => say!(
                self.subject.printing,
                "Not counted: the pump computes it from its own power."
            )
            .to_owned(),
            Some(code) => self.found(reading, code).unwrap_or_else(|| {
                say!(
                    self.subject.printing,
                    "Left out with the readings that it belongs to: see the findings."
                )
                .to_owned()
            }),
            None => say!(self.subject.printing, "Left out: see the findings.").to_owned(),
        }
    }

    /// Says what a finding says of a reading.
    fn found(&self, reading: &ReadingUse, code: &str) -> Option<String> {
        let of_cell = |finding: &&Finding| {
            let place = &finding.place;
            finding.matter.code() == code
                && place.test.as_deref() == Some(self.result.name.as_str())
                && (place.rows.is_empty() || place.rows.contains(&reading.row))
                && place
                    .column
                    .as_ref()
                    .is_none_or(|column| *column == reading.column)
        };
        let finding = self.subject.analysis.findings.iter().find(of_cell)?;
        Some(words::finding(finding, self.subject.printing).says)
    }

    fn notes(&self) -> Vec<Block> {
        let said = self.said.iter().enumerate();
        said.map(|(index, why)| Block::Note(format!("[{}] {why}", index + 1)))
            .collect()
    }
}
