//! Reads steps that are typed inline, as `[[step]]` tables of the test file.

use super::cells;
use super::columns::{MAX_COLUMNS, meter_id};
use crate::told;
use crate::told::later;
use crate::walker::{Field, Table};
use crate::{Cell, Column, Measured, Quantity, Readings, Row};
use toml::de::DeValue;

/// One reading with the column that it belongs to.
struct Reading {
    measured: Measured,
    meter: Option<String>,
    cell: Cell,
}

/// A step before the columns of all are known.
struct Step {
    line: usize,
    readings: Vec<Reading>,
    note: String,
}

/// Reads every `[[step]]`; the columns stand in the order of the contract.
pub(super) fn steps(root: &Table<'_>, tables: &[Table<'_>]) -> Readings {
    let steps: Vec<Step> = tables.iter().filter_map(step).collect();
    let mut columns: Vec<Column> = Vec::new();
    for reading in steps.iter().flat_map(|step| &step.readings) {
        if !columns.iter().any(|column| reading.is_in(column)) {
            columns.push(reading.column());
        }
        if columns.len() > MAX_COLUMNS {
            root.report(
                told!(
                    "the steps have more than {most} different readings; expected fewer",
                    most = MAX_COLUMNS
                ),
                None,
            );
            return Readings::default();
        }
    }
    numerics::order::sort_by_key(&mut columns, |column| column.measured);
    let rows = steps
        .into_iter()
        .map(|step| step.into_row(&columns))
        .collect();
    Readings { columns, rows }
}

impl Reading {
    fn is_in(&self, column: &Column) -> bool {
        (self.measured, &self.meter) == (column.measured, &column.meter)
    }

    fn column(&self) -> Column {
        let mut column = Column {
            heading: String::new(),
            measured: self.measured,
            meter: self.meter.clone(),
            unit: None,
        };
        column.heading = column.name();
        column
    }
}

impl Step {
    fn into_row(self, columns: &[Column]) -> Row {
        let cell = |column: &Column| {
            let reading = self.readings.iter().find(|reading| reading.is_in(column));
            reading.map_or(Cell::Empty, |reading| reading.cell.clone())
        };
        let speed = self
            .readings
            .iter()
            .find(|reading| reading.measured == Measured::Speed);
        let speed_rpm = match speed.map(|reading| &reading.cell) {
            Some(Cell::Value { si, .. }) => *si,
            _ => 0.0,
        };
        Row {
            line: self.line,
            speed_rpm,
            cells: columns.iter().map(cell).collect(),
            note: self.note,
        }
    }
}

fn step(table: &Table<'_>) -> Option<Step> {
    let line = table.line();
    let speed = table
        .require("speed", "\"1200 rpm\"")
        .and_then(|field| speed(&field));
    let mut readings = Vec::new();
    for measured in Measured::ALL
        .into_iter()
        .filter(|measured| *measured != Measured::Speed)
    {
        let Some(field) = table.get(measured.key()) else {
            continue;
        };
        if matches!(field.value, DeValue::Table(_)) && measured.has_meter() {
            readings.extend(by_meter(&field, measured));
        } else {
            readings.extend(reading(&field, measured).map(|cell| Reading {
                measured,
                meter: None,
                cell,
            }));
        }
    }
    let note = table.get("note").and_then(|field| note(&field));
    table.finish();
    let speed = Reading {
        measured: Measured::Speed,
        meter: None,
        cell: speed?,
    };
    readings.insert(0, speed);
    Some(Step {
        line,
        readings,
        note: note.unwrap_or_default(),
    })
}

fn speed(field: &Field<'_>) -> Option<Cell> {
    let cell = reading(field, Measured::Speed)?;
    if matches!(cell, Cell::Below { .. }) {
        field.refuse(
            told!("the speed of the step in rpm, 0 rpm for standby"),
            None,
        );
        return None;
    }
    Some(cell)
}

/// Readings of several meters: `{ A = "24 gpm", B = "25 gpm" }`.
fn by_meter(field: &Field<'_>, measured: Measured) -> Vec<Reading> {
    let Some(table) = field.table(later!("readings by meter")) else {
        return Vec::new();
    };
    let read = |field: Field<'_>| {
        let meter = match meter_id(field.name.trim()) {
            Ok(Some(meter)) => meter,
            Ok(None) => {
                field.refuse(told!("the id of a meter before the ="), None);
                return None;
            }
            Err((message, hint)) => {
                field.problems.add(Some(field.at), message, hint);
                return None;
            }
        };
        let name = format!("{} {}", measured.word(), meter);
        let cell = reading(
            &Field {
                name: &name,
                ..field
            },
            measured,
        )?;
        Some(Reading {
            measured,
            meter: Some(meter),
            cell,
        })
    };
    table.everything().filter_map(read).collect()
}

/// A reading with its unit, or `<` and the lowest value that the meter shows.
fn reading(field: &Field<'_>, measured: Measured) -> Option<Cell> {
    let text = field.quantity_text(measured.dimension())?;
    let text = text.trim();
    let below = text.strip_prefix('<');
    let quantity = Quantity::parse(below.unwrap_or(text).trim_start(), measured.dimension())
        .map_err(|error| field.report(error.told(), error.hint()))
        .ok()?;
    if let Err((expected, hint)) = cells::check_range(quantity.si, measured) {
        field.refuse(expected, hint);
        return None;
    }
    let (text, si) = (text.to_owned(), quantity.si);
    Some(if below.is_some() {
        Cell::Below { text, si }
    } else {
        Cell::Value { text, si }
    })
}

fn note(field: &Field<'_>) -> Option<String> {
    let text = field.text(told!("text in quotes"))?;
    cells::note(text)
        .map_err(|(expected, hint)| field.refuse(expected, hint))
        .ok()
}

/// The place of a column in the steps: the first reading of it.
pub(super) fn place_of(tables: &[Table<'_>], column: &Column) -> Option<usize> {
    let reading = |table: &Table<'_>| {
        let field = table.get(column.measured.key())?;
        match &column.meter {
            None => matches!(field.value, DeValue::String(_)).then_some(field.at),
            Some(meter) => {
                let by_meter = field.value.as_table()?;
                let named = by_meter
                    .iter()
                    .find(|(key, _)| key.get_ref().trim() == meter);
                named.map(|(key, _)| key.span().start)
            }
        }
    };
    tables.iter().find_map(reading)
}
