//! The laws of a test: how flow, power and current grow with speed, and what they predict at any speed.
//!
//! The laws are summaries, not the truth: drive and motor losses bend power by a few per cent, and a filter's
//! media bend flow. So each carries a smooth discrepancy, a Gaussian process in the logarithm of speed, which
//! stands in the weights of the fit, in every prediction and in every judgement of a reading.

mod budget;
mod fitted;
mod learnt;
mod shape;
mod to_come;

pub use budget::{ErrorSource, Part};
pub use fitted::{FittedLaw, LnPrediction};
pub(crate) use learnt::LEAST_SPEEDS as LEAST_SPEEDS_TO_LEARN;
pub use shape::{Discrepancy, Shape};
pub(crate) use to_come::{LawToCome, Uncertain};

use metrology::Estimate;
use numerics::elementary::exp;

/// Flow against speed: Q² = slope² (N² − intercept²).
#[derive(Clone, Debug)]
pub struct FlowLaw {
    /// The slope, m³/s per rpm.
    pub slope_m3s_per_rpm: Estimate,
    /// The speed below which nothing flows, rpm.
    pub intercept_speed_rpm: Estimate,
    /// The law.
    pub law: FittedLaw,
}

impl FlowLaw {
    /// Reads the law's numbers off a fit; `None` where one is not finite.
    pub(crate) fn new(law: FittedLaw) -> Option<Self> {
        let reference = law.reference_rpm;
        let (ln_slope, square) = (law.fit.parameters[0], law.fit.parameters[1]);
        let slope = Estimate::log_normal(ln_slope, law.fit.covariance[(0, 0)].sqrt())?;
        // The square may lie below zero within its uncertainty; a speed cannot.
        let squared = Estimate::normal(square, law.fit.covariance[(1, 1)].sqrt())?;
        let speed = |square: f64| reference * square.max(0.0).sqrt();
        Some(Self {
            slope_m3s_per_rpm: slope.scaled(1.0 / reference),
            intercept_speed_rpm: Estimate::from_interval(
                speed(squared.value),
                speed(squared.low),
                speed(squared.high),
            )?,
            law,
        })
    }

    /// Returns the speed at which the law gives a flow.
    pub fn speed_at_rpm(&self, flow_m3s: f64) -> f64 {
        let ratio = flow_m3s / exp(self.law.fit.parameters[0]);
        let square = ratio * ratio + self.law.fit.parameters[1];
        self.law.reference_rpm * square.max(0.0).sqrt()
    }

    /// Returns the flow that the law gives at a speed; none below the speed at which flow starts.
    pub fn flow_at_m3s(&self, speed_rpm: f64) -> f64 {
        let ratio = speed_rpm / self.law.reference_rpm;
        let square = ratio * ratio - self.law.fit.parameters[1];
        exp(self.law.fit.parameters[0]) * square.max(0.0).sqrt()
    }

    /// Returns the intercept as a square over the square of the reference speed; it may lie below zero.
    pub(crate) fn intercept_ratio_squared(&self) -> f64 {
        self.law.fit.parameters[1]
    }
}

/// Power against speed: P = fixed + dynamic (N/at_speed)^exponent.
#[derive(Clone, Debug)]
pub struct PowerLaw {
    /// The draw that does not depend on speed, W.
    pub fixed_w: Estimate,
    /// The draw that does, at the reference speed, W.
    pub dynamic_w: Estimate,
    /// The reference speed, rpm.
    pub at_speed_rpm: f64,
    /// How the draw grows with speed.
    pub exponent: Estimate,
    /// The law.
    pub law: FittedLaw,
}

impl PowerLaw {
    /// Reads the law's numbers off a fit; `None` where one is not finite.
    pub(crate) fn new(law: FittedLaw) -> Option<Self> {
        let number =
            |j: usize| Estimate::normal(law.fit.parameters[j], law.fit.covariance[(j, j)].sqrt());
        Some(Self {
            fixed_w: number(0)?.not_below(0.0),
            dynamic_w: number(1)?.not_below(0.0),
            at_speed_rpm: law.reference_rpm,
            exponent: number(2)?,
            law,
        })
    }
}
