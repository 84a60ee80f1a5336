//! Plans of step tests: what is never in one, what more time does to one, the order of its steps, and what is refused.

#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

use fieldtest::{ExpectedBy, NoPlan, Plan, PlanNote, PlanQuestion, Stage, Why, analyze, plan};
use proptest::prelude::*;
use records::{Measured, Site, Source, Test, TestFiles, read_pad, read_site};

const LARKSPUR: &str = include_str!("../../../examples/larkspur-lane/site.toml");
const CEDAR: &str = include_str!("../../../examples/cedar-court/site.toml");

fn source(name: &str, text: &str) -> Source {
    Source {
        name: name.to_owned(),
        text: text.to_owned(),
    }
}

fn site(text: &str) -> Site {
    read_site(&source("site.toml", text)).unwrap()
}

fn with_test() -> (Site, Vec<Test>) {
    let files = TestFiles {
        test: source(
            "2026-05-16.toml",
            include_str!("../../../examples/larkspur-lane/2026-05-16.toml"),
        ),
        readings: Some(source(
            "2026-05-16.csv",
            include_str!("../../../examples/larkspur-lane/2026-05-16.csv"),
        )),
    };
    read_pad(&source("site.toml", LARKSPUR), &[files]).unwrap()
}

fn minutes(count: f64) -> PlanQuestion<'static> {
    PlanQuestion {
        time_s: 60.0 * count,
        closed: &[],
        throttled: &[],
    }
}

fn planned(text: &str, count: f64) -> Plan {
    plan(&site(text), &[], &minutes(count)).unwrap()
}

/// What no plan breaks, whatever the site.
#[track_caller]
fn hold_rules(site: &Site, plan: &Plan, question: &PlanQuestion<'_>) {
    let low = site.pump.speed.min.as_ref().map_or(1.0, |min| min.si);
    let top = site.pump.speed.max.si;
    let rating = rating_pa(site);
    assert!(
        plan.time_s() <= question.time_s + 1e-6,
        "{} s",
        plan.time_s()
    );
    for step in &plan.steps {
        assert!(
            (low..=top).contains(&step.speed_rpm),
            "{} rpm",
            step.speed_rpm
        );
        if let Some((rating, upper)) = rating.zip(step.vessel_upper_pa) {
            assert!(upper <= rating, "{upper} Pa at {} rpm", step.speed_rpm);
        }
        assert!(
            step.stop_above_pa
                .is_none_or(|stop| rating.is_some_and(|rating| stop < rating))
        );
        for expected in &step.expected {
            let si = expected.si;
            assert!(si.low <= si.value && si.value <= si.high, "{expected:?}");
        }
    }
    for step in &plan.climb {
        assert!((low..=top).contains(&step.speed_rpm));
    }
    hold_order(plan);
}

/// Down from the highest, one step in the middle again, then the line-ups, each from high to low; preparing and resting first.
#[track_caller]
fn hold_order(plan: &Plan) {
    let stages: Vec<Stage> = plan.stages.iter().map(|stage| stage.stage).collect();
    let place = |stage: Stage| stages.iter().position(|it| *it == stage);
    assert_eq!(
        stages[..4],
        [Stage::Prepare, Stage::AtRest, Stage::Prime, Stage::Climb]
    );
    assert!(place(Stage::Steps) < place(Stage::DriftCheck));
    assert_eq!(stages.last(), Some(&Stage::PutBack));
    let laws: Vec<f64> = plan
        .steps
        .iter()
        .take_while(|step| matches!(step.why, Why::Narrows { .. }))
        .map(|step| step.speed_rpm)
        .collect();
    assert!(
        laws.len() >= 3 && laws.windows(2).all(|pair| pair[0] > pair[1]),
        "{laws:?}"
    );
    let again = &plan.steps[laws.len()];
    assert_eq!(again.why, Why::DriftCheck);
    assert!(
        laws[1..laws.len() - 1].contains(&again.speed_rpm),
        "{} of {laws:?}",
        again.speed_rpm
    );
    let rest = &plan.steps[laws.len() + 1..];
    assert!(
        rest.iter()
            .all(|step| matches!(step.why, Why::LineUp { .. }))
    );
    for pair in rest.windows(2) {
        assert!(pair[0].closed != pair[1].closed || pair[0].speed_rpm > pair[1].speed_rpm);
    }
    assert!(
        plan.climb
            .windows(2)
            .all(|pair| pair[0].speed_rpm < pair[1].speed_rpm)
    );
    assert!(plan.climb.last().unwrap().speed_rpm >= laws[0]);
}

fn rating_pa(site: &Site) -> Option<f64> {
    let parts = site.lines.iter().flat_map(|line| &line.parts);
    let rated = parts.filter_map(|part| match &part.kind {
        records::PartKind::Filter(filter) => filter.max_pressure.as_ref(),
        _ => None,
    });
    let stated = rated.chain(&site.limits.pressure).map(|it| it.si);
    stated.min_by(f64::total_cmp)
}

