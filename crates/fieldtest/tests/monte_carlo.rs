//! Answers by Monte Carlo, held against first order where that is right, and against the truth of simulated pads.
//!
//! Seeds are our own; nothing here is a measurement.

#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

mod support;

use fieldtest::simulation::{
    LawfulPad, MeterModel, Meters, SimulatedTest, Truth, Uniform, simulate,
};
use fieldtest::{
    Discrepancy, Drawn, Refit, Shape, SimulatedAnswer, TestDraws, TestResult, analyze, monte_carlo,
};
use metrology::MonteCarloPlan;
use numerics::elementary::{exp, ln};
use numerics::linear::{Matrix, PositiveFactor, Vector};
use numerics::random::{Draw, Draws};
use records::read_pad;
use std::num::NonZeroUsize;
use support::{PAD, analysis, csv, smooth};

/// A thread.
const ONE: NonZeroUsize = NonZeroUsize::MIN;

fn smooth_test() -> TestResult {
    analysis(PAD, &csv(&smooth())).tests.remove(0)
}

/// Exactly so many draws: no digits are ever reached.
fn plan(draws: usize) -> MonteCarloPlan {
    MonteCarloPlan {
        digits: 9,
        most_draws: draws,
        ..MonteCarloPlan::new(1)
    }
}

fn answer(test: &TestResult, of: Drawn, refit: Refit) -> SimulatedAnswer {
    let simulated = monte_carlo(test, &plan(200_000), refit, ONE).unwrap();
    let found = simulated.answers.iter().find(|answer| answer.of == of);
    *found.unwrap()
}

#[test]
fn a_parameter_of_the_fit_has_the_mean_and_the_uncertainty_of_first_order() {
    // Drawn to first order, a parameter is a sum of errors: its variance is that of the fit, whatever their shapes.
    let test = smooth_test();
    for of in [Drawn::FixedDraw, Drawn::DynamicDraw, Drawn::Exponent] {
        let SimulatedAnswer {
            first_order,
            distributed,
            ..
        } = answer(&test, of, Refit::FirstOrder);
        let (found, error) = (distributed.characteristics, distributed.standard_errors);
        // Four standard errors, one seed.
        assert!(
            (found.mean - first_order.value).abs() < 4.0 * error.mean,
            "{of:?}: {found:?} {first_order:?}"
        );
        assert!(
            (found.u - first_order.u).abs() < 4.0 * error.u,
            "{of:?}: {found:?} {first_order:?}"
        );
    }
}

#[test]
fn intervals_of_nearly_linear_answers_are_those_of_first_order() {
    // The part of the meter's limit in these two is small, and the slope bends by half its relative uncertainty of 2 %:
    // ends move by a hundredth of the half-width, beside four standard errors.
    let test = smooth_test();
    for of in [Drawn::Exponent, Drawn::FlowSlope] {
        let found = answer(&test, of, Refit::FirstOrder);
        let (estimate, error) = (found.estimate(), found.distributed.standard_errors);
        let bend = 0.02 * (found.first_order.high - found.first_order.value);
        for (drawn, first_order, error) in [
            (estimate.low, found.first_order.low, error.low),
            (estimate.high, found.first_order.high, error.high),
        ] {
            assert!(
                (drawn - first_order).abs() < bend + 4.0 * error,
                "{of:?}: {estimate:?} {:?}",
                found.first_order
            );
        }
    }
}

#[test]
fn an_exact_refit_moves_no_interval_by_more_than_a_seventh_of_its_uncertainty() {
    // What first order leaves out is of the order of the relative uncertainty, some per cent; the deviates are the same.
    let test = smooth_test();
    let first_order = monte_carlo(&test, &plan(50_000), Refit::FirstOrder, ONE).unwrap();
    let exact = monte_carlo(&test, &plan(50_000), Refit::Exact, ONE).unwrap();
    assert_eq!(first_order.answers.len(), 9);
    for (one, other) in first_order.answers.iter().zip(&exact.answers) {
        let (a, b) = (one.estimate(), other.estimate());
        let most = 0.15 * a.u;
        let apart = [a.value - b.value, a.low - b.low, a.high - b.high];
        assert!(
            apart.iter().all(|by| by.abs() < most),
            "{:?}: {a:?} {b:?}",
            one.of
        );
        assert!(one.of != other.of || a != b, "nothing was refitted");
    }
}

