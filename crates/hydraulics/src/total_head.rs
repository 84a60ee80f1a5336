//! The total head of a pump from two taps, and the power that goes with it.
//!
//! Only what is measured enters; a modelled suction or a curve of the maker does not belong here.

use crate::constants::STANDARD_GRAVITY_M_S2;
use crate::error::HydraulicsError;
use crate::head::{pressure_head_m, velocity_head_m, velocity_m_s};
use crate::quantity::Quantity;

/// Where a pressure is taken.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tap {
    /// Gauge pressure in Pa, negative below the atmosphere.
    pub gauge_pressure_pa: f64,
    /// Height of the gauge in m above any datum, where its line is full of water; that of the tap where the
    /// line has drained to air, as that of a vacuum mostly has.
    pub height_m: f64,
    /// Bore of the pipe at the tap in m; `None` in a vessel, where the water is nearly at rest.
    pub bore_m: Option<f64>,
}

/// Total head by its parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TotalHead {
    /// From the pressures, in m.
    pub pressure_m: f64,
    /// From the heights, in m.
    pub height_m: f64,
    /// From the velocities, in m.
    pub velocity_m: f64,
    /// The sum, in m.
    pub total_m: f64,
}

/// What is common to both taps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stream {
    /// Flow in m³/s.
    pub flow_m3s: f64,
    /// Density in kg/m³.
    pub density_kg_m3: f64,
}

/// Computes the total head between two taps.
///
/// # Equation
/// H = (p₂ − p₁) / (ρ g) + (z₂ − z₁) + (v₂² − v₁²) / (2 g)
///
/// # Inputs
/// `suction`, `discharge`: gauge pressure and height of either sign; bore above 0 m. `stream`: flow 0 m³/s or
/// more, density above 0 kg/m³.
///
/// # Returns
/// Total head and its parts in m of the flowing water.
///
/// # Validity
/// What the pipe takes between the taps and the pump is not in it.
///
/// # Accuracy
/// That of the gauges; the rest is a few roundings.
///
/// # Errors
/// [`HydraulicsError::NotFinite`], [`HydraulicsError::NotAboveZero`], [`HydraulicsError::BelowZero`].
///
/// # Source
/// ISO 9906:2012, 3.2.19 (number from memory).
///
/// # Checked against
/// `validation/pump/handbook`
///
/// # Example
/// ```
/// use hydraulics::total_head::{Stream, Tap, total_head};
/// let suction = Tap { gauge_pressure_pa: -20_318.33, height_m: 0.0, bore_m: Some(0.0627126) };
/// let discharge = Tap { gauge_pressure_pa: 137_895.15, height_m: 0.3048, bore_m: Some(0.0525018) };
/// let stream = Stream { flow_m3s: 3.785411784e-3, density_kg_m3: 996.30 };
/// let head = total_head(&suction, &discharge, &stream).unwrap();
/// assert!((head.total_m / 0.3048 - 54.387).abs() < 0.005); // ft
/// ```
pub fn total_head(
    suction: &Tap,
    discharge: &Tap,
    stream: &Stream,
) -> Result<TotalHead, HydraulicsError> {
    let rise_pa = Quantity::Pressure.finite(discharge.gauge_pressure_pa)?
        - Quantity::Pressure.finite(suction.gauge_pressure_pa)?;
    let pressure_m = pressure_head_m(rise_pa, stream.density_kg_m3)?;
    let height_m =
        Quantity::Height.finite(discharge.height_m)? - Quantity::Height.finite(suction.height_m)?;
    let velocity_m =
        velocity_part_m(discharge, stream.flow_m3s)? - velocity_part_m(suction, stream.flow_m3s)?;
    let total_m = Quantity::Head.finite(pressure_m + height_m + velocity_m)?;
    Ok(TotalHead {
        pressure_m,
        height_m,
        velocity_m,
        total_m,
    })
}

fn velocity_part_m(tap: &Tap, flow_m3s: f64) -> Result<f64, HydraulicsError> {
    Quantity::Flow.zero_or_more(flow_m3s)?;
    tap.bore_m.map_or(Ok(0.0), |bore_m| {
        velocity_head_m(velocity_m_s(flow_m3s, bore_m)?)
    })
}

/// Computes the power that a head gives to the water.
///
/// # Equation
/// P = ρ g Q H
///
/// # Inputs
/// `stream`: flow 0 m³/s or more, density above 0 kg/m³. `head_m`: 0 m or more.
///
/// # Returns
/// Hydraulic power in W.
///
/// # Accuracy
/// Three roundings.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotAboveZero`], [`HydraulicsError::NotFinite`].
///
/// # Source
/// Mechanics; Crane Technical Paper 410, example 7-34.
///
/// # Checked against
/// `validation/pump/handbook`
///
/// # Example
/// ```
/// use hydraulics::total_head::{Stream, hydraulic_power_w};
/// let stream = Stream { flow_m3s: 3.785411784e-3, density_kg_m3: 996.30 };
/// let power_w = hydraulic_power_w(&stream, 54.387 * 0.3048).unwrap();
/// assert!((power_w - 613.1).abs() < 0.1); // W
/// ```
pub fn hydraulic_power_w(stream: &Stream, head_m: f64) -> Result<f64, HydraulicsError> {
    let flow_m3s = Quantity::Flow.zero_or_more(stream.flow_m3s)?;
    let density_kg_m3 = Quantity::Density.above_zero(stream.density_kg_m3)?;
    let head_m = Quantity::Head.zero_or_more(head_m)?;
    Quantity::Power.finite(density_kg_m3 * STANDARD_GRAVITY_M_S2 * flow_m3s * head_m)
}

