//! What verdicts and intervals are worth, counted over simulated tests whose truth is known.
//!
//! The rich truth is a pad of pump, drive and circuit and never one of the fitted laws; the lawful truth is the laws
//! themselves. Seeds are our own; nothing here is a measurement.

#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

mod support;

use fieldtest::simulation::{
    Fault, LawfulPad, MeterModel, Meters, SimulatedTest, Truth, Uniform, simulate,
};
use fieldtest::{Analysis, Finding, Shape, analyze};
use hydraulics::water::Water;
use metrology::{Estimate, Observations, fit};
use numerics::elementary::{exp, ln, pow};
use numerics::linear::Matrix;
use records::read_pad;
use support::doubts;

/// Simulated tests per statement. The standard error of a share of 95 % is then half a per cent.
const TESTS: u64 = 2000;

/// Even numbers between 0 and 1 from a seed: SplitMix64 (G. Steele, D. Lea, C. Flood, OOPSLA 2014; constants from memory).
fn stream(seed: u64) -> impl FnMut() -> f64 {
    const GAMMA: u64 = 0x9E37_79B9_7F4A_7C15;
    let mut state = seed.wrapping_mul(GAMMA);
    move || {
        state = state.wrapping_add(GAMMA);
        let mut z = state;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// The kinds of truth.
#[derive(Clone, Copy, Debug)]
enum Kind {
    Rich,
    Lawful,
}

fn truth(kind: Kind, uniform: &mut Uniform<'_>) -> Truth {
    /// A pad that moves less than 5 gpm at the lowest speed would not be stepped down to it, m³/s.
    const LEAST_FLOW_M3S: f64 = 3e-4;
    let water = Water::fresh(300.0).unwrap();
    loop {
        let truth = match kind {
            Kind::Rich => Truth::Rich(uniform.pad(water).unwrap()),
            Kind::Lawful => Truth::Lawful(uniform.lawful_pad()),
        };
        if truth.at(600.0).unwrap().flow_m3s > LEAST_FLOW_M3S {
            return truth;
        }
    }
}

/// One simulated test of `count` steps on the meters given.
fn simulated(
    kind: Kind,
    count: usize,
    models: &[MeterModel],
    uniform: &mut Uniform<'_>,
) -> (Truth, SimulatedTest) {
    let truth = truth(kind, uniform);
    let meters = Meters::draw(models, uniform);
    let low = [600.0, 700.0, 800.0][uniform.below(3)];
    let step = (3450.0 - low) / (count - 1) as f64;
    let speeds: Vec<f64> = (0..count)
        .map(|i| (low + step * i as f64).round())
        .collect();
    let test = simulate(&truth, &speeds, &meters, uniform).unwrap();
    (truth, test)
}

fn analysis(test: &SimulatedTest) -> Analysis {
    let (site, tests) = read_pad(&test.site(), &[test.files()]).unwrap();
    analyze(&site, &tests)
}

/// A share of tests, in per cent.
#[derive(Clone, Copy, Debug, Default)]
struct Share {
    yes: u32,
    all: u32,
}

impl Share {
    fn count(&mut self, yes: bool) {
        self.yes += u32::from(yes);
        self.all += 1;
    }

    fn percent(self) -> f64 {
        assert!(self.all > 0, "no case ran");
        100.0 * f64::from(self.yes) / f64::from(self.all)
    }
}

#[track_caller]
fn between(name: &str, share: Share, low: f64, high: f64) {
    let percent = share.percent();
    assert!(
        (low..=high).contains(&percent),
        "{name}: {percent:.1} % of {}",
        share.all
    );
}

fn holds(estimate: Estimate, value: f64) -> bool {
    estimate.low <= value && value <= estimate.high
}

#[test]
fn sound_tests_are_not_doubted_and_intervals_hold_the_truth() {
    for kind in [Kind::Rich, Kind::Lawful] {
        for count in [6, 11] {
            let (mut doubted, mut flow, mut power, mut energy) = (
                Share::default(),
                Share::default(),
                Share::default(),
                Share::default(),
            );
            let (mut fixed, mut exponent) = (Share::default(), Share::default());
            for seed in 0..TESTS {
                let mut next = stream(seed + 1_000_000 * count as u64);
                let mut uniform = Uniform(&mut next);
                let (truth, test) = simulated(kind, count, &MeterModel::USUAL, &mut uniform);
                let pad = analysis(&test);
                doubted.count(!doubts(&pad).is_empty());
                let laws = &pad.tests[0].laws;
                let speed = uniform.between(test.truth[0].speed_rpm, 3450.0);
                let there = truth.at(speed).unwrap();
                let (flow_law, power_law) =
                    (laws.flow.as_ref().unwrap(), laws.power.as_ref().unwrap());
                flow.count(holds(flow_law.law.predict(speed).unwrap(), there.flow_m3s));
                power.count(holds(power_law.law.predict(speed).unwrap(), there.power_w));
                let per_volume = there.power_w / (3600.0 * there.flow_m3s);
                energy.count(holds(laws.energy_wh_per_m3(speed).unwrap(), per_volume));
                if let Truth::Lawful(pad) = &truth {
                    fixed.count(holds(power_law.fixed_w, pad.fixed_w));
                    exponent.count(holds(power_law.exponent, pad.exponent));
                }
            }
            between("sound tests that are doubted", doubted, 0.0, 1.0);
            between("predicted flow", flow, 92.0, 98.0);
            between("predicted power", power, 92.0, 98.0);
            between("predicted energy per volume", energy, 92.0, 98.0);
            if matches!(kind, Kind::Lawful) {
                between("fixed draw", fixed, 93.0, 100.0);
                between("exponent", exponent, 93.0, 100.0);
            }
        }
    }
}

/// The uncertainties of fixed draw and exponent that an ideal fit would have: the truth itself linearised, with the
/// usual discrepancy and the meter's errors as they are, and no prior.
fn ideal_uncertainties(pad: &LawfulPad, speeds_rpm: &[f64]) -> (f64, f64) {
    let meter = MeterModel::USUAL[1];
    let u = meter.of_reading / 3.0_f64.sqrt();
    let discrepancy = Shape::Power.discrepancy();
    let covariance = Matrix::from_fn(speeds_rpm.len(), speeds_rpm.len(), |i, j| {
        let distance = ln(speeds_rpm[i] / speeds_rpm[j]) / discrepancy.length;
        let smooth = discrepancy.sd * discrepancy.sd * exp(-0.5 * distance * distance);
        let own = if i == j {
            (1.0 - meter.share_common) * u * u
        } else {
            0.0
        };
        smooth + meter.share_common * u * u + own
    });
    let x: Vec<f64> = speeds_rpm
        .iter()
        .map(|speed| speed / pad.reference_rpm)
        .collect();
    let y: Vec<f64> = x
        .iter()
        .map(|x| ln(pad.fixed_w + pad.dynamic_w * pow(*x, pad.exponent)))
        .collect();
    let observations = Observations {
        x: &x,
        y: &y,
        covariance: &covariance,
    };
    let truth = [pad.fixed_w, pad.dynamic_w, pad.exponent];
    let fit = fit(&Shape::Power, observations, &truth, &[None, None, None]).unwrap();
    (fit.covariance[(0, 0)].sqrt(), fit.covariance[(2, 2)].sqrt())
}

#[test]
fn intervals_are_not_wider_than_twice_those_of_an_ideal_fit() {
    for count in [6, 11] {
        let (mut fixed, mut exponent) = (Share::default(), Share::default());
        for seed in 0..TESTS {
            let mut next = stream(8_000_000 + 10_000 * count as u64 + seed);
            let mut uniform = Uniform(&mut next);
            let (truth, test) = simulated(Kind::Lawful, count, &MeterModel::USUAL, &mut uniform);
            let Truth::Lawful(pad) = truth else {
                continue;
            };
            let speeds: Vec<f64> = test.rows.iter().map(|(speed, _)| *speed).collect();
            let (ideal_fixed, ideal_exponent) = ideal_uncertainties(&pad, &speeds);
            let law = analysis(&test).tests[0].laws.power.clone().unwrap();
            fixed.count(law.fixed_w.u <= 2.0 * ideal_fixed);
            exponent.count(law.exponent.u <= 2.0 * ideal_exponent);
        }
        between("fixed draw within twice the ideal", fixed, 99.0, 100.0);
        between("exponent within twice the ideal", exponent, 99.0, 100.0);
    }
}

#[test]
fn power_factors_that_cannot_be_are_caught() {
    let mut caught = Share::default();
    for seed in 0..TESTS {
        let mut next = stream(9_000_000 + seed);
        let mut uniform = Uniform(&mut next);
        let (_, mut test) = simulated(Kind::Rich, 11, &MeterModel::USUAL, &mut uniform);
        // A clamp on one of two conductors, or a wrong range: power over volt-amperes at the top is 1.15 to 1.4.
        let (watts, amperes): (f64, f64) = (
            test.rows[10].1[1].parse().unwrap(),
            test.rows[10].1[2].parse().unwrap(),
        );
        let wanted = uniform.between(1.15, 1.4);
        let factor = watts / (230.0 * amperes * wanted);
        for (_, cells) in &mut test.rows {
            cells[2] = format!("{:.2}", factor * cells[2].parse::<f64>().unwrap());
        }
        caught.count(doubts(&analysis(&test)).contains(&"power-factor-above-one"));
    }
    between("caught", caught, 97.0, 100.0);
}

/// What was made of one fault.
#[derive(Clone, Copy, Debug, Default)]
struct Verdicts {
    caught: Share,
    right_cell: Share,
}

/// Makes one fault in each of many rich tests of eleven steps; `None` where the fault is smaller than is asked for.
fn single_faults(
    seed_base: u64,
    mut make: impl FnMut(&mut SimulatedTest, &mut Uniform<'_>) -> Option<(usize, &'static str)>,
) -> Verdicts {
    let mut verdicts = Verdicts::default();
    let mut seed = seed_base;
    while verdicts.caught.all < u32::try_from(TESTS).unwrap() {
        seed += 1;
        let mut next = stream(seed);
        let mut uniform = Uniform(&mut next);
        let (_, mut test) = simulated(Kind::Rich, 11, &MeterModel::USUAL, &mut uniform);
        let Some((row, column)) = make(&mut test, &mut uniform) else {
            continue;
        };
        let pad = analysis(&test);
        let found: Vec<&Finding> = pad
            .findings
            .iter()
            .filter(|f| f.matter.doubts_a_reading())
            .collect();
        verdicts.caught.count(!found.is_empty());
        let here = |finding: &&Finding| {
            finding.place.rows == [test.line_of(row)]
                && finding.place.column.as_deref() == Some(column)
        };
        verdicts
            .right_cell
            .count(found.len() == 1 && found.iter().any(here));
    }
    verdicts
}

const COLUMNS: [&str; 3] = ["flow F", "power P", "current C"];

/// The logarithm of how far a fault moved its reading.
fn moved(was: &str, is: &str) -> f64 {
    ln(is.parse::<f64>().unwrap() / was.parse::<f64>().unwrap()).abs()
}

#[test]
fn slips_of_unit_and_decimal_point_are_caught_in_their_cell() {
    let factors = [
        10.0,
        0.1,
        100.0,
        1000.0,
        0.001,
        3.785_411_784,
        1.0 / 3.785_411_784,
    ];
    let verdicts = single_faults(2_000_000, |test, uniform| {
        let (row, meter) = (uniform.below(11), uniform.below(3));
        let fault = Fault::Factor(factors[uniform.below(factors.len())]);
        fault.make(&mut test.rows, row, meter, uniform)?;
        Some((row, COLUMNS[meter]))
    });
    between("caught", verdicts.caught, 97.0, 100.0);
    between("in the right cell", verdicts.right_cell, 95.0, 100.0);
}

#[test]
fn entries_typed_twice_are_caught_where_the_law_moves_by_eight_per_cent() {
    let verdicts = single_faults(3_000_000, |test, uniform| {
        let (row, meter) = (uniform.below(11), uniform.below(3));
        let made = Fault::Repeated.make(&mut test.rows, row, meter, uniform)?;
        (moved(&made.was, &made.is) >= 0.08).then_some((row, COLUMNS[meter]))
    });
    between("caught", verdicts.caught, 97.0, 100.0);
    between("in the right cell", verdicts.right_cell, 95.0, 100.0);
}

#[test]
fn swapped_digits_are_caught_where_they_move_a_step() {
    let verdicts = single_faults(4_000_000, |test, uniform| {
        let (row, meter) = (uniform.below(11), uniform.below(3));
        let made = Fault::Swapped.make(&mut test.rows, row, meter, uniform)?;
        let least = if row == 0 { 0.20 } else { 0.08 };
        (moved(&made.was, &made.is) >= least).then_some((row, COLUMNS[meter]))
    });
    between("caught", verdicts.caught, 97.0, 100.0);
    between("in the right cell", verdicts.right_cell, 95.0, 100.0);
}

#[test]
fn a_wrong_speed_of_an_interior_row_is_named() {
    let verdicts = single_faults(5_000_000, |test, uniform| {
        let row = 1 + uniform.below(9);
        let speed = test.rows[row].0 * [0.8, 1.25][uniform.below(2)];
        Fault::Speed(speed).make(&mut test.rows, row, 0, uniform)?;
        Some((row, "speed"))
    });
    between("caught", verdicts.caught, 97.0, 100.0);
    between("in the right row", verdicts.right_cell, 95.0, 100.0);
}

#[test]
fn meters_that_are_a_quarter_apart_are_caught() {
    let second = MeterModel {
        id: "G",
        ..MeterModel::USUAL[0]
    };
    let models = [MeterModel::USUAL[0], second, MeterModel::USUAL[1]];
    let (mut caught, mut blamed) = (Share::default(), Share::default());
    for seed in 0..TESTS {
        let mut next = stream(6_000_000 + seed);
        let mut uniform = Uniform(&mut next);
        let (_, mut test) = simulated(Kind::Rich, 11, &models, &mut uniform);
        let factor = [0.75, 1.25][uniform.below(2)];
        for (_, cells) in &mut test.rows {
            cells[1] = format!("{:.1}", factor * cells[0].parse::<f64>().unwrap());
        }
        let found = doubts(&analysis(&test));
        caught.count(found.contains(&"meters-disagree"));
        blamed.count(found.iter().any(|code| *code != "meters-disagree"));
    }
    between("caught", caught, 97.0, 100.0);
    between("with a reading blamed beside", blamed, 0.0, 1.0);
}

#[test]
fn three_faults_in_one_test_do_not_let_an_innocent_be_blamed() {
    let (mut innocent, mut all_found) = (Share::default(), Share::default());
    for seed in 0..TESTS {
        let mut next = stream(7_000_000 + seed);
        let mut uniform = Uniform(&mut next);
        let (_, mut test) = simulated(Kind::Rich, 11, &MeterModel::USUAL, &mut uniform);
        let mut wrong: Vec<(usize, &str)> = Vec::new();
        while wrong.len() < 3 {
            let (row, meter) = (uniform.below(11), uniform.below(3));
            let fault = [
                Fault::Factor(10.0),
                Fault::Factor(0.1),
                Fault::Factor(1.25),
                Fault::Factor(0.8),
                Fault::Repeated,
            ][uniform.below(5)];
            let cell = (test.line_of(row), COLUMNS[meter]);
            let before = test.rows.clone();
            if wrong.contains(&cell) {
                continue;
            }
            let least = if row == 0 { 0.20 } else { 0.08 };
            match fault.make(&mut test.rows, row, meter, &mut uniform) {
                Some(made) if moved(&made.was, &made.is) >= least => wrong.push(cell),
                _ => test.rows = before,
            }
        }
        let pad = analysis(&test);
        let blamed: Vec<(usize, &str)> = pad
            .findings
            .iter()
            .filter(|f| f.matter.doubts_a_reading() && f.place.rows.len() == 1)
            .map(|f| (f.place.rows[0], f.place.column.as_deref().unwrap_or("")))
            .collect();
        // A row that reads two columns wrong may be blamed for its speed; and a power factor names the row.
        let is_guilty = |blamed: &(usize, &str)| {
            wrong.contains(blamed)
                || (matches!(blamed.1, "speed" | "power")
                    && wrong.iter().any(|cell| cell.0 == blamed.0))
        };
        innocent.count(!blamed.iter().all(is_guilty));
        all_found.count(wrong.iter().all(|cell| blamed.contains(cell)));
    }
    between("an innocent cell blamed", innocent, 0.0, 5.0);
    // No target is set for this; below it something has broken.
    between("all three found", all_found, 80.0, 100.0);
}
