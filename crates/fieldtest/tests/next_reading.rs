//! What a reading to come is said to leave of an uncertainty, against what it leaves once simulated pads are read that way.
//!
//! Pads and readings are drawn by `fieldtest::simulation`; seeds are our own. Only the engine's own uncertainties are compared
//! here: that they are worth something is counted in `statistics.rs` and `calibration.rs`.

#![expect(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a helper of tests fails by panicking; what was reached is worth reading"
)]

use fieldtest::simulation::{MeterModel, Meters, Pad, SimulatedTest, Truth, Uniform, simulate};
use fieldtest::{Answer, Learning, ReadingToCome, analyze, calibrate, next_readings};
use hydraulics::constants::{FOOT_M, US_GALLON_PER_MINUTE_M3S as GPM_M3S};
use hydraulics::water::Water;
use numerics::elementary::{exp, ln};
use numerics::random::Draws;
use records::{Measured, Site, Source, Tap, Test, TestFiles, read_pad};
use std::fmt::Write;

const PADS: u64 = 30;
const ASKED_RPM: f64 = 2600.0;
const STEPS_RPM: [f64; 6] = [1200.0, 1600.0, 2000.0, 2450.0, 2900.0, 3450.0];

/// Paddle wheel, power meter, and gauges at the filter and in the pump's pot.
fn models() -> [MeterModel; 4] {
    let [flow, power, _] = MeterModel::USUAL;
    let gauge = |id, measured, unit, absolute| MeterModel {
        id,
        measured,
        unit,
        of_reading: 0.0,
        absolute,
        share_common: 0.7,
        decimals: 1,
    };
    [
        flow,
        power,
        gauge("G", Measured::FilterPressure, "psi", 1.0),
        gauge("V", Measured::InletVacuum, "inHg", 0.8),
    ]
}

/// One pad with a test that read everything at all steps, and at one more.
struct Made {
    site: String,
    full: SimulatedTest,
}

impl Made {
    fn new(seed: u64, more_rpm: &[f64]) -> Self {
        Self::stepped(seed, &STEPS_RPM, more_rpm)
    }

    fn stepped(seed: u64, steps_rpm: &[f64], more_rpm: &[f64]) -> Self {
        let mut draw = Draws::new(seed).at(0);
        let mut next = || draw.uniform();
        let mut uniform = Uniform(&mut next);
        let pad = uniform.pad(Water::fresh(293.15).unwrap()).unwrap();
        let truth = Truth::Rich(pad.clone());
        let meters = Meters::draw(&models(), &mut uniform);
        let speeds: Vec<f64> = steps_rpm.iter().chain(more_rpm).copied().collect();
        let full = simulate(&truth, &speeds, &meters, &mut uniform).unwrap();
        let site = site(&pad, &full);
        Self { site, full }
    }

    /// The pad and its test, without the columns of these meters and with so many steps.
    fn read(&self, without: &[&str], steps: usize, at_rest: bool) -> (Site, Test) {
        let files = self.full.files();
        let text = files.readings.unwrap().text;
        let headings: Vec<&str> = text.lines().next().unwrap().split(',').collect();
        let kept = |index: &usize| {
            !without
                .iter()
                .any(|id| headings[*index].contains(&format!(" {id} ")))
        };
        let kept: Vec<usize> = (0..headings.len()).filter(kept).collect();
        let mut readings = String::new();
        for (line, row) in text.lines().enumerate().take(steps + 2) {
            if line == 1 && !at_rest {
                continue;
            }
            let cells: Vec<&str> = row.split(',').collect();
            let cells: Vec<&str> = kept.iter().map(|index| cells[*index]).collect();
            let _ = writeln!(readings, "{}", cells.join(","));
        }
        let files = TestFiles {
            readings: Some(source("first.csv", readings)),
            ..files
        };
        let (site, tests) = read_pad(&source("site.toml", self.site.clone()), &[files]).unwrap();
        (site, tests.into_iter().next().unwrap())
    }
}

fn source(name: &str, text: String) -> Source {
    Source {
        name: name.to_owned(),
        text,
    }
}

