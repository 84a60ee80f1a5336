//! What a law would be uncertain by with other readings than it has: readings at other speeds, or at speeds of a test to come.

use super::fitted::{Errors, covariance};
use super::{Discrepancy, FittedLaw, Shape};
use metrology::{Curve, Instrument};
use numerics::elementary::{exp, ln};
use numerics::linear::{Matrix, PositiveFactor, Vector, dot, quadratic_form, transpose_times};

/// A law at fixed numbers, with the speeds at which it is or would be read. What is read does not matter, only where.
#[derive(Clone, Debug)]
pub(crate) struct LawToCome {
    shape: Shape,
    discrepancy: Discrepancy,
    reference_rpm: f64,
    parameters: Vec<f64>,
    speeds_rpm: Vec<f64>,
    errors: Errors,
}

/// What such a law would be uncertain by.
#[derive(Clone, Debug)]
pub(crate) struct Uncertain {
    law: LawToCome,
    /// Covariance of the law's numbers.
    pub(crate) covariance: Matrix,
    weights: PositiveFactor,
    slopes: Matrix,
}

impl LawToCome {
    /// Takes a law at its numbers, as if nothing had been read.
    pub(crate) fn unread(shape: Shape, reference_rpm: f64, parameters: Vec<f64>) -> Self {
        Self {
            shape,
            discrepancy: shape.discrepancy(),
            reference_rpm,
            parameters,
            speeds_rpm: Vec::new(),
            errors: Errors::default(),
        }
    }

    /// Takes a law with the readings that it rests on.
    pub(crate) fn of(law: &FittedLaw) -> Self {
        Self {
            shape: law.shape,
            discrepancy: law.discrepancy,
            reference_rpm: law.reference_rpm,
            parameters: law.fit.parameters.clone(),
            speeds_rpm: law
                .ln_speeds
                .iter()
                .map(|ln_speed| exp(*ln_speed))
                .collect(),
            errors: law.errors.clone(),
        }
    }

    /// Returns its numbers.
    pub(crate) fn parameters(&self) -> &[f64] {
        &self.parameters
    }

    /// Returns what the law says at a speed.
    pub(crate) fn value(&self, speed_rpm: f64) -> f64 {
        let mut slope = vec![0.0; self.parameters.len()];
        let ratio = speed_rpm / self.reference_rpm;
        exp(self.shape.evaluate(ratio, &self.parameters, &mut slope))
    }

    /// Adds a reading of a column with this instrument.
    pub(crate) fn read(&mut self, speed_rpm: f64, (column, instrument): (usize, &Instrument)) {
        /// No reading is trusted closer than this share of itself, as in the cells of a test.
        const LEAST_OWN_SHARE: f64 = 1e-3;
        let value = self.value(speed_rpm);
        let own = (instrument.independent_u(value) / value).max(LEAST_OWN_SHARE);
        let common = instrument.common_u(value) / value;
        self.add(speed_rpm, column, (own, common));
    }

    /// Adds a reading of each column at a speed, worth as much as the column's reading nearest to it.
    pub(crate) fn read_as_nearest(&mut self, speed_rpm: f64) {
        let mut columns = self.errors.columns.clone();
        columns.sort_unstable();
        columns.dedup();
        let read = 0..self.speeds_rpm.len();
        let away = |index: &usize| (self.speeds_rpm[*index] - speed_rpm).abs();
        let nearest = columns.iter().filter_map(|column| {
            let of_column = read.clone().filter(|i| self.errors.columns[*i] == *column);
            let nearest = of_column.min_by(|a, b| away(a).total_cmp(&away(b)))?;
            Some((
                *column,
                (self.errors.own[nearest], self.errors.common[nearest]),
            ))
        });
        let nearest: Vec<_> = nearest.collect();
        for (column, worth) in nearest {
            self.add(speed_rpm, column, worth);
        }
    }

    fn add(&mut self, speed_rpm: f64, column: usize, (own, common): (f64, f64)) {
        self.speeds_rpm.push(speed_rpm);
        self.errors.add(column, own, common);
    }

