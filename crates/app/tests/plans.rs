//! The plan of a test as a list to be ticked, and what to read next.

#![expect(
    clippy::unwrap_used,
    reason = "a test stops where something is missing"
)]

mod support;

use app::next::next;
use app::planned::{Asked, Purpose, checklist};
use document::units::Printing;
use records::{Test, UnitSystem, read_pad};
use support::{draft, site, typed_like};

const PRINTING: Printing = Printing::english(UnitSystem::Us);

fn asked(closed: &[&str]) -> Asked {
    Asked {
        minutes: 60,
        closed: closed.iter().map(|line| (*line).to_owned()).collect(),
        throttled: Vec::new(),
    }
}

/// The first test of the demo.
fn earlier() -> Vec<Test> {
    let pad = app::demo::pad();
    read_pad(&pad.site, &pad.tests[..1]).unwrap().1
}

#[test]
fn a_plan_starts_at_rest_and_goes_down_with_one_repeat() {
    let plan = checklist(&site(), &earlier(), &asked(&[]), PRINTING).unwrap();
    assert!(plan.minutes <= 60, "{}", plan.minutes);
    assert_eq!(plan.steps[0].purpose, Purpose::AtRest);
    let speeds = plan.speeds_rpm();
    assert!(
        speeds.len() >= 3 && speeds.windows(2).all(|pair| pair[1] < pair[0]),
        "{speeds:?}"
    );
    let repeats = plan
        .steps
        .iter()
        .filter(|step| step.purpose == Purpose::Drift);
    assert_eq!(repeats.count(), 1);
    for step in plan
        .steps
        .iter()
        .filter(|step| step.purpose == Purpose::Laws)
    {
        assert!(
            step.bands
                .iter()
                .any(|(column, band)| column == "flow A" && band.contains("gpm")),
            "{step:?}"
        );
    }
    assert!(
        plan.climb.iter().all(|step| step.stop_above.is_some()),
        "{:?}",
        plan.climb
    );
}

#[test]
fn readings_tick_their_steps() {
    let plan = checklist(&site(), &earlier(), &asked(&[]), PRINTING).unwrap();
    let ticked =
        |draft: &app::draft::TestDraft| plan.read(draft).iter().filter(|read| **read).count();
    assert_eq!(ticked(&support::empty()), 0);
    // The demo's first row is the pump at rest.
    let mut at_rest = typed_like(1, 0..1);
    assert!(plan.read(&at_rest)[0]);
    let repeat = plan
        .steps
        .iter()
        .position(|step| step.purpose == Purpose::Drift)
        .unwrap();
    let speed = plan.steps[repeat].speed.clone();
    let mut rows = draft(1).rows;
    rows.truncate(3);
    for (row, typed) in rows
        .iter_mut()
        .zip([speed.clone(), "123".to_owned(), speed])
    {
        row.speed = typed;
    }
    at_rest.rows = rows;
    assert!(
        plan.read(&at_rest)[repeat],
        "read twice, with another speed between"
    );
    at_rest.rows.remove(1);
    assert!(
        !plan.read(&at_rest)[repeat],
        "twice without another between is one step"
    );
}

#[test]
fn a_pad_with_every_way_shut_has_no_plan_and_says_why() {
    let site = site();
    let all: Vec<&str> = site.lines.iter().map(|line| line.name.as_str()).collect();
    let no = checklist(&site, &[], &asked(&all), PRINTING).unwrap_err();
    assert!(!no.says.is_empty() && !no.action.is_empty());
}

#[test]
fn what_to_read_next_is_told_of_the_laws_and_of_the_circuit() {
    let pad = app::demo::pad();
    let (site, tests) = read_pad(&pad.site, &pad.tests[..1]).unwrap();
    let analysis = fieldtest::analyze(&site, &tests);
    let told = next(&site, &tests, &analysis, PRINTING);
    let of: Vec<&str> = told
        .advice
        .iter()
        .map(|advice| advice.of.as_str())
        .collect();
    assert!(
        of.contains(&"the fixed draw") && of.contains(&"the suction share"),
        "{of:?}"
    );
    for advice in &told.advice {
        assert!(
            advice.readings.len() <= 3 && advice.readings.iter().all(|says| says.ends_with('.'))
        );
        assert!(!advice.now.is_empty());
    }
    // Nothing read, nothing to go on: what to do first is said.
    let nothing = fieldtest::analyze(&site, &[]);
    let none = next(&site, &[], &nothing, PRINTING);
    assert!(none.advice.is_empty() && none.first.is_some());
}