/// The site file of a pad, with its plumbing and the pump's curve.
fn site(pad: &Pad, test: &SimulatedTest) -> String {
    let curve: Vec<String> = (0..8_u32)
        .map(|i| f64::from(i) * 15.0)
        .map(|gpm| {
            let flow = gpm * GPM_M3S;
            let head_m = pad.pump.shutoff_m - flow * (pad.pump.linear + pad.pump.square * flow);
            format!(
                "{{ flow = \"{gpm} gpm\", head = \"{:.2} ft\" }}",
                head_m / FOOT_M
            )
        })
        .collect();
    let pump = format!(
        "supply = \"230 V\"\nheight = \"{:.3} m\"\ncurve_speed = \"3450 rpm\"\ncurve = [ {} ]\n",
        pad.circuit.pump_m,
        curve.join(", ")
    );
    let mut text = test.site().text.replacen("supply = \"230 V\"\n", &pump, 1);
    text = text.replacen(
        "measures = \"pressure\"\n",
        &format!(
            "measures = \"pressure\"\ntap = \"filter inlet\"\nheight = \"{:.3} m\"\n",
            pad.circuit.filter_gauge_m
        ),
        1,
    );
    text = text.replacen(
        "measures = \"vacuum\"\n",
        &format!(
            "measures = \"vacuum\"\ntap = \"pump pot\"\nheight = \"{:.3} m\"\n",
            pad.circuit.pump_m
        ),
        1,
    );
    let spoken = 60.0 * GPM_M3S;
    let drop_m = pad.circuit.filter_media * spoken + pad.circuit.passages * spoken * spoken;
    let run = |(run, _): &(hydraulics::loss::PipeRun, f64)| {
        format!(
            "{{ pipe_bore = \"{:.3} mm\", length = \"{:.2} m\" }}, {{ k = {:.2} }}",
            1e3 * run.bore_m,
            run.length_m,
            run.minor_loss_k
        )
    };
    let [before, back] = [&pad.circuit.discharge[0], &pad.circuit.discharge[1]];
    let filter = format!(
        "{{ filter = \"cartridge\", clean = {{ flow = \"60 gpm\", drop = \"{:.3} psi\" }} }}",
        drop_m / 0.704
    );
    let lines = [
        (
            "suction",
            "pool",
            "pump inlet",
            run(&pad.circuit.suction[0]),
        ),
        (
            "pad",
            "pump outlet",
            "pad outlet",
            format!("{}, {filter}", run(before)),
        ),
    ];
    for (name, from, to, parts) in lines {
        let _ = write!(
            text,
            "\n[[line]]\nname = \"{name}\"\nfrom = \"{from}\"\nto = \"{to}\"\nparts = [ {parts} ]\n"
        );
    }
    let count = if back.1 < 1.0 { 2 } else { 1 };
    for number in 1..=count {
        let _ = write!(
            text,
            "\n[[line]]\nname = \"return {number}\"\nfrom = \"pad outlet\"\nto = \"pool\"\nparts = [ {} ]\n",
            run(back)
        );
    }
    text
}

fn learning(site: &Site, test: &Test, answer: &Answer) -> Learning {
    let tests = [test.clone()];
    let analysis = analyze(site, &tests);
    next_readings(site, &tests, &analysis, (ASKED_RPM, answer)).unwrap()
}

fn left(learning: &Learning, wanted: &dyn Fn(&ReadingToCome) -> bool) -> Option<f64> {
    let mut readings = learning.readings.iter();
    readings.find(|it| wanted(&it.reading)).map(|it| it.left)
}

fn share_u(site: &Site, test: &Test, answer: &Answer) -> f64 {
    let tests = [test.clone()];
    let analysis = analyze(site, &tests);
    let budget = calibrate(site, &tests, &analysis, ASKED_RPM)
        .unwrap()
        .budget;
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
        let (site, before) = made.read(&[id], 6, true);
        let (_, after) = made.read(&[], 6, true);
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
        let (mut site, before) = made.read(&[], 6, true);
        let (_, after) = made.read(&[], 7, true);
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
    /// Bracket the cheapest speed of most pads, with a gap where it lies.
    const BRACKETING_RPM: [f64; 6] = [600.0, 1500.0, 1900.0, 2400.0, 2900.0, 3450.0];
    let pairs = (0..2 * PADS).filter_map(|index| {
        let made = Made::stepped(24_000 + index, &BRACKETING_RPM, &[950.0]);
        let (site, before) = made.read(&[], 6, true);
        let (_, after) = made.read(&[], 7, true);
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

#[test]
fn a_draw_at_rest_is_asked_for_only_where_it_was_not_read() {
    let made = Made::new(25_000, &[]);
    let weighed = [true, false].map(|at_rest| {
        let (site, test) = made.read(&[], 6, at_rest);
        learning(&site, &test, &Answer::Returns).weighed
    });
    assert_eq!(weighed[0] + 1, weighed[1]);
}
