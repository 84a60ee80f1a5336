//! How well a day's sums are known: the laws are drawn with their uncertainty, and the program stays as it is.
//!
//! All speeds of a draw come from one pad: what is wrong at one speed is mostly wrong at its neighbours too, and in the
//! program as found as well as in the new one. So a saving is known better than the difference of two costs would be.

use crate::carried::{Carried, Chance};
use crate::offer::{LineUp, Running};
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
/// The same for the draw at rest, and for what changes are uncertain by.
const REST_SEED: u64 = 0x5EED;
const CHANGE_SEED: u64 = 20_261_128;
/// Coverage of the intervals that are given.
const COVERAGE: f64 = 0.95;

/// The powers and the flows at some speeds, drawn together.
#[derive(Clone, Debug)]
pub(crate) struct Drawn {
    pub(crate) powers: DrawnLaw,
    pub(crate) flows: DrawnLaw,
}

/// The values of a law at some speeds, with their draws.
#[derive(Clone, Debug)]
pub(crate) struct DrawnLaw {
    of: Vec<Running>,
    best: Vec<f64>,
    /// One row per draw.
    draws: Vec<Vec<f64>>,
    /// The value at rest, and its draws.
    off: (f64, Vec<f64>),
}

impl Drawn {
    /// Draws the laws of some line-ups, and what changes make of them.
    ///
    /// All line-ups take the same deviates: what one meter is off by, it is off by in every test. So their errors add up in
    /// a day rather than cancel. The same numbers make the draws of every pad, so that what two pads share cancels in their
    /// difference.
    pub(crate) fn of(
        lineups: &[LineUp],
        speeds: &[Running],
        standby_w: Option<Estimate>,
    ) -> Option<Self> {
        let mut powers = DrawnLaw::at_rest(standby_w, SEED);
        // Another seed: flow and power are read by other meters. Nothing flows at rest.
        let mut flows = DrawnLaw::at_rest(None, !SEED);
        for (number, lineup) in lineups.iter().enumerate() {
            let own: Vec<Running> = speeds
                .iter()
                .filter(|speed| speed.lineup == number)
                .copied()
                .collect();
            let before = powers.of.len();
            powers.add(&lineup.power, &own, SEED)?;
            flows.add(&lineup.flow, &own, !SEED)?;
            if let Some(carried) = &lineup.carried {
                let from = before;
                carry(carried, lineup.fixed_w, from, &mut powers, &mut flows);
            }
        }
        Some(Self { powers, flows })
    }
}

/// Draws the flows alone, as [`Drawn::of`] draws them.
pub(crate) fn drawn_flows(lineups: &[LineUp], speeds: &[Running]) -> Option<DrawnLaw> {
    let mut flows = DrawnLaw::at_rest(None, !SEED);
    for (number, lineup) in lineups.iter().enumerate() {
        let own = speeds.iter().filter(|speed| speed.lineup == number);
        let own: Vec<Running> = own.copied().collect();
        let from = flows.of.len();
        flows.add(&lineup.flow, &own, !SEED)?;
        if let Some(carried) = &lineup.carried {
            carry_flows(carried, from, &mut flows);
        }
    }
    Some(flows)
}

/// Moves the flows from a place on, and each draw of them, as a change does.
fn carry_flows(carried: &Carried, from: usize, flows: &mut DrawnLaw) {
    let speeds: Vec<f64> = flows.of[from..].iter().map(|of| of.speed_rpm).collect();
    let one = |chance: Chance, flows: &mut [f64]| {
        for (flow, speed) in flows.iter_mut().zip(&speeds) {
            *flow *= exp(carried.moved(*speed, chance).ln_flow);
        }
    };
    one(Chance::NONE, &mut flows.best[from..]);
    let source = Draws::new(CHANGE_SEED);
    for (number, flows) in (0..).zip(&mut flows.draws) {
        one(Chance::drawn(&source, number), &mut flows[from..]);
    }
}

impl Chance {
    /// Draws what a change is uncertain by, of one draw.
    fn drawn(source: &Draws, number: u64) -> Self {
        let mut draw = source.at(number);
        Self {
            circuit: draw.normal(),
            fall: draw.normal(),
            power: draw.normal(),
        }
    }
}

/// Moves the values from a place on, and each draw of them, as a change does.
fn carry(
    carried: &Carried,
    fixed_w: f64,
    from: usize,
    powers: &mut DrawnLaw,
    flows: &mut DrawnLaw,
) {
    let speeds: Vec<f64> = powers.of[from..].iter().map(|of| of.speed_rpm).collect();
    let one = |chance: Chance, powers: &mut [f64], flows: &mut [f64]| {
        for (index, speed) in speeds.iter().enumerate() {
            let moved = carried.moved(*speed, chance);
            flows[index] *= exp(moved.ln_flow);
            powers[index] = moved.power_w(powers[index], fixed_w);
        }
    };
    one(
        Chance::NONE,
        &mut powers.best[from..],
        &mut flows.best[from..],
    );
    let source = Draws::new(CHANGE_SEED);
    for (number, (powers, flows)) in (0..).zip(powers.draws.iter_mut().zip(&mut flows.draws)) {
        let chance = Chance::drawn(&source, number);
        one(chance, &mut powers[from..], &mut flows[from..]);
    }
}

