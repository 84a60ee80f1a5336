//! The laws of a test: how flow, power and current grow with speed, and what they predict at any speed.
//!
//! The laws are summaries, not the truth: drive and motor losses bend power by a few per cent, and a filter's
//! media bend flow. So each carries a smooth discrepancy, a Gaussian process in the logarithm of speed, which
//! stands in the weights of the fit, in every prediction and in every judgement of a reading.

use crate::cells::Cell;
use metrology::{Curve, Estimate, Fit, FitError, Instrument, Observations, Prior, fit};
use numerics::elementary::{exp, ln, pow_fast};
use numerics::linear::{Matrix, Vector, dot, quadratic_form};

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
    fn covariance(self, ln_a: f64, ln_b: f64) -> f64 {
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
    fn priors(self) -> Vec<Option<Prior>> {
        match self {
            Self::Flow => vec![None, Some(Prior { mean: 0.0, sd: 0.1 })],
            Self::Power | Self::Current => vec![None, None, Some(Prior { mean: 2.8, sd: 0.4 })],
        }
    }

    /// Returns a start near any sound set of readings: `ratios` are speeds over the reference.
    fn start(self, ratios: &[f64], ln_values: &[f64]) -> Vec<f64> {
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
                let power = pow_fast(ratio, *exponent);
                let value = fixed + dynamic * power;
                gradient.copy_from_slice(&[
                    1.0 / value,
                    power / value,
                    dynamic * power * ln(ratio) / value,
                ]);
                ln(value)
            }
            _ => f64::NAN,
        }
    }
}

/// A law fitted to the readings of one test.
#[derive(Clone, Debug)]
pub struct FittedLaw {
    shape: Shape,
    discrepancy: Discrepancy,
    reference_rpm: f64,
    ln_speeds: Vec<f64>,
    fit: Fit,
    pull: Vector,
    shared: Option<SharedLimit>,
}

/// The error that all readings of a law share, where one meter with a rectangular limit read them all.
#[derive(Clone, Debug)]
struct SharedLimit {
    instrument: Instrument,
    widening: f64,
}

impl SharedLimit {
    fn of(cells: &[Cell<'_>]) -> Option<Self> {
        let first = cells.first()?;
        let one_meter = cells.iter().all(|cell| cell.column == first.column);
        (one_meter && first.instrument.is_one_rectangle()).then(|| Self {
            instrument: first.instrument.clone(),
            widening: first.widening,
        })
    }

    /// Returns its standard uncertainty in the logarithm.
    fn u_ln_at(&self, ln_value: f64) -> f64 {
        let value = exp(ln_value);
        self.widening * self.instrument.common_u(value) / value
    }
}

/// A prediction in the logarithm of the quantity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LnPrediction {
    /// The logarithm of the best value.
    pub ln_value: f64,
    /// Its standard uncertainty.
    pub u_ln: f64,
    /// The part of that uncertainty which is the limit of one meter, and so rectangular.
    pub rectangular_u_ln: f64,
}

impl LnPrediction {
    /// Returns the part of the uncertainty that is not rectangular.
    pub(crate) fn normal_u_ln(&self) -> f64 {
        let left = self.u_ln * self.u_ln - self.rectangular_u_ln * self.rectangular_u_ln;
        left.max(0.0).sqrt()
    }

    /// Returns the prediction as an estimate of the quantity.
    pub fn estimate(&self) -> Option<Estimate> {
        Estimate::log_mixed(self.ln_value, self.normal_u_ln(), self.rectangular_u_ln)
    }
}

