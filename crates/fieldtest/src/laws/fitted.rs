//! A law fitted to the readings of one test, and what it predicts at any speed.

use super::{Discrepancy, Shape};
use crate::cells::Cell;
use metrology::{Curve, Estimate, Fit, FitError, Instrument, Observations, fit};
use numerics::elementary::{exp, ln};
use numerics::linear::{Matrix, Vector, dot, quadratic_form};

/// A law fitted to the readings of one test.
#[derive(Clone, Debug)]
pub struct FittedLaw {
    pub(crate) shape: Shape,
    pub(super) discrepancy: Discrepancy,
    pub(crate) reference_rpm: f64,
    pub(crate) ln_speeds: Vec<f64>,
    pub(crate) fit: Fit,
    pub(crate) pull: Vector,
    pub(super) errors: Errors,
    shared: Option<SharedLimit>,
}

/// The parts of the uncertainty of the readings behind a law, in the logarithm.
#[derive(Clone, Debug, Default)]
pub(super) struct Errors {
    /// The column of each reading.
    pub(super) columns: Vec<usize>,
    /// What is each reading's own.
    pub(super) own: Vec<f64>,
    /// What all readings of a column share.
    pub(super) common: Vec<f64>,
    /// Whether what they share is one rectangular limit.
    rectangular: Vec<bool>,
}