#[test]
fn the_bits_do_not_depend_on_the_blocks_nor_on_the_threads() {
    let test = smooth_test();
    for refit in [Refit::FirstOrder, Refit::Exact] {
        let draws = TestDraws::new(&test, 3, refit).unwrap();
        let answers = draws.answers().len();
        let filled = |piece: usize| {
            let mut columns = vec![vec![f64::NAN; 1000]; answers];
            for from in (0..1000).step_by(piece).rev() {
                let to = (from + piece).min(1000);
                let mut block: Vec<&mut [f64]> =
                    columns.iter_mut().map(|c| &mut c[from..to]).collect();
                draws.fill(from as u64, &mut block);
            }
            columns
        };
        assert_eq!(filled(1000), filled(77));
    }
    for refit in [Refit::FirstOrder, Refit::Exact] {
        let on = |threads| {
            let threads = NonZeroUsize::new(threads).unwrap();
            monte_carlo(&test, &plan(30_000), refit, threads)
        };
        let one = on(1);
        // Three do not part a block of 79 chunks evenly, and a hundred are more than it has chunks.
        for threads in [2, 3, 100] {
            assert_eq!(on(threads), one, "{threads} threads");
        }
    }
}

/// Whether a simulated pad is bent as the laws allow for, or keeps to them.
#[derive(Clone, Copy, Debug)]
enum Pads {
    Bent,
    Lawful,
}

#[test]
fn the_interval_of_the_cheapest_speed_holds_that_of_the_law() {
    // The standard error of a share of 95 % among 350 is 1.2 %.
    let percent = held_percent(Pads::Bent);
    assert!((92.0..=98.0).contains(&percent), "{percent:.1} %");
    // A pad that keeps to its laws is known better than the intervals say, since nobody tells them that it does.
    let percent = held_percent(Pads::Lawful);
    assert!(percent >= 95.0, "{percent:.1} %");
}

/// Counts, in per cent, how often the interval of the cheapest speed holds that of the law behind a pad.
fn held_percent(pads: Pads) -> f64 {
    const PADS: u64 = 400;
    let quick = MonteCarloPlan {
        block: 2_000,
        ..plan(10_000)
    };
    let (mut held, mut all) = (0.0, 0.0);
    for seed in 0..PADS {
        let mut draw = Draws::new(500 + seed).at(0);
        let mut next = || draw.uniform();
        let mut uniform = Uniform(&mut next);
        let pad = uniform.lawful_pad();
        let made = simulated(&pad, pads, seed, &mut uniform);
        let truth_rpm = cheapest_rpm(&pad, made.standby.parse().unwrap());
        let (site, tests) = read_pad(&made.site(), &[made.files()]).unwrap();
        let test = analyze(&site, &tests).tests.remove(0);
        let drawn = monte_carlo(&test, &quick, Refit::FirstOrder, ONE).unwrap();
        let mut answers = drawn.answers.iter();
        if let Some(found) = answers.find(|answer| answer.of == Drawn::CheapestSpeed) {
            let cheapest = found.estimate();
            all += 1.0;
            held += f64::from(u8::from(
                cheapest.low <= truth_rpm && truth_rpm <= cheapest.high,
            ));
        }
    }
    assert!(all >= 300.0, "{all} tests bracket the cheapest speed");
    100.0 * held / all
}

