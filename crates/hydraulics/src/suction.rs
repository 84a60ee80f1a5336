//! What is left above boiling at the pump inlet, and what a vacuum gauge can show at all.
//!
//! Heads are above vapour pressure, at the height of the pump centre. What a pump asks for is no
//! matter of this file: it comes from its maker, and [`affinity`](crate::affinity) moves it to another speed.

use crate::error::HydraulicsError;
use crate::head::{pressure_head_m, velocity_head_m, velocity_m_s};
use crate::quantity::Quantity;
use crate::water::Water;

/// The way of the water to the pump, by levels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SuctionLevels {
    /// Absolute pressure on the surface of the water, Pa: that of the atmosphere over a pool.
    pub surface_pressure_pa: f64,
    /// Height of the surface above the pump centre, m; negative where the pump lifts.
    pub surface_above_pump_m: f64,
    /// Head that the suction line takes, m.
    pub loss_m: f64,
}

/// A vacuum gauge at the pump inlet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InletVacuum {
    /// Pressure of the atmosphere, Pa.
    pub atmospheric_pressure_pa: f64,
    /// What the gauge shows below the atmosphere, Pa; negative where it shows a pressure.
    pub vacuum_pa: f64,
    /// Height of the gauge above the pump centre, m, where its line is full of water; where the line has
    /// drained to air, as that of a vacuum mostly has, the height of the tap.
    pub gauge_above_pump_m: f64,
    /// Flow through the pipe of the tap, m³/s.
    pub flow_m3s: f64,
    /// Bore of the pipe at the tap, m.
    pub bore_m: f64,
}

/// Computes the net positive suction head that levels leave.
///
/// # Equation
/// NPSH = (p − p_v) / (ρ g) + z − h
///
/// # Inputs
/// `levels`: surface pressure above 0 Pa absolute; height of the surface above the pump; loss 0 m or more.
/// `water`: its density and vapour pressure.
///
/// # Returns
/// Net positive suction head in m, negative where the water boils before it arrives.
///
/// # Validity
/// Water free of air: gas coming out of solution disturbs a pump before boiling does.
///
/// # Accuracy
/// That of the loss; the rest is a few roundings.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::BelowZero`], [`HydraulicsError::NotFinite`].
///
/// # Source
/// Crane Technical Paper 410, chapter 7 (form from memory); ISO 9906:2012, 3.2.22 (number from memory).
///
/// # Checked against
/// `validation/pump/handbook`
///
/// # Example
/// ```
/// use hydraulics::{suction::{SuctionLevels, npsh_from_levels_m}, water::Water};
/// let levels = SuctionLevels { surface_pressure_pa: 101_325.0, surface_above_pump_m: -0.6096, loss_m: 1.8288 };
/// let npsh_m = npsh_from_levels_m(&levels, &Water::fresh(302.039).unwrap()).unwrap();
/// assert!((npsh_m / 0.3048 - 24.70).abs() < 0.01); // ft, at 84 degF
/// ```
pub fn npsh_from_levels_m(levels: &SuctionLevels, water: &Water) -> Result<f64, HydraulicsError> {
    Quantity::Height.finite(levels.surface_above_pump_m)?;
    Quantity::Head.zero_or_more(levels.loss_m)?;
    Quantity::Pressure.above_zero(levels.surface_pressure_pa)?;
    let above_boiling_m = boiling_margin_m(levels.surface_pressure_pa, water)?;
    Quantity::Head.finite(above_boiling_m + levels.surface_above_pump_m - levels.loss_m)
}

/// Computes the net positive suction head from a vacuum gauge at the pump inlet.
///
/// # Equation
/// NPSH = (p_atm − p_vac − p_v) / (ρ g) + z + v² / (2 g)
///
/// # Inputs
/// `gauge`: atmosphere above 0 Pa; vacuum at most that of the atmosphere; height of the gauge above the pump
/// centre; flow 0 m³/s or more; bore above 0 m. `water`: its density and vapour pressure.
///
/// # Returns
/// Net positive suction head in m.
///
/// # Validity
/// The tap lies at the pump inlet: what the pipe takes between both is not known here.
///
/// # Accuracy
/// That of the gauge; the rest is a few roundings.
///
/// # Errors
/// [`HydraulicsError::VacuumBeyondAtmosphere`]: the reading is wrong. Else as [`npsh_from_levels_m`].
///
/// # Source
/// As [`npsh_from_levels_m`].
///
/// # Checked against
/// `validation/pump/handbook`
///
/// # Example
/// ```
/// use hydraulics::{suction::{InletVacuum, npsh_from_gauge_m}, water::Water};
/// let gauge = InletVacuum {
///     atmospheric_pressure_pa: 84_307.0,
///     vacuum_pa: 33_863.89,
///     gauge_above_pump_m: 0.0,
///     flow_m3s: 3.785411784e-3,
///     bore_m: 0.0525018,
/// };
/// let npsh_m = npsh_from_gauge_m(&gauge, &Water::fresh(302.039).unwrap()).unwrap();
/// assert!((npsh_m / 0.3048 - 16.12).abs() < 0.01); // ft, at 84 degF and 5000 ft
/// ```
pub fn npsh_from_gauge_m(gauge: &InletVacuum, water: &Water) -> Result<f64, HydraulicsError> {
    let atmosphere_pa = Quantity::Pressure.above_zero(gauge.atmospheric_pressure_pa)?;
    Quantity::Height.finite(gauge.gauge_above_pump_m)?;
    let vacuum_pa = Quantity::Pressure.finite(gauge.vacuum_pa)?;
    if vacuum_pa > atmosphere_pa {
        return Err(HydraulicsError::VacuumBeyondAtmosphere {
            vacuum_pa,
            atmosphere_pa,
        });
    }
    let above_boiling_m = boiling_margin_m(atmosphere_pa - vacuum_pa, water)?;
    let velocity_m = velocity_head_m(velocity_m_s(gauge.flow_m3s, gauge.bore_m)?)?;
    Quantity::Head.finite(above_boiling_m + gauge.gauge_above_pump_m + velocity_m)
}

