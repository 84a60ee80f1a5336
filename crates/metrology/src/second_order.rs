//! How much the second order of a function changes the uncertainty that the first order gives.
//!
//! It is the cheap answer to whether a Monte Carlo is needed.

use numerics::linear::Matrix;

use crate::propagation::{Inputs, PropagationError};

/// What the second order says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SecondOrder {
    /// The standard uncertainty of first order.
    pub first_order_u: f64,
    /// The standard uncertainty with the terms of second order.
    pub u: f64,
    /// By how much the expected value differs from the value at the best inputs.
    pub shift: f64,
}

impl SecondOrder {
    /// Returns by what share of itself the second order changes the uncertainty; infinite where the first order sees none.
    pub fn change(&self) -> f64 {
        if self.first_order_u > 0.0 {
            self.u / self.first_order_u - 1.0
        } else if self.u > 0.0 {
            f64::INFINITY
        } else {
            0.0
        }
    }
}

/// The step of a difference in standard uncertainties.
const STEP: f64 = 0.1;

/// Computes the uncertainty of a function of normal inputs to second order.
///
/// # Equation
/// With x = x̂ + L z, L Lᵀ the covariance and g(z) = f(x): u² = Σ gᵢ² + Σᵢⱼ (½ gᵢⱼ² + gᵢ gᵢⱼⱼ), and a shift of ½ Σ gᵢᵢ.
/// In independent inputs this is the formula of the guide; L carries it over to correlated ones.
///
/// # Validity
/// Inputs near normal. It is exact for a quadratic function of normal inputs.
///
/// # Accuracy
/// Differences with a step of a tenth of a standard uncertainty: 0.002 of the next even derivatives, and 1e-12 |f| in rounding.
///
/// # Errors
/// [`PropagationError::NoValue`] where the function is not finite near the inputs.
///
/// # Source
/// JCGM 100:2008 (GUM), 5.1.2 note.
///
/// # Checked against
/// GUM H.1.7 in `validation/uncertainty/gum-annex-h`, `validation/uncertainty/quadratic`
///
/// # Example
/// ```
/// use metrology::{Input, Inputs, second_order};
/// // The square of a standard normal quantity has expectation 1 and variance 2; its slope at 0 is none.
/// let inputs = Inputs::independent(vec![Input::new(0.0, 1.0)]).unwrap();
/// let square = second_order(|x| x[0] * x[0], &inputs).unwrap();
/// assert!(square.first_order_u < 1e-9 && (square.u - 2.0_f64.sqrt()).abs() < 1e-9);
/// assert!((square.shift - 1.0).abs() < 1e-9);
/// ```
pub fn second_order(
    function: impl Fn(&[f64]) -> f64,
    inputs: &Inputs,
) -> Result<SecondOrder, PropagationError> {
    let grid = Grid {
        function: &function,
        centre: inputs.values(),
        root: inputs.root(),
    };
    let n = grid.centre.len();
    let centre = grid.at(&[]);
    let axes: Vec<Axis> = (0..n).map(|i| grid.axis(i)).collect();
    let first: f64 = axes.iter().map(|axis| axis.slope() * axis.slope()).sum();
    let mut second = 0.0;
    for (i, axis) in axes.iter().enumerate() {
        let bend = axis.bend(centre);
        second += 0.5 * bend * bend + axis.slope() * axis.third();
        for j in (0..n).filter(|j| *j != i) {
            let corners = grid.corners(i, j);
            let mixed = corners.mixed();
            second += 0.5 * mixed * mixed + axis.slope() * corners.slope_of_bend(axis);
        }
    }
    let found = SecondOrder {
        first_order_u: first.sqrt(),
        u: (first + second).max(0.0).sqrt(),
        shift: 0.5 * axes.iter().map(|axis| axis.bend(centre)).sum::<f64>(),
    };
    let finite = found.u.is_finite() && found.shift.is_finite();
    finite.then_some(found).ok_or(PropagationError::NoValue)
}

/// The function in independent standard coordinates.
struct Grid<'a, F> {
    function: &'a F,
    centre: Vec<f64>,
    root: Matrix,
}

impl<F: Fn(&[f64]) -> f64> Grid<'_, F> {
    /// Evaluates so many steps away along some coordinates.
    fn at(&self, steps: &[(usize, f64)]) -> f64 {
        let mut x = self.centre.clone();
        for (j, count) in steps {
            for (i, value) in x.iter_mut().enumerate() {
                *value += self.root[(i, *j)] * count * STEP;
            }
        }
        (self.function)(&x)
    }

    fn axis(&self, i: usize) -> Axis {
        Axis {
            far_below: self.at(&[(i, -2.0)]),
            below: self.at(&[(i, -1.0)]),
            above: self.at(&[(i, 1.0)]),
            far_above: self.at(&[(i, 2.0)]),
        }
    }

    fn corners(&self, i: usize, j: usize) -> Corners {
        let corner = |a: f64, b: f64| self.at(&[(i, a), (j, b)]);
        Corners {
            both_above: corner(1.0, 1.0),
            first_above: corner(1.0, -1.0),
            second_above: corner(-1.0, 1.0),
            both_below: corner(-1.0, -1.0),
        }
    }
}

/// Values one and two steps to both sides along one coordinate.
struct Axis {
    far_below: f64,
    below: f64,
    above: f64,
    far_above: f64,
}

impl Axis {
    /// gᵢ, with the error of third order taken out.
    fn slope(&self) -> f64 {
        let (near, far) = (self.above - self.below, self.far_above - self.far_below);
        (8.0 * near - far) / (12.0 * STEP)
    }

    /// gᵢᵢ, with the error of fourth order taken out.
    fn bend(&self, centre: f64) -> f64 {
        let near = (self.above - centre) + (self.below - centre);
        let far = (self.far_above - centre) + (self.far_below - centre);
        (16.0 * near - far) / (12.0 * STEP * STEP)
    }

    /// gᵢᵢᵢ.
    fn third(&self) -> f64 {
        let (near, far) = (self.above - self.below, self.far_above - self.far_below);
        (far - 2.0 * near) / (2.0 * STEP * STEP * STEP)
    }
}

/// Values one step away along two coordinates at once.
struct Corners {
    both_above: f64,
    first_above: f64,
    second_above: f64,
    both_below: f64,
}

impl Corners {
    /// gᵢⱼ.
    fn mixed(&self) -> f64 {
        let across = (self.both_above - self.first_above) - (self.second_above - self.both_below);
        across / (4.0 * STEP * STEP)
    }

    /// gᵢⱼⱼ, from the corners and the values along the first coordinate.
    fn slope_of_bend(&self, first: &Axis) -> f64 {
        let above = (self.both_above - first.above) + (self.first_above - first.above);
        let below = (self.second_above - first.below) + (self.both_below - first.below);
        (above - below) / (2.0 * STEP * STEP * STEP)
    }
}
