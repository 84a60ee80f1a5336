//! Generalised nonlinear least squares: a curve through correlated observations, with priors.
//!
//! The observations have a full covariance, so that a common meter error and a smooth discrepancy of the
//! law stand in the weights rather than in hand-made corrections. The covariance that comes out is that
//! of known uncertainties: it is never scaled by the scatter of the same few readings.

use numerics::linear::{Matrix, NotPositiveDefinite, Vector, dot};
use thiserror::Error;

use crate::fitted::Fit;
use crate::least_squares::{CLOSE_U, LeastSquares, Minimum, System, minimize};
use crate::priors::{Prior, PriorRows};
use crate::weights::Weights;

/// A curve y = f(x; θ) with its slope in each parameter.
pub trait Curve {
    /// Returns f(x; θ) and writes ∂f/∂θ to `gradient`, one number per parameter. Outside its domain it returns NaN.
    fn evaluate(&self, x: f64, parameters: &[f64], gradient: &mut [f64]) -> f64;
}

/// What was observed: `y[i]` at `x[i]`, with the covariance of all of `y`.
#[derive(Clone, Copy, Debug)]
pub struct Observations<'a> {
    /// Where.
    pub x: &'a [f64],
    /// What.
    pub y: &'a [f64],
    /// The covariance of `y`: symmetric, positive definite, one row per observation.
    pub covariance: &'a Matrix,
}

/// What was observed: `y[i]` at `x[i]`, with the weights of all of `y`.
#[derive(Clone, Debug)]
pub struct WeightedObservations<'a> {
    /// Where.
    pub x: &'a [f64],
    /// What.
    pub y: &'a [f64],
    /// What `y` is worth.
    pub weights: Weights,
}

/// Why a curve was not fitted.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum FitError {
    /// The covariance of the observations, or the information on the parameters, is singular.
    #[error("the observations do not determine the curve: {0}")]
    Singular(#[from] NotPositiveDefinite),
    /// There are not as many places as values or weights.
    #[error(
        "{places} places, {values} values and {weights} weights were given, where as many of each are needed"
    )]
    Unequal {
        /// How many `x`.
        places: usize,
        /// How many `y`.
        values: usize,
        /// How many standard deviations, or rows of the covariance.
        weights: usize,
    },
    /// The start is outside the domain of the curve.
    #[error("the curve has no value at the start of the search")]
    BadStart,
    /// The search did not settle.
    #[error("the fit did not settle within {iterations} steps")]
    NotConverged {
        /// Steps that were spent.
        iterations: u32,
    },
}

/// Fits `curve` to `observations` from `start`, each parameter with its prior where it has one.
///
/// # Equation
/// Minimises (y − f)ᵀ V⁻¹ (y − f) + Σ ((θⱼ − μⱼ)/σⱼ)² by damped Gauss-Newton steps on whitened residuals.
///
/// # Accuracy
/// A parameter is within about a millionth of its standard uncertainty of the minimum.
///
/// # Errors
/// [`FitError`]: a singular covariance or information matrix, a start outside the domain, or the cap reached.
///
/// # Source
/// D. Marquardt, "An algorithm for least-squares estimation of nonlinear parameters", J. SIAM 11 (1963) 431-441, with
/// the step by orthogonal reflections after J. Moré, Lecture Notes in Mathematics 630 (1978) 105-116.
///
/// # Checked against
/// `validation/fits/nist-strd`, `validation/fits/polynomials`, GUM H.3 in `validation/uncertainty/gum-annex-h`.
pub fn fit(
    curve: &impl Curve,
    observations: Observations<'_>,
    start: &[f64],
    priors: &[Option<Prior>],
) -> Result<Fit, FitError> {
    let weighted = WeightedObservations {
        x: observations.x,
        y: observations.y,
        weights: Weights::from_covariance(observations.covariance)?,
    };
    fit_weighted(curve, weighted, start, priors)
}

/// Fits as [`fit`] does, to observations that come with their weights: independent ones need no matrix.
///
/// # Errors
/// Those of [`fit`].
///
/// # Source
/// That of [`fit`].
///
/// # Checked against
/// `validation/fits/nist-strd`, `validation/fits/polynomials`.
pub fn fit_weighted(
    curve: &impl Curve,
    observations: WeightedObservations<'_>,
    start: &[f64],
    priors: &[Option<Prior>],
) -> Result<Fit, FitError> {
    fit_closely(curve, observations, (start, CLOSE_U), priors)
}

