//! Generalised nonlinear least squares: a curve through correlated observations, with priors.
//!
//! The observations have a full covariance, so that a common meter error and a smooth discrepancy of the
//! law stand in the weights rather than in hand-made corrections. The covariance that comes out is that
//! of known uncertainties: it is never scaled by the scatter of the same few readings.

use numerics::linear::{Matrix, NotPositiveDefinite, PositiveFactor, Vector, dot};
use thiserror::Error;

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

/// What was known of a parameter before: a normal distribution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prior {
    /// Its mean.
    pub mean: f64,
    /// Its standard deviation, above zero.
    pub sd: f64,
}

/// Why a curve was not fitted.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum FitError {
    /// The covariance of the observations, or the information on the parameters, is singular.
    #[error("the observations do not determine the curve: {0}")]
    Singular(#[from] NotPositiveDefinite),
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
    /// The factored covariance of the observations.
    pub weights: PositiveFactor,
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

/// The most steps of a fit; a sound one needs about six.
const MAX_STEPS: u32 = 100;
/// A step that promises to lower the sum of squares by less than this is the last one: far below what a datum of four digits can tell.
const SETTLED: f64 = 1e-12;

/// Fits `curve` to `observations` from `start`, each parameter with its prior where it has one.
///
/// # Equation
/// Minimises (y − f)ᵀ V⁻¹ (y − f) + Σ ((θⱼ − μⱼ)/σⱼ)² by damped Gauss-Newton steps on whitened residuals.
///
/// # Errors
/// [`FitError`]: a singular covariance or information matrix, a start outside the domain, or the cap reached.
///
/// # Source
/// D. Marquardt, "An algorithm for least-squares estimation of nonlinear parameters", J. SIAM 11 (1963) 431-441,
/// with damping after H. B. Nielsen, "Damping parameter in Marquardt's method", IMM-REP-1999-05.
///
/// # Checked against
/// `validation/fits`.
pub fn fit(
    curve: &impl Curve,
    observations: Observations<'_>,
    start: &[f64],
    priors: &[Option<Prior>],
) -> Result<Fit, FitError> {
    let weights = PositiveFactor::new(observations.covariance.clone())?;
    let problem = Problem {
        curve,
        observations,
        priors,
        weights: &weights,
    };
    let mut here = problem.linearize(start).ok_or(FitError::BadStart)?;
    let mut damping = Damping::default();
    for _ in 0..MAX_STEPS {
        let step = here.damped_step(damping.share)?;
        let promised = here.promised_decrease(&step);
        if promised <= SETTLED + here.chi_squared * f64::EPSILON {
            return problem.polish(here)?.into_fit(priors, weights);
        }
        let next = problem.linearize(&here.moved(&step));
        if let Some(next) = next.filter(|next| next.chi_squared <= here.chi_squared) {
            damping.accept((here.chi_squared - next.chi_squared) / promised);
            here = next;
        } else if !damping.refuse() {
            break;
        }
    }
    Err(FitError::NotConverged {
        iterations: MAX_STEPS,
    })
}

/// How much the diagonal is raised, and how the share moves with the success of the steps.
struct Damping {
    share: f64,
    raise: f64,
}

impl Default for Damping {
    fn default() -> Self {
        Self {
            share: 1e-3,
            raise: 2.0,
        }
    }
}

impl Damping {
    /// Lowers or raises the share after a step that gained `gain` of what it promised.
    fn accept(&mut self, gain: f64) {
        let excess = 2.0 * gain - 1.0;
        self.share *= (1.0 - excess * excess * excess).clamp(1.0 / 3.0, 2.0);
        self.raise = 2.0;
    }

    /// Raises the share after a step that made it worse; false when it has run off.
    fn refuse(&mut self) -> bool {
        self.share *= self.raise;
        self.raise *= 2.0;
        self.share.is_finite()
    }
}

/// The task of one fit.
struct Problem<'a, C> {
    curve: &'a C,
    observations: Observations<'a>,
    priors: &'a [Option<Prior>],
    weights: &'a PositiveFactor,
}

/// The task linearised at one set of parameters.
struct Linearized {
    parameters: Vec<f64>,
    residuals: Vector,
    jacobian: Matrix,
    /// Jᵀ V⁻¹ J, priors included.
    information: Matrix,
    /// Jᵀ V⁻¹ r, priors included.
    gradient: Vector,
    chi_squared: f64,
}

