//! The law of propagation of uncertainty: from input quantities through a function to an output.
//!
//! First order here; [`crate::second_order`] says whether that is enough.

use numerics::distributions::coverage_factor;
use numerics::linear::{Matrix, NotPositiveDefinite, PositiveFactor, quadratic_form};
use thiserror::Error;

use crate::estimate::{Estimate, effective_dof};

/// Why an uncertainty was not propagated.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum PropagationError {
    /// A value is not finite, or an uncertainty is not finite or negative, or degrees of freedom are not above zero.
    #[error("input {index} is not a value with an uncertainty and degrees of freedom")]
    BadInput {
        /// The number of the input, from 0.
        index: usize,
    },
    /// The correlations are not as many as the inputs, or no correlations at all.
    #[error("the correlations of {inputs} inputs are not a positive definite matrix of that order")]
    BadCorrelation {
        /// How many inputs there are.
        inputs: usize,
    },
    /// As many values were read of one quantity as of the others, and at least two, is what simultaneous repeats need.
    #[error("simultaneous readings of several quantities must be equally many, and at least two")]
    UnequalRepeats,
    /// The function has no finite value at, or near, the inputs.
    #[error("the function has no value at the inputs or within their uncertainties")]
    NoValue,
}

/// What is known of one input quantity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Input {
    /// The best value.
    pub value: f64,
    /// The standard uncertainty.
    pub u: f64,
    /// The degrees of freedom of that uncertainty; infinite where it is known exactly.
    pub dof: f64,
}

impl Input {
    /// An input whose uncertainty is known exactly.
    pub fn new(value: f64, u: f64) -> Self {
        Self {
            value,
            u,
            dof: f64::INFINITY,
        }
    }

    /// An input whose uncertainty rests on so many degrees of freedom.
    pub fn with_dof(value: f64, u: f64, dof: f64) -> Self {
        Self { value, u, dof }
    }

    /// An input that is anywhere within a half-width of its value.
    ///
    /// # Source
    /// JCGM 100:2008 (GUM), 4.3.7.
    pub fn rectangular(value: f64, half_width: f64) -> Self {
        Self::new(value, half_width / 3.0_f64.sqrt())
    }

    fn is_sound(&self) -> bool {
        self.value.is_finite() && self.u.is_finite() && self.u >= 0.0 && self.dof > 0.0
    }
}

/// Input quantities with what ties them to one another.
#[derive(Clone, Debug)]
pub struct Inputs {
    quantities: Vec<Input>,
    /// Correlation coefficients, `None` where all are independent.
    correlation: Option<Matrix>,
}

impl Inputs {
    /// Inputs that are independent of one another.
    pub fn independent(quantities: Vec<Input>) -> Result<Self, PropagationError> {
        match quantities.iter().position(|input| !input.is_sound()) {
            Some(index) => Err(PropagationError::BadInput { index }),
            None => Ok(Self {
                quantities,
                correlation: None,
            }),
        }
    }

    /// Inputs with a symmetric matrix of correlation coefficients, ones on its diagonal.
    pub fn correlated(
        quantities: Vec<Input>,
        correlation: Matrix,
    ) -> Result<Self, PropagationError> {
        let independent = Self::independent(quantities)?;
        let inputs = independent.quantities.len();
        let bad = PropagationError::BadCorrelation { inputs };
        if correlation.shape() != (inputs, inputs) {
            return Err(bad);
        }
        PositiveFactor::new(correlation.clone()).map_err(|NotPositiveDefinite { .. }| bad)?;
        Ok(Self {
            correlation: Some(correlation),
            ..independent
        })
    }