impl DrawnLaw {
    fn at_rest(off: Option<Estimate>, seed: u64) -> Self {
        let (best, u) = off.map_or((0.0, 0.0), |off| (off.value, off.u));
        let source = Draws::new(seed ^ REST_SEED);
        let draw = |number| (best + u * source.at(number).normal()).max(0.0);
        Self {
            of: Vec::new(),
            best: Vec::new(),
            draws: vec![Vec::new(); usize::try_from(DRAWS).unwrap_or(0)],
            off: (best, (0..DRAWS).map(draw).collect()),
        }
    }

    /// Adds the speeds of one line-up.
    fn add(&mut self, law: &FittedLaw, of: &[Running], seed: u64) -> Option<()> {
        if of.is_empty() {
            return Some(());
        }
        let speeds: Vec<f64> = of.iter().map(|of| of.speed_rpm).collect();
        let (ln_best, covariance) = law.predict_ln_jointly(&speeds);
        let factor = PositiveFactor::new(floored(covariance)).ok()?.lower();
        let source = Draws::new(seed);
        for (number, values) in (0..).zip(&mut self.draws) {
            let mut draw = source.at(number);
            let deviates: Vec<f64> = ln_best.iter().map(|_| draw.normal()).collect();
            values.extend(ln_best.iter().enumerate().map(|(i, best)| {
                let apart: f64 = (0..=i).map(|j| factor[(i, j)] * deviates[j]).sum();
                exp(best + apart)
            }));
        }
        self.best.extend(ln_best.into_iter().map(exp));
        self.of.extend(of);
        Some(())
    }

    /// Finds where the speeds of a day stand, with what each weighs.
    fn placed(&self, weighed: &Weighed) -> Vec<(usize, f64)> {
        let place = |(speed, hours): &(Running, f64)| {
            let index = self.of.iter().position(|known| known == speed)?;
            Some((index, *hours))
        };
        weighed.running.iter().filter_map(place).collect()
    }

    /// Adds up a day: the best value, and the draws of it.
    pub(crate) fn total(&self, weighed: &Weighed) -> Total {
        let placed = self.placed(weighed);
        let sum = |values: &[f64], off: f64| {
            let running: f64 = placed
                .iter()
                .map(|(index, hours)| values[*index] * hours)
                .sum();
            running + off * weighed.off
        };
        let draws = self.draws.iter().zip(&self.off.1);
        Total {
            best: sum(&self.best, self.off.0),
            draws: draws.map(|(values, off)| sum(values, *off)).collect(),
        }
    }

    /// Returns the highest value of a day.
    pub(crate) fn highest(&self, weighed: &Weighed) -> Total {
        let placed = self.placed(weighed);
        let top = |values: &[f64], off: f64| {
            let running = placed.iter().map(|(index, _)| values[*index]);
            running.fold(off, f64::max)
        };
        let draws = self.draws.iter().zip(&self.off.1);
        Total {
            best: top(&self.best, self.off.0),
            draws: draws.map(|(values, off)| top(values, *off)).collect(),
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

    /// Nothing, without doubt.
    pub(crate) fn nothing() -> Self {
        Self {
            best: 0.0,
            draws: vec![0.0; usize::try_from(DRAWS).unwrap_or(0)],
        }
    }

    /// Adds another sum, so many times, draw by draw.
    pub(crate) fn add(&mut self, other: &Self, times: f64) {
        self.best += times * other.best;
        for (own, other) in self.draws.iter_mut().zip(&other.draws) {
            *own += times * other;
        }
    }

    /// Returns the larger of two, draw by draw.
    pub(crate) fn or_higher(&self, other: &Self) -> Self {
        let draws = self.draws.iter().zip(&other.draws);
        Self {
            best: self.best.max(other.best),
            draws: draws.map(|(own, other)| own.max(*other)).collect(),
        }
    }

    /// Applies a function to the best value and to each draw.
    pub(crate) fn map(&self, of: impl Fn(f64) -> f64) -> Self {
        Self {
            best: of(self.best),
            draws: self.draws.iter().map(|draw| of(*draw)).collect(),
        }
    }

    /// Returns the share of draws above a value.
    pub(crate) fn share_above(&self, value: f64) -> f64 {
        let count = self.draws.iter().filter(|draw| **draw > value).count();
        count as f64 / self.draws.len().max(1) as f64
    }

    /// Returns the value that a share of the draws lie below.
    pub(crate) fn quantile(&self, share: f64) -> f64 {
        let mut sorted = self.draws.clone();
        numerics::order::sort_values(&mut sorted);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a share of a small count; below zero becomes zero"
        )]
        let index = (share * sorted.len() as f64) as usize;
        let last = sorted.len().saturating_sub(1);
        sorted.get(index.min(last)).copied().unwrap_or(self.best)
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
        numerics::order::sort_values(&mut sorted);
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
