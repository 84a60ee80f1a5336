//! The tables of a comparison: what a year comes to, and what is paid for it.

use super::{Subject, changed};
use crate::content::{Block, Table};
use crate::{money, number};
use metrology::Estimate;
use operation::{Plain, YearSums};

pub(super) fn tables(subject: &Subject<'_>) -> Vec<Block> {
    let mut blocks = vec![
        Block::Heading(format!("A year ({})", subject.comparison.year)),
        Block::Table(years(subject)),
    ];
    blocks.extend(paid(subject));
    blocks
}

fn years(subject: &Subject<'_>) -> Table {
    let comparison = subject.comparison;
    let has_cost = comparison.today.sums.cost.is_some();
    let has_co2 = comparison.today.sums.co2_kg.is_some();
    let mut headings = vec!["pad and program".to_owned()];
    if has_cost {
        headings.push(format!("cost ({})", subject.currency()));
    }
    headings.push("energy (kWh)".to_owned());
    if has_co2 {
        headings.push("CO₂ (kg)".to_owned());
    }
    if comparison.baseline.is_some() {
        let unit = if has_cost { subject.currency() } else { "kWh" };
        headings.push(format!("saves ({unit})"));
    }
    headings.extend(["top (rpm)".to_owned(), "for (h/day)".to_owned()]);
    let row = |name: &str, sums: &YearSums, saves: Option<Estimate>, top: Option<(f64, f64)>| {
        let mut cells = vec![name.to_owned()];
        if has_cost {
            cells.push(written(sums.cost));
        }
        cells.push(written(sums.energy_kwh));
        if has_co2 {
            cells.push(sums.co2_kg.map_or_else(dash, number::best));
        }
        if comparison.baseline.is_some() {
            cells.push(written(saves));
        }
        cells.push(top.map_or_else(dash, |(rpm, _)| number::rpm(rpm)));
        cells.push(top.map_or_else(dash, |(_, hours)| number::significant(hours, 2)));
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
        rows.push(row("as found", &baseline.sums, None, baseline.top));
    }
    rows.push(of_plain("as it is, best program", &comparison.today));
    rows.extend(
        changed(comparison)
            .map(|(alternative, changed)| of_plain(&alternative.name, &changed.plain)),
    );
    Table {
        headings,
        rows,
        word_columns: 1,
        struck: Vec::new(),
    }
}

/// Composes the table of what is paid; nothing where nothing is.
fn paid(subject: &Subject<'_>) -> Vec<Block> {
    let rows: Vec<Vec<String>> = changed(subject.comparison)
        .filter_map(|(alternative, changed)| {
            let worth = changed.worth.as_ref()?;
            let years = |years: Option<f64>| {
                years.map_or_else(|| "never".to_owned(), |years| number::significant(years, 2))
            };
            Some(vec![
                alternative.name.clone(),
                money::amount(worth.terms.capital, subject.currency()),
                money::amount(worth.terms.maintenance_year, subject.currency()),
                worth
                    .terms
                    .life_years
                    .map_or_else(dash, |life| number::significant(life, 3)),
                written(changed.adds),
                years(worth.pay_back.years),
                written(Some(worth.net_present_value)),
                number::with_decimals(worth.chance, 2),
            ])
        })
        .collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let currency = subject.currency();
    vec![
        Block::Heading("What is paid for it".to_owned()),
        Block::Table(Table {
            headings: vec![
                "change".to_owned(),
                format!("cost ({currency})"),
                "upkeep".to_owned(),
                "life (years)".to_owned(),
                "adds".to_owned(),
                "pay-back (years)".to_owned(),
                "worth today".to_owned(),
                "chance".to_owned(),
            ],
            rows,
            word_columns: 1,
            struck: Vec::new(),
        }),
        Block::Note(
            "Upkeep and \"adds\" are a year; \"adds\" is beyond the best program on the pad as it is; \"worth today\" is over the life, all costs taken away; \"chance\" is that of being worth the cost."
                .to_owned(),
        ),
    ]
}

fn written(estimate: Option<Estimate>) -> String {
    estimate.map_or_else(dash, number::with_interval)
}

fn dash() -> String {
    "–".to_owned()
}
