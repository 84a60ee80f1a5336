//! Answers by Monte Carlo, held against first order where that is right, and against the truth of simulated pads.
//!
//! Seeds are our own; nothing here is a measurement.

#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

mod support;

use fieldtest::simulation::{LawfulPad, MeterModel, Meters, Truth, Uniform, simulate};
use fieldtest::{
    Analysis, Drawn, Refit, Simulated, SimulatedAnswer, TestDraws, TestResult, analyze, monte_carlo,
};
use metrology::MonteCarloPlan;
use records::read_pad;
use support::{PAD, analysis, csv, smooth};

fn smooth_test() -> TestResult {
    analysis(PAD, &csv(&smooth())).tests.remove(0)
}

fn plan(most_draws: usize) -> MonteCarloPlan {
    MonteCarloPlan {
        most_draws,
        ..MonteCarloPlan::new(1)
    }
}

#[test]
fn explore() {
    let test = smooth_test();
    for refit in [Refit::FirstOrder, Refit::Exact] {
        let before = std::time::Instant::now();
        let found = monte_carlo(&test, &plan(1_000_000), refit).unwrap();
        eprintln!("{:?}", before.elapsed());
        for a in &found.answers {
            eprintln!(
                "{:?} {:?}\n   {:?} {}",
                a.of,
                a.first_order,
                a.estimate(),
                a.distributed.draws
            );
        }
    }
    let before = std::time::Instant::now();
    let draws = TestDraws::new(&test, 1, Refit::FirstOrder).unwrap();
    let mut columns = vec![vec![0.0; 100_000]; draws.answers().len()];
    let mut block: Vec<&mut [f64]> = columns.iter_mut().map(Vec::as_mut_slice).collect();
    draws.fill(0, &mut block);
    eprintln!("{:?}", before.elapsed() / 100_000);
    let before = std::time::Instant::now();
    let draws = TestDraws::new(&test, 1, Refit::Exact).unwrap();
    draws.fill(0, &mut block);
    eprintln!("{:?}", before.elapsed() / 100_000);
}
