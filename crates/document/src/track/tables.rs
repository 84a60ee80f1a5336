//! The tables of the return visit: the hypotheses of each, and what each side takes over the baseline.

use super::Subject;
use super::answer::percent;
use super::words::{change_words, hypothesis};
use crate::content::{Block, Kind, Kinds, Table};
use crate::language::say;
use crate::number;
use crate::units::Printing;
use fieldtest::{Change, Visit};

/// The sides of the pad that are let free together, in the order of the water.
pub(super) const SIDES: [Change; 4] = [
    Change::Suction,
    Change::Pump,
    Change::Media,
    Change::Returns,
];

/// Lists what may have changed by a visit.
pub(super) fn hypotheses(visit: &Visit, printing: Printing) -> Vec<Block> {
    let Ok(told) = &visit.told else {
        return Vec::new();
    };
    let rows = told.candidates.iter().map(|it| {
        vec![
            hypothesis(it.change.as_ref(), printing),
            percent(it.prior, printing),
            percent(it.probability, printing),
            it.factor.map_or_else(
                || "–".to_owned(),
                |value| number::with_interval(printing, value),
            ),
            seen(it.change.as_ref(), it.least_seen, printing),
        ]
    });
    vec![
        Block::Heading(say!(
            printing,
            "What may have changed by {test}",
            test = visit.test
        )),
        Block::Table(Table {
            headings: [
                say!(printing, "hypothesis"),
                say!(printing, "before\nreading"),
                say!(printing, "now"),
                say!(printing, "times the\nbaseline"),
                say!(printing, "would show\nfrom"),
            ]
            .map(str::to_owned)
            .to_vec(),
            rows: rows.collect(),
            word_columns: 1,
            kinds: Kinds::of_columns([
                None,
                Some(Kind::Odds),
                Some(Kind::Odds),
                Some(Kind::Factor),
                Some(Kind::Factor),
            ]),
            ..Table::default()
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
                    |(_, factor)| number::with_interval(self.printing, *factor),
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
        let mut headings = vec![say!(self.printing, "visit").to_owned()];
        headings.extend(SIDES.iter().map(|side| change_words(side, self.printing)));
        vec![
            Block::Heading(say!(
                self.printing,
                "Times the baseline {baseline}, all let free at once",
                baseline = self.found.baseline
            )),
            Block::Table(Table {
                headings,
                rows,
                word_columns: 1,
                kinds: Kinds::of_columns(
                    [None]
                        .into_iter()
                        .chain([Some(Kind::Factor); SIDES.len()])
                        .collect::<Vec<_>>(),
                ),
                ..Table::default()
            }),
        ]
    }
}

/// Says from which factor a change would have been told; a pump loses, the others gain.
pub(super) fn seen(change: Option<&Change>, least: Option<f64>, printing: Printing) -> String {
    let factor = least.map(|least| match change {
        Some(Change::Pump | Change::Air) => 1.0 / least,
        _ => least,
    });
    match (change, factor) {
        (None, _) => "–".to_owned(),
        (_, Some(factor)) => format!("× {}", number::significant(printing, factor, 3)),
        (_, None) => say!(printing, "never").to_owned(),
    }
}