    /// Means of readings that were taken of several quantities at the same time, with the correlations they show.
    ///
    /// # Equation
    /// u(x̄ᵢ, x̄ⱼ) = Σ (xᵢₖ − x̄ᵢ)(xⱼₖ − x̄ⱼ)/(n (n − 1)).
    ///
    /// # Source
    /// JCGM 100:2008 (GUM), 5.2.3, equation 17.
    pub fn from_simultaneous(readings: &[&[f64]]) -> Result<Self, PropagationError> {
        let n = readings.first().map_or(0, |first| first.len());
        if n < 2 || readings.iter().any(|column| column.len() != n) {
            return Err(PropagationError::UnequalRepeats);
        }
        let mean = |column: &[f64]| column.iter().sum::<f64>() / n as f64;
        let means: Vec<f64> = readings.iter().map(|column| mean(column)).collect();
        let covariance = Matrix::from_fn(readings.len(), readings.len(), |i, j| {
            let pairs = readings[i].iter().zip(readings[j]);
            let products = pairs.map(|(a, b)| (a - means[i]) * (b - means[j]));
            products.sum::<f64>() / (n * (n - 1)) as f64
        });
        let u = |i: usize| covariance[(i, i)].sqrt();
        let dof = (n - 1) as f64;
        let inputs = means.iter().enumerate();
        let quantities = inputs
            .map(|(i, m)| Input::with_dof(*m, u(i), dof))
            .collect();
        let correlation = Matrix::from_fn(readings.len(), readings.len(), |i, j| {
            let product = u(i) * u(j);
            match i == j {
                true => 1.0,
                false if product > 0.0 => covariance[(i, j)] / product,
                false => 0.0,
            }
        });
        Self::correlated(quantities, correlation)
    }

    /// Returns the inputs.
    pub fn quantities(&self) -> &[Input] {
        &self.quantities
    }

    /// Returns the best values.
    pub fn values(&self) -> Vec<f64> {
        self.quantities.iter().map(|input| input.value).collect()
    }

    /// Returns the correlation coefficient of two inputs.
    pub fn correlation(&self, i: usize, j: usize) -> f64 {
        match &self.correlation {
            Some(matrix) => matrix[(i, j)],
            None if i == j => 1.0,
            None => 0.0,
        }
    }

    /// Returns the covariance of the inputs.
    pub fn covariance(&self) -> Matrix {
        let n = self.quantities.len();
        let u = |i: usize| self.quantities[i].u;
        Matrix::from_fn(n, n, |i, j| self.correlation(i, j) * u(i) * u(j))
    }

    /// Returns L with L Lᵀ the covariance, so that L z has it for independent standard z.
    pub(crate) fn root(&self) -> Matrix {
        let n = self.quantities.len();
        let correlation = Matrix::from_fn(n, n, |i, j| self.correlation(i, j));
        // The constructors let nothing else through than what has a factor.
        let lower = PositiveFactor::new(correlation)
            .map_or_else(|_| Matrix::identity(n, n), |factor| factor.lower());
        Matrix::from_fn(n, n, |i, j| self.quantities[i].u * lower[(i, j)])
    }
}

/// What a function of uncertain inputs is worth, to first order.
#[derive(Clone, Debug, PartialEq)]
pub struct Propagated {
    /// The value at the best inputs.
    pub value: f64,
    /// The combined standard uncertainty.
    pub u: f64,
    /// The slope of the function in each input.
    pub sensitivities: Vec<f64>,
    /// The standard uncertainty of each input times its slope, with the sign of the slope.
    pub contributions: Vec<f64>,
    /// The effective degrees of freedom, as computed; `None` where inputs with few of them are correlated, for which
    /// the formula does not hold.
    pub dof: Option<f64>,
    /// The fewest degrees of freedom of any input that contributes.
    fewest_dof: f64,
}

impl Propagated {
    /// Returns the degrees of freedom that an interval is to use: cut to a whole number, and the fewest of any input
    /// where the formula does not hold.
    ///
    /// # Source
    /// JCGM 100:2008 (GUM), G.4.1 and H.1.6.
    pub fn usable_dof(&self) -> f64 {
        self.dof.unwrap_or(self.fewest_dof).floor().max(1.0)
    }

    /// Returns the half-width of the interval that holds the quantity with probability `coverage`.
    ///
    /// # Source
    /// JCGM 100:2008 (GUM), annex G.3 and G.4.
    pub fn expanded(&self, coverage: f64) -> f64 {
        coverage_factor(coverage, self.usable_dof()) * self.u
    }

