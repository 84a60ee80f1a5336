//! What a change of the pad would save, as `compare` answers it.

use super::day::drawn;
use super::{Answer, Given, Known, Refused, Told, Weighed};
use crate::parts::parts;
use crate::what_if::{Choice, change_text};
use crate::words;
use document::alternatives;
use operation::{
    AskedComparison, AskedYear, Comparison, Effort, NoYear, PadToday, Today, TodaysCircuit,
    compare_with_today, date_of,
};
use records::{Change, Problem, Site, Source, read_change};

/// The most minutes of a slot: what a program is set by, as `compare` takes it.
const HALF_AN_HOUR: u32 = 30;

/// For how many kinds of asking the pad as it is stays planned: those that a thumb goes over.
const MOST_TODAYS: usize = 16;

/// What was worked out of a pad as it is. A change of the pad leaves it, and another turnover or price leaves the circuit.
#[derive(Debug, Default)]
pub(super) struct TodayKnown {
    circuit: TodaysCircuit,
    /// The programs of the year, by what is asked of the pad.
    programs: Vec<(Choice, Today)>,
}

impl TodayKnown {
    /// The circuit, and the programs for what a choice asks of the pad.
    fn of(
        &mut self,
        choice: &Choice,
        plan: impl FnOnce() -> Result<Today, NoYear>,
    ) -> Result<(&TodaysCircuit, &Today), NoYear> {
        let asked = choice.without_change();
        let known = self.programs.iter().position(|(of, _)| *of == asked);
        let at = if let Some(at) = known {
            at
        } else {
            let planned = plan()?;
            if self.programs.len() >= MOST_TODAYS {
                self.programs.remove(0);
            }
            self.programs.push((asked, planned));
            self.programs.len() - 1
        };
        Ok((&self.circuit, &self.programs[at].1))
    }
}

/// The verdict on a change, in short.
pub(super) fn weighed(given: Given<'_>, today: &mut TodayKnown, choice: &Choice) -> Answer {
    match worked_out(given, today, choice) {
        Err(refused) => Answer::Refused(refused),
        Ok(found) => {
            let first = found.comparison.changes.first();
            let short =
                alternatives::in_short(&found.site, &found.comparison, first, given.printing);
            Answer::WhatIf(Box::new(Weighed {
                short: parts(short),
                change: found.change,
            }))
        }
    }
}

/// The whole comparison.
pub(super) fn compared(given: Given<'_>, today: &mut TodayKnown, choice: &Choice) -> Answer {
    match worked_out(given, today, choice) {
        Err(refused) => Answer::Refused(refused),
        Ok(Found {
            site, comparison, ..
        }) => {
            let printing = given.printing;
            let figure = alternatives::figure(&site, &comparison, printing);
            Answer::Told(Told {
                parts: parts(alternatives::content(&site, &comparison, printing)),
                figures: figure
                    .into_iter()
                    .filter_map(|figure| drawn(given, figure))
                    .collect(),
                json: alternatives::json(&site, &comparison, printing),
            })
        }
    }
}

/// What was worked out of a choice.
struct Found {
    /// The site with what is asked of it.
    site: Site,
    /// The file of the change.
    change: Option<String>,
    comparison: Comparison,
}

fn worked_out(given: Given<'_>, today: &mut TodayKnown, choice: &Choice) -> Result<Found, Refused> {
    let Known {
        site,
        tests,
        analysis,
    } = given.known;
    let date = tests
        .last()
        .and_then(date_of)
        .ok_or_else(|| words::no_date(given.printing))?;
    let site = choice.asked_of(site);
    let change = match &choice.kept {
        // It is kept already.
        Some(_) => None,
        None => change_text(
            given.site_text,
            choice,
            &words::change(choice, given.printing),
        ),
    };
    let tried = choice.kept.as_deref().or(change.as_deref());
    let read = tried.map(|text| read(text, &site)).transpose();
    let read = read.map_err(|problems| Refused::by_problems(&problems, given.printing.language))?;
    let changes: Vec<Change> = read.into_iter().collect();
    let asked = AskedComparison {
        year: AskedYear {
            year: date.year,
            least: None,
            slot_minutes: HALF_AN_HOUR,
            effort: Effort::a_second(),
            clock_changes: Vec::new(),
        },
        against: None,
    };
    let refused = |no_year: NoYear| Refused::from(alternatives::no_year(&no_year, given.printing));
    let plan = || Today::plan(&site, analysis, &asked.year);
    let (circuit, today) = today.of(choice, plan).map_err(refused)?;
    let pad = PadToday {
        site: &site,
        tests,
        analysis,
        today,
        circuit,
    };
    let comparison = compare_with_today(pad, &changes, &asked, |_, _| {}).map_err(refused)?;
    Ok(Found {
        site,
        change,
        comparison,
    })
}

fn read(text: &str, site: &Site) -> Result<Change, Vec<Problem>> {
    let source = Source {
        name: "change.toml".to_owned(),
        text: text.to_owned(),
    };
    read_change(&source, site)
}
