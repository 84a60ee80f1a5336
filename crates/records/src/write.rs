//! From records to text: site and test files as people would lay them out.
//!
//! Text goes through serde into a TOML table, and only the layout is ours: a heading for each table of the
//! file, everything below it inline, one entry a line where a list holds tables.

mod change;

pub use change::write_change;

use crate::formula::defused;
use crate::{Cell, CellText, Readings, Row, Separator, Site, Test};
use serde::Serialize;
use std::borrow::Cow;
use std::fmt::Write;
use toml::{Table, Value};

/// Writes a site file; reading it gives the same site.
pub fn write_site(site: &Site) -> String {
    document(&table_of(site))
}

/// Writes a test file; reading it, with the file of readings that it names, gives the same test.
///
/// Readings that were typed inline are written inline, and rulings on them follow their steps to the lines
/// on which these now stand. Readings of a file go through [`crate::write_readings`].
pub fn write_test(test: &Test) -> String {
    let mut table = table_of(&test.head);
    if let Some(date) = test.head.date {
        // Within an option the serializer of the library writes a date as the table that it stands for inside.
        table.insert("date".to_owned(), Value::Datetime(date));
    }
    if test.head.readings.is_some() || test.readings.rows.is_empty() {
        return document(&table);
    }
    table.insert(
        "step".to_owned(),
        Value::Array(
            test.readings
                .rows
                .iter()
                .map(|row| step(row, &test.readings))
                .collect(),
        ),
    );
    let lines = step_lines(&document(&table));
    move_rulings(&mut table, &test.readings, &lines);
    document(&table)
}

/// A record as a TOML table. A record holds nothing that TOML does not, so that none fails.
fn table_of(record: &impl Serialize) -> Table {
    Table::try_from(record).unwrap_or_default()
}

/// A step with the readings of its row, those of several meters in a table by meter.
fn step(row: &Row, readings: &Readings) -> Value {
    let mut step = Table::new();
    for (column, cell) in readings.columns.iter().zip(&row.cells) {
        let (Cell::Value { text, .. } | Cell::Below { text, .. }) = cell else {
            continue;
        };
        let text = Value::String(text.clone());
        let key = column.measured.key();
        match &column.meter {
            None => drop(step.insert(key.to_owned(), text)),
            Some(meter) => {
                let by_meter = step
                    .entry(key)
                    .or_insert_with(|| Value::Table(Table::new()));
                by_meter
                    .as_table_mut()
                    .and_then(|table| table.insert(meter.clone(), text));
            }
        }
    }
    if !row.note.is_empty() {
        step.insert("note".to_owned(), Value::String(row.note.clone()));
    }
    Value::Table(step)
}

/// The lines on which the steps of a text start.
fn step_lines(text: &str) -> Vec<usize> {
    let lines = crate::place::Lines::new(text);
    let (tree, _) = crate::document::parse(text);
    let steps = tree
        .get("step")
        .and_then(|steps| steps.get_ref().as_array())
        .map(|steps| steps.iter());
    steps
        .into_iter()
        .flatten()
        .map(|step| lines.line(step.span().start))
        .collect()
}

/// Points each ruling at the line where its step now starts; the number of lines does not change by it.
fn move_rulings(table: &mut Table, readings: &Readings, lines: &[usize]) {
    let rulings = table
        .get_mut("ruling")
        .and_then(Value::as_array_mut)
        .map(|rulings| rulings.iter_mut());
    for ruling in rulings.into_iter().flatten() {
        let Some(row) = ruling.get_mut("row") else {
            continue;
        };
        let before = row.as_integer().and_then(|row| usize::try_from(row).ok());
        let index = readings
            .rows
            .iter()
            .position(|row| Some(row.line) == before);
        let after = index
            .and_then(|index| lines.get(index))
            .and_then(|line| i64::try_from(*line).ok());
        if let Some(after) = after {
            *row = Value::Integer(after);
        }
    }
}