impl Errors {
    fn of(cells: &[Cell<'_>]) -> Self {
        Self {
            columns: cells.iter().map(|cell| cell.column).collect(),
            own: cells.iter().map(Cell::own_u_ln).collect(),
            common: cells.iter().map(Cell::common_u_ln).collect(),
            rectangular: cells
                .iter()
                .map(|cell| cell.instrument.is_one_rectangle())
                .collect(),
        }
    }

    /// Adds those of one more reading.
    pub(super) fn add(&mut self, column: usize, own: f64, common: f64) {
        self.columns.push(column);
        self.own.push(own);
        self.common.push(common);
        self.rectangular.push(false);
    }
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
        let errors = Errors::of(cells);
        let covariance = covariance(&errors, &ln_speeds, discrepancy);
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
            errors,
            ln_speeds,
            fit,
        })
    }

    /// Returns the fit behind the law.
    pub fn fit(&self) -> &Fit {
        &self.fit
    }

    /// Computes the covariance of the readings' errors but for those that are the rectangular limit of a meter.
    pub(crate) fn normal_covariance(&self) -> Matrix {
        let mut normal = self.errors.clone();
        for (common, rectangular) in normal.common.iter_mut().zip(&normal.rectangular) {
            *common *= f64::from(u8::from(!rectangular));
        }
        covariance(&normal, &self.ln_speeds, self.discrepancy)
    }

    /// Lists the rectangular limits of the meters: how far one moves each reading at most, in the logarithm.
    pub(crate) fn rectangular_limits(&self) -> Vec<Vec<f64>> {
        let errors = &self.errors;
        let mut meters: Vec<usize> = (0..errors.columns.len())
            .filter(|i| errors.rectangular[*i] && errors.common[*i] > 0.0)
            .map(|i| errors.columns[i])
            .collect();
        meters.sort_unstable();
        meters.dedup();
        let of_reading = |meter: usize, i: usize| {
            let own = f64::from(u8::from(errors.columns[i] == meter));
            own * 3.0_f64.sqrt() * errors.common[i]
        };
        let of_meter = |meter| {
            let readings = 0..errors.columns.len();
            readings.map(|i| of_reading(meter, i)).collect()
        };
        meters.into_iter().map(of_meter).collect()
    }

    /// Returns the variance of the discrepancy at any one speed.
    pub(crate) fn discrepancy_variance(&self) -> f64 {
        self.discrepancy.sd * self.discrepancy.sd
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
        let (law, mut slope) = self.law_and_slope(speed_rpm);
        let k = self.discrepancy_here(speed_rpm);
        let weighted = self.fit.weights.solve(&k);
        for (j, own) in slope.iter_mut().enumerate() {
            *own -= dot(self.fit.jacobian.column(j).as_slice(), weighted.as_slice());
        }
        let sd = self.discrepancy.sd;
        let left = sd * sd - dot(k.as_slice(), weighted.as_slice());
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

    /// Predicts the truth at several speeds together, as [`Self::predict_ln`] does at one: what is known of one speed is
    /// mostly known of its neighbours too.
    ///
    /// # Returns
    /// The logarithms of the best values, and their covariance.
    pub fn predict_ln_jointly(&self, speeds_rpm: &[f64]) -> (Vec<f64>, Matrix) {
        let there: Vec<Vector> = speeds_rpm
            .iter()
            .map(|speed| self.discrepancy_here(*speed))
            .collect();
        let weighted: Vec<Vector> = there.iter().map(|k| self.fit.weights.solve(k)).collect();
        let slopes: Vec<Vec<f64>> = speeds_rpm
            .iter()
            .zip(&weighted)
            .map(|(speed, weighted)| {
                let (_, mut slope) = self.law_and_slope(*speed);
                for (j, own) in slope.iter_mut().enumerate() {
                    *own -= dot(self.fit.jacobian.column(j).as_slice(), weighted.as_slice());
                }
                slope
            })
            .collect();
        let between = |a: usize, b: usize| {
            let prior = self
                .discrepancy
                .covariance(ln(speeds_rpm[a]), ln(speeds_rpm[b]));
            let left = prior - dot(there[a].as_slice(), weighted[b].as_slice());
            let parameters = slopes[a].iter().enumerate().flat_map(|(i, of_a)| {
                let row = slopes[b].iter().enumerate();
                row.map(move |(j, of_b)| of_a * of_b * self.fit.covariance[(i, j)])
            });
            left + parameters.sum::<f64>()
        };
        let count = speeds_rpm.len();
        let covariance = Matrix::from_fn(count, count, |a, b| between(a.max(b), a.min(b)));
        let ln_values = speeds_rpm
            .iter()
            .map(|speed| self.predict_ln(*speed).ln_value);
        (ln_values.collect(), covariance)
    }

    /// Evaluates the logarithm of the law at a speed, with its slope in the parameters.
    pub(crate) fn law_and_slope(&self, speed_rpm: f64) -> (f64, Vec<f64>) {
        let mut slope = vec![0.0; self.fit.parameters.len()];
        let ratio = speed_rpm / self.reference_rpm;
        let law = self.shape.evaluate(ratio, &self.fit.parameters, &mut slope);
        (law, slope)
    }

    /// Computes the covariance of the discrepancy at a speed with that at the readings.
    pub(crate) fn discrepancy_here(&self, speed_rpm: f64) -> Vector {
        let here = ln(speed_rpm);
        let there = self.ln_speeds.iter();
        Vector::from_iterator(
            self.ln_speeds.len(),
            there.map(|there| self.discrepancy.covariance(here, *there)),
        )
    }

    /// Predicts the truth at a speed as an estimate.
    pub fn predict(&self, speed_rpm: f64) -> Option<Estimate> {
        self.predict_ln(speed_rpm).estimate()
    }
}

/// Builds the covariance of readings: the smooth discrepancy, the common part of each meter, and what is each reading's own.
pub(super) fn covariance(errors: &Errors, ln_speeds: &[f64], discrepancy: Discrepancy) -> Matrix {
    let Errors {
        columns,
        own,
        common,
        ..
    } = errors;
    Matrix::from_fn(own.len(), own.len(), |i, j| {
        let smooth = discrepancy.covariance(ln_speeds[i], ln_speeds[j]);
        let of_meter = if columns[i] == columns[j] {
            common[i] * common[j]
        } else {
            0.0
        };
        let of_cell = if i == j { own[i] * own[i] } else { 0.0 };
        smooth + of_meter + of_cell
    })
}
