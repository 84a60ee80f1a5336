//! What a change of the pad would save, as `compare` answers it.

use super::day::drawn;
use super::{Answer, Given, Known, Refused, Told, Weighed};
use crate::parts::parts;
use crate::what_if::{Choice, change_text};
use crate::words;
use document::alternatives;
use operation::{AskedComparison, AskedYear, Comparison, Effort, compare, date_of};
use records::{Change, Problem, Site, Source, read_change};

/// The most minutes of a slot: what a program is set by, as `compare` takes it.
const HALF_AN_HOUR: u32 = 30;

/// The verdict on a change, in short.
pub(super) fn weighed(given: Given<'_>, choice: &Choice, site_text: &str) -> Answer {
    match worked_out(given, choice, site_text) {
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
pub(super) fn compared(given: Given<'_>, choice: &Choice, site_text: &str) -> Answer {
    match worked_out(given, choice, site_text) {
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

fn worked_out(given: Given<'_>, choice: &Choice, site_text: &str) -> Result<Found, Refused> {
    let Known {
        site,
        tests,
        analysis,
    } = given.known;
    let date = tests.last().and_then(date_of).ok_or_else(words::no_date)?;
    let site = choice.asked_of(site);
    let change = match &choice.kept {
        // It is kept already.
        Some(_) => None,
        None => change_text(site_text, choice, &words::change(choice)),
    };
    let tried = choice.kept.as_deref().or(change.as_deref());
    let read = tried.map(|text| read(text, &site)).transpose();
    let read = read.map_err(|problems| Refused::by_problems(&problems))?;
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
    let comparison = compare(&site, tests, analysis, &changes, &asked, |_, _| {})
        .map_err(|no_year| Refused::from(alternatives::no_year(&no_year, given.printing)))?;
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
