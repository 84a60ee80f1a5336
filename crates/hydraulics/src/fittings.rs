//! Minor losses: what fittings, valves, tees, changes of bore and outlets take from the water.
//!
//! Each loss is a coefficient K with h = K v² / (2 g). K means nothing without the velocity that it
//! stands on: here that is the velocity in the bore that the function is given; for a change of bore
//! in the *smaller* one; for a tee in the pipe that carries the *combined* flow. [`k_on_bore`] moves
//! K to another bore. The K of a tee may be negative, because the faster stream drags the slower
//! one along; it is never cut off at zero.
//!
//! Printed tables for one and the same elbow differ by 16 %, and a plumbing code by a factor of two
//! to three: a digit beyond the second tells of arithmetic, not of the fitting. Rivals stand side
//! by side under the names of their authors, and this file does not choose between them.

pub mod area_change;
pub mod bend;
pub mod catalogue;
pub mod crane;
pub mod ends;
pub mod flow_coefficient;
pub mod meter;
pub mod outlet;
pub mod tee;
pub mod three_k;
pub mod two_k;
pub mod valve;

use crate::constants::STANDARD_GRAVITY_M_S2;
use crate::error::HydraulicsError;
use crate::quantity::Quantity;
use crate::warning::{Answer, Warning};

/// Computes the head that a minor loss takes.
///
/// # Equation
/// h = K v² / (2 g)
///
/// # Inputs
/// `k`: loss coefficient, negative only in a tee. `velocity_m_s`: 0 m/s or more, in the bore that K stands on.
///
/// # Returns
/// Head in m, of the sign of K: a negative one is gained.
///
/// # Validity
/// Any K and velocity of one and the same bore.
///
/// # Accuracy
/// Three roundings; otherwise that of K.
///
/// # Errors
/// [`HydraulicsError::BelowZero`] for the velocity, [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// Crane Technical Paper 410, equation 2-2 (number from memory).
///
/// # Checked against
/// `validation/handbook-fittings/crane-tp410-7-35`
///
/// # Example
/// ```
/// let head_m = hydraulics::fittings::minor_loss_head_m(0.57, 1.7487).unwrap();
/// assert!((head_m / 0.3048 - 0.2916).abs() < 1e-4); // ft, a 2 in elbow at 60 gpm
/// ```
pub fn minor_loss_head_m(k: f64, velocity_m_s: f64) -> Result<f64, HydraulicsError> {
    let velocity_m_s = Quantity::Velocity.zero_or_more(velocity_m_s)?;
    finite(k * velocity_m_s * velocity_m_s / (2.0 * STANDARD_GRAVITY_M_S2))
}

/// Moves a loss coefficient to the velocity in another bore.
///
/// # Equation
/// K₂ = K₁ (D₂ / D₁)⁴
///
/// # Inputs
/// `k`: loss coefficient on the velocity in `bore_m`. `bore_m`, `other_bore_m`: above 0 m.
///
/// # Returns
/// The coefficient of the same head on the velocity in the other bore.
///
/// # Validity
/// The same flow through both bores.
///
/// # Accuracy
/// Four roundings.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// Continuity; Crane Technical Paper 410, equation 2-7 (number from memory).
///
/// # Checked against
/// `validation/fittings/fluids`
///
/// # Example
/// ```
/// let on_larger = hydraulics::fittings::k_on_bore(0.5, 0.04, 0.08).unwrap();
/// assert!((on_larger - 8.0).abs() < 1e-14);
/// ```
pub fn k_on_bore(k: f64, bore_m: f64, other_bore_m: f64) -> Result<f64, HydraulicsError> {
    let bore_m = Quantity::Bore.above_zero(bore_m)?;
    let ratio = Quantity::Bore.above_zero(other_bore_m)? / bore_m;
    let area_ratio = ratio * ratio;
    finite(k * area_ratio * area_ratio)
}

/// Passes a finite loss.
fn finite(loss: f64) -> Result<f64, HydraulicsError> {
    if loss.is_finite() {
        Ok(loss)
    } else {
        Err(HydraulicsError::LossNotFinite)
    }
}

/// Passes a finite loss with what is said beside it.
fn answer(
    loss: f64,
    warnings: impl IntoIterator<Item = Warning>,
) -> Result<Answer<f64>, HydraulicsError> {
    Ok(Answer::new(finite(loss)?, warnings))
}

/// Reads a table of (x, y) with rising x along straight lines; beyond an end it stays at the last y.
fn along(table: &[(f64, f64)], x: f64) -> f64 {
    let above = table.partition_point(|&(at, _)| at <= x);
    match (
        above.checked_sub(1).and_then(|i| table.get(i)),
        table.get(above),
    ) {
        (Some(&(x0, y0)), Some(&(x1, y1))) => y0 + (y1 - y0) * ((x - x0) / (x1 - x0)),
        (Some(&(_, y)), None) | (None, Some(&(_, y))) => y,
        (None, None) => f64::NAN,
    }
}

/// Whether a text is a name, whatever the case and the spaces.
fn reads_as(text: &str, name: &str) -> bool {
    let given = text.split_whitespace().map(str::to_lowercase);
    given.eq(name.split(' ').map(str::to_lowercase))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_table_is_read_along_straight_lines_and_held_at_its_ends() {
        let table = [(0.0, 1.0), (2.0, 5.0), (3.0, 4.0)];
        for (x, y) in [
            (-1.0, 1.0),
            (0.0, 1.0),
            (1.0, 3.0),
            (2.0, 5.0),
            (2.5, 4.5),
            (3.0, 4.0),
            (9.0, 4.0),
        ] {
            assert!((along(&table, x) - y).abs() < 1e-15);
        }
    }

    #[test]
    fn the_impossible_is_refused() {
        assert!(minor_loss_head_m(f64::NAN, 1.0).is_err());
        assert!(minor_loss_head_m(1.0, -1.0).is_err());
        assert!(minor_loss_head_m(1e300, 1e10).is_err());
        assert!(k_on_bore(1.0, 0.0, 0.1).is_err());
        assert!(k_on_bore(1.0, 0.1, f64::INFINITY).is_err());
        assert!(k_on_bore(1.0, 1e-100, 1.0).is_err());
    }

    proptest! {
        #[test]
        fn head_goes_with_the_square_of_velocity(k in -1.0_f64..50.0, velocity in 0.01_f64..10.0, factor in 0.1_f64..10.0) {
            let head = |velocity: f64| minor_loss_head_m(k, velocity).unwrap();
            // A handful of roundings of a product.
            prop_assert!((head(factor * velocity) - factor * factor * head(velocity)).abs() <= 1e-14 * head(factor * velocity).abs());
        }

        #[test]
        fn a_loss_keeps_its_head_on_another_bore(k in 0.01_f64..50.0, bore in 0.01_f64..0.2, other in 0.01_f64..0.2, flow in 1e-4_f64..0.05) {
            let velocity = |bore: f64| flow / (0.25 * core::f64::consts::PI * bore * bore);
            let here = minor_loss_head_m(k, velocity(bore)).unwrap();
            let there = minor_loss_head_m(k_on_bore(k, bore, other).unwrap(), velocity(other)).unwrap();
            // A dozen roundings, quadrupled by the fourth power.
            prop_assert!((there / here - 1.0).abs() < 1e-14);
            let back = k_on_bore(k_on_bore(k, bore, other).unwrap(), other, bore).unwrap();
            prop_assert!((back / k - 1.0).abs() < 1e-14);
        }
    }
}