    /// Returns the quantity with its 95 % interval, or `None` where a number is not finite.
    pub fn estimate(&self) -> Option<Estimate> {
        Estimate::student(self.value, self.u, self.usable_dof())
    }
}

/// The step of a difference, in standard uncertainties: small against the bend of a function, large against rounding.
const STEP: f64 = 0.1;

/// Propagates uncertainty through `function` to first order, its slopes taken by central differences.
///
/// # Equation
/// u² = Σᵢ Σⱼ cᵢ cⱼ u(xᵢ, xⱼ). A slope is (4 D(h/2) − D(h))/3 with D(h) = (f(xᵢ + h) − f(xᵢ − h))/2h and h = 0.1 u(xᵢ).
///
/// # Accuracy
/// Of the slopes: about the fourth power of 0.1 u(xᵢ) in the fifth derivative, and 1e-14 |f|/u in rounding.
///
/// # Errors
/// [`PropagationError::NoValue`] where the function is not finite at or near the inputs.
///
/// # Source
/// JCGM 100:2008 (GUM), equation 13, and 5.1.3 note 2 on differences.
///
/// # Checked against
/// `validation/uncertainty/gum-annex-h`, `validation/uncertainty/ufloat`
///
/// # Example
/// ```
/// use metrology::{Input, Inputs, propagate};
/// let inputs = Inputs::independent(vec![Input::new(3.0, 0.1), Input::new(4.0, 0.1)]).unwrap();
/// let length = propagate(|x| (x[0] * x[0] + x[1] * x[1]).sqrt(), &inputs).unwrap();
/// assert!((length.u - 0.1).abs() < 1e-9);
/// ```
pub fn propagate(
    function: impl Fn(&[f64]) -> f64,
    inputs: &Inputs,
) -> Result<Propagated, PropagationError> {
    let mut at = inputs.values();
    let value = function(&at);
    let mut sensitivities = Vec::with_capacity(at.len());
    for i in 0..at.len() {
        let Input { value, u, .. } = inputs.quantities[i];
        let mut difference = |h: f64| {
            at[i] = value + h;
            let above = function(&at);
            at[i] = value - h;
            let below = function(&at);
            at[i] = value;
            (above - below) / (2.0 * h)
        };
        let slope = if u > 0.0 {
            (4.0 * difference(0.5 * STEP * u) - difference(STEP * u)) / 3.0
        } else {
            0.0
        };
        sensitivities.push(slope);
    }
    combine(value, sensitivities, inputs)
}

/// Propagates uncertainty to first order through a function whose slopes are known.
///
/// # Equation
/// That of [`propagate`].
///
/// # Inputs
/// `value`: the function at the best inputs. `sensitivities`: its slope in each; those left out count as zero.
///
/// # Errors
/// [`PropagationError::NoValue`] where a number is not finite.
///
/// # Source
/// JCGM 100:2008 (GUM), equations 13 and G.2b.
///
/// # Checked against
/// `validation/uncertainty/gum-annex-h`
pub fn combine(
    value: f64,
    mut sensitivities: Vec<f64>,
    inputs: &Inputs,
) -> Result<Propagated, PropagationError> {
    sensitivities.resize(inputs.quantities.len(), 0.0);
    let variance = quadratic_form(&sensitivities, &inputs.covariance());
    if !value.is_finite() || !variance.is_finite() {
        return Err(PropagationError::NoValue);
    }
    let terms = sensitivities.iter().zip(&inputs.quantities);
    let contributions: Vec<f64> = terms.map(|(c, input)| c * input.u).collect();
    let counting = |i: &usize| contributions[*i] != 0.0;
    let dofs = (0..contributions.len())
        .filter(counting)
        .map(|i| inputs.quantities[i].dof);
    Ok(Propagated {
        value,
        u: variance.max(0.0).sqrt(),
        dof: dof_of(&contributions, inputs),
        fewest_dof: dofs.fold(f64::INFINITY, f64::min),
        sensitivities,
        contributions,
    })
}

