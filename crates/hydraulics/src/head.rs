//! Head of water: pressure, velocity and height in one coin, a length of the flowing water.
//!
//! Every head of this crate is in metres of the water that flows, at standard gravity; what a gauge
//! prints as feet of cold water does not belong here.

use core::f64::consts::PI;

use crate::constants::STANDARD_GRAVITY_M_S2;
use crate::error::HydraulicsError;
use crate::quantity::Quantity;

/// Converts a pressure to the height of a column of water.
///
/// # Equation
/// h = p / (ρ g)
///
/// # Inputs
/// `pressure_pa`: a difference of pressures, of either sign. `density_kg_m3`: above 0.
///
/// # Returns
/// Head in m, of the sign of the pressure.
///
/// # Accuracy
/// Two roundings.
///
/// # Errors
/// [`HydraulicsError::NotFinite`], [`HydraulicsError::NotAboveZero`].
///
/// # Source
/// Hydrostatics; standard gravity.
///
/// # Checked against
/// `validation/pump/handbook`
///
/// # Example
/// ```
/// let head_m = hydraulics::head::pressure_head_m(6894.757, 999.02).unwrap();
/// assert!((head_m / 0.3048 - 2.3089).abs() < 5e-5); // ft of water at 60 degF in 1 psi
/// ```
pub fn pressure_head_m(pressure_pa: f64, density_kg_m3: f64) -> Result<f64, HydraulicsError> {
    let pressure_pa = Quantity::Pressure.finite(pressure_pa)?;
    let density_kg_m3 = Quantity::Density.above_zero(density_kg_m3)?;
    Quantity::Head.finite(pressure_pa / (density_kg_m3 * STANDARD_GRAVITY_M_S2))
}

/// Computes the mean velocity in a full round pipe.
///
/// # Equation
/// v = Q / (π D² / 4)
///
/// # Inputs
/// `flow_m3s`: 0 m³/s or more. `bore_m`: above 0 m.
///
/// # Returns
/// Velocity in m/s.
///
/// # Accuracy
/// Four roundings.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotAboveZero`], [`HydraulicsError::NotFinite`].
///
/// # Source
/// Conservation of mass.
///
/// # Checked against
/// `validation/limits/velocity`
///
/// # Example
/// ```
/// let velocity_m_s = hydraulics::head::velocity_m_s(3.785411784e-3, 0.0525018).unwrap();
/// assert!((velocity_m_s / 0.3048 - 5.737).abs() < 5e-4); // ft/s at 60 gpm in 2 in pipe
/// ```
pub fn velocity_m_s(flow_m3s: f64, bore_m: f64) -> Result<f64, HydraulicsError> {
    let flow_m3s = Quantity::Flow.zero_or_more(flow_m3s)?;
    let bore_m = Quantity::Bore.above_zero(bore_m)?;
    Quantity::Velocity.finite(flow_m3s / (0.25 * PI * bore_m * bore_m))
}

/// Computes the flow that has a given mean velocity in a full round pipe.
///
/// # Equation
/// Q = v π D² / 4
///
/// # Inputs
/// `velocity_m_s`: 0 m/s or more. `bore_m`: above 0 m.
///
/// # Returns
/// Flow in m³/s.
///
/// # Accuracy
/// Four roundings.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotAboveZero`], [`HydraulicsError::NotFinite`].
///
/// # Source
/// Conservation of mass.
///
/// # Checked against
/// `validation/limits/velocity`
///
/// # Example
/// ```
/// let flow_m3s = hydraulics::head::flow_at_velocity_m3s(6.0 * 0.3048, 0.0525018).unwrap();
/// assert!((flow_m3s * 60.0 / 3.785411784e-3 - 62.75).abs() < 5e-3); // gpm at 6 ft/s in 2 in pipe
/// ```
pub fn flow_at_velocity_m3s(velocity_m_s: f64, bore_m: f64) -> Result<f64, HydraulicsError> {
    let velocity_m_s = Quantity::Velocity.zero_or_more(velocity_m_s)?;
    let bore_m = Quantity::Bore.above_zero(bore_m)?;
    Quantity::Flow.finite(velocity_m_s * (0.25 * PI * bore_m * bore_m))
}

/// Computes the head that is in the motion of the water.
///
/// # Equation
/// h = v² / (2 g)
///
/// # Inputs
/// `velocity_m_s`: mean velocity, of either sign.
///
/// # Returns
/// Head in m.
///
/// # Validity
/// An even velocity over the bore: the factor for its profile, 1.03 to 1.08 in turbulent flow (from memory), is
/// left out, as pump standards do.
///
/// # Accuracy
/// Two roundings.
///
/// # Errors
/// [`HydraulicsError::NotFinite`].
///
/// # Source
/// Bernoulli's equation.
///
/// # Checked against
/// `validation/pump/handbook`
///
/// # Example
/// ```
/// let head_m = hydraulics::head::velocity_head_m(2.0).unwrap();
/// assert!((head_m - 0.20394).abs() < 5e-6); // m
/// ```
pub fn velocity_head_m(velocity_m_s: f64) -> Result<f64, HydraulicsError> {
    let velocity_m_s = Quantity::Velocity.finite(velocity_m_s)?;
    Quantity::Head.finite(velocity_m_s * velocity_m_s / (2.0 * STANDARD_GRAVITY_M_S2))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn the_impossible_is_refused() {
        assert!(pressure_head_m(f64::NAN, 1000.0).is_err());
        assert!(pressure_head_m(1e5, 0.0).is_err());
        assert!(pressure_head_m(1e300, 1e-300).is_err());
        assert!(velocity_m_s(-1e-3, 0.05).is_err());
        assert!(velocity_m_s(1e300, 1e-100).is_err());
        assert!(flow_at_velocity_m3s(2.0, 0.0).is_err());
        assert!(velocity_head_m(1e200).is_err());
    }

    proptest! {
        #[test]
        fn a_flow_at_a_velocity_has_that_velocity(velocity in 0.01_f64..10.0, bore in 0.01_f64..0.5) {
            let flow = flow_at_velocity_m3s(velocity, bore).unwrap();
            let back = velocity_m_s(flow, bore).unwrap();
            // One product and one quotient by the same area.
            prop_assert!((back / velocity - 1.0).abs() < 1e-15);
        }

        #[test]
        fn a_lighter_water_stands_higher(pressure in 1.0_f64..1e6, density in 900.0_f64..1100.0) {
            prop_assert!(pressure_head_m(pressure, density).unwrap() > pressure_head_m(pressure, 1.001 * density).unwrap());
        }
    }
}
