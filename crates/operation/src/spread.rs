//! How well a day's sums are known: the laws are drawn with their uncertainty, and the program stays as it is.
//!
//! All speeds of a draw come from one pad: what is wrong at one speed is mostly wrong at its neighbours too, and in the
//! program as found as well as in the new one. So a saving is known better than the difference of two costs would be.

use crate::offer::LineUp;
use crate::program::Weighed;
use fieldtest::FittedLaw;
use metrology::{Estimate, IntervalKind, coverage_interval};
use numerics::elementary::exp;
use numerics::linear::{Matrix, PositiveFactor};
use numerics::random::Draws;

/// How often the laws are drawn: the ends of a 95 % interval are then known to some 2 % of its width.
const DRAWS: u64 = 4000;
/// What the draws are made from; any other number would do.
const SEED: u64 = 20_260_516;
/// Coverage of the intervals that are given.
const COVERAGE: f64 = 0.95;

/// The powers, or the flows, at some speeds, drawn together.
#[derive(Clone, Debug)]
pub(crate) struct Drawn {
    speeds_rpm: Vec<f64>,
    best: Vec<f64>,
    /// One row per draw.
    draws: Vec<Vec<f64>>,
    /// The draw at rest, and its draws.
    off: (f64, Vec<f64>),
}

impl Drawn {
    /// Draws the powers of a line-up.
    pub(crate) fn powers(
        lineup: &LineUp,
        speeds_rpm: &[f64],
        standby_w: Option<Estimate>,
    ) -> Option<Self> {
        Self::of(&lineup.power, speeds_rpm, standby_w, SEED)
    }

    /// Draws the flows of a line-up; nothing flows at rest.
    pub(crate) fn flows(lineup: &LineUp, speeds_rpm: &[f64]) -> Option<Self> {
        // Another seed: flow and power are read by other meters.
        Self::of(&lineup.flow, speeds_rpm, None, !SEED)
    }

    fn of(law: &FittedLaw, speeds_rpm: &[f64], off: Option<Estimate>, seed: u64) -> Option<Self> {
        let (ln_best, covariance) = law.predict_ln_jointly(speeds_rpm);
        let factor = PositiveFactor::new(floored(covariance)).ok()?.lower();
        let source = Draws::new(seed);
        let (off_best, off_u) = off.map_or((0.0, 0.0), |off| (off.value, off.u));
        let mut off_draws = Vec::new();
        let mut draws = Vec::new();
        for number in 0..DRAWS {
            let mut draw = source.at(number);
            let deviates: Vec<f64> = ln_best.iter().map(|_| draw.normal()).collect();
            off_draws.push((off_best + off_u * draw.normal()).max(0.0));
            draws.push(
                ln_best
                    .iter()
                    .enumerate()
                    .map(|(i, best)| {
                        let apart: f64 = (0..=i).map(|j| factor[(i, j)] * deviates[j]).sum();
                        exp(best + apart)
                    })
                    .collect(),
            );
        }
        Some(Self {
            speeds_rpm: speeds_rpm.to_vec(),
            best: ln_best.into_iter().map(exp).collect(),
            draws,
            off: (off_best, off_draws),
        })
    }

    fn sum(&self, values: &[f64], off: f64, weighed: &Weighed) -> f64 {
        let at = |speed: f64| {
            let index = self
                .speeds_rpm
                .iter()
                .position(|known| known.total_cmp(&speed).is_eq());
            index.map_or(0.0, |index| values[index])
        };
        let running: f64 = weighed
            .running
            .iter()
            .map(|(speed, hours)| at(*speed) * hours)
            .sum();
        running + off * weighed.off
    }

    /// Adds up a day: the best value, and the draws of it.
    pub(crate) fn total(&self, weighed: &Weighed) -> Total {
        let draws = self.draws.iter().zip(&self.off.1);
        Total {
            best: self.sum(&self.best, self.off.0, weighed),
            draws: draws
                .map(|(values, off)| self.sum(values, *off, weighed))
                .collect(),
        }
    }
}

/// Neighbouring speeds are known so alike that rounding may make their covariance singular: a millionth of their own
/// variance is added.
fn floored(mut covariance: Matrix) -> Matrix {
    /// Share of the variance that is added; it widens an interval by half of it.
    const FLOOR: f64 = 1e-6;
    for i in 0..covariance.nrows() {
        covariance[(i, i)] *= 1.0 + FLOOR;
        covariance[(i, i)] += f64::MIN_POSITIVE;
    }
    covariance
}

/// A sum over a day with its draws.
#[derive(Clone, Debug)]
pub(crate) struct Total {
    pub(crate) best: f64,
    draws: Vec<f64>,
}

impl Total {
    /// Multiplies the sum, and adds what is known without doubt.
    pub(crate) fn scaled_and_moved(&self, factor: f64, by: f64) -> Self {
        Self {
            best: factor * self.best + by,
            draws: self.draws.iter().map(|draw| factor * draw + by).collect(),
        }
    }

    /// Returns how much the sum is less than another one, draw by draw.
    pub(crate) fn less_than(&self, other: &Self) -> Self {
        Self {
            best: other.best - self.best,
            draws: other
                .draws
                .iter()
                .zip(&self.draws)
                .map(|(other, own)| other - own)
                .collect(),
        }
    }

    /// Returns the share of draws at or above a value.
    pub(crate) fn share_at_least(&self, value: f64) -> f64 {
        let count = self.draws.iter().filter(|draw| **draw >= value).count();
        count as f64 / self.draws.len().max(1) as f64
    }

    /// Returns the sum with its interval.
    pub(crate) fn estimate(&self) -> Option<Estimate> {
        let mut sorted = self.draws.clone();
        sorted.sort_by(f64::total_cmp);
        let (low, high) = coverage_interval(&sorted, COVERAGE, IntervalKind::Symmetric)?;
        let count = sorted.len() as f64;
        let mean = sorted.iter().sum::<f64>() / count;
        let variance = sorted
            .iter()
            .map(|draw| (draw - mean) * (draw - mean))
            .sum::<f64>()
            / count;
        let estimate = Estimate {
            value: self.best,
            u: variance.sqrt(),
            low: low.min(self.best),
            high: high.max(self.best),
        };
        [estimate.value, estimate.u, low, high]
            .iter()
            .all(|number| number.is_finite())
            .then_some(estimate)
    }
}