/// Computes how far water is from boiling, as a head.
///
/// # Equation
/// h = (p − p_v) / (ρ g)
///
/// # Inputs
/// `absolute_pressure_pa`: of the water, 0 Pa or more. `water`: its density and vapour pressure.
///
/// # Returns
/// Head in m; below zero the water boils.
///
/// # Accuracy
/// A few roundings; otherwise that of the vapour pressure.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotAboveZero`].
///
/// # Source
/// Definition.
///
/// # Checked against
/// `validation/pump/handbook`
///
/// # Example
/// ```
/// let water = hydraulics::water::Water::fresh(300.0).unwrap();
/// let margin_m = hydraulics::suction::boiling_margin_m(water.vapour_pressure_pa, &water).unwrap();
/// assert!(margin_m.abs() < 1e-12); // m: it boils
/// ```
pub fn boiling_margin_m(absolute_pressure_pa: f64, water: &Water) -> Result<f64, HydraulicsError> {
    let pressure_pa = Quantity::Pressure.zero_or_more(absolute_pressure_pa)?;
    let vapour_pa = Quantity::Pressure.zero_or_more(water.vapour_pressure_pa)?;
    pressure_head_m(pressure_pa - vapour_pa, water.density_kg_m3)
}

/// Computes the highest vacuum that water can stand under an atmosphere: beyond it the water boils.
///
/// # Equation
/// p_vac = p_atm − p_v
///
/// # Inputs
/// `atmospheric_pressure_pa`: above 0 Pa, for instance that of
/// [`standard_pressure_pa`](crate::atmosphere::standard_pressure_pa). `water`: its vapour pressure.
///
/// # Returns
/// The vacuum in Pa below the atmosphere, negative where the water boils under the atmosphere itself. No gauge shows more than the atmosphere itself, whatever the water: a
/// reading above `atmospheric_pressure_pa` is wrong.
///
/// # Validity
/// Weather moves the atmosphere by about 3 % (from memory).
///
/// # Accuracy
/// One rounding.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::BelowZero`].
///
/// # Source
/// Definition of vacuum and vapour pressure.
///
/// # Checked against
/// `validation/pump/handbook`
///
/// # Example
/// ```
/// use hydraulics::{suction::highest_vacuum_pa, water::Water};
/// let vacuum_pa = highest_vacuum_pa(101_325.0, &Water::fresh(300.0).unwrap()).unwrap();
/// assert!((vacuum_pa / 3386.389 - 28.88).abs() < 0.01); // inHg
/// ```
pub fn highest_vacuum_pa(
    atmospheric_pressure_pa: f64,
    water: &Water,
) -> Result<f64, HydraulicsError> {
    let atmosphere_pa = Quantity::Pressure.above_zero(atmospheric_pressure_pa)?;
    Ok(atmosphere_pa - Quantity::Pressure.zero_or_more(water.vapour_pressure_pa)?)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::constants::STANDARD_ATMOSPHERE_PA;

    fn water() -> Water {
        Water::fresh(300.0).unwrap()
    }

    #[test]
    fn a_vacuum_beyond_the_atmosphere_is_refused() {
        let gauge = InletVacuum {
            atmospheric_pressure_pa: 84_000.0,
            vacuum_pa: 84_001.0,
            gauge_above_pump_m: 0.0,
            flow_m3s: 0.0,
            bore_m: 0.05,
        };
        assert_eq!(
            npsh_from_gauge_m(&gauge, &water()).unwrap_err().to_string(),
            "the vacuum is 84001 Pa, but the atmosphere has only 84000 Pa; expected less than that"
        );
    }

    proptest! {
        /// A gauge that shows what levels and losses make of the atmosphere leads to the same head.
        #[test]
        fn levels_and_gauge_agree(
            rise_m in -3.0_f64..2.0, loss_m in 0.0_f64..3.0, gauge_m in -0.5_f64..0.5, flow in 0.0_f64..8e-3,
        ) {
            let (water, bore_m) = (water(), 0.0525018);
            let velocity_m = velocity_head_m(velocity_m_s(flow, bore_m).unwrap()).unwrap();
            let weight = water.density_kg_m3 * crate::constants::STANDARD_GRAVITY_M_S2;
            let gauge = InletVacuum {
                atmospheric_pressure_pa: STANDARD_ATMOSPHERE_PA,
                vacuum_pa: (loss_m + velocity_m + gauge_m - rise_m) * weight,
                gauge_above_pump_m: gauge_m,
                flow_m3s: flow,
                bore_m,
            };
            let levels = SuctionLevels {
                surface_pressure_pa: STANDARD_ATMOSPHERE_PA,
                surface_above_pump_m: rise_m,
                loss_m,
            };
            let apart_m = npsh_from_gauge_m(&gauge, &water).unwrap()
                - npsh_from_levels_m(&levels, &water).unwrap();
            // Roundings of heads of some ten metres.
            prop_assert!(apart_m.abs() < 1e-13);
        }
    }
}
