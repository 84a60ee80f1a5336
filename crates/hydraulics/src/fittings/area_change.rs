//! Steps and cones between two bores.
//!
//! Every coefficient here stands on the velocity in the smaller bore, whichever way the water goes.

use core::f64::consts::PI;

use numerics::elementary::{atan, pow_whole, sin};

use super::answer;
use crate::error::HydraulicsError;
use crate::quantity::Quantity;
use crate::warning::{Answer, Warning};

/// The total angle of a step: a cone without length.
const STEP_DEG: f64 = 180.0;

/// The total angle at which Crane changes from one law of cones to the other.
const WIDE_CONE_DEG: f64 = 45.0;

/// Computes the loss coefficient of a cone between two bores after Crane, either way.
///
/// # Equation
/// With β = D_small / D_large and s = sin(θ/2). Widening: K = 2.6 s (1 − β²)² below θ = 45°, else (1 − β²)² (Borda and
/// Carnot). Narrowing: K = 0.8 s (1 − β²) below θ = 45°, else 0.5 √s (1 − β²)
///
/// # Inputs
/// `from_bore_m`, `to_bore_m`: the bores in the order in which the water meets them, above 0 m. `angle_deg`: the total
/// angle of the cone, above 0° and up to 180°, which is a step.
///
/// # Returns
/// K on the velocity in the smaller bore; 0 where the bores are equal.
///
/// # Validity
/// Turbulent flow. Below some 8° of total angle friction outweighs what is counted here (common statement, no
/// source): narrower cones carry a warning.
///
/// # Accuracy
/// The step that widens follows from momentum, within a few percent. The two laws of cones meet within 1.1 % at 45°,
/// not exactly.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::OutOfRange`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// Crane Technical Paper 410, 2009, formulas 1 to 4 of page A-27, as printed in the Python package fluids 1.3.1
/// (`fluids.fittings.contraction_conical_Crane`, `diffuser_conical_Crane`).
///
/// # Checked against
/// `validation/fittings/fluids`
///
/// # Example
/// ```
/// let k = hydraulics::fittings::area_change::cone_k(0.0525018, 0.040894, 30.0).unwrap().value;
/// assert!((k - 0.0814).abs() < 1e-4); // 2 in to 1-1/2 in
/// ```
pub fn cone_k(
    from_bore_m: f64,
    to_bore_m: f64,
    angle_deg: f64,
) -> Result<Answer<f64>, HydraulicsError> {
    /// The narrowest cone that is not mostly friction.
    const NARROWEST_DEG: f64 = 8.0;
    let from_bore_m = Quantity::Bore.above_zero(from_bore_m)?;
    let to_bore_m = Quantity::Bore.above_zero(to_bore_m)?;
    let angle_deg = Quantity::Angle.above_zero(angle_deg)?;
    Quantity::Angle.within(angle_deg, (0.0, STEP_DEG))?;
    let half_sine = sin(angle_deg * (0.5 * PI / 180.0));
    let area_lost = area_lost(from_bore_m, to_bore_m);
    let widens = to_bore_m > from_bore_m;
    let k = match (widens, angle_deg < WIDE_CONE_DEG) {
        (true, true) => 2.6 * half_sine * area_lost * area_lost,
        (true, false) => area_lost * area_lost,
        (false, true) => 0.8 * half_sine * area_lost,
        (false, false) => 0.5 * half_sine.sqrt() * area_lost,
    };
    let cone = (NARROWEST_DEG, STEP_DEG);
    answer(
        k,
        Warning::outside("Crane's cones", Quantity::Angle, angle_deg, cone),
    )
}

/// 1 − β², the part of the larger area that the smaller one lacks.
fn area_lost(one_bore_m: f64, other_bore_m: f64) -> f64 {
    let ratio = one_bore_m.min(other_bore_m) / one_bore_m.max(other_bore_m);
    (1.0 - ratio) * (1.0 + ratio)
}

/// Computes the loss coefficient of a step between two bores, either way.
///
/// # Equation
/// Widening: K = (1 − β²)². Narrowing: K = 0.5 (1 − β²). β = D_small / D_large
///
/// # Inputs
/// `from_bore_m`, `to_bore_m`: the bores in the order in which the water meets them, above 0 m.
///
/// # Returns
/// K on the velocity in the smaller bore; 0 where the bores are equal.
///
/// # Validity
/// Turbulent flow, sharp edges.
///
/// # Accuracy
/// As [`cone_k`]. For a step that narrows, [`rennels_contraction_k`] is up to 38 % higher, and lower where the bores are
/// nearly equal.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// Borda and Carnot; Crane Technical Paper 410, formulas 2 and 4 with θ = 180°.
///
/// # Checked against
/// `validation/fittings/fluids`
///
/// # Example
/// ```
/// let k = hydraulics::fittings::area_change::step_k(0.040894, 0.0525018).unwrap();
/// assert!((k - 0.1547).abs() < 1e-4); // 1-1/2 in to 2 in
/// ```
pub fn step_k(from_bore_m: f64, to_bore_m: f64) -> Result<f64, HydraulicsError> {
    Ok(cone_k(from_bore_m, to_bore_m, STEP_DEG)?.value)
}

