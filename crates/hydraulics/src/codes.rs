//! The arithmetic of pool codes: turnover, filtration flow, filter rate.
//!
//! Which rule holds at a place, and its figures, come from a set of rules; here are the formulas that such rules
//! share. A maximum stays a maximum: no function here answers what a pool needs.

use crate::constants::{FOOT_M, US_GALLON_PER_MINUTE_M3S};
use crate::error::HydraulicsError;
use crate::quantity::Quantity;

/// An hour in s.
const HOUR_S: f64 = 3600.0;

/// Computes the flow that turns a volume over in a time.
///
/// # Equation
/// Q = V / t
///
/// # Inputs
/// `volume_m3`: 0 m³ or more. `turnover_s`: above 0 s.
///
/// # Returns
/// Flow in m³/s.
///
/// # Accuracy
/// One rounding.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotAboveZero`], [`HydraulicsError::NotFinite`].
///
/// # Source
/// Definition of the turnover.
///
/// # Checked against
/// `validation/codes/arithmetic`
///
/// # Example
/// ```
/// let flow_m3s = hydraulics::codes::turnover_flow_m3s(75.7, 6.0 * 3600.0).unwrap();
/// assert!((flow_m3s * 1000.0 - 3.5046).abs() < 1e-4); // L/s
/// ```
pub fn turnover_flow_m3s(volume_m3: f64, turnover_s: f64) -> Result<f64, HydraulicsError> {
    let volume_m3 = Quantity::Volume.zero_or_more(volume_m3)?;
    let turnover_s = Quantity::Duration.above_zero(turnover_s)?;
    Quantity::Flow.finite(volume_m3 / turnover_s)
}

/// Computes the highest filtration flow of a residential pool by "six hours or 36 gpm, whichever is greater".
///
/// # Equation
/// Q = max(V / 6 h, 36 US gpm)
///
/// # Inputs
/// `volume_m3`: of the pool, 0 m³ or more.
///
/// # Returns
/// A **ceiling** in m³/s: filtration may run slower, and does so cheaper; it must not run faster.
///
/// # Validity
/// Filtration only: cleaning, heating, spa and water features may ask for more flow at their own times.
///
/// # Accuracy
/// One rounding.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotFinite`].
///
/// # Source
/// California Code of Regulations, title 24, part 6, section 150.0(p), as quoted by a public page; the code itself
/// was not read.
///
/// # Checked against
/// `validation/codes/arithmetic`
///
/// # Example
/// ```
/// use hydraulics::constants::{US_GALLON_M3, US_GALLON_PER_MINUTE_M3S};
/// let ceiling_m3s = hydraulics::codes::highest_filtration_flow_m3s(8000.0 * US_GALLON_M3).unwrap();
/// assert!((ceiling_m3s / US_GALLON_PER_MINUTE_M3S - 36.0).abs() < 1e-12); // gpm
/// ```
pub fn highest_filtration_flow_m3s(volume_m3: f64) -> Result<f64, HydraulicsError> {
    const TURNOVER_S: f64 = 6.0 * HOUR_S;
    const FLOW_M3S: f64 = 36.0 * US_GALLON_PER_MINUTE_M3S;
    Ok(turnover_flow_m3s(volume_m3, TURNOVER_S)?.max(FLOW_M3S))
}

/// Computes the longest turnover of a public pool by its depth.
///
/// # Equation
/// t = min(1.5 h/ft · d, 6 h)
///
/// # Inputs
/// `average_depth_m`: above 0 m.
///
/// # Returns
/// Turnover in s.
///
/// # Validity
/// Public pools of classes A, B and C. Wading pools have 1 h whatever their depth.
///
/// # Accuracy
/// Two roundings.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`].
///
/// # Source
/// International Swimming Pool and Spa Code 2012, table 407.2, as quoted in a municipal code.
///
/// # Checked against
/// `validation/codes/arithmetic`
///
/// # Example
/// ```
/// let turnover_s = hydraulics::codes::longest_turnover_s(3.5 * 0.3048).unwrap();
/// assert!((turnover_s / 3600.0 - 5.25).abs() < 1e-12); // h
/// ```
pub fn longest_turnover_s(average_depth_m: f64) -> Result<f64, HydraulicsError> {
    const S_PER_M: f64 = 1.5 * HOUR_S / FOOT_M;
    const LONGEST_S: f64 = 6.0 * HOUR_S;
    let depth_m = Quantity::Height.above_zero(average_depth_m)?;
    Ok((S_PER_M * depth_m).min(LONGEST_S))
}

/// Computes the flow that a filter of an area takes at a rate.
///
/// # Equation
/// Q = q A
///
/// # Inputs
/// `rate_m_s`: flow per area, 0 m/s or more; 1 US gpm per square foot is 6.791e-4 m/s. `area_m2`: above 0 m².
///
/// # Returns
/// Flow in m³/s: the highest one where the rate is a limit, as filter rates of codes are.
///
/// # Validity
/// The rate belongs to a medium and a code, and the maker's own limit stands beside it.
///
/// # Accuracy
/// One rounding.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotAboveZero`], [`HydraulicsError::NotFinite`].
///
/// # Source
/// Definition of the filter rate.
///
/// # Checked against
/// `validation/codes/arithmetic`
///
/// # Example
/// ```
/// use hydraulics::constants::{FOOT_M, US_GALLON_PER_MINUTE_M3S};
/// let rate_m_s = 0.375 * US_GALLON_PER_MINUTE_M3S / (FOOT_M * FOOT_M);
/// let flow_m3s = hydraulics::codes::filter_flow_m3s(rate_m_s, 300.0 * FOOT_M * FOOT_M).unwrap();
/// assert!((flow_m3s / US_GALLON_PER_MINUTE_M3S - 112.5).abs() < 1e-9); // gpm
/// ```
pub fn filter_flow_m3s(rate_m_s: f64, area_m2: f64) -> Result<f64, HydraulicsError> {
    let rate_m_s = Quantity::FilterRate.zero_or_more(rate_m_s)?;
    let area_m2 = Quantity::Area.above_zero(area_m2)?;
    Quantity::Flow.finite(rate_m_s * area_m2)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn the_impossible_is_refused() {
        assert!(turnover_flow_m3s(-1.0, 3600.0).is_err());
        assert!(turnover_flow_m3s(70.0, 0.0).is_err());
        assert!(highest_filtration_flow_m3s(f64::NAN).is_err());
        assert!(longest_turnover_s(0.0).is_err());
        assert!(filter_flow_m3s(-1e-3, 1.0).is_err());
        assert!(filter_flow_m3s(1e-3, 0.0).is_err());
    }

    proptest! {
        /// A ceiling rises with the pool and never falls below either of its two arms.
        #[test]
        fn the_filtration_flow_is_a_ceiling(volume in 0.0_f64..500.0, step in 0.0_f64..50.0) {
            let ceiling = |volume: f64| highest_filtration_flow_m3s(volume).unwrap();
            prop_assert!(ceiling(volume + step) >= ceiling(volume));
            prop_assert!(ceiling(volume) >= turnover_flow_m3s(volume, 6.0 * HOUR_S).unwrap());
            prop_assert!(ceiling(volume) >= ceiling(0.0));
        }

        #[test]
        fn a_deeper_pool_may_turn_over_slower(depth in 0.1_f64..5.0, step in 0.0_f64..1.0) {
            let hours = |depth: f64| longest_turnover_s(depth).unwrap();
            prop_assert!(hours(depth + step) >= hours(depth));
            prop_assert!(hours(depth) <= 6.0 * HOUR_S);
        }
    }
}
