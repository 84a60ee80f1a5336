//! What a fit says of its parameters, of its observations and of itself.

use numerics::linear::{Matrix, Vector, quadratic_form};

use crate::weights::Weights;

/// A fitted curve.
#[derive(Clone, Debug)]
pub struct Fit {
    /// The parameters.
    pub parameters: Vec<f64>,
    /// Their covariance.
    pub covariance: Matrix,
    /// The sum of squares at the solution, priors included.
    pub chi_squared: f64,
    /// Observations less parameters, each parameter with a prior counted back.
    pub dof: usize,
    /// Observed less fitted.
    pub residuals: Vector,
    /// Slopes of the curve at the observations, one column per parameter.
    pub jacobian: Matrix,
    /// The covariance of the observations, in the form that weighs by it.
    pub weights: Weights,
}

/// How an observation looks from the fit to all the others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Deletion {
    /// Observed less what the others predict.
    pub distance: f64,
    /// The standard uncertainty of that distance, the observation's own included.
    pub u: f64,
}

impl Deletion {
    /// Returns the distance in standard uncertainties.
    pub fn z(&self) -> f64 {
        self.distance / self.u
    }
}

impl Fit {
    /// Computes the scatter of the observations about the curve in units of their declared uncertainty, the Birge ratio:
    /// near 1 where what was declared is true. `None` where no observation is to spare.
    ///
    /// With all observations declared to have a standard deviation of 1, this is the residual standard deviation.
    ///
    /// # Equation
    /// √(χ²/ν).
    ///
    /// # Source
    /// R. Birge, "The calculation of errors by the method of least squares", Phys. Rev. 40 (1932) 207-227.
    pub fn scatter(&self) -> Option<f64> {
        (self.dof > 0).then(|| (self.chi_squared / self.dof as f64).sqrt())
    }

    /// Computes the covariance that the parameters have where the scatter is believed rather than what was declared of
    /// the observations: the usual one of statistics packages, for data whose uncertainty nobody knows.
    pub fn covariance_by_scatter(&self) -> Option<Matrix> {
        let scatter = self.scatter()?;
        Some(&self.covariance * (scatter * scatter))
    }

    /// Returns the standard uncertainty of each parameter.
    pub fn standard_uncertainties(&self) -> Vec<f64> {
        self.covariance
            .diagonal()
            .iter()
            .map(|v| v.sqrt())
            .collect()
    }

    /// Computes V⁻¹ r: how each observation pulls, once the curve has taken its share.
    pub fn pull(&self) -> Vector {
        self.weights.solve(&self.residuals)
    }

    /// Computes, for each observation, its distance from what all the others predict.
    ///
    /// # Equation
    /// With P = V⁻¹ − V⁻¹ J C Jᵀ V⁻¹: distance = (P r)ᵢ/Pᵢᵢ and u² = 1/Pᵢᵢ, exact for a linear curve.
    ///
    /// # Source
    /// R. Cook, S. Weisberg, Residuals and Influence in Regression (1982), section 2.2, in the form for correlated observations.
    pub fn deletions(&self) -> Vec<Deletion> {
        let precision = self.weights.inverse();
        let pull = self.pull();
        let weighted: Vec<Vector> = (0..self.jacobian.ncols())
            .map(|j| self.weights.solve(&self.jacobian.column(j).into_owned()))
            .collect();
        (0..self.residuals.len())
            .map(|i| {
                let row: Vec<f64> = weighted.iter().map(|column| column[i]).collect();
                let own = precision[(i, i)] - quadratic_form(&row, &self.covariance);
                Deletion {
                    distance: pull[i] / own,
                    u: (1.0 / own).sqrt(),
                }
            })
            .collect()
    }
}
