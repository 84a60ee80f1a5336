//! Darby's three coefficients: as Hooper's two, with a better law of size.

use numerics::elementary::pow;

use super::answer;
use super::two_k::USUAL_REYNOLDS;
use crate::error::HydraulicsError;
use crate::quantity::Quantity;
use crate::warning::{Answer, Warning};

/// Darby's coefficients of one fitting.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreeK {
    /// K₁, the coefficient of slow flow.
    pub k_1: f64,
    /// K_i, the coefficient of fast flow.
    pub k_i: f64,
    /// K_d, how the coefficient of fast flow falls with size, in in^0.3.
    pub k_d: f64,
}

impl ThreeK {
    /// Passes the three coefficients.
    pub const fn new(k_1: f64, k_i: f64, k_d: f64) -> Self {
        Self { k_1, k_i, k_d }
    }
}

/// Computes a loss coefficient by Darby's three-K method.
///
/// # Equation
/// K = K₁ / Re + K_i (1 + K_d / Dₙ^0.3), Dₙ the nominal size in inches
///
/// # Inputs
/// `coefficients`: all 0 or more. `reynolds`: above 0. `nominal_in`: nominal size in inches, above 0; it names a size.
///
/// # Returns
/// K on the velocity in the bore.
///
/// # Validity
/// Laminar and turbulent flow. The limits that the book sets were not read; outside Re = 1e2 to 1e7 the answer
/// carries a warning (common practice, no source).
///
/// # Accuracy
/// Of the method: not stated in what was read; reviews prefer it to Hooper's. Of the numerics: a few roundings.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotAboveZero`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// R. Darby, "Correlate pressure drops through fittings", Chem. Eng. 106 (1999) 101-104 and Chemical Engineering Fluid
/// Mechanics, 2nd edition, 2001, as printed in the Python package fluids 1.3.1 (`fluids.fittings.Darby3K`).
///
/// # Checked against
/// `validation/fittings/fluids`
///
/// # Example
/// ```
/// use hydraulics::fittings::{catalogue::Fitting, three_k::three_k};
/// let k = three_k(Fitting::Elbow90.three_k().unwrap(), 1e5, 1.0).unwrap().value;
/// assert!((k - 0.708).abs() < 1e-12);
/// ```
pub fn three_k(
    coefficients: ThreeK,
    reynolds: f64,
    nominal_in: f64,
) -> Result<Answer<f64>, HydraulicsError> {
    let k_1 = Quantity::MinorLoss.zero_or_more(coefficients.k_1)?;
    let k_i = Quantity::MinorLoss.zero_or_more(coefficients.k_i)?;
    let k_d = Quantity::MinorLoss.zero_or_more(coefficients.k_d)?;
    let reynolds = Quantity::Reynolds.above_zero(reynolds)?;
    let nominal_in = Quantity::NominalSize.above_zero(nominal_in)?;
    let warning = Warning::outside(
        "three-K method",
        Quantity::Reynolds,
        reynolds,
        USUAL_REYNOLDS,
    );
    answer(
        k_1 / reynolds + k_i * (1.0 + k_d * pow(nominal_in, -0.3)),
        warning,
    )
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const ELBOW: ThreeK = ThreeK::new(800.0, 0.14, 4.0);

    #[test]
    fn the_impossible_is_refused_and_the_unusual_told() {
        for (reynolds, nominal_in) in [(0.0, 2.0), (1e5, 0.0), (1e5, -2.0), (f64::INFINITY, 2.0)] {
            assert!(three_k(ELBOW, reynolds, nominal_in).is_err());
        }
        assert!(three_k(ThreeK::new(1.0, -1.0, 1.0), 1e5, 2.0).is_err());
        assert!(three_k(ELBOW, 1e5, 2.0).unwrap().warnings.is_empty());
        assert_eq!(three_k(ELBOW, 50.0, 2.0).unwrap().warnings.len(), 1);
    }

    proptest! {
        #[test]
        fn fast_flow_leaves_the_coefficient_of_size(nominal_in in 0.5_f64..24.0) {
            let limit = 0.14 * (1.0 + 4.0 * pow(nominal_in, -0.3));
            let k = three_k(ELBOW, 1e12, nominal_in).unwrap().value;
            // What is left of the first term: 800 / 1e12 on at least 0.14.
            prop_assert!((k / limit - 1.0).abs() < 6e-9);
        }

        #[test]
        fn a_loss_coefficient_falls_with_flow_and_with_size(ln_re in 1.0_f64..16.0, nominal_in in 0.5_f64..24.0) {
            let reynolds = numerics::elementary::exp(ln_re);
            let k = |reynolds: f64, nominal_in: f64| three_k(ELBOW, reynolds, nominal_in).unwrap().value;
            prop_assert!(k(reynolds, nominal_in) > k(1.1 * reynolds, nominal_in));
            prop_assert!(k(reynolds, nominal_in) > k(reynolds, 1.1 * nominal_in));
        }
    }
}
