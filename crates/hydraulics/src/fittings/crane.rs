//! Crane's method: an equivalent length in bores, times the friction factor of full turbulence.
//!
//! K = (L/D) f_T. Crane's f_T is that of clean commercial steel in any kind of pipe: it carries the
//! size of the fitting, not the roughness of the line. Which L/D belongs to what is said in
//! [`catalogue`](super::catalogue) and [`valve`](super::valve).

use numerics::elementary::{exp, ln};

use super::{answer, finite};
use crate::error::HydraulicsError;
use crate::quantity::Quantity;
use crate::warning::{Answer, Warning};

/// The bores of Crane's table of friction factors: 1/2 in to 24 in, Schedule 40, in m.
const TABULATED_BORES_M: (f64, f64) = (0.0157, 0.576);

/// Computes Crane's friction factor of complete turbulence.
///
/// # Equation
/// One step of Clamond's solution of the Colebrook equation at Re = 7.5e6 D and
/// ε/D = 3.4126825352925e-5 D^−1.0112, D in m (bare carbon steel after Farshad)
///
/// # Inputs
/// `bore_m`: inside diameter of the pipe that the fitting belongs to, above 0 m.
///
/// # Returns
/// Darcy's friction factor f_T, with a warning outside the bores of Crane's table.
///
/// # Validity
/// 1/2 in to 24 in pipe. It is no friction factor of the pipe itself, only a scale of fittings.
///
/// # Accuracy
/// Rounds to the three decimals of Crane's table of 2009; older editions print up to 0.001 more. The one step is
/// within 3e-6 of the root; it is kept so that K agrees with the library that first fitted the table so.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// Crane Technical Paper 410, 2009, page A-26 (table; page from memory); the smooth form as in the Python package
/// fluids 1.3.1 (`fluids.friction.ft_Crane`); D. Clamond, Ind. Eng. Chem. Res. 48 (2009) 3665-3671.
///
/// # Checked against
/// `validation/fittings/fluids`, `validation/handbook-fittings/crane-friction-factors`
///
/// # Example
/// ```
/// let factor = hydraulics::fittings::crane::turbulent_friction_factor(0.0525018).unwrap().value;
/// assert!((factor - 0.018847).abs() < 1e-6); // 2 in: the table prints 0.019
/// ```
pub fn turbulent_friction_factor(bore_m: f64) -> Result<Answer<f64>, HydraulicsError> {
    let bore_m = Quantity::Bore.above_zero(bore_m)?;
    let warning = Warning::outside(
        "Crane's friction factor",
        Quantity::Bore,
        bore_m,
        TABULATED_BORES_M,
    );
    answer(turbulent_factor(bore_m), warning)
}

/// The kernel of [`turbulent_friction_factor`], in Clamond's own letters.
fn turbulent_factor(bore_m: f64) -> f64 {
    /// ln 10 / 18.574.
    const ROUGH: f64 = 0.123_968_186_335_417_55;
    /// ln(ln 10 / 5.02).
    const SMOOTH: f64 = -0.779_397_488_455_682;
    /// (ln 10 / 2)².
    const HALF_LN_10_SQUARED: f64 = 1.325_474_527_619_599_5;
    /// Reynolds number of complete turbulence over the bore, 1/m.
    const REYNOLDS_PER_BORE: f64 = 7.5e6;
    const LN_REYNOLDS_PER_BORE: f64 = 15.830_413_578_506_54;
    /// The roughness that gives Crane's table, ε/D = 3.41…e-5 (D/m)^−1.0112; one power of the bore is in the Reynolds number.
    const ROUGHNESS: f64 = 3.4126825352925e-5;
    const LEFT_OF_EXPONENT: f64 = -0.0112;
    let ln_bore = ln(bore_m);
    let rough = ROUGH * REYNOLDS_PER_BORE * ROUGHNESS * exp(LEFT_OF_EXPONENT * ln_bore);
    let start = ln_bore + LN_REYNOLDS_PER_BORE + SMOOTH - 0.2;
    let sum = rough + start;
    let error = (ln(sum) - 0.2) / (1.0 + sum);
    let root = start
        - (1.0 + sum + 0.5 * error) * error * sum
            / (1.0 + sum + error * (1.0 + error * (1.0 / 3.0)));
    HALF_LN_10_SQUARED / (root * root)
}

