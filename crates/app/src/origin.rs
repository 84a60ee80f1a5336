//! Which numbers of an answer can say where they come from: told by what a number is, never by how it is called.

use document::content::{Kind, Table};
use fieldtest::{Analysis, Question};
use records::Measured;

/// Where a number comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum Origin {
    /// A law of a test, which is called by its place in the analysis.
    Law {
        /// The test.
        test: usize,
        /// What is asked of the law.
        question: Question,
    },
    /// A limit of the site, by its place in the analysis.
    Limit(usize),
    /// Something else, with what it is called where it stands.
    Other {
        /// What it is.
        kind: Kind,
        /// What it is called: "return 1, all", "Cost".
        name: String,
    },
}

/// What was measured to get to a number.
pub(crate) fn measured(kind: Kind) -> &'static [Measured] {
    match kind {
        Kind::Head | Kind::Share | Kind::Factor | Kind::Odds => &[
            Measured::Flow,
            Measured::FilterPressure,
            Measured::InletVacuum,
            Measured::InletPressure,
        ],
        Kind::Due => &[Measured::FilterPressure, Measured::Flow],
        Kind::Money
        | Kind::Energy
        | Kind::Program
        | Kind::EnergyPerVolume
        | Kind::FixedDraw
        | Kind::Exponent
        | Kind::Power => &[Measured::Power, Measured::Flow],
        Kind::Water | Kind::Flow | Kind::Speed | Kind::Limit => &[Measured::Flow],
    }
}

/// Where a number stands.
#[derive(Clone, Copy, Debug)]
pub enum Spot<'a> {
    /// In a sentence.
    Answer {
        /// What it tells of.
        kind: Option<Kind>,
        /// The word that it answers to.
        word: &'a str,
    },
    /// In a table.
    Cell {
        /// The table.
        table: &'a Table,
        /// The row, from 0.
        row: usize,
        /// The column, from 0.
        column: usize,
    },
}

/// Finds where a number of an answer comes from; `None` where there is nothing to tell.
pub fn origin(analysis: &Analysis, spot: Spot<'_>) -> Option<Origin> {
    let (table, row, column) = match spot {
        Spot::Answer { kind, word } => {
            return Some(Origin::Other {
                kind: kind?,
                name: word.to_owned(),
            });
        }
        Spot::Cell { table, row, column } => (table, row, column),
    };
    let kind = table.kind(row, column)?;
    let of_law = |question: fn(f64) -> Question| {
        let question = question(speed(analysis, table, row)?);
        law(analysis, table, question)
    };
    match kind {
        Kind::Speed => None,
        Kind::Limit => (row < analysis.limits.len()).then_some(Origin::Limit(row)),
        Kind::Flow => of_law(Question::Flow),
        Kind::Power => of_law(Question::Power),
        Kind::EnergyPerVolume => of_law(Question::Energy),
        Kind::FixedDraw => law(analysis, table, Question::FixedDraw),
        Kind::Exponent => law(analysis, table, Question::Exponent),
        kind => Some(Origin::Other {
            kind,
            name: row_name(table, row),
        }),
    }
}

/// A law of the test that a table is of; of the last one where it is of none.
fn law(analysis: &Analysis, table: &Table, question: Question) -> Option<Origin> {
    let last = analysis.tests.len().checked_sub(1)?;
    let test = table.kinds.test.unwrap_or(last);
    Some(Origin::Law { test, question })
}

/// The speed of a row: that of the step, or the one that is written in the row.
fn speed(analysis: &Analysis, table: &Table, row: usize) -> Option<f64> {
    if let Some(test) = table.kinds.test {
        return Some(analysis.tests.get(test)?.steps.get(row)?.speed_rpm);
    }
    let columns = &table.kinds.columns;
    let place = columns.iter().position(|kind| *kind == Some(Kind::Speed))?;
    let text = table.rows.get(row)?.get(place)?;
    // No pump turns ten thousand times a minute, from where on thousands are parted: a comma is that of decimals.
    text.replace(',', ".").parse().ok()
}

/// What a row is called: its words, those of a line also where the row tells of a part of it.
fn row_name(table: &Table, row: usize) -> String {
    let words = table.word_columns.max(1);
    let mut name: Vec<String> = Vec::new();
    for column in 0..words {
        let above = table.rows.iter().take(row + 1).rev();
        let said = above
            .filter_map(|cells| cells.get(column))
            .find(|text| !text.is_empty());
        name.extend(said.cloned());
    }
    name.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parts::{Part, parts};
    use records::Language;

    #[test]
    fn every_number_with_a_budget_is_found_in_the_tables_of_the_demo_in_every_language() {
        for (tests, language) in [1, 2].into_iter().zip(Language::ALL.into_iter().cycle()) {
            let mut pad = crate::demo::pad();
            pad.tests.truncate(tests);
            let answered = crate::answer::answer(&pad, None, language).unwrap();
            let all = &answered.analysis().tests;
            let mut found = Vec::new();
            for part in parts(answered.blocks()) {
                let Part::Table { table, .. } = part else {
                    continue;
                };
                for (row, cells) in table.rows.iter().enumerate() {
                    found.extend((0..cells.len()).filter_map(|column| {
                        let table = &table;
                        match origin(answered.analysis(), Spot::Cell { table, row, column }) {
                            Some(Origin::Law { test, question }) => Some((test, question)),
                            _ => None,
                        }
                    }));
                }
            }
            let numbers: usize = all.iter().map(|test| 3 * test.steps.len() + 2).sum();
            assert_eq!(found.len(), numbers);
            for (test, question) in found {
                let from = answered.where_from(&Origin::Law { test, question });
                assert!(
                    from.is_some_and(|from| from.test == all[test].name),
                    "{question:?}"
                );
            }
        }
    }
}
