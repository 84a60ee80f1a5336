//! Curves through points that are uncertain both in y and in x: orthogonal distance regression.
//!
//! The true x of each point is found for itself inside the search, so that the search knows the parameters only and
//! costs little more than a fit to exact x.

use numerics::linear::Matrix;

use crate::least_squares::{LeastSquares, System, minimize};
use crate::priors::{Prior, PriorRows};
use crate::regression::{Curve, FitError};

/// A curve whose slope in x is known too.
pub trait SlopedCurve: Curve {
    /// Returns f(x; θ) and ∂f/∂x, and writes ∂f/∂θ to `gradient`. Outside its domain it returns NaN.
    fn evaluate_sloped(&self, x: f64, parameters: &[f64], gradient: &mut [f64]) -> (f64, f64);
}

/// Points with independent errors in both directions.
#[derive(Clone, Copy, Debug)]
pub struct UncertainPoints<'a> {
    /// Where, as read.
    pub x: &'a [f64],
    /// What, as read.
    pub y: &'a [f64],
    /// The standard deviation of each x; zero where it is exact.
    pub x_sd: &'a [f64],
    /// The standard deviation of each y, above zero.
    pub y_sd: &'a [f64],
}

/// A curve fitted to uncertain points.
#[derive(Clone, Debug)]
pub struct OrthogonalFit {
    /// The parameters.
    pub parameters: Vec<f64>,
    /// Their covariance, from the declared standard deviations.
    pub covariance: Matrix,
    /// The sum of squares in both directions at the solution, priors included.
    pub chi_squared: f64,
    /// Points less parameters, each parameter with a prior counted back.
    pub dof: usize,
    /// Where each point most likely was.
    pub true_x: Vec<f64>,
}

/// The most corrections of one true x.
const MAX_CORRECTIONS: u32 = 60;
/// A correction of a true x by no more than this share of its standard deviation is the last one: what is left is some
/// hundredth of it, and counts by its square in the sum of squares.
const X_SETTLED: f64 = 1e-6;

/// Fits `curve` to points with errors in x and in y, each parameter with its prior where it has one.
///
/// # Equation
/// Minimises Σ ((yᵢ − f(xᵢ + δᵢ; θ))/σ_y)² + Σ (δᵢ/σ_x)² + Σ ((θⱼ − μⱼ)/σⱼ)² over θ and all δᵢ. At the best δᵢ a point
/// counts as a residual (r + f′δ)/s with slopes ∂f/∂θ/s, where s² = σ_y² + f′² σ_x²; the covariance is that of these rows.
///
/// # Validity
/// Errors in x so small that the curve bends little within them. Where the best true x of a point is not unique, the
/// one downhill from the reading is taken.
///
/// # Errors
/// [`FitError`], as [`crate::fit`] has it.
///
/// # Source
/// P. Boggs, R. Byrd, R. Schnabel, "A stable and efficient algorithm for nonlinear orthogonal distance regression",
/// SIAM J. Sci. Stat. Comput. 8 (1987) 1052-1078; the true x are eliminated as G. Golub, V. Pereyra, SIAM J. Numer.
/// Anal. 10 (1973) 413-432, separate variables.
///
/// # Checked against
/// `validation/fits/odr`
pub fn fit_orthogonal(
    curve: &impl SlopedCurve,
    points: UncertainPoints<'_>,
    start: &[f64],
    priors: &[Option<Prior>],
) -> Result<OrthogonalFit, FitError> {
    check(points)?;
    let n = points.x.len();
    let mut problem = OrthogonalProblem {
        curve,
        points,
        priors: PriorRows::new(priors, start.len()),
        slope: vec![0.0; start.len()],
        walks: vec![Walk::default(); n],
    };
    let minimum = minimize(&mut problem, start)?;
    problem.linearize(
        &minimum.parameters,
        &mut System::new(problem.rows(), start.len()),
    );
    let walked = points.x.iter().zip(points.x_sd).zip(&problem.walks);
    let true_x = walked
        .map(|((x, sd), walk)| x + walk.here.along * sd)
        .collect();
    Ok(OrthogonalFit {
        covariance: minimum.covariance()?,
        chi_squared: minimum.sum_of_squares,
        dof: problem.rows().saturating_sub(start.len()),
        true_x,
        parameters: minimum.parameters,
    })
}