impl<C: Curve> Problem<'_, C> {
    /// Takes the one undamped step that is left near the solution, where it leads nowhere worse.
    fn polish(&self, here: Linearized) -> Result<Linearized, FitError> {
        let step = here.damped_step(0.0)?;
        let worst = here.chi_squared + SETTLED + here.chi_squared * f64::EPSILON;
        let next = self.linearize(&here.moved(&step));
        Ok(next
            .filter(|next| next.chi_squared <= worst)
            .unwrap_or(here))
    }

    /// Linearises at `parameters`, or `None` where the curve has no finite value there.
    fn linearize(&self, parameters: &[f64]) -> Option<Linearized> {
        let (n, p) = (self.observations.x.len(), parameters.len());
        let mut residuals = Vector::zeros(n);
        let mut jacobian = Matrix::zeros(n, p);
        let mut slope = vec![0.0; p];
        for (i, (x, y)) in self
            .observations
            .x
            .iter()
            .zip(self.observations.y)
            .enumerate()
        {
            residuals[i] = y - self.curve.evaluate(*x, parameters, &mut slope);
            for (j, value) in slope.iter().enumerate() {
                jacobian[(i, j)] = *value;
            }
        }
        let (mut white_r, mut white_j) = (residuals.clone(), jacobian.clone());
        self.weights.whiten(&mut white_r);
        self.weights.whiten_columns(&mut white_j);
        let mut information = Matrix::zeros(p, p);
        let mut gradient = Vector::zeros(p);
        let mut chi_squared = dot(white_r.as_slice(), white_r.as_slice());
        for j in 0..p {
            gradient[j] = dot(white_j.column(j).as_slice(), white_r.as_slice());
            for k in 0..p {
                information[(j, k)] =
                    dot(white_j.column(j).as_slice(), white_j.column(k).as_slice());
            }
            if let Some(Some(prior)) = self.priors.get(j) {
                let weight = 1.0 / (prior.sd * prior.sd);
                let distance = prior.mean - parameters[j];
                information[(j, j)] += weight;
                gradient[j] += weight * distance;
                chi_squared += weight * distance * distance;
            }
        }
        let finite = chi_squared.is_finite() && information.iter().all(|x| x.is_finite());
        finite.then(|| Linearized {
            parameters: parameters.to_vec(),
            residuals,
            jacobian,
            information,
            gradient,
            chi_squared,
        })
    }
}

impl Linearized {
    fn moved(&self, step: &Vector) -> Vec<f64> {
        let pairs = self.parameters.iter().zip(step.iter());
        pairs
            .map(|(parameter, change)| parameter + change)
            .collect()
    }

    /// Solves for the step, each diagonal raised by the share `damping` of itself, so that the unit of a parameter does not matter.
    fn damped_step(&self, damping: f64) -> Result<Vector, FitError> {
        let mut damped = self.information.clone();
        for j in 0..damped.nrows() {
            damped[(j, j)] *= 1.0 + damping;
        }
        Ok(PositiveFactor::new(damped)?.solve(&self.gradient))
    }

    /// Returns by how much the linearised sum of squares falls along `step`.
    fn promised_decrease(&self, step: &Vector) -> f64 {
        let curvature = numerics::linear::quadratic_form(step.as_slice(), &self.information);
        2.0 * dot(step.as_slice(), self.gradient.as_slice()) - curvature
    }

    fn into_fit(self, priors: &[Option<Prior>], weights: PositiveFactor) -> Result<Fit, FitError> {
        let with_prior = priors.iter().filter(|prior| prior.is_some()).count();
        let rows = self.residuals.len() + with_prior;
        Ok(Fit {
            covariance: well_conditioned(self.information)?.inverse(),
            dof: rows.saturating_sub(self.parameters.len()),
            parameters: self.parameters,
            chi_squared: self.chi_squared,
            residuals: self.residuals,
            jacobian: self.jacobian,
            weights,
        })
    }
}

/// Factors an information matrix, unless rounding alone keeps it from being singular.
fn well_conditioned(information: Matrix) -> Result<PositiveFactor, NotPositiveDefinite> {
    /// The share of a parameter's information that is left once the others are known; rounding leaves about 1e-16.
    const LEAST_OWN_SHARE: f64 = 1e-13;
    let factor = PositiveFactor::new(information)?;
    if factor.least_own_share() < LEAST_OWN_SHARE {
        return Err(NotPositiveDefinite {
            order: factor.order(),
        });
    }
    Ok(factor)
}

impl Fit {
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
                let own =
                    precision[(i, i)] - numerics::linear::quadratic_form(&row, &self.covariance);
                Deletion {
                    distance: pull[i] / own,
                    u: (1.0 / own).sqrt(),
                }
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// y = a + b x.
    struct Line;
    impl Curve for Line {
        fn evaluate(&self, x: f64, p: &[f64], g: &mut [f64]) -> f64 {
            g.copy_from_slice(&[1.0, x]);
            p[0] + p[1] * x
        }
    }

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