impl FittedLaw {
    /// Fits a law to readings at different speeds.
    ///
    /// # Errors
    /// Those of [`metrology::fit`].
    pub(crate) fn new(
        shape: Shape,
        discrepancy: Discrepancy,
        reference_rpm: f64,
        cells: &[Cell<'_>],
    ) -> Result<Self, FitError> {
        let ratios: Vec<f64> = cells
            .iter()
            .map(|cell| cell.speed_rpm / reference_rpm)
            .collect();
        let values: Vec<f64> = cells.iter().map(|cell| cell.ln_value).collect();
        let ln_speeds: Vec<f64> = cells.iter().map(|cell| ln(cell.speed_rpm)).collect();
        let covariance = covariance(cells, &ln_speeds, discrepancy);
        let observations = Observations {
            x: &ratios,
            y: &values,
            covariance: &covariance,
        };
        let start = shape.start(&ratios, &values);
        let fit = fit(&shape, observations, &start, &shape.priors())?;
        Ok(Self {
            shape,
            discrepancy,
            reference_rpm,
            pull: fit.pull(),
            shared: SharedLimit::of(cells),
            ln_speeds,
            fit,
        })
    }

    /// Returns the fit behind the law.
    pub fn fit(&self) -> &Fit {
        &self.fit
    }

    /// Returns the value of the law itself, without the discrepancy that the readings show.
    pub fn value(&self, speed_rpm: f64) -> f64 {
        let mut gradient = [0.0; 3];
        let parameters = &self.fit.parameters;
        exp(self.shape.evaluate(
            speed_rpm / self.reference_rpm,
            parameters,
            &mut gradient[..parameters.len()],
        ))
    }

    /// Predicts the truth at a speed: the law, and the discrepancy as far as the readings near that speed show it.
    ///
    /// # Equation
    /// f(N; θ) + kᵀ V⁻¹ r, with variance k₀ − kᵀ V⁻¹ k + (j − Jᵀ V⁻¹ k)ᵀ C (j − Jᵀ V⁻¹ k), where k is the
    /// covariance of the discrepancy at N with that at the readings, and j the slope of f in the parameters.
    ///
    /// # Source
    /// C. Rasmussen, C. Williams, Gaussian Processes for Machine Learning (2006), section 2.7, equations 2.41-2.42.
    pub fn predict_ln(&self, speed_rpm: f64) -> LnPrediction {
        let discrepancy = self.discrepancy;
        let here = ln(speed_rpm);
        let k = Vector::from_iterator(
            self.ln_speeds.len(),
            self.ln_speeds
                .iter()
                .map(|there| discrepancy.covariance(here, *there)),
        );
        let weighted = self.fit.weights.solve(&k);
        let mut slope = vec![0.0; self.fit.parameters.len()];
        let law = self.shape.evaluate(
            speed_rpm / self.reference_rpm,
            &self.fit.parameters,
            &mut slope,
        );
        for (j, own) in slope.iter_mut().enumerate() {
            *own -= dot(self.fit.jacobian.column(j).as_slice(), weighted.as_slice());
        }
        let left = discrepancy.sd * discrepancy.sd - dot(k.as_slice(), weighted.as_slice());
        let variance = left.max(0.0) + quadratic_form(&slope, &self.fit.covariance);
        let ln_value = law + dot(k.as_slice(), self.pull.as_slice());
        let shared = self
            .shared
            .as_ref()
            .map_or(0.0, |shared| shared.u_ln_at(ln_value));
        LnPrediction {
            ln_value,
            u_ln: variance.sqrt(),
            rectangular_u_ln: shared.min(variance.sqrt()),
        }
    }

    /// Predicts the truth at a speed as an estimate.
    pub fn predict(&self, speed_rpm: f64) -> Option<Estimate> {
        self.predict_ln(speed_rpm).estimate()
    }
}

/// Builds the covariance of readings: the smooth discrepancy, the common part of each meter, and what is each reading's own.
fn covariance(cells: &[Cell<'_>], ln_speeds: &[f64], discrepancy: Discrepancy) -> Matrix {
    let own: Vec<f64> = cells.iter().map(Cell::own_u_ln).collect();
    let common: Vec<f64> = cells.iter().map(Cell::common_u_ln).collect();
    Matrix::from_fn(cells.len(), cells.len(), |i, j| {
        let smooth = discrepancy.covariance(ln_speeds[i], ln_speeds[j]);
        let of_meter = if cells[i].column == cells[j].column {
            common[i] * common[j]
        } else {
            0.0
        };
        let of_cell = if i == j { own[i] * own[i] } else { 0.0 };
        smooth + of_meter + of_cell
    })
}

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
