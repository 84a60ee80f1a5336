//! The answers of a test by Monte Carlo: errors are drawn as the weights of the fit have them, and each answer is
//! computed from the numbers that they leave.
//!
//! First order takes an answer for a straight line over the width of its uncertainty, and its distribution for a normal
//! one. The draws take neither: the limit of a meter stays a rectangle, and an answer bends as it bends.

mod cheapest;
mod chunk;
mod descent;
mod draws;
mod errors;
mod form;
mod law;
mod refit;

pub use draws::{Drawn, TestDraws};

use crate::result::TestResult;
use metrology::{Distributed, Estimate, MonteCarloPlan, monte_carlo_in_blocks};
use std::num::NonZeroUsize;

/// How the laws follow a draw of the readings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refit {
    /// By the slopes of the fit that was made.
    FirstOrder,
    /// By a fit of their own.
    Exact,
}

/// The plan for two digits of every uncertainty from a seed that never changes: the same answer every time.
pub fn monte_carlo_plan() -> MonteCarloPlan {
    MonteCarloPlan {
        // Two digits stand after at most 1.2 million draws of a normal quantity; each takes 72 bytes.
        most_draws: 1_000_000,
        ..MonteCarloPlan::new(SEED)
    }
}

/// What the draws of an answer are made from; any other number would do.
const SEED: u64 = 20_260_516;

/// What the draws say of a test.
#[derive(Clone, Debug, PartialEq)]
pub struct Simulated {
    /// How the laws followed the draws.
    pub refit: Refit,
    /// The most draws that an answer took.
    pub draws: usize,
    /// For how many of the draws an exact refit of some law was not found: the answers have its first order there.
    pub unsettled: usize,
    /// The answers.
    pub answers: Vec<SimulatedAnswer>,
}

/// One answer, to first order and by draws.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SimulatedAnswer {
    /// Which answer.
    pub of: Drawn,
    /// The answer of the analysis.
    pub first_order: Estimate,
    /// The draws.
    pub distributed: Distributed,
}

impl SimulatedAnswer {
    /// Returns mean, standard uncertainty and interval of the draws, cut where the quantity cannot be.
    pub fn estimate(&self) -> Estimate {
        let drawn = self.distributed.estimate();
        match self.of {
            Drawn::FixedDraw | Drawn::DynamicDraw => drawn.not_below(0.0),
            _ => drawn,
        }
    }
}

/// Propagates the errors behind a test's laws to its answers by Monte Carlo.
///
/// # Inputs
/// `plan`: each answer is drawn until its digits stand, or as often as allowed; all that is drawn is kept, nine numbers
/// of 8 bytes a draw. `threads`: how many may draw; where there are none to be had, as in WebAssembly, one.
///
/// # Returns
/// The answers that the test has; `None` without a law. The same plan gives the same bits, whatever the threads.
///
/// # Validity
/// The draws are made about the readings as the analysis used them: they know of no other fault of a reading.
///
/// # Source
/// JCGM 101:2008, 7.9.
///
/// # Checked against
/// First order where the answer is nearly linear, and the truth of simulated pads: `tests/monte_carlo.rs`.
pub fn monte_carlo(
    test: &TestResult,
    plan: &MonteCarloPlan,
    refit: Refit,
    threads: NonZeroUsize,
) -> Option<Simulated> {
    let draws = TestDraws::new(test, plan.seed, refit)?;
    let mut kept = Kept::new(&draws, threads);
    let mut answers = Vec::new();
    for (index, (of, first_order)) in draws.answers().iter().enumerate() {
        let distributed = monte_carlo_in_blocks(plan, |first, values| {
            kept.extend(first, values.len());
            copy(&kept.columns[index], first, values);
        });
        // An answer that a draw does not have is left out, not guessed at.
        answers.extend(distributed.ok().map(|distributed| SimulatedAnswer {
            of: *of,
            first_order: *first_order,
            distributed,
        }));
    }
    Some(Simulated {
        refit,
        draws: answers
            .iter()
            .map(|answer| answer.distributed.draws)
            .max()
            .unwrap_or(0),
        unsettled: kept.unsettled,
        answers,
    })
}

/// The draws that were made, one column per answer.
struct Kept<'a> {
    draws: &'a TestDraws,
    threads: NonZeroUsize,
    columns: Vec<Vec<f64>>,
    unsettled: usize,
}

impl<'a> Kept<'a> {
    fn new(draws: &'a TestDraws, threads: NonZeroUsize) -> Self {
        Self {
            draws,
            threads,
            columns: vec![Vec::new(); draws.answers().len()],
            unsettled: 0,
        }
    }

    /// Draws the block from `first` on, where no earlier answer has asked for it.
    fn extend(&mut self, first: u64, count: usize) {
        let there = self.columns.first().map_or(0, Vec::len);
        if there as u64 > first {
            return;
        }
        for column in &mut self.columns {
            column.resize(there + count, f64::NAN);
        }
        let block = self.columns.iter_mut().map(|column| &mut column[there..]);
        self.unsettled += self.draws.fill_on(self.threads, first, block.collect());
    }
}

fn copy(column: &[f64], first: u64, values: &mut [f64]) {
    let from = usize::try_from(first).unwrap_or(usize::MAX);
    let there = column.get(from..).unwrap_or_default();
    for (value, drawn) in values.iter_mut().zip(there) {
        *value = *drawn;
    }
}