/// Fits as [`fit_weighted`] does, and ends where each parameter is within so many of its standard uncertainties of the minimum: a
/// curve that is dear to compute is not asked for digits that nobody reads.
///
/// # Inputs
/// `start`: the parameters to start from, and how close to come, above zero.
///
/// # Errors
/// Those of [`fit`].
///
/// # Source
/// That of [`fit`].
///
/// # Checked against
/// A unit test: the fit that goes on to the end.
pub fn fit_closely(
    curve: &impl Curve,
    observations: WeightedObservations<'_>,
    (start, close_u): (&[f64], f64),
    priors: &[Option<Prior>],
) -> Result<Fit, FitError> {
    let mut problem = CurveProblem::new(curve, observations, priors, start.len());
    problem.close_u = close_u;
    problem.check()?;
    let minimum = minimize(&mut problem, start)?;
    problem.into_fit(minimum)
}

/// The task of one fit.
pub(crate) struct CurveProblem<'a, C> {
    curve: &'a C,
    observations: WeightedObservations<'a>,
    priors: PriorRows,
    slope: Vec<f64>,
    close_u: f64,
}

impl<'a, C: Curve> CurveProblem<'a, C> {
    pub(crate) fn new(
        curve: &'a C,
        observations: WeightedObservations<'a>,
        priors: &[Option<Prior>],
        parameters: usize,
    ) -> Self {
        Self {
            curve,
            observations,
            priors: PriorRows::new(priors, parameters),
            slope: vec![0.0; parameters],
            close_u: CLOSE_U,
        }
    }

    pub(crate) fn check(&self) -> Result<(), FitError> {
        let observations = &self.observations;
        let (places, values) = (observations.x.len(), observations.y.len());
        let weights = observations.weights.order();
        if places == values && values == weights {
            Ok(())
        } else {
            Err(FitError::Unequal {
                places,
                values,
                weights,
            })
        }
    }

    /// Writes observed less fitted, and the slopes of the curve, in the unit of the observations.
    fn compare(&mut self, parameters: &[f64], residuals: &mut [f64], slopes: &mut Matrix) {
        let pairs = self.observations.x.iter().zip(self.observations.y);
        for (i, ((x, y), residual)) in pairs.zip(residuals).enumerate() {
            *residual = y - self.curve.evaluate(*x, parameters, &mut self.slope);
            for (j, value) in self.slope.iter().enumerate() {
                slopes[(i, j)] = *value;
            }
        }
    }

    fn into_fit(mut self, minimum: Minimum) -> Result<Fit, FitError> {
        let (n, p) = (self.observations.x.len(), minimum.parameters.len());
        let (mut residuals, mut jacobian) = (Vector::zeros(n), Matrix::zeros(n, p));
        self.compare(&minimum.parameters, residuals.as_mut_slice(), &mut jacobian);
        Ok(Fit {
            covariance: minimum.covariance()?,
            dof: (n + self.priors.len()).saturating_sub(p),
            parameters: minimum.parameters,
            chi_squared: minimum.sum_of_squares,
            residuals,
            jacobian,
            weights: self.observations.weights,
        })
    }
}