/// A longer plan holds the steps of the shorter one.
#[track_caller]
fn hold_more(shorter: &Plan, longer: &Plan) {
    let speeds = longer.speeds_rpm();
    for speed in shorter.speeds_rpm() {
        assert!(speeds.contains(&speed), "{speed} is not in {speeds:?}");
    }
    let shut = |plan: &Plan| -> Vec<(Vec<String>, u64)> {
        let line_ups = plan
            .steps
            .iter()
            .filter(|step| matches!(step.why, Why::LineUp { .. }));
        line_ups
            .map(|step| (step.closed.clone(), step.speed_rpm.to_bits()))
            .collect()
    };
    let all = shut(longer);
    assert!(shut(shorter).iter().all(|step| all.contains(step)));
}

#[test]
fn the_examples_keep_the_rules() {
    let (with_tests, tests) = with_test();
    for count in [40.0, 60.0, 90.0, 150.0] {
        let question = minutes(count);
        for text in [
            LARKSPUR,
            CEDAR,
            include_str!("../../../examples/haus-birkenweg/site.toml"),
        ] {
            let site = site(text);
            hold_rules(&site, &plan(&site, &[], &question).unwrap(), &question);
        }
        let plan = plan(&with_tests, &tests, &question).unwrap();
        hold_rules(&with_tests, &plan, &question);
    }
}

#[test]
fn an_earlier_test_narrows_what_is_expected() {
    let (with_tests, tests) = with_test();
    let alone = planned(LARKSPUR, 60.0);
    let known = plan(&with_tests, &tests, &minutes(60.0)).unwrap();
    let width = |plan: &Plan, measured: Measured| {
        let column = plan
            .columns
            .iter()
            .position(|it| it.column.measured == measured)
            .unwrap();
        let top = &plan.steps[0].expected;
        let si = top.iter().find(|it| it.column == column).unwrap().si;
        (si.high - si.low) / si.value
    };
    for measured in [Measured::Flow, Measured::Power] {
        assert!(
            width(&known, measured) < 0.5 * width(&alone, measured),
            "{measured:?}"
        );
    }
    let by_law = known.steps[0]
        .expected
        .iter()
        .filter(|it| it.by == ExpectedBy::Law);
    assert!(by_law.count() >= 3);
}

/// The readings of the example lie within what the site alone foresees of them: nothing of the test enters the plan.
#[test]
fn the_readings_of_the_example_lie_in_the_foreseen_bands() {
    let (site, tests) = with_test();
    let plan = planned(LARKSPUR, 120.0);
    let analysis = analyze(&site, &tests);
    let flow = analysis.tests[0].laws.flow.as_ref().unwrap();
    let column = plan
        .columns
        .iter()
        .position(|it| it.column.measured == Measured::Flow)
        .unwrap();
    let mut inside = 0;
    let of_laws = plan
        .steps
        .iter()
        .filter(|step| matches!(step.why, Why::Narrows { .. }));
    let steps: Vec<_> = of_laws.collect();
    for step in &steps {
        let si = step
            .expected
            .iter()
            .find(|it| it.column == column)
            .unwrap()
            .si;
        inside += usize::from((si.low..=si.high).contains(&flow.flow_at_m3s(step.speed_rpm)));
    }
    assert!(inside + 1 >= steps.len(), "{inside} of {}", steps.len());
}

#[test]
fn a_low_rating_takes_the_top_off() {
    // 20 psi are foreseen at the top.
    let low = LARKSPUR.replace("max_pressure = \"50 psi\"", "max_pressure = \"12 psi\"");
    let site = site(&low);
    let question = minutes(60.0);
    let plan = plan(&site, &[], &question).unwrap();
    hold_rules(&site, &plan, &question);
    assert!(plan.ceiling.speed_rpm < 3450.0);
    assert_eq!(
        plan.ceiling.limit.as_ref().unwrap().code,
        "pressure-above-rating"
    );
    assert!(
        plan.notes
            .iter()
            .any(|note| matches!(note, PlanNote::PrimesTooFast { .. }))
    );
    for step in &plan.climb {
        assert!(step.stop_above_pa.unwrap() < rating_pa(&site).unwrap());
    }
}

#[test]
fn a_cover_takes_the_top_off() {
    let low = CEDAR.replace("rating = \"110 gpm\"", "rating = \"30 gpm\"");
    let plan = planned(&low, 60.0);
    assert_eq!(plan.ceiling.limit.unwrap().code, "above-cover-rating");
}

#[test]
fn a_suction_whose_other_covers_are_too_weak_is_never_shut() {
    let with_cover = CEDAR.replace("rating = \"110 gpm\"", "rating = \"70 gpm\"");
    for count in [120.0, 240.0] {
        let plan = planned(&with_cover, count);
        assert!(
            plan.steps
                .iter()
                .all(|step| !step.closed.contains(&"skimmers".to_owned()))
        );
    }
}