/// Looks that there are as many of each, and that what is divided by is above zero.
fn check(points: UncertainPoints<'_>) -> Result<(), FitError> {
    let (places, values) = (points.x.len(), points.y.len());
    let weights = points.y_sd.len().min(points.x_sd.len());
    if places != values || values != points.y_sd.len() || values != points.x_sd.len() {
        return Err(FitError::Unequal {
            places,
            values,
            weights,
        });
    }
    let sound = |sd: &f64| sd.is_finite() && *sd >= 0.0;
    if points.x_sd.iter().all(sound) && points.y_sd.iter().all(|sd| sound(sd) && *sd > 0.0) {
        Ok(())
    } else {
        Err(numerics::linear::NotPositiveDefinite { order: values }.into())
    }
}

/// A point of the curve that stands for a reading, all in standard deviations of the reading.
#[derive(Clone, Copy, Debug, Default)]
struct Stand {
    /// True x less x as read, δ/σ_x.
    along: f64,
    /// y less the curve there, r/σ_y.
    residual: f64,
    /// The slope of the curve there, f′ σ_x/σ_y.
    slope: f64,
}

impl Stand {
    /// The sum of squares of both errors.
    fn distance(&self) -> f64 {
        self.residual * self.residual + self.along * self.along
    }

    /// The gradient of half the distance.
    fn gradient(&self) -> f64 {
        self.along - self.residual * self.slope
    }

    /// The curvature of half the distance as a straight curve has it.
    fn linear_curvature(&self) -> f64 {
        1.0 + self.slope * self.slope
    }
}

/// The way of one point to the place on the curve that is nearest to its reading, downhill from where it was read.
///
/// Gauss-Newton in one variable; from the second step on with the curvature that the last step showed, as far as
/// that is within a factor of two of the linear one.
#[derive(Clone, Copy, Debug, Default)]
struct Walk {
    here: Stand,
    curvature: f64,
    arrived: bool,
}

impl Walk {
    fn from(here: Stand, x_sd: f64) -> Self {
        Self {
            here,
            curvature: here.linear_curvature(),
            arrived: x_sd == 0.0,
        }
    }

    fn step(&self) -> f64 {
        -self.here.gradient() / self.curvature
    }

    /// Goes on to `next`, which lies a step away.
    fn go(&mut self, next: Stand) {
        let step = self.step();
        // What is not a number ends here; the search for the parameters refuses what comes of it.
        if step.is_nan() || step.abs() <= X_SETTLED {
            (self.here, self.arrived) = (next, true);
        } else if next.distance() > self.here.distance() {
            self.curvature *= 4.0;
        } else {
            let shown = (next.gradient() - self.here.gradient()) / step;
            let linear = next.linear_curvature();
            self.curvature = shown.max(0.5 * linear).min(2.0 * linear);
            self.here = next;
        }
    }
}

/// The task of one fit.
struct OrthogonalProblem<'a, C> {
    curve: &'a C,
    points: UncertainPoints<'a>,
    priors: PriorRows,
    slope: Vec<f64>,
    /// Where the points stood at the last linearisation.
    walks: Vec<Walk>,
}

impl<C: SlopedCurve> LeastSquares for OrthogonalProblem<'_, C> {
    fn rows(&self) -> usize {
        self.points.x.len() + self.priors.len()
    }

    fn linearize(&mut self, parameters: &[f64], system: &mut System) -> f64 {
        let n = self.points.x.len();
        self.walk(parameters, &mut system.slopes);
        let mut sum = 0.0;
        for (i, walk) in self.walks.iter().enumerate() {
            let stand = walk.here;
            let root = 1.0 / stand.linear_curvature().sqrt();
            system.residuals[i] = (stand.residual + stand.slope * stand.along) * root;
            let weight = root / self.points.y_sd[i];
            for j in 0..parameters.len() {
                system.slopes[(i, j)] *= weight;
            }
            sum += stand.distance();
        }
        self.priors.write(parameters, n, system);
        sum + system.residuals[n..].iter().map(|r| r * r).sum::<f64>()
    }
}