impl<C: Curve> LeastSquares for CurveProblem<'_, C> {
    fn rows(&self) -> usize {
        self.observations.x.len() + self.priors.len()
    }

    fn linearize(&mut self, parameters: &[f64], system: &mut System) -> f64 {
        let n = self.observations.x.len();
        let observed = &mut system.residuals[..n];
        self.compare(parameters, observed, &mut system.slopes);
        self.observations.weights.whiten(observed);
        for mut column in system.slopes.column_iter_mut() {
            let column = &mut column.as_mut_slice()[..n];
            self.observations.weights.whiten(column);
        }
        self.priors.write(parameters, n, system);
        dot(&system.residuals, &system.residuals)
    }

    fn close_u(&self) -> f64 {
        self.close_u
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_line::Line;

    fn diagonal(sd: f64, n: usize) -> Matrix {
        Matrix::identity(n, n) * (sd * sd)
    }

    /// JCGM 100:2008 (GUM), H.3, table H.6: thermometer readings and corrections, as STANDARDS prints them.
    const TEMPERATURE: [f64; 11] = [
        21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511,
    ];
    const CORRECTION: [f64; 11] = [
        -0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160,
    ];

    #[test]
    fn the_calibration_line_of_the_guide_is_reproduced() {
        let x: Vec<f64> = TEMPERATURE.iter().map(|t| t - 20.0).collect();
        let covariance = diagonal(0.0034976, 11); // the guide's own scatter
        let observations = Observations {
            x: &x,
            y: &CORRECTION,
            covariance: &covariance,
        };
        let fit = fit(&Line, observations, &[0.0, 0.0], &[None, None]).unwrap();
        // As printed: -0.1712 (0.0029), 0.00218 (0.00067), r = -0.930.
        assert!((fit.parameters[0] + 0.1712).abs() < 5e-5);
        assert!((fit.parameters[1] - 0.00218).abs() < 5e-6);
        let (u0, u1) = (fit.covariance[(0, 0)].sqrt(), fit.covariance[(1, 1)].sqrt());
        assert!((u0 - 0.0029).abs() < 5e-5 && (u1 - 0.00067).abs() < 5e-6);
        assert!((fit.covariance[(0, 1)] / (u0 * u1) + 0.930).abs() < 5e-4);
        assert_eq!(fit.dof, 9);
    }

    #[test]
    fn a_deletion_is_what_leaving_the_observation_out_gives() {
        let x: Vec<f64> = (0..7).map(f64::from).collect();
        let y = [1.0, 2.2, 2.7, 4.4, 4.9, 6.3, 6.8];
        let covariance = Matrix::from_fn(7, 7, |i, j| {
            let own = if i == j { 0.04 } else { 0.0 };
            own + 0.03 / (1.0 + i.abs_diff(j) as f64)
        });
        let all = fit(
            &Line,
            Observations {
                x: &x,
                y: &y,
                covariance: &covariance,
            },
            &[0.0, 1.0],
            &[],
        )
        .unwrap();
        let out = 3;
        let keep: Vec<usize> = (0..7).filter(|i| *i != out).collect();
        let (x2, y2): (Vec<f64>, Vec<f64>) = keep.iter().map(|i| (x[*i], y[*i])).unzip();
        let v2 = Matrix::from_fn(6, 6, |i, j| covariance[(keep[i], keep[j])]);
        let rest = fit(
            &Line,
            Observations {
                x: &x2,
                y: &y2,
                covariance: &v2,
            },
            &[0.0, 1.0],
            &[],
        )
        .unwrap();
        // What the rest predicts at the place left out, the correlation of the observations used.
        let c = Vector::from_fn(6, |i, _| covariance[(keep[i], out)]);
        let carried = dot(rest.weights.solve(&c).as_slice(), rest.residuals.as_slice());
        let predicted = rest.parameters[0] + rest.parameters[1] * x[out] + carried;
        let distance = all.deletions()[out].distance;
        assert!((distance - (y[out] - predicted)).abs() < 1e-12); // rounding of two solves of order 7
    }

    #[test]
    fn a_fit_that_ends_early_ends_close() {
        /// y = e^(a x): its steps are not straight.
        struct Growth;
        impl Curve for Growth {
            fn evaluate(&self, x: f64, parameters: &[f64], gradient: &mut [f64]) -> f64 {
                let y = numerics::elementary::exp(parameters[0] * x);
                gradient[0] = x * y;
                y
            }
        }
        let x = [0.5, 1.0, 1.5, 2.0];
        let y = [1.7, 2.6, 4.7, 7.1];
        let observations = WeightedObservations {
            x: &x,
            y: &y,
            weights: Weights::independent(&[0.1; 4]).unwrap(),
        };
        let whole = fit_weighted(&Growth, observations.clone(), &[0.0], &[]).unwrap();
        let early = fit_closely(&Growth, observations, (&[0.0], 1e-2), &[]).unwrap();
        let apart = early.parameters[0] - whole.parameters[0];
        assert!(apart.abs() < 1e-2 * whole.covariance[(0, 0)].sqrt());
    }

    #[test]
    fn a_prior_alone_is_returned_where_nothing_was_observed_of_a_parameter() {
        let covariance = diagonal(0.1, 2);
        let observations = Observations {
            x: &[0.0, 0.0],
            y: &[1.0, 1.2],
            covariance: &covariance,
        };
        let prior = Prior { mean: 3.0, sd: 0.5 };
        let fit = fit(&Line, observations, &[0.0, 0.0], &[None, Some(prior)]).unwrap();
        assert!((fit.parameters[1] - 3.0).abs() < 1e-9);
        assert!((fit.covariance[(1, 1)].sqrt() - 0.5).abs() < 1e-12);
    }

    #[test]
    fn what_cannot_be_determined_is_an_error() {
        let covariance = diagonal(0.1, 2);
        let observations = Observations {
            x: &[2.0, 2.0],
            y: &[1.0, 1.2],
            covariance: &covariance,
        };
        assert!(matches!(
            fit(&Line, observations, &[0.0, 0.0], &[]),
            Err(FitError::Singular(_) | FitError::NotConverged { .. })
        ));
    }
}