/// Computes the loss coefficient of a sharp step to a smaller bore after Rennels.
///
/// # Equation
/// λ = 1 + 0.622 (1 − 0.215 β² − 0.785 β⁵); K = 0.0696 (1 − β⁵) λ² + (λ − 1)²
///
/// # Inputs
/// `from_bore_m`: above 0 m. `to_bore_m`: above 0 m and at most `from_bore_m`.
///
/// # Returns
/// K on the velocity in the smaller bore; 0 where the bores are equal.
///
/// # Validity
/// Turbulent flow, a sharp edge.
///
/// # Accuracy
/// Not stated in what was read. It counts the jet that narrows behind the edge, which Crane's 0.5 does not.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::OutOfRange`].
///
/// # Source
/// D. C. Rennels, H. M. Hudson, Pipe Flow: A Practical and Comprehensive Guide, Wiley 2012, as printed in the Python package
/// fluids 1.3.1 (`fluids.fittings.contraction_sharp`).
///
/// # Checked against
/// `validation/fittings/fluids`
///
/// # Example
/// ```
/// let k = hydraulics::fittings::area_change::rennels_contraction_k(0.0525018, 0.040894).unwrap();
/// assert!((k - 0.2581).abs() < 1e-4); // 2 in to 1-1/2 in
/// ```
pub fn rennels_contraction_k(from_bore_m: f64, to_bore_m: f64) -> Result<f64, HydraulicsError> {
    let from_bore_m = Quantity::Bore.above_zero(from_bore_m)?;
    let to_bore_m = Quantity::Bore.above_zero(to_bore_m)?;
    Quantity::Bore.within(to_bore_m, (0.0, from_bore_m))?;
    let ratio = to_bore_m / from_bore_m;
    let fifth = pow_whole(ratio, 5);
    let jet = 0.622 * (1.0 - 0.215 * ratio * ratio - 0.785 * fifth);
    Ok(0.0696 * (1.0 - fifth) * (1.0 + jet) * (1.0 + jet) + jet * jet)
}

/// Computes the total angle of a cone of a given length.
///
/// # Equation
/// θ = 2 arctan(|D₁ − D₂| / (2 L))
///
/// # Inputs
/// `one_bore_m`, `other_bore_m`: above 0 m. `length_m`: of the cone along its axis, 0 m or more; 0 is a step.
///
/// # Returns
/// Total angle in degrees.
///
/// # Validity
/// A straight cone.
///
/// # Accuracy
/// A few roundings.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::BelowZero`].
///
/// # Source
/// Plane geometry.
///
/// # Checked against
/// A cone as long as the difference of its radii opens by 90°.
///
/// # Example
/// ```
/// let angle_deg = hydraulics::fittings::area_change::cone_angle_deg(0.05, 0.07, 0.01).unwrap();
/// assert!((angle_deg - 90.0).abs() < 1e-12);
/// ```
pub fn cone_angle_deg(
    one_bore_m: f64,
    other_bore_m: f64,
    length_m: f64,
) -> Result<f64, HydraulicsError> {
    let one_bore_m = Quantity::Bore.above_zero(one_bore_m)?;
    let other_bore_m = Quantity::Bore.above_zero(other_bore_m)?;
    let length_m = Quantity::Length.zero_or_more(length_m)?;
    let rise_m = 0.5 * (one_bore_m - other_bore_m).abs();
    if length_m > 0.0 {
        Ok(2.0 * atan(rise_m / length_m) * (180.0 / PI))
    } else {
        Ok(STEP_DEG)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn the_impossible_is_refused() {
        for (from_m, to_m, angle_deg) in [
            (0.0, 0.05, 30.0),
            (0.05, -0.05, 30.0),
            (0.05, f64::NAN, 30.0),
            (0.05, 0.04, 0.0),
            (0.05, 0.04, 181.0),
        ] {
            assert!(cone_k(from_m, to_m, angle_deg).is_err());
        }
        assert!(rennels_contraction_k(0.04, 0.05).is_err());
        assert!(cone_angle_deg(0.05, 0.04, -1.0).is_err());
    }

    #[test]
    fn a_cone_of_hardly_any_angle_is_told() {
        assert_eq!(cone_k(0.05, 0.04, 5.0).unwrap().warnings.len(), 1);
        assert!(cone_k(0.05, 0.04, 180.0).unwrap().warnings.is_empty());
    }

    #[test]
    fn a_cone_without_length_is_a_step() {
        assert!((cone_angle_deg(0.05, 0.04, 0.0).unwrap() - STEP_DEG).abs() < 1e-15);
        // A long cone hardly opens: the arc is its tangent within the cube of 5e-5.
        let angle_deg = cone_angle_deg(0.05, 0.04, 100.0).unwrap();
        assert!((angle_deg / (1e-4 * 180.0 / PI) - 1.0).abs() < 1e-8);
    }

    proptest! {
        #[test]
        fn a_loss_grows_with_the_step_and_ends_with_it(bore in 0.02_f64..0.2, ratio in 0.05_f64..0.99, angle in 1.0_f64..180.0) {
            let smaller = ratio * bore;
            let closer = 0.5 * (smaller + bore);
            for k in [
                (|from: f64, to: f64, angle: f64| cone_k(from, to, angle).unwrap().value) as fn(f64, f64, f64) -> f64,
                |from, to, angle| cone_k(to, from, angle).unwrap().value,
                |from, to, _| step_k(from, to).unwrap(),
                |from, to, _| rennels_contraction_k(from, to).unwrap(),
            ] {
                let (far, near) = (k(bore, smaller, angle), k(bore, closer, angle));
                prop_assert!(far > near && near > 0.0);
                prop_assert!(k(bore, bore, angle).abs() < f64::MIN_POSITIVE);
                // Slope of K at equal bores is below 5 in the ratio.
                prop_assert!(k(bore, bore * (1.0 - 1e-9), angle) < 1e-8);
            }
        }

        #[test]
        fn a_step_takes_no_less_than_a_cone(one in 0.02_f64..0.2, other in 0.02_f64..0.2, angle in 1.0_f64..180.0) {
            // At 45 degrees the law of narrow cones lies below that of wide ones.
            prop_assert!(cone_k(one, other, angle).unwrap().value <= step_k(one, other).unwrap());
        }
    }
}
