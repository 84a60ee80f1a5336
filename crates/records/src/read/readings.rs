//! Reads a file of readings: separated values after RFC 4180, by commas, semicolons or tabs.

use super::cells::{self, CellError};
use super::columns::{Heading, MAX_COLUMNS, heading};
use super::records::{Record, Records};
use crate::Fill;
use crate::formula;
use crate::number::DecimalMark;
use crate::problems::Problems;
use crate::told;
use crate::wording::shown;
use crate::{Cell, Column, Measured, Problem, Readings, Row, Source};
use std::collections::BTreeSet;

/// The most different speeds of one test. A log with more is a ramp, and is averaged first.
const MAX_SPEEDS: usize = 200;

/// Reads a file of readings, or everything that is wrong in it.
pub fn read_readings(source: &Source) -> Result<Readings, Vec<Problem>> {
    if let Some(problem) = source.too_large_for_readings() {
        return Err(vec![problem]);
    }
    let problems = Problems::new(source);
    let readings = readings(source, &problems);
    problems.finish(readings)
}

/// The columns of a file of readings with the byte that each heading stands at; those that are none are left out.
pub(super) fn headings(source: &Source) -> Vec<(Column, usize)> {
    let mut records = Records::new(&source.text);
    let Some(record) = records.next() else {
        return Vec::new();
    };
    let column = |(index, text)| match heading(&formula::restored(text)) {
        Ok(Heading::Column(column)) => Some((column, record.at(index))),
        _ => None,
    };
    record.cells().enumerate().filter_map(column).collect()
}

fn readings(source: &Source, problems: &Problems<'_>) -> Option<Readings> {
    let mut records = Records::new(&source.text);
    let Some(first) = records.next() else {
        let message = told!(
            "there is nothing in the file; expected a line of headings, such as speed [rpm],flow [gpm],power [W]"
        );
        problems.add(None, message, None);
        return None;
    };
    let layout = layout(&first, problems)?;
    let mark = records.decimal_mark();
    let mut speeds = Speeds::default();
    let mut marks = Marks::default();
    let mut rows = Vec::new();
    for record in &mut records {
        if mark == DecimalMark::PointOrComma {
            marks.note(&record, &layout);
        }
        let row = row(&record, &layout, mark, problems);
        if let Some(row) = &row {
            speeds.note(row.speed_rpm, &record, problems);
        }
        rows.extend(row);
    }
    marks.report(problems);
    if let Some(at) = records.open_quote() {
        problems.add(
            Some(at),
            told!("a quote is opened and not closed; expected it at the end of the cell"),
            None,
        );
    }
    Some(Readings {
        columns: layout.into_columns(),
        rows,
    })
}

/// What each column of the file holds.
pub(super) struct Layout {
    headings: Vec<Heading>,
    /// The cells of the line of headings, with those that a spreadsheet leaves empty behind the last.
    width: usize,
}

impl Layout {
    pub(super) fn headings(&self) -> &[Heading] {
        &self.headings
    }

    pub(super) fn into_headings(self) -> Vec<Heading> {
        self.headings
    }

    fn into_columns(self) -> Vec<Column> {
        let column = |heading| match heading {
            Heading::Column(column) => Some(column),
            Heading::Note => None,
        };
        self.headings.into_iter().filter_map(column).collect()
    }
}

pub(super) fn layout(record: &Record<'_>, problems: &Problems<'_>) -> Option<Layout> {
    let mut headings: Vec<Heading> = Vec::new();
    let mut sound = true;
    let is_filled = |(_, text): &(usize, &str)| !text.trim().is_empty();
    let count = record
        .cells()
        .enumerate()
        .filter(is_filled)
        .last()
        .map_or(0, |(index, _)| index + 1);
    if count > MAX_COLUMNS {
        let message = told!(
            "there are {count} columns; expected at most {most}",
            count,
            most = MAX_COLUMNS
        );
        problems.add(Some(record.start()), message, None);
        return None;
    }
    for (index, text) in record.cells().take(count).enumerate() {
        let read = heading(&formula::restored(text))
            .and_then(|heading| unless_repeated(heading, &headings));
        match read {
            Ok(heading) => headings.push(heading),
            Err((message, hint)) => {
                problems.add(Some(record.at(index)), message, hint);
                sound = false;
            }
        }
    }
    let has_speed = headings.iter().any(
        |heading| matches!(heading, Heading::Column(column) if column.measured == Measured::Speed),
    );
    if sound && !has_speed {
        let hint = Some(told!("add the speed of each row in a column speed [rpm]"));
        problems.add(
            Some(record.at(0)),
            told!("there is no column of speed; expected speed [rpm]"),
            hint,
        );
    }
    let width = record.cells().count();
    (sound && has_speed).then_some(Layout { headings, width })
}

fn unless_repeated(heading: Heading, earlier: &[Heading]) -> Result<Heading, CellError> {
    let same = |other: &Heading| match (&heading, other) {
        (Heading::Note, Heading::Note) => true,
        (Heading::Column(one), Heading::Column(other)) => {
            (one.measured, &one.meter) == (other.measured, &other.meter)
        }
        _ => false,
    };
    if !earlier.iter().any(same) {
        return Ok(heading);
    }
    let hint = Some(told!(
        "name the meter that each column was read on, such as flow A [gpm]"
    ));
    Err((
        told!(
            "the column {column} stands twice; expected each column once",
            column = shown(&heading.name())
        ),
        hint,
    ))
}