#[test]
fn what_prevents_a_plan_is_said() {
    let refused =
        |text: &str, question: &PlanQuestion<'_>| plan(&site(text), &[], question).unwrap_err();
    let NoPlan::TooLittleTime { needed_s, .. } = refused(LARKSPUR, &minutes(20.0)) else {
        panic!("20 min are no time");
    };
    assert!(plan(&site(LARKSPUR), &[], &minutes(needed_s / 60.0 + 1e-9)).is_ok());
    let narrow = LARKSPUR.replace("min = \"450 rpm\"", "min = \"3400 rpm\"");
    assert!(matches!(
        refused(&narrow, &minutes(60.0)),
        NoPlan::NoRoom { limit: None, .. }
    ));
    let weak = LARKSPUR.replace("max_pressure = \"50 psi\"", "max_pressure = \"0.05 psi\"");
    assert!(matches!(
        refused(&weak, &minutes(60.0)),
        NoPlan::NoRoom { limit: Some(_), .. }
    ));
    let lines =
        |names: &[&str]| -> Vec<String> { names.iter().map(|name| (*name).to_owned()).collect() };
    let returns = lines(&["return 1", "return 2"]);
    let shut = PlanQuestion {
        closed: &returns,
        ..minutes(60.0)
    };
    assert_eq!(
        refused(LARKSPUR, &shut),
        NoPlan::NoOpenWay { end: "pump outlet" }
    );
    let suction = lines(&["skimmer suction"]);
    let throttled = PlanQuestion {
        throttled: &suction,
        ..minutes(60.0)
    };
    assert_eq!(
        refused(LARKSPUR, &throttled),
        NoPlan::AllThrottled { end: "pump inlet" }
    );
}

#[test]
fn a_bare_site_gets_a_plan_that_says_what_it_does_not_know() {
    let bare = "format = 1\nname = \"bare\"\n[pump]\nspeed = { max = \"3450 rpm\" }\n";
    let question = minutes(60.0);
    let plan = plan(&site(bare), &[], &question).unwrap();
    hold_rules(&site(bare), &plan, &question);
    let has = |wanted: fn(&PlanNote) -> bool| plan.notes.iter().any(wanted);
    assert!(has(|note| matches!(note, PlanNote::NoLowestSpeed { .. })));
    assert!(has(|note| matches!(note, PlanNote::NoRating)));
    assert!(has(|note| matches!(note, PlanNote::NotForeseen(_))));
    assert!(
        plan.steps
            .iter()
            .flat_map(|step| &step.expected)
            .all(|it| it.by.is_rough())
    );
    assert!(
        plan.steps
            .iter()
            .all(|step| step.vessel_upper_pa.is_none() && step.stop_above_pa.is_none())
    );
}

#[test]
fn a_site_that_contradicts_its_readings_is_told_so() {
    let (_, tests) = with_test();
    let mut other = LARKSPUR.to_owned();
    for (stated, claimed) in [
        ("92 ft", "125 ft"),
        ("86.9 ft", "118 ft"),
        ("78 ft", "106 ft"),
        ("57 ft", "77 ft"),
    ] {
        other = other.replace(
            &format!("head = \"{stated}\""),
            &format!("head = \"{claimed}\""),
        );
    }
    let plan = plan(&site(&other), &tests, &minutes(60.0)).unwrap();
    assert!(
        plan.notes
            .iter()
            .any(|note| matches!(note, PlanNote::Contradiction { .. })),
        "{:?}",
        plan.notes
    );
}

/// A design of a straight line over a range has its speeds at the ends: with equal own errors and nothing else a D-optimal design
/// has half its readings at each end (A. Atkinson, A. Donev, Optimum Experimental Designs (1992), section 9.2, from memory). Here the
/// ends come first and are in every plan.
#[test]
fn the_ends_of_the_range_are_in_every_plan() {
    for count in [40.0, 60.0, 120.0] {
        let speeds = planned(CEDAR, count).speeds_rpm();
        assert_eq!(speeds.last(), Some(&3450.0));
        assert!(speeds[0] <= 900.0, "{speeds:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn generated_sites_keep_the_rules(
        min in 300_u32..1200,
        top in 1800_u32..3600,
        rating in 8_u32..60,
        length in 10_u32..120,
        count in 35_u32..160,
        has_curve in any::<bool>(),
    ) {
        let mut text = LARKSPUR
            .replace("min = \"450 rpm\"", &format!("min = \"{min} rpm\""))
            .replace("max = \"3450 rpm\"", &format!("max = \"{top} rpm\""))
            .replace("max_pressure = \"50 psi\"", &format!("max_pressure = \"{rating} psi\""))
            .replace("length = \"52 ft\"", &format!("length = \"{length} ft\""));
        if !has_curve {
            text = text.replace("curve_speed = \"3450 rpm\"\n", "");
            let (before, after) = text.split_once("curve = [").unwrap();
            let (_, after) = after.split_once("]\n").unwrap();
            text = [before, after].concat();
        }
        let site = site(&text);
        let (shorter, longer) = (minutes(f64::from(count)), minutes(f64::from(count) + 20.0));
        if let (Ok(a), Ok(b)) = (plan(&site, &[], &shorter), plan(&site, &[], &longer)) {
            hold_rules(&site, &a, &shorter);
            hold_rules(&site, &b, &longer);
            hold_more(&a, &b);
        }
    }
}
