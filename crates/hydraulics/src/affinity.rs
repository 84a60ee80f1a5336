//! A pump at another speed: flow, head, power and the suction head that it needs.
//!
//! The laws hold for the wet end. Electrical power follows no cube, because motor and drive lose
//! efficiency at low speed: it does not belong in this file.

use crate::error::HydraulicsError;
use crate::quantity::Quantity;

/// One point of a pump.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DutyPoint {
    /// Flow in m³/s.
    pub flow_m3s: f64,
    /// Total head in m.
    pub head_m: f64,
    /// Shaft power in W.
    pub shaft_power_w: f64,
}

/// A change of speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpeedChange {
    /// The speed at which values are known, in rpm.
    pub from_rpm: f64,
    /// The speed at which they are asked for, in rpm.
    pub to_rpm: f64,
}

impl SpeedChange {
    fn ratio(self) -> Result<f64, HydraulicsError> {
        let from_rpm = Quantity::Speed.above_zero(self.from_rpm)?;
        Ok(Quantity::Speed.above_zero(self.to_rpm)? / from_rpm)
    }
}

/// Moves a point of a pump to another speed.
///
/// # Equation
/// Q' = Q (n'/n), H' = H (n'/n)², P' = P (n'/n)³
///
/// # Inputs
/// `point`: flow, head and shaft power, 0 or more each. `change`: two speeds above 0 rpm.
///
/// # Returns
/// The point of the same efficiency at the other speed, for the same water.
///
/// # Validity
/// Between about half and 1.2 times the speed (ISO 9906, from memory); below, bearing and seal friction and the
/// Reynolds number take their share.
///
/// # Accuracy
/// Pure scaling; a few roundings.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::BelowZero`], [`HydraulicsError::NotFinite`].
///
/// # Source
/// Similarity of pumps, as in Crane Technical Paper 410, example 7-33.
///
/// # Checked against
/// `validation/pump/handbook`
///
/// # Example
/// ```
/// use hydraulics::affinity::{DutyPoint, SpeedChange, at_speed};
/// let point = DutyPoint { flow_m3s: 4e-3, head_m: 20.0, shaft_power_w: 1200.0 };
/// let half = at_speed(&point, SpeedChange { from_rpm: 3450.0, to_rpm: 1725.0 }).unwrap();
/// assert_eq!((half.flow_m3s, half.head_m, half.shaft_power_w), (2e-3, 5.0, 150.0)); // m3/s, m, W
/// ```
pub fn at_speed(point: &DutyPoint, change: SpeedChange) -> Result<DutyPoint, HydraulicsError> {
    let ratio = change.ratio()?;
    let flow_m3s = Quantity::Flow.zero_or_more(point.flow_m3s)? * ratio;
    let head_m = Quantity::Head.zero_or_more(point.head_m)? * ratio * ratio;
    let power_w = Quantity::Power.zero_or_more(point.shaft_power_w)? * ratio * ratio * ratio;
    Ok(DutyPoint {
        flow_m3s: Quantity::Flow.finite(flow_m3s)?,
        head_m: Quantity::Head.finite(head_m)?,
        shaft_power_w: Quantity::Power.finite(power_w)?,
    })
}

/// Moves the suction head that a pump needs to another speed.
///
/// # Equation
/// NPSHr' = NPSHr (n'/n)², at the flow Q' = Q (n'/n)
///
/// # Inputs
/// `required_m`: what the maker states, 0 m or more. `change`: two speeds above 0 rpm.
///
/// # Returns
/// Required net positive suction head in m.
///
/// # Validity
/// Usual practice. Measured exponents lie between 1.3 and 2 (from memory): far below the stated speed a
/// pump needs more than this.
///
/// # Accuracy
/// That of the exponent.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::BelowZero`], [`HydraulicsError::NotFinite`].
///
/// # Source
/// Similarity of pumps; common practice.
///
/// # Checked against
/// `validation/pump/handbook` (the same square as that of the head)
///
/// # Example
/// ```
/// use hydraulics::affinity::{SpeedChange, npsh_required_m};
/// let required_m = npsh_required_m(2.0, SpeedChange { from_rpm: 3450.0, to_rpm: 1725.0 }).unwrap();
/// assert_eq!(required_m, 0.5); // m
/// ```
pub fn npsh_required_m(required_m: f64, change: SpeedChange) -> Result<f64, HydraulicsError> {
    let ratio = change.ratio()?;
    Quantity::Head.finite(Quantity::Head.zero_or_more(required_m)? * ratio * ratio)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_pump_at_rest_has_no_law() {
        for (from_rpm, to_rpm) in [(0.0, 1000.0), (1000.0, 0.0), (f64::NAN, 1.0), (1.0, -1.0)] {
            assert!(npsh_required_m(1.0, SpeedChange { from_rpm, to_rpm }).is_err());
        }
    }

    #[test]
    fn what_overflows_is_no_answer() {
        let point = DutyPoint {
            flow_m3s: 0.0,
            head_m: 0.0,
            shaft_power_w: 0.0,
        };
        let change = SpeedChange {
            from_rpm: 1e-300,
            to_rpm: 1e300,
        };
        assert!(at_speed(&point, change).is_err());
        assert!(npsh_required_m(0.0, change).is_err());
    }

    proptest! {
        #[test]
        fn there_and_back_again(
            flow_m3s in 1e-4_f64..1e-2, head_m in 0.1_f64..40.0, shaft_power_w in 1.0_f64..3000.0,
            from_rpm in 600.0_f64..3450.0, to_rpm in 600.0_f64..3450.0,
        ) {
            let point = DutyPoint { flow_m3s, head_m, shaft_power_w };
            let there = at_speed(&point, SpeedChange { from_rpm, to_rpm }).unwrap();
            let back = at_speed(&there, SpeedChange { from_rpm: to_rpm, to_rpm: from_rpm }).unwrap();
            // Up to eight roundings each.
            for (ours, theirs) in [
                (back.flow_m3s, flow_m3s), (back.head_m, head_m), (back.shaft_power_w, shaft_power_w),
            ] {
                prop_assert!((ours / theirs - 1.0).abs() < 2e-15);
            }
            // Efficiency is left as it was.
            let efficiency = |p: &DutyPoint| p.flow_m3s * p.head_m / p.shaft_power_w;
            prop_assert!((efficiency(&there) / efficiency(&point) - 1.0).abs() < 2e-15);
        }
    }
}
