//! The errors behind a law, of its readings, of the pad and of the priors, as sums of independent deviates.
//!
//! All that is normal among them is a root times standard deviates. The deviates are turned so that the first few carry
//! everything that reaches the law's numbers to first order; the rest matter to an exact refit alone.

use super::chunk::{CHUNK, Column, Deviates};
use crate::laws::FittedLaw;
use numerics::householder::reduce;
use numerics::linear::{Matrix, PositiveFactor, Vector, dot};

/// A sum of deviates: one row of the map from errors to numbers.
#[derive(Clone, Debug)]
pub(super) struct Row {
    pub(super) lead: Vec<f64>,
    pub(super) rest: Vec<f64>,
    pub(super) limits: Vec<f64>,
}

impl Row {
    /// Lists the factors of all deviates, in the order of [`Deviates::all`].
    pub(super) fn factors(&self) -> Vec<f64> {
        [&self.lead[..], &self.rest, &self.limits].concat()
    }

    /// Adds the sum that each draw gives to a number.
    pub(super) fn from(&self, number: f64, deviates: Deviates<'_>) -> Column {
        let mut sums = [number; CHUNK];
        let parts = [
            (&self.lead, deviates.lead),
            (&self.rest, deviates.rest),
            (&self.limits, deviates.limits),
        ];
        for (factors, columns) in parts {
            for (factor, column) in factors.iter().zip(columns) {
                for (sum, deviate) in sums.iter_mut().zip(column) {
                    *sum += factor * deviate;
                }
            }
        }
        sums
    }
}

/// The errors behind a law as sums of independent deviates.
pub(super) struct Errors {
    /// Root of the covariance of the readings' normal errors and, last, of the departure at the speed asked about.
    root: Matrix,
    /// Parameters with a prior, with the standard deviation of it.
    priors: Vec<(usize, f64)>,
    /// How far each meter's limit moves each reading.
    pub(super) limits: Vec<Vec<f64>>,
}

/// The rows of a law after the deviates have been turned.
pub(super) struct Turned {
    /// Of each parameter, and last of the departure at the speed asked about.
    pub(super) shifts: Vec<Row>,
    /// Of the error of each reading.
    pub(super) readings: Vec<Row>,
    /// Of the departure itself at that speed.
    pub(super) there: Row,
    /// Of the mean of each prior.
    pub(super) priors: Vec<Row>,
}

impl Errors {
    /// Takes the errors of a law apart; `None` where they have no root.
    pub(super) fn of(law: &FittedLaw, speed_rpm: f64) -> Option<Self> {
        let normal = law.normal_covariance();
        let here = law.discrepancy_here(speed_rpm);
        let n = normal.nrows();
        let covariance = Matrix::from_fn(n + 1, n + 1, |i, j| match (i < n, j < n) {
            (true, true) => normal[(i, j)],
            (true, false) => here[i],
            (false, true) => here[j],
            (false, false) => law.discrepancy_variance(),
        });
        let priors = law.shape.priors().into_iter().enumerate();
        Some(Self {
            root: PositiveFactor::new(covariance).ok()?.lower(),
            priors: priors
                .filter_map(|(j, prior)| Some((j, prior?.sd)))
                .collect(),
            limits: law.rectangular_limits(),
        })
    }

    /// Returns how many normal deviates there are.
    pub(super) fn count(&self) -> usize {
        self.root.nrows() + self.priors.len()
    }

    /// Writes a sum of readings' errors, of the departure and of priors as a sum of deviates.
    fn row(&self, readings: &[f64], there: f64, priors: &[f64]) -> Row {
        let n = readings.len();
        let of_normal = |k: usize| {
            let column = self.root.column(k);
            let column = column.as_slice();
            dot(readings, column) + there * column.get(n).copied().unwrap_or(0.0)
        };
        let mut rest: Vec<f64> = (0..=n).map(of_normal).collect();
        rest.extend(self.priors.iter().map(|(j, sd)| sd * priors[*j]));
        Row {
            lead: Vec::new(),
            rest,
            limits: self
                .limits
                .iter()
                .map(|moved| dot(readings, moved))
                .collect(),
        }
    }

    /// Writes the shift of each parameter and of the departure at the speed asked about.
    ///
    /// # Equation
    /// Δθ = C (Jᵀ V⁻¹ δ + ε/σ²), and of the departure kᵀ V⁻¹ (δ − J Δθ) − g, where δ are the errors of the readings, ε
    /// those of the priors, and g the departure drawn there.
    pub(super) fn shifts(&self, law: &FittedLaw, here: &Vector) -> Vec<Row> {
        let fit = &law.fit;
        let (n, p) = (fit.jacobian.nrows(), fit.jacobian.ncols());
        let weighted: Vec<Vector> = (0..p)
            .map(|j| fit.weights.solve(&fit.jacobian.column(j).into_owned()))
            .collect();
        let mut known = vec![0.0; p];
        for (j, sd) in &self.priors {
            known[*j] = 1.0 / (sd * sd);
        }
        let gain = |j: usize| -> (Vec<f64>, Vec<f64>) {
            let mut readings = Vector::zeros(n);
            for (k, weighted) in weighted.iter().enumerate() {
                readings += weighted * fit.covariance[(j, k)];
            }
            let readings = readings.as_slice().to_vec();
            let priors = (0..p).map(|k| fit.covariance[(j, k)] * known[k]).collect();
            (readings, priors)
        };
        let gains: Vec<(Vec<f64>, Vec<f64>)> = (0..p).map(gain).collect();
        let lever: Vec<f64> = (0..p)
            .map(|j| dot(fit.jacobian.column(j).as_slice(), here.as_slice()))
            .collect();
        let taken = |of: &dyn Fn(usize) -> f64| (0..p).map(|j| lever[j] * of(j)).sum::<f64>();
        let readings: Vec<f64> = (0..n)
            .map(|i| here[i] - taken(&|j| gains[j].0[i]))
            .collect();
        let priors: Vec<f64> = (0..p).map(|k| -taken(&|j| gains[j].1[k])).collect();
        let mut rows: Vec<Row> = gains
            .iter()
            .map(|(readings, priors)| self.row(readings, 0.0, priors))
            .collect();
        rows.push(self.row(&readings, -1.0, &priors));
        rows
    }

    /// Turns the deviates so that the shifts depend on the first of them alone.
    pub(super) fn turned(&self, shifts: &[Row]) -> Turned {
        let (count, lead, n) = (self.count(), shifts.len(), self.root.nrows() - 1);
        let tall = Matrix::from_fn(count, lead, |k, o| shifts[o].rest[k]);
        let turn = |row: &Row| {
            let mut turned = row.rest.clone();
            reduce(&mut tall.clone(), &mut turned);
            let rest = turned.split_off(lead);
            Row {
                lead: turned,
                rest,
                limits: row.limits.clone(),
            }
        };
        let p = lead - 1;
        let unit = |i: usize| {
            let readings: Vec<f64> = (0..n).map(|k| f64::from(u8::from(k == i))).collect();
            turn(&self.row(&readings, f64::from(u8::from(i == n)), &vec![0.0; p]))
        };
        let prior = |parameter: usize| {
            let priors: Vec<f64> = (0..p)
                .map(|k| f64::from(u8::from(k == parameter)))
                .collect();
            turn(&self.row(&vec![0.0; n], 0.0, &priors))
        };
        Turned {
            shifts: shifts.iter().map(turn).collect(),
            readings: (0..n).map(unit).collect(),
            there: unit(n),
            priors: self.priors.iter().map(|(j, _)| prior(*j)).collect(),
        }
    }
}
