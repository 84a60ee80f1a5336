//! The tables of a plan.

use super::Subject;
use super::words;
use crate::content::{Block, Table};
use crate::language::say;
use crate::names;
use crate::number;
use crate::units::written;
use crate::words::{ExpectedWords, expected};
use fieldtest::PlannedStep;

/// The heading of a column: its name, and below it its unit.
pub(super) fn heading(subject: &Subject<'_>, column: usize) -> (String, &'static str) {
    let column = &subject.plan.columns[column].column;
    (
        names::column(&column.name(), subject.printing),
        column.unit.map_or("", |unit| written(unit.name)),
    )
}

/// What a meter should read at a step, in the unit of its column.
pub(super) fn band(
    subject: &Subject<'_>,
    step: &PlannedStep,
    column: usize,
) -> Option<(ExpectedWords, bool)> {
    let found = step.expected.iter().find(|it| it.column == column)?;
    let unit = subject.plan.columns[column].column.unit?;
    Some((expected(found, unit, subject.printing), found.by.is_rough()))
}

/// The same as one text; a wide band is marked.
pub(super) fn band_text(subject: &Subject<'_>, step: &PlannedStep, column: usize) -> String {
    band(subject, step, column).map_or_else(
        || "–".to_owned(),
        |(words, is_rough)| {
            let mark = if is_rough { "~" } else { "" };
            let (low, high) = (&words.low, &words.high);
            // Of a rough band, next to nothing is nothing.
            let number = |text: &str| number::read(subject.printing, text).unwrap_or(0.0);
            let is_nothing = is_rough && number(low).abs() < 0.02 * number(high);
            let low = if is_nothing { "0" } else { low.as_str() };
            // A dash before a sign reads badly.
            let is_signed = low.starts_with('-') || high.starts_with('-');
            let dash = if is_signed {
                say!(subject.printing, " to ")
            } else {
                "–"
            };
            format!("{mark}{low}{dash}{high}")
        },
    )
}

/// The climb.
pub(super) fn climb(subject: &Subject<'_>) -> Block {
    let pressure = |pa: Option<f64>| {
        pa.map_or_else(|| "–".to_owned(), |pa| words::pressure_number(subject, pa))
    };
    let unit = words::pressure_unit(subject);
    let rows = subject.plan.climb.iter().map(|step| {
        vec![
            number::rpm(subject.printing, step.speed_rpm),
            pressure(step.vessel_upper_pa),
            pressure(step.stop_above_pa),
        ]
    });
    Block::Table(Table {
        headings: vec![
            say!(subject.printing, "speed\nrpm").to_owned(),
            say!(subject.printing, "foreseen at most\n{unit}", unit),
            say!(subject.printing, "go on up to\n{unit}", unit),
        ],
        rows: rows.collect(),
        word_columns: 0,
        ..Table::default()
    })
}

/// The steps with what each meter should read.
pub(super) fn steps(subject: &Subject<'_>) -> Block {
    let columns = 0..subject.plan.columns.len();
    let mut headings = vec![say!(subject.printing, "speed\nrpm").to_owned()];
    headings.extend(columns.clone().map(|column| {
        let (name, unit) = heading(subject, column);
        format!("{name}\n{unit}")
    }));
    let mut rows = vec![at_rest(subject)];
    let mut shut = subject.question.closed.to_vec();
    for step in &subject.plan.steps {
        if step.closed != shut {
            shut.clone_from(&step.closed);
            let mut row = vec![say!(
                subject.printing,
                "{shut} shut:",
                shut = shut.join(", ")
            )];
            row.resize(headings.len(), String::new());
            rows.push(row);
        }
        let mut row = vec![number::rpm(subject.printing, step.speed_rpm)];
        row.extend(
            columns
                .clone()
                .map(|column| band_text(subject, step, column)),
        );
        rows.push(row);
    }
    Block::Table(Table {
        headings,
        rows,
        word_columns: 0,
        ..Table::default()
    })
}

fn at_rest(subject: &Subject<'_>) -> Vec<String> {
    let mut row = vec!["0".to_owned()];
    row.resize(
        subject.plan.columns.len() + 1,
        say!(subject.printing, "read" as "cell of a sheet").to_owned(),
    );
    row
}

/// What each step is for.
pub(super) fn reasons(subject: &Subject<'_>) -> Block {
    let row = |step: &PlannedStep| {
        let shut: Vec<&str> = step.closed.iter().map(String::as_str).collect();
        vec![
            number::rpm(subject.printing, step.speed_rpm),
            shut.join(", "),
            words::why(subject, step),
        ]
    };
    let rows: Vec<Vec<String>> = subject.plan.steps.iter().map(row).collect();
    let has_shut = rows.iter().any(|row| !row[1].is_empty());
    let mut headings = vec![
        say!(subject.printing, "speed\nrpm").to_owned(),
        say!(subject.printing, "shut" as "lines").to_owned(),
        say!(subject.printing, "what it tells").to_owned(),
    ];
    let mut rows = rows;
    if !has_shut {
        headings.remove(1);
        for row in &mut rows {
            row.remove(1);
        }
    }
    let word_columns = headings.len();
    Block::Table(Table {
        headings,
        rows,
        word_columns,
        ..Table::default()
    })
}
