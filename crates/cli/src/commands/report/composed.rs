//! A report from the same answers as `analyze --at`, `schedule`, `compare` and `track` give.

use super::super::analyze::calibrated;
use super::super::schedule::date_of;
use document::report::{Letterhead, More, Report, Section, Subject, report};
use document::units::Printing;
use fieldtest::{Analysis, follow_up};
use operation::{Asked, AskedComparison, AskedYear, Clock, Effort, NoYear};
use records::{Change, Site, Test};

/// Visits that lie closer together are one, days: two line-ups of one afternoon are no return visit.
const APART_DAYS: f64 = 1.0;

/// What a report is made of.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pad<'a> {
    pub(super) site: &'a Site,
    pub(super) tests: &'a [Test],
    /// The changes that are weighed in it.
    pub(super) changes: &'a [Change],
    pub(super) printing: Printing,
}

impl Pad<'_> {
    /// Composes the report.
    ///
    /// # Errors
    /// Why the changes cannot be weighed.
    pub(super) fn report(&self, letterhead: Letterhead) -> Result<Report, NoYear> {
        let (site, tests) = (self.site, self.tests);
        let mut analysis = fieldtest::analyze(site, tests);
        let more = More {
            alternatives: self.alternatives(&analysis, letterhead.date.year)?,
            follow_up: self.follow_up(&analysis),
        };
        let steps = analysis.tests.last().map(|test| &test.steps);
        let highest = steps
            .and_then(|steps| steps.last())
            .map(|step| step.speed_rpm);
        let calibration = highest
            .filter(|_| !site.lines.is_empty())
            .and_then(|highest| calibrated(site, tests, &mut analysis, Some(highest)));
        let asked = Asked {
            date: tests.last().and_then(date_of),
            ..Asked::default()
        };
        let plan = operation::plan(site, &analysis, &asked);
        let subject = Subject {
            site,
            tests,
            analysis: &analysis,
            plan: plan.as_ref(),
            calibration: calibration.as_ref(),
            more: &more,
            printing: self.printing,
        };
        Ok(report(&subject, letterhead))
    }

    /// Weighs the changes over the year of the last test; without a date, over that of the report.
    fn alternatives(&self, analysis: &Analysis, year: Option<u16>) -> Result<Section, NoYear> {
        if self.changes.is_empty() {
            return Ok(Section::default());
        }
        let of_test = self.tests.last().and_then(date_of).map(|date| date.year);
        let usual = Asked::default();
        let asked = AskedComparison {
            year: AskedYear {
                year: of_test.or(year).unwrap_or_default(),
                least: usual.least,
                slot_minutes: usual.slot_minutes,
                effort: Effort::a_second(),
                clock_changes: Vec::<(_, Clock)>::new(),
            },
            against: None,
        };
        let compared = operation::compare(
            self.site,
            self.tests,
            analysis,
            self.changes,
            &asked,
            |_, _| {},
        );
        let compared = compared?;
        Ok(document::alternatives::handed(
            self.site,
            &compared,
            self.printing,
        ))
    }

    /// Holds later visits against the first; nothing where there is only one, or they cannot be compared.
    fn follow_up(&self, analysis: &Analysis) -> Section {
        let Ok(mut found) = follow_up(self.site, self.tests, analysis, 0) else {
            return Section::default();
        };
        let is_later = |days: Option<f64>| days.is_some_and(|days| days >= APART_DAYS);
        found.visits.retain(|visit| is_later(visit.days));
        if found.visits.is_empty() {
            return Section::default();
        }
        document::track::handed(self.site, &found, self.printing)
    }
}
