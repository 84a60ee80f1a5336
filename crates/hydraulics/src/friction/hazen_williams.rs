//! The Hazen-Williams formula, for handbook work.

use core::f64::consts::PI;

use numerics::elementary::pow;

use crate::error::HydraulicsError;
use crate::quantity::Quantity;

/// Computes the friction head of water in a pipe by the Hazen-Williams formula.
///
/// # Equation
/// v = 1.318 C R^0.63 S^0.54 in feet and seconds, R = D/4 the hydraulic radius, S = h/L the slope of the energy line.
/// The same in SI has the coefficient 1.318 (0.3048 m)^0.37 = 0.84918.
///
/// # Inputs
/// `length_m`: 0 or more. `flow_m3s`: 0 or more. `bore_m`: above 0. `c`: the coefficient C, above 0; 150
/// ([`PLASTIC_PIPE_C`](super::PLASTIC_PIPE_C)) for plastic pipe in most handbooks, 140 in some.
///
/// # Returns
/// Head in m.
///
/// # Validity
/// Water at about 16 °C in turbulent flow, pipe of 2 in and more, velocity near 1 m/s. The formula knows no
/// viscosity: it reads 1 to 6 % high in warm pool water. Outside it gives a value without warning; for one with
/// warnings, beside Darcy-Weisbach, see [`both_friction_laws`](super::both_friction_laws).
///
/// # Accuracy
/// Against Darcy-Weisbach in PVC pipe: −14 to +7 % at 20 °C. The forms in use differ by 0.3 %; this one agrees
/// with the handbook table that it is checked against.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::BelowZero`], [`HydraulicsError::HeadNotFinite`].
///
/// # Source
/// G. S. Williams, A. Hazen, Hydraulic Tables, 3rd edition, Wiley 1920; coefficient as in common US use, from memory.
///
/// # Checked against
/// `validation/hazen/fluids`, `validation/handbook-friction/illinois-77-906`
///
/// # Example
/// ```
/// let head_m = hydraulics::friction::hazen_williams_head_m(30.48, 3.785411784e-3, 0.0525018, 150.0).unwrap();
/// assert!((head_m / 0.3048 - 5.580).abs() < 5e-4); // ft in 100 ft of 2 in pipe at 60 gpm
/// ```
pub fn hazen_williams_head_m(
    length_m: f64,
    flow_m3s: f64,
    bore_m: f64,
    c: f64,
) -> Result<f64, HydraulicsError> {
    /// 1.318 · 0.3048^0.37, m^0.37/s.
    const COEFFICIENT: f64 = 0.849_182_325_631_969_2;
    let length_m = Quantity::Length.zero_or_more(length_m)?;
    let flow_m3s = Quantity::Flow.zero_or_more(flow_m3s)?;
    let bore_m = Quantity::Bore.above_zero(bore_m)?;
    let c = Quantity::HazenWilliamsC.above_zero(c)?;
    let velocity_m_s = flow_m3s / (0.25 * PI * bore_m * bore_m);
    let root_of_slope = velocity_m_s / (COEFFICIENT * c * pow(0.25 * bore_m, 0.63));
    let head_m = length_m * pow(root_of_slope, 1.0 / 0.54);
    if head_m.is_finite() {
        Ok(head_m)
    } else {
        Err(HydraulicsError::HeadNotFinite { flow_m3s, bore_m })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn the_hazen_williams_coefficient_is_the_customary_one_in_metres() {
        let si = 1.318 * pow(0.3048, 0.37);
        let radius_m = 0.25 * 0.05;
        let area_m2 = PI * radius_m * 0.05;
        // S = 1 where v = coefficient C R^0.63.
        let flow_m3s = area_m2 * si * 150.0 * pow(radius_m, 0.63);
        let head_m = hazen_williams_head_m(1.0, flow_m3s, 0.05, 150.0).unwrap();
        // A dozen roundings, doubled by the power 1/0.54.
        assert!((head_m - 1.0).abs() < 1e-14);
    }

    #[test]
    fn hazen_williams_refuses_what_no_pipe_has() {
        for (length_m, flow_m3s, bore_m, c) in [
            (-1.0, 0.01, 0.05, 150.0),
            (1.0, -0.01, 0.05, 150.0),
            (1.0, 0.01, 0.0, 150.0),
            (1.0, 0.01, 0.05, f64::NAN),
            (1.0, 1e200, 1e-60, 150.0),
        ] {
            assert!(hazen_williams_head_m(length_m, flow_m3s, bore_m, c).is_err());
        }
        assert!(hazen_williams_head_m(1.0, 0.0, 0.05, 150.0).unwrap().abs() < f64::MIN_POSITIVE);
    }

    proptest! {
        #[test]
        fn hazen_williams_scales(flow in 1e-5_f64..0.1, bore in 0.01_f64..0.3) {
            let head = |length: f64, c: f64| hazen_williams_head_m(length, flow, bore, c).unwrap();
            // Head is proportional to length, and to C to the power -1/0.54; a few roundings.
            prop_assert!((head(20.0, 150.0) / head(10.0, 150.0) / 2.0 - 1.0).abs() < 1e-14);
            let ratio = head(10.0, 140.0) / head(10.0, 150.0);
            prop_assert!((ratio / pow(150.0 / 140.0, 1.0 / 0.54) - 1.0).abs() < 1e-13);
        }
    }
}
