//! Which numbers of an answer can say where they come from, and how they were computed, in words.

mod method;

pub use method::{Method, method};

use document::content::Table;
use fieldtest::{Analysis, Question, TestResult};
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

/// What a number is that comes from no law and no limit alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Head along a line or a part, or of the pump.
    Head,
    /// A part of the power that the pump gives.
    Share,
    /// A sum of money.
    Money,
    /// Energy of a day or a year.
    Energy,
    /// A volume of water.
    Water,
    /// A day that was found and proven.
    Program,
    /// By how much a part of the pad takes more or less than at the baseline.
    Factor,
    /// How probable a change is.
    Odds,
    /// When the filter is due.
    Due,
}

impl Kind {
    /// What was measured to get there.
    pub(crate) fn measured(self) -> &'static [Measured] {
        match self {
            Self::Head | Self::Share | Self::Factor | Self::Odds => &[
                Measured::Flow,
                Measured::FilterPressure,
                Measured::InletVacuum,
                Measured::InletPressure,
            ],
            Self::Due => &[Measured::FilterPressure, Measured::Flow],
            Self::Money | Self::Energy | Self::Program => &[Measured::Power, Measured::Flow],
            Self::Water => &[Measured::Flow],
        }
    }
}

/// Where a number stands.
#[derive(Clone, Copy, Debug)]
pub enum Spot<'a> {
    /// In the sentence that answers to a word.
    Answer(&'a str),
    /// In a table, called by the heading above it.
    Cell {
        /// The heading.
        name: &'a str,
        /// The table.
        table: &'a Table,
        /// The row, from 0.
        row: usize,
        /// The column, from 0.
        column: usize,
    },
}

/// A kind of answer, which knows its own words and tables.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// The analysis of the tests.
    Analysis,
    /// Where the head is lost.
    Lost,
    /// The day.
    Day,
    /// A comparison.
    WhatIf,
    /// What changed since the baseline.
    Since,
}

/// Finds where a number of an answer comes from; `None` where there is nothing to tell.
pub fn origin(of: Of, analysis: &Analysis, spot: Spot<'_>) -> Option<Origin> {
    match (of, spot) {
        (
            Of::Analysis,
            Spot::Cell {
                name,
                table,
                row,
                column,
            },
        ) => {
            if name == LIMITS {
                let is_number = column >= table.word_columns && row < analysis.limits.len();
                return is_number.then_some(Origin::Limit(row));
            }
            let test = test_of(name, &analysis.tests)?;
            let question = question(table, analysis.tests.get(test)?, row, column)?;
            Some(Origin::Law { test, question })
        }
        (Of::Analysis, Spot::Answer(_)) => None,
        (_, Spot::Answer(word)) => answer_kind(of, word).map(|kind| Origin::Other {
            kind,
            name: word.to_owned(),
        }),
        (
            _,
            Spot::Cell {
                table, row, column, ..
            },
        ) => {
            if column < table.word_columns {
                return None;
            }
            of_step(of, analysis, table, row, column).or_else(|| {
                let heading = table.headings.get(column)?;
                Some(Origin::Other {
                    kind: cell_kind(of, heading)?,
                    name: row_name(table, row),
                })
            })
        }
    }
}

/// What the table of limits is called.
const LIMITS: &str = "Limits";

fn answer_kind(of: Of, word: &str) -> Option<Kind> {
    Some(match of {
        Of::Analysis => return None,
        Of::Lost => match word {
            "Head" => Kind::Head,
            "Taken by" => Kind::Share,
            _ => return None,
        },
        Of::Day => match word {
            "Cost" | "Saves" => Kind::Money,
            "Energy" => Kind::Energy,
            "Water" => Kind::Water,
            _ => Kind::Program,
        },
        Of::WhatIf => match word {
            "Top speed" => Kind::Program,
            "Newly kept" | "No longer kept" | "Not kept" => return None,
            _ => Kind::Money,
        },
        Of::Since => match word {
            "Filter" | "Due" => Kind::Due,
            "How sure" => Kind::Odds,
            _ => Kind::Factor,
        },
    })
}

