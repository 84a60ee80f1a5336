//! What a reading to come is said to leave of an uncertainty, against what it leaves once simulated pads are read that way.
//!
//! Seeds are our own. Only the engine's own uncertainties are compared here: that they are worth something is counted in
//! `statistics.rs` and `calibration.rs`.

#![expect(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a helper of tests fails by panicking; what was reached is worth reading"
)]

#[path = "support/rehearsed.rs"]
mod rehearsed;

use fieldtest::{Answer, Learning, ReadingToCome, analyze, calibrate, next_readings};
use numerics::elementary::{exp, ln};
use records::{Measured, Site, Tap, Test};
use rehearsed::{Made, Taken};

const PADS: u64 = 30;
const ASKED_RPM: f64 = 2600.0;
/// With the step that is read in addition.
const SEVEN: Taken<'_> = Taken {
    rows: 7,
    ..Taken::USUAL
};
/// Bracket the cheapest speed of most pads, with a gap where it lies.
const BRACKETING_RPM: [f64; 6] = [600.0, 1500.0, 1900.0, 2400.0, 2900.0, 3450.0];

fn learning(site: &Site, test: &Test, answer: &Answer) -> Learning {
    let tests = [test.clone()];
    let analysis = analyze(site, &tests);
    next_readings(site, &tests, &analysis, (ASKED_RPM, answer)).unwrap()
}

fn left(learning: &Learning, wanted: &dyn Fn(&ReadingToCome) -> bool) -> Option<f64> {
    let mut readings = learning.readings.iter().chain(&learning.hardly);
    readings.find(|it| wanted(&it.reading)).map(|it| it.left)
}

fn share_u(site: &Site, test: &Test, answer: &Answer) -> f64 {
    share_u_of(site, std::slice::from_ref(test), answer)
}

fn share_u_of(site: &Site, tests: &[Test], answer: &Answer) -> f64 {
    let analysis = analyze(site, tests);
    let budget = calibrate(site, tests, &analysis, ASKED_RPM).unwrap().budget;
    match answer {
        Answer::Suction => budget.sections[0].1.u,
        Answer::Returns => budget.sections[2].1.u,
        _ => budget.head_m.u,
    }
}

/// Holds what was said to be left against what is left, over all pads: the geometric mean within a fifth.
#[track_caller]
fn hold(name: &str, pairs: &[(f64, f64)]) {
    assert!(pairs.len() >= 10, "{name}: {}", pairs.len());
    let mean = |of: &dyn Fn(&(f64, f64)) -> f64| {
        exp(pairs.iter().map(|pair| ln(of(pair))).sum::<f64>() / pairs.len() as f64)
    };
    let (said, shown) = (mean(&|pair| pair.0), mean(&|pair| pair.1));
    let off = |pair: &(f64, f64)| (pair.0 / pair.1 - 1.0).abs();
    let worst = pairs.iter().map(off).fold(0.0, f64::max);
    println!(
        "{name}: said {said:.3}, shown {shown:.3}, worst single pad {:.0} %, {} pads",
        100.0 * worst,
        pairs.len()
    );
    assert!((said / shown - 1.0).abs() < 0.2, "{name}: {said} {shown}");
}

fn gauge(name: &str, tap: Tap, id: &str, answer: &Answer, seeds: u64) {
    let pairs = (0..PADS).filter_map(|index| {
        let made = Made::new(seeds + index, &[]);
        let (site, before) = made.read(Taken {
            without: &[id],
            ..Taken::USUAL
        });
        let (_, after) = made.read(Taken::USUAL);
        let said = left(&learning(&site, &before, answer), &|reading| {
            *reading == ReadingToCome::Gauge(tap)
        })?;
        let shown = share_u(&site, &after, answer) / share_u(&site, &before, answer);
        Some((said, shown))
    });
    hold(name, &pairs.collect::<Vec<_>>());
}

#[test]
fn a_vacuum_gauge_tells_the_suction_as_it_was_said_to() {
    gauge(
        "vacuum gauge, suction share",
        Tap::PumpPot,
        "V",
        &Answer::Suction,
        21_000,
    );
}

#[test]
fn a_gauge_at_the_filter_tells_the_total_head_as_it_was_said_to() {
    gauge(
        "filter gauge, return share",
        Tap::FilterInlet,
        "G",
        &Answer::Returns,
        22_000,
    );
}

/// The discrepancy is not learnt from seven steps, so that another step changes nothing but what it tells.
#[test]
fn another_speed_tells_the_fixed_draw_as_it_was_said_to() {
    let pairs = (0..PADS).filter_map(|index| {
        let made = Made::new(23_000 + index, &[600.0]);
        let (mut site, before) = made.read(Taken::USUAL);
        let (_, after) = made.read(SEVEN);
        site.pump.speed.min =
            Some(records::Quantity::parse("600 rpm", records::unit::Dimension::Speed).unwrap());
        let said = left(
            &learning(&site, &before, &Answer::FixedDraw),
            &|reading| matches!(reading, ReadingToCome::Speed(speed) if *speed <= 600.0),
        )?;
        let u = |test: &Test| {
            let analysis = analyze(&site, std::slice::from_ref(test));
            let law = analysis.tests[0].laws.power.as_ref().unwrap();
            law.law.fit().covariance[(0, 0)].sqrt()
        };
        let analysis = analyze(&site, std::slice::from_ref(&after));
        let refuted = analysis.tests[0]
            .readings
            .iter()
            .any(|reading| !reading.used && reading.measured == Measured::Power);
        (!refuted).then(|| (said, u(&after) / u(&before)))
    });
    hold("600 rpm, fixed draw", &pairs.collect::<Vec<_>>());
}

