//! The one pass that gives the verdicts of all cells.

use super::findings::Placed;
use super::{Band, Doubt, RowVerdict, State, Verdict, Verdicts};
use crate::answer::Answered;
use crate::draft::{DraftRow, LeftOut, Place, Readable, Spot, TestDraft};
use crate::lineup::{Lineup, lineup};
use crate::words;
use document::units::Printing;
use document::words::{expected, rough_doubt, to_type};
use fieldtest::{Expectation, analyze_with_expectations};
use records::{Problem, Separator, Site, Test, check_test, read_test};

/// What one look at a draft gives: the verdict on each cell, and the answer, where the texts can be read.
#[derive(Clone, Debug)]
pub struct Judged {
    /// The verdicts.
    pub verdicts: Verdicts,
    /// The answer; `None` where something must be mended first.
    pub answered: Option<Answered>,
    /// What the test file states, as far as it can be read.
    pub lineup: Lineup,
}

/// Judges a draft: one analysis gives the verdicts and the answer.
///
/// # Inputs
/// The site, the draft, and the units of the sentences; bands are in the unit of their column.
pub fn judged(site: &Site, draft: &TestDraft, printing: Printing) -> Judged {
    let readable = draft.readable();
    let mut verdicts = before_the_engine(draft, &readable, printing);
    let mut answered = None;
    match test_of(site, &readable) {
        Ok(test) => {
            let pass = Pass {
                draft,
                lines: &readable.lines,
                rows: rows_of(&test, &readable),
                columns: columns_of(&test, draft),
                printing,
            };
            let (analysis, expectations) = analyze_with_expectations(site, &test);
            pass.lay_expectations(&expectations, &mut verdicts);
            for finding in &analysis.findings {
                if let Some(placed) = Placed::of(finding, printing) {
                    pass.lay_finding(placed, &mut verdicts);
                }
            }
            answered = Some(Answered::of(site.clone(), vec![test], analysis, printing));
        }
        Err(problems) => verdicts.problems = problems,
    }
    let lineup = lineup(&draft.head_text).unwrap_or_default();
    lay_rulings(draft, &lineup, &readable, &mut verdicts);
    Judged {
        verdicts,
        answered,
        lineup,
    }
}

/// Gives the verdicts on all cells of a draft: those of [`judged`].
pub fn verdicts(site: &Site, draft: &TestDraft, printing: Printing) -> Verdicts {
    judged(site, draft, printing).verdicts
}

/// Reads the draft as the engine takes it.
fn test_of(site: &Site, readable: &Readable) -> Result<Test, Vec<Problem>> {
    let (head, readings) = (&readable.files.test, readable.files.readings.as_ref());
    let test = read_test(head, readings)?;
    let problems = check_test(site, head, readings, &test);
    if problems.is_empty() {
        Ok(test)
    } else {
        Err(problems)
    }
}

/// The verdicts before the engine has spoken: empty, a number, or none.
fn before_the_engine(draft: &TestDraft, readable: &Readable, printing: Printing) -> Verdicts {
    let typed = |text: &str| Verdict {
        state: if text.trim().is_empty() {
            State::Empty
        } else {
            State::Fine
        },
        ..Verdict::default()
    };
    let row = |row: &DraftRow| RowVerdict {
        speed: typed(&row.speed),
        cells: row.cells.iter().map(|cell| typed(cell)).collect(),
        note: typed(&row.note),
    };
    let mut verdicts = Verdicts {
        rows: draft.rows.iter().map(row).collect(),
        columns: vec![None; draft.columns.len()],
        problems: Vec::new(),
    };
    for (row, typed) in draft.rows.iter().enumerate() {
        let is_read = typed.cells.iter().any(|cell| !cell.trim().is_empty());
        if is_read && typed.speed.trim().is_empty() {
            verdicts.rows[row].speed.state = State::NotANumber {
                says: words::speed_missing(printing),
                accept: None,
            };
        }
    }
    for left_out in &readable.left_out {
        if let Some(verdict) = verdicts.at_mut(left_out.place) {
            verdict.state = not_a_reading(draft, left_out, printing);
        }
    }
    verdicts
}

fn not_a_reading(
    draft: &TestDraft,
    LeftOut { place, problem }: &LeftOut,
    printing: Printing,
) -> State {
    let text = draft.text(*place).unwrap_or_default();
    let says = words::not_a_reading(text, problem, printing);
    let accept = problem.accept.clone();
    if problem.is_number {
        return State::Impossible(Doubt {
            code: None,
            says,
            action: words::mend(problem, printing),
            accept,
        });
    }
    State::NotANumber { says, accept }
}

/// For each row of the test, that of the draft: rows without a speed are not in the test.
fn rows_of(test: &Test, readable: &Readable) -> Vec<Option<usize>> {
    let of_line = |line: usize| readable.lines.binary_search(&line).ok();
    let rows = test.readings.rows.iter();
    rows.map(|row| of_line(row.line)).collect()
}

