//! Regression that a few gross errors cannot pull away: Huber's function of declared residuals.
//!
//! It bounds the pull of each observation in y. It does not find which ones are wrong, and an observation that stands
//! alone in x keeps its leverage.

use numerics::distributions::normal_upper_tail;
use numerics::elementary::exp;
use numerics::householder::reduce;
use numerics::linear::Matrix;

use crate::least_squares::{LeastSquares, System, covariance_of, minimize};
use crate::regression::{Curve, CurveProblem, FitError, WeightedObservations};

/// The residual, in standard deviations, from which on an observation pulls no harder: with it, normal errors cost a
/// twentieth of the efficiency of least squares.
///
/// P. Holland, R. Welsch, "Robust regression using iteratively reweighted least-squares", Commun. Statist. A6 (1977) 813-827.
pub const HUBER_BEND: f64 = 1.345;

/// A curve fitted with bounded pulls.
#[derive(Clone, Debug)]
pub struct RobustFit {
    /// The parameters.
    pub parameters: Vec<f64>,
    /// Their covariance for normal errors with the declared standard deviations.
    pub covariance: Matrix,
    /// The covariance from the observed pulls instead of the declared errors: wider where gross errors are many. `None`
    /// where no observation is to spare or all are beyond the bend.
    pub covariance_by_scatter: Option<Matrix>,
    /// Observed less fitted in standard deviations.
    pub residuals: Vec<f64>,
    /// How much of its weight each observation kept, from 1 down towards 0.
    pub kept: Vec<f64>,
}

/// Fits `curve` with the pull of each observation bounded at [`HUBER_BEND`] standard deviations.
///
/// With correlated observations the whitened residuals are what is bounded, and a gross error then spreads over those
/// that are correlated with it.
///
/// # Equation
/// Minimises Σ ρ(zᵢ) with z the residual in standard deviations, ρ = z² for |z| ≤ k and 2 k |z| − k² beyond, by
/// reweighted steps w = min(1, k/|z|). For normal errors the covariance is (JᵀJ)⁻¹ E ψ²/(E ψ′)²; by scatter it is
/// (JᵀJ)⁻¹ K² (Σ ψ²/(n − p))/(Σ ψ′/n)², with K = 1 + (p/n)(1 − m)/m and m the share of residuals within the bend.
///
/// # Validity
/// Gross errors in fewer observations than determine the curve; start from parameters of the right size.
///
/// # Errors
/// [`FitError`], as [`crate::fit`] has it.
///
/// # Source
/// P. Huber, E. Ronchetti, Robust Statistics, 2nd edition (2009), sections 7.6 and 7.8; the factor K is that of equation
/// 7.82 there, from memory.
///
/// # Checked against
/// `validation/fits/huber`
pub fn fit_robust(
    curve: &impl Curve,
    observations: WeightedObservations<'_>,
    start: &[f64],
) -> Result<RobustFit, FitError> {
    let inner = CurveProblem::new(curve, observations, &[], start.len());
    inner.check()?;
    let mut problem = HuberProblem {
        inner,
        kept: Vec::new(),
    };
    let minimum = minimize(&mut problem, start)?;
    let parameters = minimum.parameters;
    let mut system = System::new(problem.rows(), parameters.len());
    problem.inner.linearize(&parameters, &mut system);
    let residuals = system.residuals[..problem.rows()].to_vec();
    reduce(&mut system.slopes, &mut system.residuals);
    let plain = covariance_of(&system.slopes)?;
    Ok(RobustFit {
        covariance: &plain * normal_inflation(),
        covariance_by_scatter: inflation_by_scatter(&residuals, parameters.len())
            .map(|inflation| plain * inflation),
        kept: residuals.iter().map(|z| kept_weight(*z)).collect(),
        residuals,
        parameters,
    })
}

/// The weight that a residual keeps.
fn kept_weight(z: f64) -> f64 {
    if z.abs() <= HUBER_BEND {
        1.0
    } else {
        HUBER_BEND / z.abs()
    }
}

/// ρ(z).
fn loss(z: f64) -> f64 {
    if z.abs() <= HUBER_BEND {
        z * z
    } else {
        HUBER_BEND * (2.0 * z.abs() - HUBER_BEND)
    }
}

