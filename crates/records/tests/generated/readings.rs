//! Readings and tests.

use super::{between, name};
use proptest::collection::{btree_set, vec};
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;
use records::unit::{Dimension, Unit};
use records::*;

/// Readings of a file: some columns, the speed among them, and rows with gaps of empty lines.
pub(crate) fn readings() -> BoxedStrategy<Readings> {
    let others = btree_set((select(Measured::ALL[1..].to_vec()), 0..3_usize), 0..8);
    (others, any::<bool>())
        .prop_flat_map(|(others, decimal_comma)| {
            let columns: Vec<Column> = std::iter::once((Measured::Speed, 0))
                .chain(others.into_iter().filter(stands_once))
                .map(|(measured, meter)| column(measured, meter))
                .collect();
            let row = (
                1..3_usize,
                vec(cell(decimal_comma), columns.len()),
                0..3450_u32,
                note(),
            );
            vec(row, 0..9).prop_map(move |rows| table(columns.clone(), rows))
        })
        .boxed()
}

/// Time and head are read on no meter, and stand once.
fn stands_once((measured, meter): &(Measured, usize)) -> bool {
    *meter == 0 || !matches!(measured, Measured::Time | Measured::Head)
}

fn column(measured: Measured, meter: usize) -> Column {
    let units = Unit::accepted(measured.dimension());
    let unit = Unit::find(measured.dimension(), units[meter % units.len()]);
    let meter = (meter > 0).then(|| format!("µ, {meter}; =\"x\""));
    let mut column = Column {
        heading: String::new(),
        measured,
        meter,
        unit,
    };
    column.heading = format!("{} [{}]", column.name(), unit.map_or("", |unit| unit.name));
    column
}

/// The text of a cell; no sign, since few columns have one.
fn cell(decimal_comma: bool) -> BoxedStrategy<String> {
    let number = (0..99_999_u32).prop_map(move |number| {
        let text = (f64::from(number) / 100.0).to_string();
        if decimal_comma {
            text.replace('.', ",")
        } else {
            text
        }
    });
    prop_oneof![1 => Just(String::new()), 4 => number.clone(), 1 => number.prop_map(|number| format!("< {number}"))]
    .boxed()
}

fn note() -> BoxedStrategy<String> {
    prop_oneof![
        2 => Just(String::new()),
        2 => name(),
        1 => " ?[a-z\",;\t]{0,5}\r?\n[a-z\"]{0,5} ?",
        2 => formula(),
    ]
    .boxed()
}

/// Text that a spreadsheet might run, with apostrophes and numbers among it.
pub(crate) fn formula() -> impl Strategy<Value = String> {
    "[ \"']{0,2}[=+@＝-][a-z0-9.=+@'-]{0,6}([,;\t\n][ \"']{0,2}[=+@-]?[a-z0-9]{0,3}){0,2}"
}

fn table(columns: Vec<Column>, rows: Vec<(usize, Vec<String>, u32, String)>) -> Readings {
    let mut line = 1;
    let row = |(gap, mut texts, speed, note): (usize, Vec<String>, u32, String)| {
        texts[0] = speed.to_string();
        line += gap;
        let row = Row {
            line,
            speed_rpm: f64::from(speed),
            cells: columns
                .iter()
                .zip(&texts)
                .map(|(column, text)| read(column, text))
                .collect(),
            note,
        };
        line += row.note.matches('\n').count();
        row
    };
    let rows = rows.into_iter().map(row).collect();
    Readings { columns, rows }
}

fn read(column: &Column, text: &str) -> Cell {
    let number = text.trim_start_matches(['<', ' ']).replace(',', ".");
    let Ok(value) = number.parse() else {
        return Cell::Empty;
    };
    let (text, si) = (text.to_owned(), column.unit.unwrap().to_si(value));
    if text.starts_with('<') {
        Cell::Below { text, si }
    } else {
        Cell::Value { text, si }
    }
}

/// A test with a file of readings, or with the same readings as steps typed inline.
pub(crate) fn test() -> BoxedStrategy<Test> {
    let lists = (vec(name(), 0..3), vec(name(), 0..2), vec(name(), 0..2));
    let date = of(select(vec![
        "2026-05-16",
        "2026-05-16T09:30:00",
        "2026-05-16T09:30:00.25+02:00",
    ]));
    let temperature = of(between(Dimension::Temperature, "degC", 1, 59));
    let condition = [of(name()), of(name()), of(name()), of(name())];
    (
        any::<bool>(),
        readings(),
        date,
        temperature,
        lists,
        condition,
        any::<u64>(),
    )
        .prop_map(
            |(
                inline,
                readings,
                date,
                water_temperature,
                lists,
                [filter, basket, air, heater],
                choice,
            )| {
                let (closed, also_running, power_includes) = lists;
                let head = TestHead {
                    format: 1,
                    date: date.map(|date| date.parse().unwrap()),
                    water_temperature,
                    closed,
                    throttled: Vec::new(),
                    also_running,
                    power_includes,
                    readings: (!inline).then(|| "readings.csv".to_owned()),
                    condition: Condition {
                        filter,
                        basket,
                        air,
                        heater,
                    },
                    rulings: rulings(&readings, choice),
                };
                let readings = if inline { as_steps(readings) } else { readings };
                Test {
                    name: "morning".to_owned(),
                    head,
                    readings,
                }
            },
        )
        .boxed()
}

/// A ruling on the power of one row, where it was read.
fn rulings(readings: &Readings, choice: u64) -> Vec<Ruling> {
    let Some(index) = readings
        .columns
        .iter()
        .position(|column| column.measured == Measured::Power)
    else {
        return Vec::new();
    };
    let rows: Vec<&Row> = readings
        .rows
        .iter()
        .filter(|row| row.cells[index] != Cell::Empty)
        .collect();
    let Some(row) = rows.get(usize::try_from(choice % 7).unwrap()) else {
        return Vec::new();
    };
    let say = if choice.is_multiple_of(2) {
        Verdict::Confirmed
    } else {
        Verdict::Drop
    };
    vec![Ruling {
        row: row.line,
        column: readings.columns[index].name(),
        say,
    }]
}

/// The same readings, each with its unit beside it.
fn as_steps(mut readings: Readings) -> Readings {
    for row in &mut readings.rows {
        for (cell, column) in row.cells.iter_mut().zip(&readings.columns) {
            if let Cell::Value { text, .. } | Cell::Below { text, .. } = cell {
                *text = format!("{} {}", text.replace(',', "."), column.unit.unwrap().name);
            }
        }
    }
    for column in &mut readings.columns {
        column.heading = column.name();
        column.unit = None;
    }
    readings
}
