//! The forms of the laws, what is known of their numbers beforehand, and how far a pad may depart from them.

use metrology::{Curve, Prior};
use numerics::elementary::{exp, ln};

/// What kind of law a column of readings follows, in the logarithm of the reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// Q² = s² (N² − N₀²): parameters ln s and (N₀/Nref)².
    Flow,
    /// P = P₀ + c (N/Nref)^m: parameters P₀, c, m.
    Power,
    /// I = I₀ + d (N/Nref)^q, the same form for current.
    Current,
}

/// A smooth distance of the truth from a law: its standard deviation in the logarithm of the reading, and the
/// distance in the logarithm of speed over which it stays alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Discrepancy {
    /// Standard deviation, in the logarithm.
    pub sd: f64,
    /// Correlation length, in the logarithm of speed.
    pub length: f64,
}

impl Discrepancy {
    /// Multiplies the standard deviation.
    pub(crate) fn widened(self, factor: f64) -> Self {
        Self {
            sd: factor * self.sd,
            ..self
        }
    }

    /// Computes the covariance of the discrepancy at two speeds, given as logarithms.
    pub(super) fn covariance(self, ln_a: f64, ln_b: f64) -> f64 {
        let distance = (ln_a - ln_b) / self.length;
        self.sd * self.sd * exp(-0.5 * distance * distance)
    }
}

impl Shape {
    /// Returns how many different speeds the law needs, its prior counted.
    pub(crate) fn least_speeds(self) -> usize {
        match self {
            Self::Flow => 2,
            Self::Power | Self::Current => 3,
        }
    }

    /// Returns the discrepancy that is carried where the test is too short to estimate it.
    ///
    /// # Source
    /// Common practice, no source: wire power departs from a power law by 2-5 % as the drive's and the
    /// motor's losses change with load; flow by about as much as a filter's media bend the system curve.
    pub fn discrepancy(self) -> Discrepancy {
        let sd = match self {
            Self::Flow => 0.03,
            Self::Power => 0.04,
            Self::Current => 0.06,
        };
        Discrepancy { sd, length: 0.7 }
    }

    /// Returns what is known of the parameters before any reading.
    ///
    /// # Source
    /// Common practice, no source. Intercept: mostly below a third of the top speed. Exponent: below the cube
    /// of the affinity laws, since the efficiency of motor and drive falls at part load.
    pub(crate) fn priors(self) -> Vec<Option<Prior>> {
        match self {
            Self::Flow => vec![None, Some(Prior { mean: 0.0, sd: 0.1 })],
            Self::Power | Self::Current => vec![None, None, Some(Prior { mean: 2.8, sd: 0.4 })],
        }
    }

    /// Returns a start near any sound set of readings: `ratios` are speeds over the reference.
    pub(crate) fn start(self, ratios: &[f64], ln_values: &[f64]) -> Vec<f64> {
        let count = ratios.len() as f64;
        match self {
            Self::Flow => {
                let pairs = ln_values.iter().zip(ratios);
                vec![pairs.map(|(y, n)| y - ln(*n)).sum::<f64>() / count, 0.0]
            }
            Self::Power | Self::Current => {
                let lowest = ln_values.iter().copied().fold(f64::INFINITY, f64::min);
                let pairs = ln_values.iter().zip(ratios);
                let scale = pairs
                    .map(|(y, n)| y - 2.8 * ln(*n))
                    .fold(f64::INFINITY, f64::min);
                vec![0.5 * exp(lowest), exp(scale), 2.8]
            }
        }
    }
}

impl Curve for Shape {
    /// Evaluates the logarithm of the law at a ratio of speeds.
    fn evaluate(&self, ratio: f64, parameters: &[f64], gradient: &mut [f64]) -> f64 {
        match (self, parameters) {
            (Self::Flow, [ln_slope, intercept]) => {
                let square = ratio * ratio - intercept;
                gradient.copy_from_slice(&[1.0, -0.5 / square]);
                ln_slope + 0.5 * ln(square)
            }
            (_, [fixed, dynamic, exponent]) => {
                let ln_ratio = ln(ratio);
                let power = exp(exponent * ln_ratio);
                let value = fixed + dynamic * power;
                gradient.copy_from_slice(&[
                    1.0 / value,
                    power / value,
                    dynamic * power * ln_ratio / value,
                ]);
                ln(value)
            }
            _ => f64::NAN,
        }
    }
}
