//! What a change of the pad would save, as `compare` answers it.

use super::day::{date_of, drawn};
use super::{Answer, Given, Known, Refused, Told, Weighed};
use crate::parts::parts;
use crate::what_if::{Choice, change_text};
use crate::words;
use document::alternatives;
use operation::{AskedComparison, AskedYear, Effort, compare};
use records::{Change, Problem, Source, read_change};

/// The most minutes of a slot: what a program is set by, as `compare` takes it.
const HALF_AN_HOUR: u32 = 30;

pub(super) fn weighed(given: Given<'_>, choice: &Choice, site_text: &str) -> Answer {
    let Known {
        site,
        tests,
        analysis,
    } = given.known;
    let Some(date) = tests.last().and_then(date_of) else {
        return Answer::Refused(words::no_date());
    };
    let site = choice.asked_of(site);
    let text = change_text(site_text, choice, &words::change(choice));
    let changes = match text.as_deref().map(|text| read(text, &site)).transpose() {
        Ok(change) => change.into_iter().collect::<Vec<_>>(),
        Err(problems) => return Answer::Refused(Refused::by_problems(&problems)),
    };
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
    let comparison = match compare(&site, tests, analysis, &changes, &asked, |_, _| {}) {
        Ok(comparison) => comparison,
        Err(no_year) => return Answer::Refused(alternatives::no_year(&no_year).into()),
    };
    let first = comparison.changes.first();
    let short = alternatives::in_short(&site, &comparison, first, given.printing);
    let figure = alternatives::figure(&site, &comparison, given.printing);
    Answer::WhatIf(Box::new(Weighed {
        short: parts(short),
        told: Told {
            parts: parts(alternatives::content(&site, &comparison, given.printing)),
            figures: figure
                .into_iter()
                .filter_map(|figure| drawn(given, figure))
                .collect(),
            json: alternatives::json(&site, &comparison, given.printing),
        },
        change: text,
    }))
}

fn read(text: &str, site: &records::Site) -> Result<Change, Vec<Problem>> {
    let source = Source {
        name: "change.toml".to_owned(),
        text: text.to_owned(),
    };
    read_change(&source, site)
}