/// For each column of the test, that of the draft; the speed is none of its columns.
fn columns_of(test: &Test, draft: &TestDraft) -> Vec<Option<usize>> {
    let of = |column: &records::Column| {
        draft
            .columns
            .iter()
            .position(|own| (own.measured, &own.meter) == (column.measured, &column.meter))
    };
    test.readings.columns.iter().map(of).collect()
}

/// The draft with the ways from the test's rows and columns to its own.
struct Pass<'a> {
    draft: &'a TestDraft,
    /// The line of each row of the draft.
    lines: &'a [usize],
    rows: Vec<Option<usize>>,
    columns: Vec<Option<usize>>,
    printing: Printing,
}

impl Pass<'_> {
    fn lay_expectations(&self, expectations: &[Expectation], verdicts: &mut Verdicts) {
        for expectation in expectations {
            let row = self.rows.get(expectation.row).copied().flatten();
            let column = self.columns.get(expectation.column).copied().flatten();
            let Some((row, column)) = row.zip(column) else {
                continue;
            };
            let place = Place {
                row,
                spot: Spot::Cell(column),
            };
            let (Some(verdict), Some(of)) =
                (verdicts.at_mut(place), self.draft.columns.get(column))
            else {
                continue;
            };
            let words = expected(expectation, of.unit, self.printing);
            verdict.expected = Some(Band {
                low: words.low,
                high: words.high,
                best: words.best,
                unit: words.unit,
                text: words.text,
                is_coarse: expectation.by.is_rough(),
            });
            let Some(doubt) = expectation
                .doubt
                .as_ref()
                .filter(|_| verdict.state == State::Fine)
            else {
                continue;
            };
            let words = rough_doubt(expectation, doubt, of.unit, self.printing);
            let accept = doubt.slip.map(|(_, si)| to_type(&doubt.read, si));
            verdict.state = State::Doubted(Doubt {
                code: Some(if accept.is_some() {
                    "unit-slip"
                } else {
                    "off-curve"
                }),
                says: words.says,
                action: words.action,
                accept: accept.map(|accept| self.as_typed(accept)),
            });
        }
    }

    fn lay_finding(&self, placed: Placed<'_>, verdicts: &mut Verdicts) {
        let doubt = Doubt {
            accept: placed
                .doubt
                .accept
                .clone()
                .map(|accept| self.as_typed(accept)),
            ..placed.doubt
        };
        let columns = self.draft.columns.iter();
        let named: Vec<usize> = columns
            .enumerate()
            .filter(|(_, column)| placed.columns.contains(&column.name().as_str()))
            .map(|(index, _)| index)
            .collect();
        let spots: Vec<Spot> = if placed.is_of_the_speed {
            vec![Spot::Speed]
        } else {
            named.iter().copied().map(Spot::Cell).collect()
        };
        let rows = self.rows_on(&placed.rows);
        if rows.is_empty() {
            for column in named {
                verdicts.columns[column].get_or_insert_with(|| doubt.clone());
            }
            return;
        }
        for place in rows.iter().flat_map(|row| {
            let row = *row;
            spots.iter().map(move |spot| Place { row, spot: *spot })
        }) {
            if let Some(verdict) = verdicts.at_mut(place) {
                verdict.take(&doubt, placed.is_impossible);
            }
        }
    }

    /// The rows of the draft on lines of the file.
    fn rows_on(&self, lines: &[usize]) -> Vec<usize> {
        lines
            .iter()
            .filter_map(|line| self.lines.binary_search(line).ok())
            .collect()
    }

    /// A number as it is typed in this test.
    fn as_typed(&self, number: String) -> String {
        let has_commas = self.draft.separator == Separator::Semicolon
            && self
                .draft
                .rows
                .iter()
                .any(|row| row.cells.iter().any(|cell| cell.contains(',')));
        if has_commas {
            number.replace('.', ",")
        } else {
            number
        }
    }
}

/// Lays the rulings beside the cells that they are on.
fn lay_rulings(draft: &TestDraft, lineup: &Lineup, readable: &Readable, verdicts: &mut Verdicts) {
    for ruling in &lineup.rulings {
        let row = readable.lines.binary_search(&ruling.row).ok();
        let spot = draft.spot_named(&ruling.column);
        if let Some((row, spot)) = row.zip(spot)
            && let Some(verdict) = verdicts.at_mut(Place { row, spot })
        {
            verdict.ruling = Some(ruling.say);
        }
    }
}

impl Verdict {
    /// Takes a doubt. What is impossible outweighs what is doubted, and keeps what explains the reading; else the first
    /// doubt stands.
    fn take(&mut self, doubt: &Doubt, is_impossible: bool) {
        self.state = match (std::mem::take(&mut self.state), is_impossible) {
            (State::Doubted(first), true) if doubt.accept.is_none() && first.accept.is_some() => {
                State::Impossible(Doubt {
                    says: doubt.says.clone(),
                    code: doubt.code,
                    ..first
                })
            }
            (State::Fine | State::Empty | State::Doubted(_), true) => {
                State::Impossible(doubt.clone())
            }
            (State::Fine | State::Empty, false) => State::Doubted(doubt.clone()),
            (other, _) => other,
        };
    }
}
