//! The root of a function between two ends of opposite sign.

use thiserror::Error;

/// Why no root was found.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum RootError {
    /// The function has the same sign, or no finite value, at both ends.
    #[error("no change of sign between {low} and {high}")]
    NoSignChange {
        /// The lower end that was given.
        low: f64,
        /// The upper end that was given.
        high: f64,
    },
    /// The interval did not shrink below the tolerance within the cap.
    #[error("the root did not settle within {iterations} steps")]
    NotConverged {
        /// How many evaluations were spent.
        iterations: u32,
    },
}

/// The most evaluations that [`bracketed`] spends: bisection alone needs 62 from the widest bracket of a speed or a flow.
const MAX_ITERATIONS: u32 = 200;

/// Finds the root of a continuous `function` between `low` and `high`.
///
/// Regula falsi with the Illinois weight, and a bisection wherever that has not halved the bracket in two steps.
///
/// # Inputs
/// `tolerance`: the width of the bracket at which the search ends, in the unit of the argument.
///
/// # Errors
/// [`RootError::NoSignChange`] where the ends do not bracket a root, [`RootError::NotConverged`] at the cap.
///
/// # Source
/// M. Dowell, P. Jarratt, "A modified regula falsi method for computing the root of an equation", BIT 11 (1971) 168-174.
///
/// # Example
/// ```
/// let root = numerics::roots::bracketed(|x| x * x - 2.0, 0.0, 2.0, 1e-14).unwrap();
/// assert!((root - 2.0_f64.sqrt()).abs() < 1e-14);
/// ```
pub fn bracketed(
    function: impl Fn(f64) -> f64,
    low: f64,
    high: f64,
    tolerance: f64,
) -> Result<f64, RootError> {
    let (mut a, mut b) = (low, high);
    let (mut fa, mut fb) = (function(a), function(b));
    if fa == 0.0 {
        return Ok(a);
    }
    if fb == 0.0 {
        return Ok(b);
    }
    if (fa * fb).is_nan() || fa * fb > 0.0 {
        return Err(RootError::NoSignChange { low, high });
    }
    let mut width_two_steps_ago = (b - a).abs();
    for step in 0..MAX_ITERATIONS {
        let width = (b - a).abs();
        if width <= tolerance {
            return Ok(if fa.abs() < fb.abs() { a } else { b });
        }
        let bisect = step % 2 == 1 && width > 0.5 * width_two_steps_ago;
        if step % 2 == 1 {
            width_two_steps_ago = width;
        }
        let secant = b - fb * (b - a) / (fb - fa);
        let middle = 0.5 * (a + b);
        let c = if bisect || !secant.is_finite() || (secant - a) * (secant - b) >= 0.0 {
            middle
        } else {
            secant
        };
        let fc = function(c);
        if fc == 0.0 {
            return Ok(c);
        }
        if fc * fb < 0.0 {
            (a, fa) = (b, fb);
        } else {
            fa *= 0.5;
        }
        (b, fb) = (c, fc);
    }
    Err(RootError::NotConverged {
        iterations: MAX_ITERATIONS,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::elementary::{exp, pow_whole};

    #[test]
    fn steep_and_flat_functions_both_settle() {
        let flat = bracketed(|x| pow_whole(x - 0.7, 9), 0.0, 3.0, 1e-9).unwrap();
        // A ninth power is zero to double precision within 1e-36 of its root in value, 1e-4 in argument.
        assert!((flat - 0.7).abs() < 1e-3);
        let steep = bracketed(|x| exp(x) - 1e9, -50.0, 50.0, 1e-12).unwrap();
        assert!((steep - 20.723_265_836_946_41).abs() < 1e-11); // 9 ln 10
    }

    #[test]
    fn a_missing_change_of_sign_is_said() {
        assert!(matches!(
            bracketed(|x| x * x + 1.0, -1.0, 1.0, 1e-9),
            Err(RootError::NoSignChange { .. })
        ));
        assert!(matches!(
            bracketed(|_| f64::NAN, -1.0, 1.0, 1e-9),
            Err(RootError::NoSignChange { .. })
        ));
    }
}
