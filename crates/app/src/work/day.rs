//! The cheapest day, as `schedule` answers it.

use super::{Answer, Drawn, Given, Known, Refused, Told};
use crate::parts::parts;
use charts::Theme;
use document::figures::NamedFigure;
use document::schedule::{self, LiesIn};
use operation::{Asked, date_of};

pub(super) fn day(given: Given<'_>) -> Answer {
    let Known {
        site,
        tests,
        analysis,
    } = given.known;
    let asked = Asked {
        date: tests.last().and_then(date_of),
        ..Asked::default()
    };
    let plan = match operation::plan(site, analysis, &asked) {
        Ok(plan) => plan,
        Err(no_plan) => return Answer::Refused(schedule::refusal(&no_plan, given.printing).into()),
    };
    let day = schedule::figure(site, analysis, &plan, given.printing);
    let costs = operation::by_turnover(site, &plan, asked.effort).unwrap_or_default();
    let turnover = schedule::turnover_figure(site, analysis, &plan, &costs, given.printing)
        .filter(|_| day.is_some());
    let figures = day.into_iter().chain(turnover);
    Answer::Told(Told {
        parts: parts(schedule::content(site, analysis, &plan, given.printing)),
        figures: figures.filter_map(|figure| drawn(given, figure)).collect(),
        json: schedule::json(site, analysis, &plan, given.printing),
    })
}

/// Draws a figure for the room that there is.
pub(super) fn drawn(given: Given<'_>, figure: NamedFigure) -> Option<Drawn> {
    let NamedFigure { name, figure } = figure;
    let svg = figure.svg(Theme::Light, given.room.into())?;
    Some(Drawn { name, svg })
}

impl From<schedule::Refusal> for Refused {
    fn from(refusal: schedule::Refusal) -> Self {
        Self {
            says: refusal.message,
            hint: refusal.hint,
            lies_in_site: refusal.lies_in == LiesIn::SiteFile,
        }
    }
}
