//! Orifice plates and nozzles that stand in a pipe, and the head that they take for good.
//!
//! Its own file holds the flow through an orifice plate.

pub mod orifice_plate;

use core::f64::consts::PI;

use numerics::elementary::pow_whole;

use super::{answer, finite};
use crate::error::HydraulicsError;
use crate::quantity::Quantity;
use crate::warning::{Answer, Warning};

/// A plate or a nozzle in a pipe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Meter {
    /// Bore of the pipe in m.
    pub bore_m: f64,
    /// Diameter of the orifice, or of the nozzle's throat, in m: less than the bore.
    pub orifice_m: f64,
}

impl Meter {
    /// Diameter ratio β, after the check.
    fn ratio(&self) -> Result<f64, HydraulicsError> {
        let bore_m = Quantity::Bore.above_zero(self.bore_m)?;
        let quantity = Quantity::OrificeDiameter;
        let orifice_m = quantity.above_zero(self.orifice_m)?;
        if orifice_m < bore_m {
            Ok(orifice_m / bore_m)
        } else {
            Err(HydraulicsError::FillsBore {
                quantity,
                value_m: orifice_m,
                bore_m,
            })
        }
    }

    /// Flow over √(2 Δp / ρ) for C = 1, in m²: the area with the velocity of approach.
    fn area_of_approach_m2(&self, ratio: f64) -> f64 {
        let area_m2 = 0.25 * PI * self.orifice_m * self.orifice_m;
        area_m2 / (1.0 - pow_whole(ratio, 4)).sqrt()
    }
}

/// Computes the discharge coefficient of a long-radius nozzle.
///
/// # Equation
/// C = 0.9965 − 0.00653 √(1e6 β / Re)
///
/// # Inputs
/// `nozzle`: bore above 0 m, throat above 0 m and less than the bore. `reynolds`: in the pipe, above 0.
///
/// # Returns
/// C, without the velocity of approach.
///
/// # Validity
/// D from 50 to 630 mm, β from 0.2 to 0.8, Re from 1e4 to 1e7 (from memory). Outside the answer carries a warning.
///
/// # Accuracy
/// 2 % (from memory).
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::FillsBore`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// ISO 5167-3:2003, as printed in the Python package fluids 1.3.1 (`fluids.flow_meter.C_long_radius_nozzle`).
///
/// # Checked against
/// `validation/fittings/fluids`, `validation/handbook-fittings/crane-tp410-7-31`
///
/// # Example
/// ```
/// use hydraulics::fittings::meter::{Meter, long_radius_nozzle_discharge_coefficient};
/// let nozzle = Meter { bore_m: 0.154051, orifice_m: 0.0611 };
/// let c = long_radius_nozzle_discharge_coefficient(&nozzle, 1.06e5).unwrap().value;
/// assert!((c - 0.9839).abs() < 1e-4);
/// ```
pub fn long_radius_nozzle_discharge_coefficient(
    nozzle: &Meter,
    reynolds: f64,
) -> Result<Answer<f64>, HydraulicsError> {
    const CORRELATION: &str = "long-radius nozzle";
    let ratio = nozzle.ratio()?;
    let reynolds = Quantity::Reynolds.above_zero(reynolds)?;
    let outside = |quantity, value, range| Warning::outside(CORRELATION, quantity, value, range);
    let warnings = [
        outside(Quantity::Bore, nozzle.bore_m, (0.05, 0.63)),
        outside(Quantity::DiameterRatio, ratio, (0.2, 0.8)),
        outside(Quantity::Reynolds, reynolds, (1e4, 1e7)),
    ];
    let coefficient = 0.9965 - 0.00653 * (1e6 * ratio / reynolds).sqrt();
    answer(
        Quantity::DischargeCoefficient.above_zero(coefficient)?,
        warnings.into_iter().flatten(),
    )
}

/// Computes what a plate or a nozzle takes for good, as a loss coefficient.
///
/// # Equation
/// K = (√(1 − β⁴ (1 − C²)) / (C β²) − 1)²
///
/// # Inputs
/// `meter`: bore above 0 m, orifice above 0 m and less than the bore. `discharge_coefficient`: C without the velocity of
/// approach, above 0 and at most 1.
///
/// # Returns
/// K on the velocity in the pipe.
///
/// # Validity
/// Six bores and more of straight pipe behind it, in which pressure recovers.
///
/// # Accuracy
/// As C; the stream between plate and recovery follows from momentum.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::OutOfRange`], [`HydraulicsError::FillsBore`],
/// [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// ISO 5167-2:2003, section 5.4 (number from memory), as printed in the Python package fluids 1.3.1
/// (`fluids.flow_meter.discharge_coefficient_to_K`).
///
/// # Checked against
/// `validation/fittings/fluids`
///
/// # Example
/// ```
/// use hydraulics::fittings::meter::{Meter, meter_k};
/// let k = meter_k(&Meter { bore_m: 0.07366, orifice_m: 0.05 }, 0.61512).unwrap();
/// assert!((k - 5.23143).abs() < 1e-5);
/// ```
pub fn meter_k(meter: &Meter, discharge_coefficient: f64) -> Result<f64, HydraulicsError> {
    let (root, share) = recovery(meter, discharge_coefficient)?;
    let excess = root / share - 1.0;
    finite(excess * excess)
}

