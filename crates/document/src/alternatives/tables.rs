//! The tables of a comparison: what a year comes to, and what is paid for it.

use super::{Subject, changed};
use crate::content::{Block, Kind, Kinds, Table};
use crate::language::say;
use crate::units::Printing;
use crate::{money, number};
use metrology::Estimate;
use operation::{Plain, YearSums};

pub(super) fn tables(subject: &Subject<'_>) -> Vec<Block> {
    let mut blocks = vec![
        Block::Heading(say!(
            subject.printing,
            "A year ({year})",
            year = subject.comparison.year
        )),
        Block::Table(years(subject)),
    ];
    blocks.extend(paid(subject));
    blocks
}

fn years(subject: &Subject<'_>) -> Table {
    let comparison = subject.comparison;
    let has_cost = comparison.today.sums.cost.is_some();
    let has_co2 = comparison.today.sums.co2_kg.is_some();
    let mut headings = vec![say!(subject.printing, "pad and program").to_owned()];
    let mut kinds = vec![None];
    if has_cost {
        headings.push(say!(
            subject.printing,
            "cost ({currency})",
            currency = subject.currency()
        ));
        kinds.push(Some(Kind::Money));
    }
    headings.push(say!(subject.printing, "energy (kWh)").to_owned());
    kinds.push(Some(Kind::Energy));
    if has_co2 {
        headings.push(say!(subject.printing, "CO₂ (kg)").to_owned());
        kinds.push(None);
    }
    if comparison.baseline.is_some() {
        let unit = if has_cost { subject.currency() } else { "kWh" };
        headings.push(say!(subject.printing, "saves ({unit})", unit));
        kinds.push(Some(Kind::Money));
    }
    headings.extend([
        say!(subject.printing, "top (rpm)").to_owned(),
        say!(subject.printing, "for (h/day)").to_owned(),
    ]);
    let row = |name: &str, sums: &YearSums, saves: Option<Estimate>, top: Option<(f64, f64)>| {
        let mut cells = vec![name.to_owned()];
        if has_cost {
            cells.push(written(sums.cost, subject.printing));
        }
        cells.push(written(sums.energy_kwh, subject.printing));
        if has_co2 {
            cells.push(
                sums.co2_kg
                    .map_or_else(dash, |value| number::best(subject.printing, value)),
            );
        }
        if comparison.baseline.is_some() {
            cells.push(written(saves, subject.printing));
        }
        cells.push(top.map_or_else(dash, |(rpm, _)| number::rpm(subject.printing, rpm)));
        cells.push(top.map_or_else(dash, |(_, hours)| {
            number::significant(subject.printing, hours, 2)
        }));
        cells
    };
    let of_plain = |name: &str, plain: &Plain| {
        let saves = if has_cost {
            plain.saves
        } else {
            plain.saves_kwh
        };
        row(name, &plain.sums, saves, plain.top)
    };
    let mut rows = Vec::new();
    if let Some(baseline) = comparison.baseline.as_ref().filter(|it| it.name.is_none()) {
        rows.push(row(
            say!(subject.printing, "as found"),
            &baseline.sums,
            None,
            baseline.top,
        ));
    }
    rows.push(of_plain(
        say!(subject.printing, "as it is, best program"),
        &comparison.today,
    ));
    rows.extend(
        changed(comparison)
            .map(|(alternative, changed)| of_plain(&alternative.name, &changed.plain)),
    );
    Table {
        headings,
        rows,
        word_columns: 1,
        kinds: Kinds::of_columns(kinds),
        ..Table::default()
    }
}

/// Composes the table of what is paid; nothing where nothing is.
fn paid(subject: &Subject<'_>) -> Vec<Block> {
    let rows: Vec<Vec<String>> = changed(subject.comparison)
        .filter_map(|(alternative, changed)| {
            let worth = changed.worth.as_ref()?;
            let years = |years: Option<f64>| {
                years.map_or_else(
                    || say!(subject.printing, "never").to_owned(),
                    |years| number::significant(subject.printing, years, 2),
                )
            };
            Some(vec![
                alternative.name.clone(),
                money::amount(worth.terms.capital, subject.currency(), subject.printing),
                money::amount(
                    worth.terms.maintenance_year,
                    subject.currency(),
                    subject.printing,
                ),
                worth
                    .terms
                    .life_years
                    .map_or_else(dash, |life| number::significant(subject.printing, life, 3)),
                written(changed.adds, subject.printing),
                years(worth.pay_back.years),
                written(Some(worth.net_present_value), subject.printing),
                number::with_decimals(subject.printing, worth.chance, 2),
            ])
        })
        .collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let currency = subject.currency();
    vec![
        Block::Heading(say!(subject.printing, "What is paid for it").to_owned()),
        Block::Table(Table {
            headings: vec![
                say!(subject.printing, "change").to_owned(),
                say!(subject.printing, "cost ({currency})", currency),
                say!(subject.printing, "upkeep").to_owned(),
                say!(subject.printing, "life (years)").to_owned(),
                say!(subject.printing, "adds").to_owned(),
                say!(subject.printing, "pay-back (years)").to_owned(),
                say!(subject.printing, "worth today").to_owned(),
                say!(subject.printing, "chance").to_owned(),
            ],
            rows,
            word_columns: 1,
            kinds: Kinds::of_columns([
                None,
                Some(Kind::Money),
                None,
                None,
                Some(Kind::Money),
            ]),
            ..Table::default()
        }),
        Block::Note(
            say!(subject.printing, "Upkeep and \"adds\" are a year; \"adds\" is beyond the best program on the pad as it is; \"worth today\" is over the life, all costs taken away; \"chance\" is that of being worth the cost.")
                .to_owned(),
        ),
    ]
}

fn written(estimate: Option<Estimate>, printing: Printing) -> String {
    estimate.map_or_else(dash, |value| number::with_interval(printing, value))
}

fn dash() -> String {
    "–".to_owned()
}
