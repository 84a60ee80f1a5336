//! Which numbers of an answer's tables can say where they come from, and how they were computed, in words.

use crate::words;
use document::content::Table;
use fieldtest::{Question, TestResult};

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

/// How an answer was computed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Method {
    /// The formula.
    pub formula: &'static str,
    /// What it means, and what was done with the readings.
    pub means: &'static str,
    /// Who stands behind it.
    pub source: &'static str,
}

/// Says how the answer to a question is computed.
pub fn method(question: Question) -> Method {
    match question {
        Question::Flow(_) => Method {
            formula: "Q² = s² · (N² − N₀²)",
            means: words::FLOW_LAW,
            source: words::GUIDE,
        },
        Question::Power(_) => Method {
            formula: "P = P₀ + c · (N / Nmax)^m",
            means: words::POWER_LAW,
            source: words::GUIDE,
        },
        Question::Energy(_) => Method {
            formula: "E = P / Q",
            means: words::ENERGY_LAW,
            source: words::GUIDE,
        },
        Question::FixedDraw => Method {
            formula: "P₀ in P = P₀ + c · (N / Nmax)^m",
            means: words::FIXED_DRAW_LAW,
            source: words::GUIDE,
        },
        Question::Exponent => Method {
            formula: "m in P = P₀ + c · (N / Nmax)^m",
            means: words::EXPONENT_LAW,
            source: words::GUIDE,
        },
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
                let from = answered.where_from(test, question);
                assert!(
                    from.is_some_and(|from| from.test == all[test].name),
                    "{question:?}"
                );
            }
        }
    }
}