impl<C: SlopedCurve> OrthogonalProblem<'_, C> {
    /// Walks all points to where they stand nearest, and leaves the slopes in the parameters there.
    ///
    /// One step of each in turn: the points do not wait for one another, and so neither does the processor.
    fn walk(&mut self, parameters: &[f64], slopes: &mut Matrix) {
        for i in 0..self.walks.len() {
            let here = self.stand(i, parameters, 0.0, slopes);
            self.walks[i] = Walk::from(here, self.points.x_sd[i]);
        }
        for _ in 0..MAX_CORRECTIONS {
            let mut under_way = false;
            for i in 0..self.walks.len() {
                let mut walk = self.walks[i];
                if !walk.arrived {
                    walk.go(self.stand(i, parameters, walk.here.along + walk.step(), slopes));
                    self.walks[i] = walk;
                    under_way = true;
                }
            }
            if !under_way {
                return;
            }
        }
    }

    /// Evaluates the curve for reading `i` off its x.
    fn stand(&mut self, i: usize, parameters: &[f64], along: f64, slopes: &mut Matrix) -> Stand {
        let (x_sd, y_weight) = (self.points.x_sd[i], 1.0 / self.points.y_sd[i]);
        let x = self.points.x[i] + along * x_sd;
        let (value, slope) = self.curve.evaluate_sloped(x, parameters, &mut self.slope);
        for (j, slope) in self.slope.iter().enumerate() {
            slopes[(i, j)] = *slope;
        }
        Stand {
            along,
            residual: (self.points.y[i] - value) * y_weight,
            slope: slope * (x_sd * y_weight),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_line::Line;
    use crate::{WeightedObservations, Weights, fit_weighted};

    const X: [f64; 5] = [0.0, 1.1, 1.9, 3.2, 3.9];
    const Y: [f64; 5] = [1.1, 2.8, 5.2, 6.9, 9.1];

    #[test]
    fn exact_x_is_ordinary_least_squares() {
        let points = UncertainPoints {
            x: &X,
            y: &Y,
            x_sd: &[0.0; 5],
            y_sd: &[0.2; 5],
        };
        let both = fit_orthogonal(&Line, points, &[0.0, 1.0], &[]).unwrap();
        let observations = WeightedObservations {
            x: &X,
            y: &Y,
            weights: Weights::independent(&[0.2; 5]).unwrap(),
        };
        let plain = fit_weighted(&Line, observations, &[0.0, 1.0], &[]).unwrap();
        for j in 0..2 {
            // Two sums of five terms in different order.
            assert!((both.parameters[j] - plain.parameters[j]).abs() < 1e-13);
        }
        assert!((both.covariance - plain.covariance).abs().max() < 1e-14);
        assert_eq!(both.true_x, X);
    }

    #[test]
    fn exchanging_the_axes_of_a_line_inverts_it() {
        let along = UncertainPoints {
            x: &X,
            y: &Y,
            x_sd: &[0.1; 5],
            y_sd: &[0.2; 5],
        };
        let across = UncertainPoints {
            x: &Y,
            y: &X,
            x_sd: &[0.2; 5],
            y_sd: &[0.1; 5],
        };
        let one = fit_orthogonal(&Line, along, &[0.0, 1.0], &[]).unwrap();
        let other = fit_orthogonal(&Line, across, &[0.0, 1.0], &[]).unwrap();
        // Both ends of the search are a millionth of a standard uncertainty, 0.1 here, from the minimum at most.
        assert!((one.parameters[1] * other.parameters[1] - 1.0).abs() < 1e-7);
        assert!((one.chi_squared - other.chi_squared).abs() < 1e-9);
    }

    #[test]
    fn bad_points_are_refused() {
        let points = UncertainPoints {
            x: &X,
            y: &Y,
            x_sd: &[0.1; 5],
            y_sd: &[0.0; 5],
        };
        assert!(fit_orthogonal(&Line, points, &[0.0, 1.0], &[]).is_err());
        let short = UncertainPoints {
            y: &Y[..4],
            ..points
        };
        assert!(matches!(
            fit_orthogonal(&Line, short, &[0.0, 1.0], &[]),
            Err(FitError::Unequal { values: 4, .. })
        ));
    }
}
