//! Hooper's two coefficients: one for slow flow, one for fast flow in a fitting of a given size.
//!
//! Crane's K knows no Reynolds number; below some ten thousand it falls short, and this form does not.

use super::answer;
use crate::error::HydraulicsError;
use crate::quantity::Quantity;
use crate::warning::{Answer, Warning};

/// An inch in m, exact.
const INCH_M: f64 = 0.0254;

/// Reynolds numbers of a filled pipe in use. The limits of the paper itself were not read.
pub(super) const USUAL_REYNOLDS: (f64, f64) = (1e2, 1e7);

/// Hooper's coefficients of one fitting.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoK {
    /// K₁, the coefficient of slow flow.
    pub k_1: f64,
    /// K∞, the coefficient of fast flow in a fitting without end of size.
    pub k_infinity: f64,
}

impl TwoK {
    /// Passes the two coefficients.
    pub const fn new(k_1: f64, k_infinity: f64) -> Self {
        Self { k_1, k_infinity }
    }
}

/// Computes a loss coefficient by Hooper's two-K method.
///
/// # Equation
/// K = K₁ / Re + K∞ (1 + 1 / D), D in inches
///
/// # Inputs
/// `coefficients`: both 0 or more. `reynolds`: above 0. `bore_m`: inside diameter, above 0 m.
///
/// # Returns
/// K on the velocity in the bore.
///
/// # Validity
/// Laminar and turbulent flow. The limits that the paper sets were not read; outside Re = 1e2 to 1e7 the answer
/// carries a warning (common practice, no source).
///
/// # Accuracy
/// Of the method: not stated in what was read; between Crane's constant K and Darby's method. Of the numerics: four
/// roundings.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotAboveZero`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// W. B. Hooper, "The two-K method predicts head losses in pipe fittings", Chem. Eng. 88 (24 August 1981) 96-100, as
/// printed in the Python package fluids 1.3.1 (`fluids.fittings.Hooper2K`).
///
/// # Checked against
/// `validation/fittings/fluids`
///
/// # Example
/// ```
/// use hydraulics::fittings::{catalogue::Fitting, two_k::two_k};
/// let k = two_k(Fitting::Elbow90.two_k().unwrap(), 1e5, 0.0508).unwrap().value;
/// assert!((k - 0.608).abs() < 1e-12);
/// ```
pub fn two_k(
    coefficients: TwoK,
    reynolds: f64,
    bore_m: f64,
) -> Result<Answer<f64>, HydraulicsError> {
    let k_1 = Quantity::MinorLoss.zero_or_more(coefficients.k_1)?;
    let k_infinity = Quantity::MinorLoss.zero_or_more(coefficients.k_infinity)?;
    let reynolds = Quantity::Reynolds.above_zero(reynolds)?;
    let bore_m = Quantity::Bore.above_zero(bore_m)?;
    let warning = Warning::outside("two-K method", Quantity::Reynolds, reynolds, USUAL_REYNOLDS);
    answer(
        k_1 / reynolds + k_infinity * (1.0 + INCH_M / bore_m),
        warning,
    )
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const ELBOW: TwoK = TwoK::new(800.0, 0.4);

    #[test]
    fn the_impossible_is_refused_and_the_unusual_told() {
        for (reynolds, bore_m) in [
            (0.0, 0.05),
            (-1.0, 0.05),
            (1e5, 0.0),
            (f64::NAN, 0.05),
            (1e-300, 1e-300),
        ] {
            assert!(two_k(TwoK::new(1e10, 1e10), reynolds, bore_m).is_err());
        }
        assert!(two_k(TwoK::new(-1.0, 0.4), 1e5, 0.05).is_err());
        assert!(two_k(ELBOW, 1e5, 0.05).unwrap().warnings.is_empty());
        assert_eq!(two_k(ELBOW, 50.0, 0.05).unwrap().warnings.len(), 1);
        assert_eq!(two_k(ELBOW, 2e7, 0.05).unwrap().warnings.len(), 1);
    }

    proptest! {
        #[test]
        fn fast_flow_leaves_the_coefficient_of_size(bore_m in 0.01_f64..0.5) {
            let limit = 0.4 * (1.0 + 0.0254 / bore_m);
            let k = two_k(ELBOW, 1e12, bore_m).unwrap().value;
            // What is left of the first term: 800 / 1e12 on at least 0.4.
            prop_assert!((k / limit - 1.0).abs() < 2.1e-9);
        }

        #[test]
        fn a_loss_coefficient_falls_with_flow_and_with_size(ln_re in 1.0_f64..16.0, bore_m in 0.01_f64..0.4) {
            let reynolds = numerics::elementary::exp(ln_re);
            let k = |reynolds: f64, bore_m: f64| two_k(ELBOW, reynolds, bore_m).unwrap().value;
            prop_assert!(k(reynolds, bore_m) > k(1.1 * reynolds, bore_m));
            prop_assert!(k(reynolds, bore_m) > k(reynolds, 1.1 * bore_m));
            prop_assert!(k(reynolds, bore_m) > 0.0);
        }
    }
}
