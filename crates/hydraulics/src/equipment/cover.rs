//! Suction covers: what each draws when one of them is blocked, by a body or by leaves.
//!
//! A cover whose rating is exceeded can hold a person. The numbers here judge a design on paper; they never make a
//! cover that is missing, broken or loose safe.

use crate::error::HydraulicsError;
use crate::quantity::Quantity;

/// Computes the part of the flow that one of several covers draws when another is blocked.
///
/// # Equation
/// 1 / (n − 1); a single cover draws all of the flow.
///
/// # Inputs
/// `count`: how many draw side by side, 1 or more.
///
/// # Returns
/// The share of the flow, above 0 and at most 1.
///
/// # Validity
/// Covers of one kind on equal branches. With two, the other one draws everything.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`] for no cover.
///
/// # Source
/// Usual rule for paired suction outlets: the flow must not exceed the rating of the remaining covers with one blocked
/// (ANSI/APSP-7 2006, 4.4, second-hand for the branch velocity; the rule for the rating from memory).
///
/// # Checked against
/// Hand-counted cases in the unit tests.
///
/// # Example
/// ```
/// let share = hydraulics::equipment::share_with_one_blocked(3).unwrap();
/// assert!((share - 0.5).abs() < 1e-15);
/// ```
pub fn share_with_one_blocked(count: u32) -> Result<f64, HydraulicsError> {
    Quantity::CoverCount.above_zero(f64::from(count))?;
    Ok(1.0 / f64::from(count.saturating_sub(1).max(1)))
}

/// Computes the highest flow of covers that draw side by side, so that each stays within its rating with one blocked.
///
/// # Equation
/// Q = rating · (n − 1); a single cover: its rating.
///
/// # Inputs
/// `rating_m3s`: the printed flow of one cover in its place, floor or wall, above 0. `count`: 1 or more.
///
/// # Returns
/// The flow in m³/s.
///
/// # Validity
/// As [`share_with_one_blocked`].
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`].
///
/// # Source
/// As [`share_with_one_blocked`].
///
/// # Checked against
/// Hand-counted cases in the unit tests.
///
/// # Example
/// ```
/// let flow = hydraulics::equipment::highest_flow_with_one_blocked_m3s(5e-3, 2).unwrap();
/// assert!((flow - 5e-3).abs() < 1e-15); // m3/s: one of the pair draws it all
/// ```
pub fn highest_flow_with_one_blocked_m3s(
    rating_m3s: f64,
    count: u32,
) -> Result<f64, HydraulicsError> {
    Ok(Quantity::Flow.above_zero(rating_m3s)? / share_with_one_blocked(count)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_open_covers_draw_what_the_blocked_one_does_not() {
        let flows = [1, 2, 3, 5].map(|n| highest_flow_with_one_blocked_m3s(2.0, n).unwrap());
        for (flow, expected) in flows.into_iter().zip([2.0, 2.0, 4.0, 8.0]) {
            assert!((flow - expected).abs() < 1e-15);
        }
        assert!(highest_flow_with_one_blocked_m3s(2.0, 0).is_err());
        assert!(highest_flow_with_one_blocked_m3s(0.0, 2).is_err());
    }
}