/// Computes the pressure that a plate or a nozzle takes for good.
///
/// # Equation
/// Δp_loss = Δp (r − C β²) / (r + C β²), r = √(1 − β⁴ (1 − C²))
///
/// # Inputs
/// As [`meter_k`]; `pressure_difference_pa`: between the taps, 0 Pa or more.
///
/// # Returns
/// Pressure in Pa, less than the difference between the taps.
///
/// # Validity
/// As [`meter_k`].
///
/// # Accuracy
/// As [`meter_k`].
///
/// # Errors
/// As [`meter_k`]; [`HydraulicsError::BelowZero`].
///
/// # Source
/// ISO 5167-2:2003, equation 7 (number from memory), as printed in the Python package fluids 1.3.1
/// (`fluids.flow_meter.dP_orifice`).
///
/// # Checked against
/// `validation/fittings/fluids`, `validation/handbook-fittings/crane-tp410-7-31`
///
/// # Example
/// ```
/// use hydraulics::fittings::meter::{Meter, permanent_loss_pa};
/// let loss_pa = permanent_loss_pa(&Meter { bore_m: 0.07366, orifice_m: 0.05 }, 0.61512, 17_000.0).unwrap();
/// assert!((loss_pa - 9069.47).abs() < 0.01);
/// ```
pub fn permanent_loss_pa(
    meter: &Meter,
    discharge_coefficient: f64,
    pressure_difference_pa: f64,
) -> Result<f64, HydraulicsError> {
    let (root, share) = recovery(meter, discharge_coefficient)?;
    let difference_pa = Quantity::PressureDrop.zero_or_more(pressure_difference_pa)?;
    finite(difference_pa * ((root - share) / (root + share)))
}

/// √(1 − β⁴ (1 − C²)) and C β², of which both ways to state the loss are made.
fn recovery(meter: &Meter, discharge_coefficient: f64) -> Result<(f64, f64), HydraulicsError> {
    let ratio = meter.ratio()?;
    let c = Quantity::DischargeCoefficient.above_zero(discharge_coefficient)?;
    Quantity::DischargeCoefficient.within(c, (0.0, 1.0))?;
    let root = (1.0 - pow_whole(ratio, 4) * (1.0 - c * c)).sqrt();
    Ok((root, c * ratio * ratio))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const PLATE: Meter = Meter {
        bore_m: 0.1,
        orifice_m: 0.05,
    };

    #[test]
    fn the_impossible_is_refused() {
        let wide = Meter {
            orifice_m: 0.1,
            ..PLATE
        };
        assert_eq!(
            meter_k(&wide, 0.6).unwrap_err().to_string(),
            "the diameter of the orifice is 0.1 m in a bore of 0.1 m; expected less than the bore"
        );
        assert!(long_radius_nozzle_discharge_coefficient(&PLATE, f64::NAN).is_err());
        assert!(meter_k(&PLATE, 1.2).is_err() && meter_k(&PLATE, 0.0).is_err());
        assert!(permanent_loss_pa(&PLATE, 0.6, -1.0).is_err());
    }

    #[test]
    fn a_nozzle_out_of_the_standard_is_told() {
        let nozzle = long_radius_nozzle_discharge_coefficient(&PLATE, 5e3).unwrap();
        assert_eq!(nozzle.warnings.len(), 1);
        // In next to no flow the formula goes below zero, where nothing is meant by it.
        assert!(long_radius_nozzle_discharge_coefficient(&PLATE, 1.0).is_err());
    }

    proptest! {
        /// Both ways to state the loss are one: K v²/2 is the part of the tap pressure that stays lost.
        #[test]
        fn the_loss_as_pressure_is_the_loss_as_coefficient(ratio in 0.1_f64..0.9, c in 0.5_f64..1.0) {
            let meter = Meter { orifice_m: ratio * PLATE.bore_m, ..PLATE };
            let difference_pa = 1e4;
            let velocity_head_pa = {
                let flow_m3s = c * meter.area_of_approach_m2(ratio) * f64::sqrt(2.0 * difference_pa / 1e3);
                let velocity_m_s = flow_m3s / (0.25 * PI * meter.bore_m * meter.bore_m);
                0.5 * 1e3 * velocity_m_s * velocity_m_s
            };
            let by_k = meter_k(&meter, c).unwrap() * velocity_head_pa;
            let by_pressure = permanent_loss_pa(&meter, c, difference_pa).unwrap();
            // Near β = 0.9 and C = 1 the difference of two nearly equal numbers loses two digits.
            prop_assert!((by_k / by_pressure - 1.0).abs() < 1e-12);
            prop_assert!(by_pressure < difference_pa && by_pressure > 0.0);
        }

        #[test]
        fn a_plate_takes_less_the_wider_it_is(ratio in 0.1_f64..0.9) {
            let k = |ratio: f64| meter_k(&Meter { orifice_m: ratio * PLATE.bore_m, ..PLATE }, 0.61).unwrap();
            prop_assert!(k(ratio) > k(ratio + 0.05) && k(ratio + 0.05) > 0.0);
        }
    }
}