/// Makes a test of seven steps, too few for the departure to be learnt; the meters read a pad that departs from its
/// laws as the discrepancy has it.
fn simulated(pad: &LawfulPad, pads: Pads, seed: u64, uniform: &mut Uniform<'_>) -> SimulatedTest {
    let speeds = [600.0, 800.0, 1100.0, 1500.0, 2000.0, 2700.0, 3450.0];
    let meters = Meters::draw(&MeterModel::USUAL, uniform);
    let mut made = simulate(&Truth::Lawful(*pad), &speeds, &meters, uniform).unwrap();
    if matches!(pads, Pads::Lawful) {
        return made;
    }
    let mut draw = Draws::new(90_000 + seed).at(0);
    let flow = departures(Shape::Flow.discrepancy(), &speeds, &mut draw);
    let power = departures(Shape::Power.discrepancy(), &speeds, &mut draw);
    for (i, operation) in made.truth.iter_mut().enumerate() {
        operation.flow_m3s *= exp(flow[i]);
        operation.power_w *= exp(power[i]);
        operation.current_a *= exp(power[i]);
        made.rows[i].1 = meters.read(operation, uniform);
    }
    made
}

/// Draws the logarithm of a pad's departure from a law at some speeds.
fn departures(discrepancy: Discrepancy, speeds: &[f64], draw: &mut Draw) -> Vec<f64> {
    let covariance = Matrix::from_fn(speeds.len(), speeds.len(), |i, j| {
        let distance = ln(speeds[i] / speeds[j]) / discrepancy.length;
        let own = if i == j { 1e-9 } else { 0.0 }; // keeps the root real; nothing beside 1e-3
        discrepancy.sd * discrepancy.sd * exp(-0.5 * distance * distance) + own
    });
    let root = PositiveFactor::new(covariance).unwrap().lower();
    let normal = Vector::from_fn(speeds.len(), |_, _| draw.normal());
    (root * normal).as_slice().to_vec()
}

/// The cheapest whole speed of a truth that follows the laws; intervals are 30 times as wide.
fn cheapest_rpm(pad: &LawfulPad, standby_w: f64) -> f64 {
    let truth = Truth::Lawful(*pad);
    let cost = |speed: f64| {
        let there = truth.at(speed).unwrap();
        (there.power_w - standby_w) / there.flow_m3s
    };
    let speeds = (100..=3450).map(f64::from);
    speeds
        .filter(|speed| *speed > pad.intercept_rpm + 1.0)
        .min_by(|a, b| cost(*a).total_cmp(&cost(*b)))
        .unwrap()
}

#[test]
fn a_test_without_a_law_has_no_draws_and_one_law_is_enough() {
    let none = analysis(PAD, "speed [rpm],flow [gpm],power [W]\n3450,95,1800\n");
    assert_eq!(
        monte_carlo(&none.tests[0], &plan(20_000), Refit::Exact, ONE),
        None
    );
    let flow = analysis(PAD, "speed [rpm],flow [gpm]\n1000,26\n2000,54\n3000,82\n");
    let found = monte_carlo(&flow.tests[0], &plan(20_000), Refit::Exact, ONE).unwrap();
    let answers: Vec<Drawn> = found.answers.iter().map(|answer| answer.of).collect();
    assert_eq!(answers, [Drawn::FlowSlope, Drawn::InterceptSpeed]);
    let power = analysis(
        PAD,
        "speed [rpm],power [W]\n1000,120\n2000,500\n3000,1500\n",
    );
    let found = monte_carlo(&power.tests[0], &plan(20_000), Refit::Exact, ONE).unwrap();
    assert!(
        found
            .answers
            .iter()
            .all(|answer| answer.estimate().u.is_finite())
    );
    assert_eq!(found.answers.len(), 3);
}

#[test]
fn a_plan_without_room_gives_no_answer_rather_than_a_guess() {
    let found = monte_carlo(&smooth_test(), &plan(0), Refit::FirstOrder, ONE).unwrap();
    assert!(found.answers.is_empty() && found.draws == 0);
}
