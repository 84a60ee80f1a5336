//! Which error contributes how much to what a law says.
//!
//! A fitted law is a weighted sum of its readings and priors. Each weight, times the error behind it, is a part of the
//! uncertainty; the squares of the parts add up to the square of the whole.

use super::FittedLaw;
use numerics::linear::{Vector, dot};

/// Where a part of an uncertainty comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ErrorSource {
    /// What all readings of a column share: the meter's calibration.
    MeterCommon {
        /// Index of the column.
        column: usize,
    },
    /// What is each reading's own.
    MeterOwn {
        /// Index of the column.
        column: usize,
    },
    /// The smooth departure of the pad from the law.
    Discrepancy,
    /// What was known of the law's numbers before.
    Prior,
}

/// A part of the variance of a logarithm, or of a parameter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// Where it comes from.
    pub source: ErrorSource,
    /// The variance.
    pub variance: f64,
}

impl FittedLaw {
    /// Parts the variance of the prediction at a speed, in the logarithm.
    pub fn parts_of_prediction(&self, speed_rpm: f64) -> Vec<Part> {
        let (_, slope) = self.law_and_slope(speed_rpm);
        let here = self.discrepancy_here(speed_rpm);
        let sd = self.discrepancy.sd;
        self.parts(&slope, &here, sd * sd)
    }

    /// Parts the variance of a parameter.
    pub fn parts_of_parameter(&self, index: usize) -> Vec<Part> {
        let mut slope = vec![0.0; self.fit.parameters.len()];
        if let Some(own) = slope.get_mut(index) {
            *own = 1.0;
        }
        self.parts(&slope, &Vector::zeros(self.ln_speeds.len()), 0.0)
    }

    /// Parts the variance of `slope`·θ plus a discrepancy of variance `here_variance` whose covariance with that at the
    /// readings is `here`.
    ///
    /// # Equation
    /// The estimate is wᵀ y with w = V⁻¹ k + V⁻¹ J C (slope − Jᵀ V⁻¹ k); an error of covariance E in y adds wᵀ E w, the
    /// discrepancy k₀ − 2 wᵀ k + wᵀ K w, and a prior of weight 1/σ² adds (C (slope − Jᵀ V⁻¹ k))²/σ².
    ///
    /// # Source
    /// JCGM 100:2008 (GUM), 5.1.2 and 5.2.2, the sensitivities being those of generalised least squares.
    fn parts(&self, slope: &[f64], here: &Vector, here_variance: f64) -> Vec<Part> {
        let weighted = self.fit.weights.solve(here);
        let lever: Vec<f64> = (0..slope.len())
            .map(|j| slope[j] - dot(self.fit.jacobian.column(j).as_slice(), weighted.as_slice()))
            .collect();
        let gain: Vec<f64> = (0..slope.len())
            .map(|j| {
                lever
                    .iter()
                    .enumerate()
                    .map(|(k, l)| self.fit.covariance[(j, k)] * l)
                    .sum()
            })
            .collect();
        let mut w = weighted;
        for (j, g) in gain.iter().enumerate() {
            w += self
                .fit
                .weights
                .solve(&self.fit.jacobian.column(j).into_owned())
                * *g;
        }
        let mut parts = self.meter_parts(w.as_slice());
        parts.push(Part {
            source: ErrorSource::Discrepancy,
            variance: self.discrepancy_part(w.as_slice(), here.as_slice(), here_variance),
        });
        let priors = self.shape.priors();
        let of_prior = |(gain, prior): (&f64, &Option<metrology::Prior>)| {
            prior.map_or(0.0, |prior| gain * gain / (prior.sd * prior.sd))
        };
        parts.push(Part {
            source: ErrorSource::Prior,
            variance: gain.iter().zip(&priors).map(of_prior).sum(),
        });
        parts
    }

    /// Parts what the meters contribute, column by column.
    fn meter_parts(&self, w: &[f64]) -> Vec<Part> {
        let errors = &self.errors;
        let mut columns = errors.columns.clone();
        columns.sort_unstable();
        columns.dedup();
        let of_column = |column: usize| {
            let rows: Vec<usize> = (0..w.len())
                .filter(|i| errors.columns[*i] == column)
                .collect();
            let common: f64 = rows.iter().map(|i| w[*i] * errors.common[*i]).sum();
            let own: f64 = rows
                .iter()
                .map(|i| w[*i] * w[*i] * errors.own[*i] * errors.own[*i])
                .sum();
            [
                Part {
                    source: ErrorSource::MeterCommon { column },
                    variance: common * common,
                },
                Part {
                    source: ErrorSource::MeterOwn { column },
                    variance: own,
                },
            ]
        };
        columns.into_iter().flat_map(of_column).collect()
    }

    fn discrepancy_part(&self, w: &[f64], here: &[f64], here_variance: f64) -> f64 {
        let mut variance = here_variance - 2.0 * dot(w, here);
        for (i, wi) in w.iter().enumerate() {
            for (j, wj) in w.iter().enumerate() {
                let covariance = self
                    .discrepancy
                    .covariance(self.ln_speeds[i], self.ln_speeds[j]);
                variance += wi * wj * covariance;
            }
        }
        // Rounding may leave a little below nothing.
        variance.max(0.0)
    }
}