    /// Finds what the law would be uncertain by; `None` with too few speeds.
    ///
    /// # Equation
    /// (Jᵀ V⁻¹ J + P⁻¹)⁻¹, V holding own and common errors of the meters and the smooth discrepancy.
    pub(crate) fn uncertain(&self) -> Option<Uncertain> {
        let ln_speeds: Vec<f64> = self.speeds_rpm.iter().map(|speed| ln(*speed)).collect();
        let noise = covariance(&self.errors, &ln_speeds, self.discrepancy);
        let weights = PositiveFactor::new(noise).ok()?;
        let (n, p) = (self.speeds_rpm.len(), self.parameters.len());
        let mut slopes = Matrix::zeros(n, p);
        for (row, speed) in self.speeds_rpm.iter().enumerate() {
            for (column, slope) in self.slope(*speed).into_iter().enumerate() {
                slopes[(row, column)] = slope;
            }
        }
        let mut whitened = slopes.clone();
        weights.whiten_columns(&mut whitened);
        let mut precision = transpose_times(&whitened, &whitened);
        for (j, prior) in self.shape.priors().iter().enumerate() {
            precision[(j, j)] += prior.map_or(0.0, |prior| 1.0 / (prior.sd * prior.sd));
        }
        let factor = PositiveFactor::new(precision).ok()?;
        let covariance = factor.inverse();
        let sound = covariance.iter().all(|x| x.is_finite());
        sound.then(|| Uncertain {
            law: self.clone(),
            covariance,
            weights,
            slopes,
        })
    }

    fn slope(&self, speed_rpm: f64) -> Vec<f64> {
        let mut slope = vec![0.0; self.parameters.len()];
        let ratio = speed_rpm / self.reference_rpm;
        self.shape.evaluate(ratio, &self.parameters, &mut slope);
        slope
    }
}

impl Uncertain {
    /// Computes the standard uncertainty of the logarithm of the truth at a speed, as [`FittedLaw::predict_ln`] does.
    pub(crate) fn u_ln_at(&self, speed_rpm: f64) -> f64 {
        let law = &self.law;
        let here = ln(speed_rpm);
        let there = law.speeds_rpm.iter();
        let k = there.map(|speed| law.discrepancy.covariance(here, ln(*speed)));
        let k = Vector::from_iterator(law.speeds_rpm.len(), k);
        let weighted = self.weights.solve(&k);
        let mut slope = law.slope(speed_rpm);
        for (j, own) in slope.iter_mut().enumerate() {
            *own -= dot(self.slopes.column(j).as_slice(), weighted.as_slice());
        }
        let sd = law.discrepancy.sd;
        let left = sd * sd - dot(k.as_slice(), weighted.as_slice());
        (left.max(0.0) + quadratic_form(&slope, &self.covariance)).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::simulation::random_pad_test;
    use records::{read_site, read_test};

    /// The same law with the same readings, by other code: the fit's own covariance and prediction.
    #[test]
    fn a_law_with_the_readings_that_it_rests_on_is_as_uncertain_as_its_fit() {
        for seed in 31..37 {
            let made = random_pad_test(seed, 7).unwrap();
            let files = made.files();
            let site = read_site(&made.site()).unwrap();
            let test = read_test(&files.test, files.readings.as_ref()).unwrap();
            let analysis = crate::analyze(&site, &[test]);
            let laws = &analysis.tests[0].laws;
            let flow = laws.flow.as_ref().map(|law| &law.law);
            let power = laws.power.as_ref().map(|law| &law.law);
            for law in flow.into_iter().chain(power) {
                let again = LawToCome::of(law).uncertain().unwrap();
                let fitted = &law.fit().covariance;
                // The fit goes by reflections and this by normal equations, which keep half the digits.
                for (a, b) in again
                    .covariance
                    .diagonal()
                    .iter()
                    .zip(fitted.diagonal().iter())
                {
                    assert!((a / b - 1.0).abs() < 1e-6, "{a} {b}");
                }
                for speed in [700.0, 1500.0, 3300.0] {
                    let by_fit = law.predict_ln(speed).u_ln;
                    assert!((again.u_ln_at(speed) / by_fit - 1.0).abs() < 1e-6);
                }
            }
        }
    }

    #[test]
    fn another_reading_never_widens() {
        let mut law = LawToCome::unread(Shape::Power, 3450.0, vec![60.0, 1500.0, 2.8]);
        let meter = Instrument {
            limits: vec![metrology::AccuracyLimit {
                of_reading: 0.02,
                absolute: 1.0,
            }],
            share_common: 0.7,
            ..Instrument::default()
        };
        for speed in [600.0, 1400.0, 3450.0] {
            law.read(speed, (0, &meter));
        }
        let before = law.uncertain().unwrap();
        for speed in [500.0, 900.0, 1400.0, 2500.0] {
            let mut more = law.clone();
            more.read_as_nearest(speed);
            let after = more.uncertain().unwrap();
            for (a, b) in after
                .covariance
                .diagonal()
                .iter()
                .zip(before.covariance.diagonal().iter())
            {
                assert!(a <= b, "{speed}: {a} {b}");
            }
        }
    }
}
