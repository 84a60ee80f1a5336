//! What the program saves in a month and a year, against the one that was found; nothing where that is not stated.

use super::{Subject, heading};
use crate::content::{Block, Table};
use crate::language::say;
use crate::number;
use crate::units::Printing;
use metrology::Estimate;
use operation::{AdvisedDay, AsFound};

/// Composes what is saved.
pub(super) fn savings(subject: &Subject<'_>) -> Vec<Block> {
    let Some((schedule, day)) = subject.day() else {
        return Vec::new();
    };
    let Some(found) = &day.as_found else {
        return Vec::new();
    };
    let table = match found.saves_year {
        Some(_) => money(day, found, schedule.currency(), subject.printing),
        None => energy(day, found, subject.printing),
    };
    if table.rows.is_empty() {
        return Vec::new();
    }
    vec![
        heading(say!(subject.printing, "What it saves")),
        Block::Table(table),
        Block::Note(
            say!(subject.printing, "± holds the truth in 95 of 100 cases, with the prices of today and the pad as it was on the day of the test.")
                .to_owned(),
        ),
    ]
}

/// Writes one row, where all of its numbers are known.
fn row(word: &str, numbers: &[Option<Estimate>], printing: Printing) -> Option<Vec<String>> {
    let written = numbers
        .iter()
        .map(|number| number.map(|value| number::with_interval(printing, value)));
    let written: Option<Vec<String>> = written.collect();
    Some(std::iter::once(word.to_owned()).chain(written?).collect())
}

fn money(day: &AdvisedDay, found: &AsFound, currency: &str, printing: Printing) -> Table {
    let rows = [
        row(
            say!(printing, "as found"),
            &[found.sums.cost_month, found.sums.cost_year],
            printing,
        ),
        row(
            say!(printing, "set as here"),
            &[day.sums.cost_month, day.sums.cost_year],
            printing,
        ),
        row(
            say!(printing, "saved"),
            &[found.saves_month, found.saves_year],
            printing,
        ),
    ];
    Table {
        headings: vec![
            String::new(),
            say!(printing, "{currency} a month", currency),
            say!(printing, "{currency} a year", currency),
        ],
        rows: rows.into_iter().flatten().collect(),
        word_columns: 1,
        ..Table::default()
    }
}

fn energy(day: &AdvisedDay, found: &AsFound, printing: Printing) -> Table {
    let rows = [
        row(
            say!(printing, "as found"),
            &[found.sums.energy_year_kwh],
            printing,
        ),
        row(
            say!(printing, "set as here"),
            &[day.sums.energy_year_kwh],
            printing,
        ),
        row(say!(printing, "saved"), &[found.saves_year_kwh], printing),
    ];
    Table {
        headings: vec![String::new(), say!(printing, "kWh a year").to_owned()],
        rows: rows.into_iter().flatten().collect(),
        word_columns: 1,
        ..Table::default()
    }
}