fn row(
    record: &Record<'_>,
    layout: &Layout,
    mark: DecimalMark,
    problems: &Problems<'_>,
) -> Option<Row> {
    if report_ragged(record, layout, problems) {
        return None;
    }
    let mut row = Row {
        line: problems.line(record.start()),
        speed_rpm: f64::NAN,
        cells: Vec::new(),
        note: String::new(),
    };
    let mut sound = true;
    for (index, (heading, text)) in layout.headings.iter().zip(record.cells()).enumerate() {
        if let Err((message, hint)) = put(&mut row, heading, text, mark) {
            problems.add(Some(record.at(index)), message, hint);
            sound = false;
        }
    }
    sound.then_some(row)
}

/// Reports a row that has more or fewer cells than there are headings; says whether it has.
pub(super) fn report_ragged(record: &Record<'_>, layout: &Layout, problems: &Problems<'_>) -> bool {
    let expected = layout.headings.len();
    let found = record.cells().count();
    // An empty cell too many may come of a decimal comma that has moved all others: it is let pass only
    // where the headings have it too.
    let has_more = record
        .cells()
        .skip(expected)
        .any(|text| !text.trim().is_empty());
    let is_ragged = has_more || (found != expected && found != layout.width);
    if is_ragged {
        report_length(record, found, expected, problems);
    }
    is_ragged
}

fn report_length(record: &Record<'_>, found: usize, expected: usize, problems: &Problems<'_>) {
    let hint = if found > expected {
        told!("put quotes around a note that has the separator in it; write decimals with a point")
    } else {
        told!("write a separator for each cell that was not read")
    };
    let message = told!(
        "the row has {found} cells; expected {expected}, one for each heading",
        found,
        expected
    );
    problems.add(Some(record.start()), message, Some(hint));
}

/// Puts a cell into its row.
fn put(row: &mut Row, heading: &Heading, text: &str, mark: DecimalMark) -> Result<(), CellError> {
    let put = match heading {
        Heading::Note => cells::note(&formula::restored(text)).map(|note| row.note = note),
        Heading::Column(column) => put_reading(row, column, text, mark),
    };
    put.map_err(|(expected, hint)| {
        let found = if text.trim().is_empty() {
            told!("empty").fill()
        } else {
            shown(text.trim()).fill()
        };
        (
            told!(
                "{column} is {found}; expected {expected}",
                column = shown(&heading.name()),
                found,
                expected
            ),
            hint,
        )
    })
}

fn put_reading(
    row: &mut Row,
    column: &Column,
    text: &str,
    mark: DecimalMark,
) -> Result<(), CellError> {
    let Some(unit) = column.unit else {
        return Ok(());
    };
    let cell = cells::cell(text, column.measured, unit, mark)?;
    if column.measured == Measured::Speed {
        row.speed_rpm = speed_rpm(&cell)?;
    }
    row.cells.push(cell);
    Ok(())
}

/// The speed of a row, which must be known.
pub(super) fn speed_rpm(cell: &Cell) -> Result<f64, CellError> {
    match cell {
        Cell::Value { si, .. } => Ok(*si),
        Cell::Empty | Cell::Below { .. } => {
            Err((told!("the speed of the row in rpm, 0 for standby"), None))
        }
    }
}

/// The decimal marks so far: a file has one. Beside decimal commas, 3.450 may be three and a half or three thousand.
#[derive(Default)]
struct Marks {
    has_comma: bool,
    /// The first cell with a point: its byte, its column and its text.
    point: Option<(usize, String, String)>,
}

impl Marks {
    fn note(&mut self, record: &Record<'_>, layout: &Layout) {
        for (index, (heading, text)) in layout.headings.iter().zip(record.cells()).enumerate() {
            if matches!(heading, Heading::Note) {
                continue;
            }
            self.has_comma |= text.contains(',');
            if self.point.is_none() && text.contains('.') {
                self.point = Some((record.at(index), heading.name(), text.trim().to_owned()));
            }
        }
    }

    fn report(self, problems: &Problems<'_>) {
        let Some((at, name, text)) = self.point.filter(|_| self.has_comma) else {
            return;
        };
        let (name, text) = (shown(&name), shown(&text));
        let message = told!(
            "{name} is {text}; expected a comma before the decimals, as in other cells of the file",
            name,
            text
        );
        let hint = told!(
            "write {one} or {other}",
            one = text.replace('.', ","),
            other = text.replace('.', "")
        );
        problems.add(Some(at), message, Some(hint));
    }
}

/// The different speeds so far.
#[derive(Default)]
struct Speeds {
    seen: BTreeSet<u64>,
}

impl Speeds {
    /// Notes a speed, and reports the first that is one too many.
    fn note(&mut self, speed_rpm: f64, record: &Record<'_>, problems: &Problems<'_>) {
        if self.seen.len() <= MAX_SPEEDS
            && self.seen.insert(speed_rpm.to_bits())
            && self.seen.len() > MAX_SPEEDS
        {
            let message = told!(
                "this is the {number}st different speed; expected at most {most} in one test",
                number = MAX_SPEEDS + 1,
                most = MAX_SPEEDS
            );
            let hint = Some(told!("average the log to one row per speed first"));
            problems.add(Some(record.start()), message, hint);
        }
    }
}