fn cell_kind(of: Of, heading: &str) -> Option<Kind> {
    let starts = |word: &str| heading.starts_with(word);
    Some(match of {
        Of::Lost if starts("head") => Kind::Head,
        Of::Lost => Kind::Share,
        Of::Day | Of::WhatIf if starts("energy") => Kind::Energy,
        Of::Day | Of::WhatIf if starts("cost") || starts("saves") || starts("adds") => Kind::Money,
        Of::Since if starts("before") || starts("now") => Kind::Odds,
        Of::Since => Kind::Factor,
        _ => return None,
    })
}

/// Flow and power of a step of a program are those of the laws of the last test.
fn of_step(
    of: Of,
    analysis: &Analysis,
    table: &Table,
    row: usize,
    column: usize,
) -> Option<Origin> {
    let heading = table.headings.get(column)?;
    let place = table
        .headings
        .iter()
        .position(|heading| heading.starts_with("speed"))?;
    let speed: f64 = table
        .rows
        .get(row)?
        .get(place)?
        .replace(',', "")
        .parse()
        .ok()?;
    let question = match heading.split([' ', '\n']).next()? {
        "flow" => Question::Flow(speed),
        "power" => Question::Power(speed),
        _ => return None,
    };
    let test = analysis.tests.len().checked_sub(1)?;
    (of == Of::Day).then_some(Origin::Law { test, question })
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

/// Finds what to ask of a cell of a table of one test; `None` where there is nothing to ask.
///
/// # Inputs
/// The table and the test that it is of; the row and the column of the cell, from 0.
pub fn question(table: &Table, test: &TestResult, row: usize, column: usize) -> Option<Question> {
    let heading = table.headings.get(column)?;
    let first = |heading: &String| heading.split(['\n', ',']).next().map(str::to_owned);
    if table.headings.first().and_then(first).as_deref() == Some("speed") {
        let speed = test.steps.get(row)?.speed_rpm;
        return match first(heading)?.as_str() {
            "flow" => Some(Question::Flow(speed)),
            // The power factor is none of the answers that have a budget.
            "power" if !heading.ends_with("factor") => Some(Question::Power(speed)),
            "energy" => Some(Question::Energy(speed)),
            _ => None,
        };
    }
    if column == 0 {
        return None;
    }
    match table.rows.get(row)?.first()?.as_str() {
        "draw that does not depend on speed" => Some(Question::FixedDraw),
        "exponent of that draw in speed" => Some(Question::Exponent),
        _ => None,
    }
}

/// Finds the test that a table is of, by its place in the analysis: the only one, or the one that its heading names;
/// `None` for a table of the whole site.
pub fn test_of(heading: &str, tests: &[TestResult]) -> Option<usize> {
    match tests {
        [_] => Some(0),
        tests => tests
            .iter()
            .position(|test| heading.ends_with(&format!(", test {}", test.name))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parts::{Part, parts};

    #[test]
    fn every_number_with_a_budget_is_found_in_the_tables_of_the_demo() {
        for tests in 1..=2 {
            let mut pad = crate::demo::pad();
            pad.tests.truncate(tests);
            let answered = crate::answer::answer(&pad, None).unwrap();
            let all = &answered.analysis().tests;
            let mut found = Vec::new();
            for part in parts(answered.blocks()) {
                let Part::Table { name, table } = part else {
                    continue;
                };
                let Some(at) = test_of(&name, all) else {
                    continue;
                };
                for (row, cells) in table.rows.iter().enumerate() {
                    let asked = (0..cells.len())
                        .filter_map(|column| question(&table, &all[at], row, column));
                    found.extend(asked.map(|question| (at, question)));
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