/// Computes the loss coefficient of an equivalent length in bores.
///
/// # Equation
/// K = (L/D) f_T
///
/// # Inputs
/// `length_ratio`: L/D, 0 or more. `bore_m`: above 0 m.
///
/// # Returns
/// K on the velocity in the bore; a warning as [`turbulent_friction_factor`].
///
/// # Validity
/// Turbulent flow: in laminar flow Crane's method falls short.
///
/// # Accuracy
/// Usual statement for screwed elbows: ±20 % above 2 in and ±40 % below (Hydraulic Institute, from memory).
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotAboveZero`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// Crane Technical Paper 410, equation 2-4 (number from memory).
///
/// # Checked against
/// `validation/fittings/fluids`, `validation/handbook-fittings/elbow-2in`
///
/// # Example
/// ```
/// let k = hydraulics::fittings::crane::k_of_length_ratio(30.0, 0.0525018).unwrap().value;
/// assert!((k - 0.5654).abs() < 1e-4);
/// ```
pub fn k_of_length_ratio(length_ratio: f64, bore_m: f64) -> Result<Answer<f64>, HydraulicsError> {
    let length_ratio = Quantity::LengthRatio.zero_or_more(length_ratio)?;
    let factor = turbulent_friction_factor(bore_m)?;
    answer(length_ratio * factor.value, factor.warnings)
}

/// Computes the length of straight pipe that takes as much head as a minor loss.
///
/// # Equation
/// L = K D / f
///
/// # Inputs
/// `k`: 0 or more. `friction_factor`: Darcy's, above 0. `bore_m`: above 0 m.
///
/// # Returns
/// Length in m.
///
/// # Validity
/// The friction factor decides what is meant: f_T gives Crane's L, the factor of the real pipe the length that may
/// be added to it. In plastic pipe they differ by up to a fifth.
///
/// # Accuracy
/// Two roundings.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotAboveZero`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// Crane Technical Paper 410, equation 2-4 (number from memory).
///
/// # Checked against
/// `validation/handbook-fittings/crane-tp410-7-2`, `validation/handbook-fittings/plumbing-code`
///
/// # Example
/// ```
/// let length_m = hydraulics::fittings::crane::equivalent_length_m(3.6, 0.015, 0.154).unwrap();
/// assert!((length_m - 36.96).abs() < 1e-9);
/// ```
pub fn equivalent_length_m(
    k: f64,
    friction_factor: f64,
    bore_m: f64,
) -> Result<f64, HydraulicsError> {
    let k = Quantity::MinorLoss.zero_or_more(k)?;
    let friction_factor = Quantity::FrictionFactor.above_zero(friction_factor)?;
    finite(k * Quantity::Bore.above_zero(bore_m)? / friction_factor)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use numerics::elementary::pow;

    use super::*;
    use crate::friction::darcy_colebrook;

    #[test]
    fn the_impossible_is_refused() {
        for bore_m in [0.0, -0.05, f64::NAN, f64::INFINITY] {
            assert!(turbulent_friction_factor(bore_m).is_err());
            assert!(k_of_length_ratio(30.0, bore_m).is_err());
            assert!(equivalent_length_m(1.0, 0.02, bore_m).is_err());
        }
        assert!(k_of_length_ratio(-1.0, 0.05).is_err());
        assert!(equivalent_length_m(1.0, 0.0, 0.05).is_err());
    }

    #[test]
    fn a_bore_beyond_the_table_is_told() {
        let warned = |bore_m| k_of_length_ratio(30.0, bore_m).unwrap().warnings.len();
        assert_eq!([0.005, 0.05, 0.8].map(warned), [1, 0, 1]);
    }

    proptest! {
        #[test]
        fn the_one_step_is_close_to_the_root_of_colebrook(bore_m in 0.0157_f64..0.576) {
            let root = darcy_colebrook(7.5e6 * bore_m, 3.4126825352925e-5 * pow(bore_m, -1.0112));
            // What the one step of Clamond leaves at the smallest bore.
            prop_assert!((turbulent_factor(bore_m) / root - 1.0).abs() < 3e-6);
        }

        #[test]
        fn a_larger_fitting_takes_fewer_velocity_heads(bore_m in 0.0157_f64..0.5, more in 1.001_f64..1.1) {
            let k = |bore_m: f64| k_of_length_ratio(30.0, bore_m).unwrap().value;
            prop_assert!(k(bore_m) > k(more * bore_m) && k(more * bore_m) > 0.0);
        }

        #[test]
        fn an_equivalent_length_takes_back_its_ratio(ratio in 1.0_f64..400.0, bore_m in 0.02_f64..0.2) {
            let k = k_of_length_ratio(ratio, bore_m).unwrap().value;
            let factor = turbulent_friction_factor(bore_m).unwrap().value;
            let length_m = equivalent_length_m(k, factor, bore_m).unwrap();
            prop_assert!((length_m / (ratio * bore_m) - 1.0).abs() < 1e-15);
        }
    }
}