/// Computes which share of the electrical power arrives in the water.
///
/// # Equation
/// η = P_hydraulic / P_electric
///
/// # Inputs
/// `hydraulic_power_w`: 0 W or more. `electrical_power_w`: above 0 W.
///
/// # Returns
/// Wire-to-water efficiency, a pure number. Above 1 the readings contradict the conservation of energy; the
/// value is returned all the same, so that a caller can say by how much.
///
/// # Accuracy
/// One rounding.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotAboveZero`], [`HydraulicsError::NotFinite`].
///
/// # Source
/// Definition of the overall efficiency, ISO 9906:2012, 3.2.30 (number from memory).
///
/// # Checked against
/// `validation/pump/handbook`
///
/// # Example
/// ```
/// let efficiency = hydraulics::total_head::wire_to_water(613.1, 1100.0).unwrap();
/// assert!((efficiency - 0.5574).abs() < 5e-5);
/// ```
pub fn wire_to_water(
    hydraulic_power_w: f64,
    electrical_power_w: f64,
) -> Result<f64, HydraulicsError> {
    let hydraulic_power_w = Quantity::Power.zero_or_more(hydraulic_power_w)?;
    let electrical_power_w = Quantity::Power.above_zero(electrical_power_w)?;
    Quantity::Efficiency.finite(hydraulic_power_w / electrical_power_w)
}

/// Computes the power that goes into a chain of machines.
///
/// # Equation
/// P_in = P_out / Π η
///
/// # Inputs
/// `power_w`: what the last machine gives, 0 W or more. `efficiencies`: one per machine, above 0 and at most 1;
/// for instance pump, motor, drive.
///
/// # Returns
/// Power in W that the first machine takes.
///
/// # Accuracy
/// One rounding per machine.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotAboveZero`], [`HydraulicsError::OutOfRange`].
///
/// # Source
/// Definition of efficiency; Crane Technical Paper 410, example 7-34.
///
/// # Checked against
/// `validation/pump/handbook`
///
/// # Example
/// ```
/// let wire_w = hydraulics::total_head::power_taken_w(600.0, &[0.75, 0.8]).unwrap();
/// assert!((wire_w - 1000.0).abs() < 1e-9); // W
/// ```
pub fn power_taken_w(power_w: f64, efficiencies: &[f64]) -> Result<f64, HydraulicsError> {
    efficiencies.iter().try_fold(
        Quantity::Power.zero_or_more(power_w)?,
        |power_w, &efficiency| {
            let efficiency = Quantity::Efficiency.above_zero(efficiency)?;
            let efficiency = Quantity::Efficiency.within(efficiency, (0.0, 1.0))?;
            Quantity::Power.finite(power_w / efficiency)
        },
    )
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const STREAM: Stream = Stream {
        flow_m3s: 4e-3,
        density_kg_m3: 997.0,
    };

    const TAP: Tap = Tap {
        gauge_pressure_pa: 1e5,
        height_m: 1.0,
        bore_m: Some(0.05),
    };

    #[test]
    fn a_tap_in_a_vessel_has_no_velocity() {
        let vessel = Tap {
            bore_m: None,
            ..TAP
        };
        let head = total_head(&vessel, &TAP, &STREAM).unwrap();
        let velocity_m = velocity_head_m(velocity_m_s(4e-3, 0.05).unwrap()).unwrap();
        assert_eq!(head.velocity_m.to_bits(), velocity_m.to_bits());
        assert_eq!(head.total_m.to_bits(), velocity_m.to_bits());
    }

    #[test]
    fn the_impossible_is_refused() {
        let backward = Stream {
            flow_m3s: -1e-3,
            ..STREAM
        };
        assert!(total_head(&TAP, &TAP, &backward).is_err());
        assert!(hydraulic_power_w(&STREAM, -1.0).is_err());
        assert!(wire_to_water(100.0, 0.0).is_err());
        assert!(power_taken_w(100.0, &[0.8, 1.1]).is_err());
        assert!(power_taken_w(100.0, &[0.0]).is_err());
    }

    proptest! {
        /// Each side has a head of its own, whatever the other: their difference is the total head.
        #[test]
        fn the_total_is_the_difference_of_both_sides(
            pressure in -5e4_f64..3e5, height in -2.0_f64..2.0, bore in 0.02_f64..0.2,
        ) {
            let other = Tap { gauge_pressure_pa: pressure, height_m: height, bore_m: Some(bore) };
            let side_m = |tap: &Tap| {
                pressure_head_m(tap.gauge_pressure_pa, STREAM.density_kg_m3).unwrap()
                    + tap.height_m
                    + velocity_part_m(tap, STREAM.flow_m3s).unwrap()
            };
            let head = total_head(&TAP, &other, &STREAM).unwrap();
            // Roundings of heads of some tens of metres.
            prop_assert!((head.total_m - (side_m(&other) - side_m(&TAP))).abs() < 1e-13);
            prop_assert!((head.pressure_m + head.height_m + head.velocity_m - head.total_m).abs() < 1e-13);
        }

        #[test]
        fn exchanging_the_taps_turns_the_sign(
            pressure in -5e4_f64..3e5, height in -2.0_f64..2.0, bore in 0.02_f64..0.2,
        ) {
            let other = Tap { gauge_pressure_pa: pressure, height_m: height, bore_m: Some(bore) };
            let there = total_head(&TAP, &other, &STREAM).unwrap().total_m;
            let back = total_head(&other, &TAP, &STREAM).unwrap().total_m;
            prop_assert_eq!(there.to_bits(), (-back).to_bits());
        }
    }
}