/// E ψ²/(E ψ′)² for a standard normal residual: what the bend costs where there are no gross errors.
fn normal_inflation() -> f64 {
    let k = HUBER_BEND;
    let beyond = normal_upper_tail(k);
    let within = 1.0 - 2.0 * beyond;
    let density = exp(-0.5 * k * k) / (2.0 * std::f64::consts::PI).sqrt();
    (within - 2.0 * k * density + 2.0 * k * k * beyond) / (within * within)
}

/// The same from the residuals that were observed.
fn inflation_by_scatter(residuals: &[f64], parameters: usize) -> Option<f64> {
    let n = residuals.len() as f64;
    let spare = residuals
        .len()
        .checked_sub(parameters)
        .filter(|spare| *spare > 0)?;
    let within = residuals.iter().filter(|z| z.abs() <= HUBER_BEND).count() as f64 / n;
    let squares: f64 = residuals
        .iter()
        .map(|z| (kept_weight(*z) * z) * (kept_weight(*z) * z))
        .sum();
    let correction = 1.0 + parameters as f64 / n * (1.0 - within) / within;
    (within > 0.0).then(|| correction * correction * squares / spare as f64 / (within * within))
}

/// The task of one fit: that of least squares, reweighted.
struct HuberProblem<'a, C> {
    inner: CurveProblem<'a, C>,
    kept: Vec<f64>,
}

impl<C: Curve> LeastSquares for HuberProblem<'_, C> {
    fn rows(&self) -> usize {
        self.inner.rows()
    }

    fn linearize(&mut self, parameters: &[f64], system: &mut System) -> f64 {
        self.inner.linearize(parameters, system);
        let sum = system.residuals.iter().map(|z| loss(*z)).sum();
        self.kept.clear();
        self.kept
            .extend(system.residuals.iter().map(|z| kept_weight(*z).sqrt()));
        for (z, root) in system.residuals.iter_mut().zip(&self.kept) {
            *z *= root;
        }
        for mut column in system.slopes.column_iter_mut() {
            for (slope, root) in column.iter_mut().zip(&self.kept) {
                *slope *= root;
            }
        }
        sum
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_line::Line;
    use crate::{Weights, fit_weighted};

    fn on_a_line() -> (Vec<f64>, Vec<f64>) {
        let x: Vec<f64> = (0..12).map(f64::from).collect();
        let wiggle = [0.3, -0.5, 0.1, 0.4, -0.2, -0.1];
        let y = x
            .iter()
            .zip(wiggle.iter().cycle())
            .map(|(x, w)| 2.0 + 0.5 * x + w)
            .collect();
        (x, y)
    }

    fn observations<'a>(x: &'a [f64], y: &'a [f64]) -> WeightedObservations<'a> {
        let weights = Weights::independent(&vec![1.0; y.len()]).unwrap();
        WeightedObservations { x, y, weights }
    }

    #[test]
    fn without_gross_errors_it_is_least_squares_at_95_per_cent() {
        let (x, y) = on_a_line();
        let robust = fit_robust(&Line, observations(&x, &y), &[0.0, 0.0]).unwrap();
        let plain = fit_weighted(&Line, observations(&x, &y), &[0.0, 0.0], &[]).unwrap();
        for j in 0..2 {
            assert!((robust.parameters[j] - plain.parameters[j]).abs() < 1e-12); // the same sums
            // Holland and Welsch chose the bend for an efficiency of 95 %, to three digits.
            let efficiency = plain.covariance[(j, j)] / robust.covariance[(j, j)];
            assert!((efficiency - 0.95).abs() < 5e-4, "{efficiency}");
        }
    }

    #[test]
    fn the_pull_of_a_gross_error_is_bounded() {
        let (x, mut y) = on_a_line();
        y[4] = 1e3;
        let far = fit_robust(&Line, observations(&x, &y), &[0.0, 0.0]).unwrap();
        y[4] = 1e6;
        let farther = fit_robust(&Line, observations(&x, &y), &[0.0, 0.0]).unwrap();
        for j in 0..2 {
            // Both ends of the search lie within a thousandth of a standard uncertainty of below 0.6.
            assert!((far.parameters[j] - farther.parameters[j]).abs() < 1e-3);
        }
        assert!((far.parameters[1] - 0.5).abs() < 0.1 && far.kept[4] < 0.002);
    }
}