/// The effective degrees of freedom, where the formula holds.
fn dof_of(contributions: &[f64], inputs: &Inputs) -> Option<f64> {
    let few = |i: usize| contributions[i] != 0.0 && inputs.quantities[i].dof.is_finite();
    let tied = |i: usize| {
        (0..contributions.len())
            .any(|j| j != i && contributions[j] != 0.0 && inputs.correlation(i, j) != 0.0)
    };
    if (0..contributions.len()).any(|i| few(i) && tied(i)) {
        return None;
    }
    let parts = contributions.iter().zip(&inputs.quantities);
    let parts: Vec<(f64, f64)> = parts.map(|(u, input)| (*u, input.dof)).collect();
    Some(effective_dof(&parts))
}

/// Computes the correlation coefficient of two quantities that were propagated from the same inputs.
///
/// # Equation
/// r = Σᵢ Σⱼ aᵢ bⱼ u(xᵢ, xⱼ)/(u(a) u(b)); zero where one of them is certain.
///
/// # Source
/// JCGM 100:2008 (GUM), H.2.3, equation H.9.
///
/// # Checked against
/// `validation/uncertainty/gum-annex-h`
pub fn correlation_between(a: &Propagated, b: &Propagated, inputs: &Inputs) -> f64 {
    let covariance = inputs.covariance();
    let mut sum = 0.0;
    for (i, left) in a.sensitivities.iter().enumerate() {
        for (j, right) in b.sensitivities.iter().enumerate() {
            sum += left * covariance[(i, j)] * right;
        }
    }
    let product = a.u * b.u;
    if product > 0.0 { sum / product } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_correlation_of_one_adds_and_of_minus_one_cancels() {
        let pair = |r: f64| {
            let matrix = Matrix::from_row_slice(2, 2, &[1.0, r, r, 1.0]);
            Inputs::correlated(vec![Input::new(1.0, 0.3), Input::new(2.0, 0.4)], matrix).unwrap()
        };
        let sum = |r| propagate(|x| x[0] + x[1], &pair(r)).unwrap().u;
        assert!((sum(1.0 - 1e-12) - 0.7).abs() < 1e-9);
        assert!((sum(0.0) - 0.5).abs() < 1e-12);
        assert!((sum(-1.0 + 1e-12) - 0.1).abs() < 1e-9);
    }

    #[test]
    fn differences_and_known_slopes_agree() {
        let inputs = Inputs::independent(vec![
            Input::with_dof(2.0, 0.02, 5.0),
            Input::with_dof(0.5, 0.01, 9.0),
        ])
        .unwrap();
        let ratio = propagate(|x| x[0] / x[1], &inputs).unwrap();
        let known = combine(4.0, vec![2.0, -8.0], &inputs).unwrap();
        assert!((ratio.u / known.u - 1.0).abs() < 1e-9); // fourth power of 0.1 x 2 %
        assert!((ratio.dof.unwrap() - known.dof.unwrap()).abs() < 1e-6);
    }

    #[test]
    fn bad_inputs_are_named() {
        let bad = vec![Input::new(1.0, 0.1), Input::new(1.0, -0.1)];
        let error = Inputs::independent(bad).unwrap_err();
        assert_eq!(error, PropagationError::BadInput { index: 1 });
        let pair = vec![Input::new(1.0, 0.1); 2];
        let impossible = Matrix::from_row_slice(2, 2, &[1.0, 1.5, 1.5, 1.0]);
        assert!(Inputs::correlated(pair.clone(), impossible).is_err());
        let inputs = Inputs::independent(pair).unwrap();
        let none = propagate(|x| (x[0] - 2.0).sqrt(), &inputs);
        assert_eq!(none.unwrap_err(), PropagationError::NoValue);
        assert!(Inputs::from_simultaneous(&[&[1.0, 2.0], &[1.0]]).is_err());
        assert!(Inputs::from_simultaneous(&[]).is_err());
    }
}