#[test]
fn another_speed_tells_the_cheapest_speed_as_it_was_said_to() {
    let pairs = (0..2 * PADS).filter_map(|index| {
        let made = Made::stepped(24_000 + index, &BRACKETING_RPM, &[950.0]);
        let (site, before) = made.read(Taken::USUAL);
        let (_, after) = made.read(SEVEN);
        let analysis = analyze(&site, std::slice::from_ref(&before));
        let least =
            |analysis: &fieldtest::Analysis| analysis.tests[0].least_energy.clone()?.speed_rpm;
        let now = least(&analysis)?;
        let said = left(
            &learning(&site, &before, &Answer::CheapestSpeed),
            &|reading| *reading == ReadingToCome::Speed(950.0),
        )?;
        let then = least(&analyze(&site, &[after]))?;
        Some((said, then.u / now.u))
    });
    hold("950 rpm, cheapest speed", &pairs.collect::<Vec<_>>());
}

/// The slowest step once more, as a row at the end.
#[test]
fn a_step_read_again_tells_the_fixed_draw_as_it_was_said_to() {
    let pairs = (0..PADS).filter_map(|index| {
        let made = Made::stepped(26_000 + index, &BRACKETING_RPM, &[BRACKETING_RPM[0]]);
        let (site, before) = made.read(Taken::USUAL);
        let (_, after) = made.read(SEVEN);
        let said = left(&learning(&site, &before, &Answer::FixedDraw), &|reading| {
            *reading == ReadingToCome::Again(BRACKETING_RPM[0])
        })?;
        let u = |test: &Test| {
            let analysis = analyze(&site, std::slice::from_ref(test));
            let law = analysis.tests[0].laws.power.as_ref().unwrap();
            law.law.fit().covariance[(0, 0)].sqrt()
        };
        Some((said, u(&after) / u(&before)))
    });
    hold("600 rpm again, fixed draw", &pairs.collect::<Vec<_>>());
}

/// The middle step once more.
#[test]
fn a_step_read_again_tells_the_returns_as_it_was_said_to() {
    let middle = rehearsed::STEPS_RPM[3];
    let pairs = (0..PADS).filter_map(|index| {
        let made = Made::new(29_000 + index, &[middle]);
        let (site, before) = made.read(Taken::USUAL);
        let (_, after) = made.read(SEVEN);
        let answer = Answer::Returns;
        let said = left(&learning(&site, &before, &answer), &|reading| {
            *reading == ReadingToCome::Again(middle)
        })?;
        Some((
            said,
            share_u(&site, &after, &answer) / share_u(&site, &before, &answer),
        ))
    });
    hold("a step again, return share", &pairs.collect::<Vec<_>>());
}

#[test]
fn a_shut_valve_tells_the_returns_as_it_was_said_to() {
    let pairs = (0..2 * PADS).filter_map(|index| {
        let made = Made::new(27_000 + index, &[]);
        let (_, both) = made.read_with_one_shut()?;
        let (site, before) = made.read(Taken::USUAL);
        let answer = Answer::Returns;
        let shut = |reading: &ReadingToCome| {
            matches!(reading, ReadingToCome::LineUp { shut, .. } if shut == "return 2")
        };
        let said = left(&learning(&site, &before, &answer), &shut)?;
        let shown = share_u_of(&site, &both, &answer) / share_u(&site, &before, &answer);
        Some((said, shown))
    });
    hold("return 2 shut, return share", &pairs.collect::<Vec<_>>());
}

/// The pump switched off, and what it draws then.
#[test]
fn a_draw_at_rest_tells_the_cheapest_speed_as_it_was_said_to() {
    let pairs = (0..2 * PADS).filter_map(|index| {
        let made = Made::stepped(28_000 + index, &BRACKETING_RPM, &[]);
        let (site, before) = made.read(Taken {
            at_rest: false,
            ..Taken::USUAL
        });
        let (_, after) = made.read(Taken::USUAL);
        let least = |test: &Test| {
            let analysis = analyze(&site, std::slice::from_ref(test));
            analysis.tests[0].least_energy.clone()?.speed_rpm
        };
        let (now, then) = (least(&before)?, least(&after)?);
        let said = left(
            &learning(&site, &before, &Answer::CheapestSpeed),
            &|reading| *reading == ReadingToCome::Standby,
        )?;
        Some((said, then.u / now.u))
    });
    hold("at rest, cheapest speed", &pairs.collect::<Vec<_>>());
}

#[test]
fn a_draw_at_rest_is_asked_for_only_where_it_was_not_read() {
    let made = Made::new(25_000, &[]);
    let weighed = [true, false].map(|at_rest| {
        let (site, test) = made.read(Taken {
            at_rest,
            ..Taken::USUAL
        });
        learning(&site, &test, &Answer::FixedDraw).weighed
    });
    assert_eq!(weighed[0] + 1, weighed[1]);
}
