//! Everything that a report is made of, worked out once: what the tests say, the day that is advised, where the head is lost,
//! what changes of the pad would save, and what has changed since the first visit.

use crate::{
    Asked, AskedComparison, AskedYear, Comparison, Date, DayPlan, Effort, NoPlan, NoYear, compare,
    plan,
};
use fieldtest::{Analysis, Calibration, FollowUp, calibrate_into, follow_up};
use records::{Change, Site, Test};

/// Visits that lie closer together are one, days: two line-ups of one afternoon are no return visit.
const APART_DAYS: f64 = 1.0;

/// What is worked out.
#[derive(Clone, Copy, Debug)]
pub struct Gathered<'a> {
    /// The site.
    pub site: &'a Site,
    /// Its tests, in the order of time; the report is about the last.
    pub tests: &'a [Test],
    /// The changes that are weighed in it.
    pub changes: &'a [Change],
    /// The year over which changes are weighed where the last test has no date.
    pub year: Option<u16>,
}

/// What was worked out.
#[derive(Clone, Debug)]
pub struct Worked {
    /// What the tests say.
    pub analysis: Analysis,
    /// The cheapest day, or why there is none.
    pub plan: Result<DayPlan, NoPlan>,
    /// Where the head is lost, where the plumbing is stated and could be calibrated.
    pub calibration: Option<Calibration>,
    /// What the changes would save; `None` where there are none.
    pub comparison: Option<Comparison>,
    /// Later visits held against the first; `None` where there is only one, or they cannot be compared.
    pub follow_up: Option<FollowUp>,
}

/// Works everything out that a report is made of, alike for whoever makes one.
///
/// # Errors
/// Why the changes cannot be weighed.
pub fn worked(gathered: &Gathered<'_>) -> Result<Worked, NoYear> {
    let Gathered { site, tests, .. } = *gathered;
    let mut analysis = fieldtest::analyze(site, tests);
    let comparison = comparison(gathered, &analysis)?;
    let follow_up = later_visits(site, tests, &analysis);
    let steps = analysis.tests.last().map(|test| &test.steps);
    let highest = steps
        .and_then(|steps| steps.last())
        .map(|step| step.speed_rpm);
    let calibration = highest
        .filter(|_| !site.lines.is_empty())
        .and_then(|highest| calibrate_into(&mut analysis, site, tests, (highest, None)))
        .map(|(calibration, _)| calibration);
    let asked = Asked {
        date: tests.last().and_then(date_of),
        ..Asked::default()
    };
    Ok(Worked {
        plan: plan(site, &analysis, &asked),
        analysis,
        calibration,
        comparison,
        follow_up,
    })
}

/// Weighs the changes over the year of the last test; without a date, over that of the report.
fn comparison(gathered: &Gathered<'_>, analysis: &Analysis) -> Result<Option<Comparison>, NoYear> {
    let Gathered {
        site,
        tests,
        changes,
        year,
    } = *gathered;
    if changes.is_empty() {
        return Ok(None);
    }
    let of_test = tests.last().and_then(date_of).map(|date| date.year);
    let usual = Asked::default();
    let asked = AskedComparison {
        year: AskedYear {
            year: of_test.or(year).unwrap_or_default(),
            least: usual.least,
            slot_minutes: usual.slot_minutes,
            effort: Effort::a_second(),
            clock_changes: Vec::new(),
        },
        against: None,
    };
    compare(site, tests, analysis, changes, &asked, |_, _| {}).map(Some)
}

fn later_visits(site: &Site, tests: &[Test], analysis: &Analysis) -> Option<FollowUp> {
    let mut found = follow_up(site, tests, analysis, 0).ok()?;
    let is_later = |days: Option<f64>| days.is_some_and(|days| days >= APART_DAYS);
    found.visits.retain(|visit| is_later(visit.days));
    (!found.visits.is_empty()).then_some(found)
}

/// Returns the day of a test, where its file states one.
pub fn date_of(test: &Test) -> Option<Date> {
    let date = test.head.date?.date?;
    Some(Date {
        year: date.year,
        month: date.month,
        day: date.day,
    })
}