/// Lays a table out as a file: plain values first, then a heading for each table.
fn document(table: &Table) -> String {
    let mut text = String::new();
    let is_headed = |value: &Value| value.is_table() || is_list_of_tables(value);
    for (key, value) in table.iter().filter(|(_, value)| !is_headed(value)) {
        entry(&mut text, key, value);
    }
    for (key, value) in table.iter().filter(|(_, value)| is_headed(value)) {
        let (heading, tables): (String, Vec<&Value>) = match value {
            Value::Array(items) => (format!("[[{key}]]"), items.iter().collect()),
            _ => (format!("[{key}]"), vec![value]),
        };
        for table in tables.into_iter().filter_map(Value::as_table) {
            push(&mut text, format_args!("\n{heading}\n"));
            for (key, value) in table {
                entry(&mut text, key, value);
            }
        }
    }
    text
}

fn is_list_of_tables(value: &Value) -> bool {
    value
        .as_array()
        .is_some_and(|items| !items.is_empty() && items.iter().all(Value::is_table))
}

/// One `key = value`; a list of tables goes over several lines.
fn entry(text: &mut String, key: &str, value: &Value) {
    match value {
        Value::Array(items) if is_list_of_tables(value) => {
            push(text, format_args!("{key} = [\n"));
            for item in items {
                push(text, format_args!("  {item},\n"));
            }
            push(text, format_args!("]\n"));
        }
        _ => push(text, format_args!("{key} = {value}\n")),
    }
}

fn push(text: &mut String, arguments: std::fmt::Arguments<'_>) {
    // Writing to a String cannot fail.
    let _ = text.write_fmt(arguments);
}

/// Writes a file of readings; reading it gives the same readings, each row on the same line where it can.
///
/// The readings stand as they were typed. Where one has a decimal comma, the separator is a semicolon. What a
/// spreadsheet would take for a formula in a note or a heading bears an apostrophe, which reading takes away again.
pub fn write_readings(readings: &Readings) -> String {
    let separator = if has_decimal_comma(readings) {
        ';'
    } else {
        ','
    };
    let mut file = Separated {
        text: String::new(),
        line: 1,
        separator,
    };
    let headings = readings
        .columns
        .iter()
        .map(|column| defused(&column.heading));
    file.record(headings.chain(["note".into()]));
    for row in &readings.rows {
        file.go_to(row.line);
        // A reading is a number, with "<" before it or not, and never a formula.
        let cells = row.cells.iter().map(|cell| cell_text(cell).into());
        file.record(cells.chain([defused(&row.note)]));
    }
    file.text
}

/// Writes one row of a file of readings, or its headings, with a line end; reading it as typed gives the same texts.
pub fn write_typed_row(cells: &[CellText<'_>], separator: Separator) -> String {
    let mut file = Separated {
        text: String::new(),
        line: 1,
        separator: separator.character(),
    };
    file.record(cells.iter().map(|cell| match cell {
        CellText::Reading(text) => Cow::Borrowed(*text),
        CellText::Free(text) => defused(text),
    }));
    file.text
}

fn has_decimal_comma(readings: &Readings) -> bool {
    readings
        .rows
        .iter()
        .flat_map(|row| &row.cells)
        .any(|cell| cell_text(cell).contains(','))
}

fn cell_text(cell: &Cell) -> &str {
    match cell {
        Cell::Empty => "",
        Cell::Value { text, .. } | Cell::Below { text, .. } => text,
    }
}

/// A file of separated values as it grows.
struct Separated {
    text: String,
    /// The line that is written next.
    line: usize,
    separator: char,
}

impl Separated {
    /// Leaves lines empty up to one, on which rulings count; no file has more lines than bytes.
    fn go_to(&mut self, line: usize) {
        while self.line < line.min(crate::MAX_FILE_BYTES) {
            self.text.push('\n');
            self.line += 1;
        }
    }

    fn record<'c>(&mut self, cells: impl Iterator<Item = Cow<'c, str>>) {
        for (index, cell) in cells.enumerate() {
            if index > 0 {
                self.text.push(self.separator);
            }
            self.cell(&cell);
        }
        self.text.push('\n');
        self.line += 1;
    }

    /// A cell, in quotes where its text could be taken for anything else in any of the three kinds of file.
    fn cell(&mut self, cell: &str) {
        let is_plain = !cell.contains(['"', ',', ';', '\t', '\n', '\r']) && cell.trim() == cell;
        if is_plain {
            self.text.push_str(cell);
            return;
        }
        push(
            &mut self.text,
            format_args!("\"{}\"", cell.replace('"', "\"\"")),
        );
        self.line += crate::place::Lines::new(cell).count() - 1;
    }
}
