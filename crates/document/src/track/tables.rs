//! The tables of the return visit: the hypotheses of each, and what each side takes over the baseline.

use super::Subject;
use super::answer::percent;
use super::words::{change_words, hypothesis};
use crate::content::{Block, Table};
use crate::number;
use fieldtest::{Change, Visit};

/// The sides of the pad that are let free together, in the order of the water.
pub(super) const SIDES: [Change; 4] = [
    Change::Suction,
    Change::Pump,
    Change::Media,
    Change::Returns,
];

/// Lists what may have changed by a visit.
pub(super) fn hypotheses(visit: &Visit) -> Vec<Block> {
    let Ok(told) = &visit.told else {
        return Vec::new();
    };
    let rows = told.candidates.iter().map(|it| {
        vec![
            hypothesis(it.change.as_ref()),
            percent(it.prior),
            percent(it.probability),
            it.factor
                .map_or_else(|| "–".to_owned(), number::with_interval),
            seen(it.change.as_ref(), it.least_seen),
        ]
    });
    vec![
        Block::Heading(format!("What may have changed by {}", visit.test)),
        Block::Table(Table {
            headings: [
                "hypothesis",
                "before\nreading",
                "now",
                "times the\nbaseline",
                "would show\nfrom",
            ]
            .map(str::to_owned)
            .to_vec(),
            rows: rows.collect(),
            word_columns: 1,
            struck: Vec::new(),
        }),
    ]
}

impl Subject<'_> {
    pub(super) fn resistances(&self) -> Vec<Block> {
        let visits = self.found.visits.iter();
        let rows = visits.filter_map(|visit| {
            let told = visit.told.as_ref().ok()?;
            let side = |side: &Change| {
                let found = told.at_once.iter().find(|(of, _)| of == side);
                found.map_or_else(
                    || "–".to_owned(),
                    |(_, factor)| number::with_interval(*factor),
                )
            };
            let mut row = vec![visit.test.clone()];
            row.extend(SIDES.iter().map(side));
            Some(row)
        });
        let rows: Vec<Vec<String>> = rows.collect();
        if rows.is_empty() {
            return Vec::new();
        }
        let mut headings = vec!["visit".to_owned()];
        headings.extend(SIDES.iter().map(change_words));
        vec![
            Block::Heading(format!(
                "Times the baseline {}, all let free at once",
                self.found.baseline
            )),
            Block::Table(Table {
                headings,
                rows,
                word_columns: 1,
                struck: Vec::new(),
            }),
        ]
    }
}

/// Says from which factor a change would have been told; a pump loses, the others gain.
pub(super) fn seen(change: Option<&Change>, least: Option<f64>) -> String {
    let factor = least.map(|least| match change {
        Some(Change::Pump | Change::Air) => 1.0 / least,
        _ => least,
    });
    match (change, factor) {
        (None, _) => "–".to_owned(),
        (_, Some(factor)) => format!("× {}", number::significant(factor, 3)),
        (_, None) => "never".to_owned(),
    }
}
