//! What was known of parameters before: rows of a least-squares problem like those of observations.

use crate::least_squares::System;

/// What was known of a parameter before: a normal distribution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prior {
    /// Its mean.
    pub mean: f64,
    /// Its standard deviation, above zero.
    pub sd: f64,
}

/// The priors that there are, each with the number of its parameter.
pub(crate) struct PriorRows(Vec<(usize, Prior)>);

impl PriorRows {
    /// Keeps what was known of the first `parameters` parameters.
    pub(crate) fn new(priors: &[Option<Prior>], parameters: usize) -> Self {
        let numbered = priors.iter().take(parameters).enumerate();
        Self(
            numbered
                .filter_map(|(j, prior)| Some((j, (*prior)?)))
                .collect(),
        )
    }

    /// Returns how many rows they make.
    pub(crate) fn len(&self) -> usize {
        self.0.len()
    }

    /// Writes their rows below the first `above` rows of a system, and zeros below their own.
    pub(crate) fn write(&self, parameters: &[f64], above: usize, system: &mut System) {
        system.residuals[above..].fill(0.0);
        for mut column in system.slopes.column_iter_mut() {
            column.as_mut_slice()[above..].fill(0.0);
        }
        for (row, (j, prior)) in self.0.iter().enumerate() {
            system.residuals[above + row] = (prior.mean - parameters[*j]) / prior.sd;
            system.slopes[(above + row, *j)] = 1.0 / prior.sd;
        }
    }
}
