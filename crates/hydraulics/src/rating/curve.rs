//! The reference systems on which pool pumps are rated, and the hydraulic power on them.

use super::Provenance;
use crate::constants::{FOOT_M, US_GALLON_PER_MINUTE_M3S};
use crate::error::HydraulicsError;
use crate::quantity::Quantity;

/// A reference system: head grows with the square of flow, without lift.
#[derive(Clone, Copy, Debug, Eq, Hash, PartialEq)]
pub enum SystemCurve {
    /// A house with 2 in pipe (common reading of the curve, from memory).
    A,
    /// A house with 1-1/2 in pipe (common reading of the curve, from memory).
    B,
    /// The curve of the rating: a house with 2-1/2 in pipe (common reading of the curve, from memory).
    C,
    /// A public pool (common reading of the curve, from memory).
    D,
}

impl SystemCurve {
    /// Every curve.
    pub const ALL: [Self; 4] = [Self::A, Self::B, Self::C, Self::D];

    /// The coefficient in feet of head per square of a US gallon per minute.
    ///
    /// # Source
    /// 10 CFR 431 subpart Y, appendix C; from memory, D with less confidence than the others.
    pub const fn coefficient_ft_per_gpm2(self) -> f64 {
        match self {
            Self::A => 0.0167,
            Self::B => 0.050,
            Self::C => 0.0082,
            Self::D => 0.0044,
        }
    }

    /// How well the coefficient is known.
    pub const fn provenance(self) -> Provenance {
        Provenance::FromMemory
    }

    /// Computes the head of the reference system at a flow.
    ///
    /// # Equation
    /// H = k Q², H in ft, Q in US gallons per minute
    ///
    /// # Inputs
    /// `flow_m3s`: 0 m³/s or more.
    ///
    /// # Returns
    /// Head in m.
    ///
    /// # Errors
    /// [`HydraulicsError::BelowZero`].
    ///
    /// # Source
    /// As [`SystemCurve::coefficient_ft_per_gpm2`].
    ///
    /// # Checked against
    /// `validation/rating/cfr-431`
    ///
    /// # Example
    /// ```
    /// use hydraulics::{constants::US_GALLON_PER_MINUTE_M3S, rating::SystemCurve};
    /// let head_m = SystemCurve::C.head_m(100.0 * US_GALLON_PER_MINUTE_M3S).unwrap();
    /// assert!((head_m / 0.3048 - 82.0).abs() < 1e-9); // ft
    /// ```
    pub fn head_m(self, flow_m3s: f64) -> Result<f64, HydraulicsError> {
        let flow_gpm = Quantity::Flow.zero_or_more(flow_m3s)? / US_GALLON_PER_MINUTE_M3S;
        Quantity::Head.finite(self.coefficient_ft_per_gpm2() * flow_gpm * flow_gpm * FOOT_M)
    }
}

/// Computes the hydraulic power as the rule does.
///
/// # Equation
/// hhp = Q H / 3956, Q in US gallons per minute, H in ft of water of specific gravity 1
///
/// # Inputs
/// `flow_m3s`, `head_m`: 0 or more.
///
/// # Returns
/// Hydraulic power in hp.
///
/// # Validity
/// The constant 3956 belongs to water of 999.56 kg/m³; with 3960, in use elsewhere, the result is 0.1 % lower. For
/// the power of the water at hand use [`hydraulic_power_w`](crate::total_head::hydraulic_power_w).
///
/// # Accuracy
/// That of the constant: four digits.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotFinite`].
///
/// # Source
/// 10 CFR 431 subpart Y, appendix C; from memory.
///
/// # Checked against
/// `validation/rating/cfr-431`
///
/// # Example
/// ```
/// use hydraulics::{constants::{FOOT_M, US_GALLON_PER_MINUTE_M3S}, rating::hydraulic_horsepower};
/// let power_hp = hydraulic_horsepower(100.0 * US_GALLON_PER_MINUTE_M3S, 82.0 * FOOT_M).unwrap();
/// assert!((power_hp - 2.0728).abs() < 5e-5); // hp
/// ```
pub fn hydraulic_horsepower(flow_m3s: f64, head_m: f64) -> Result<f64, HydraulicsError> {
    const GPM_FEET_PER_HP: f64 = 3956.0;
    let flow_gpm = Quantity::Flow.zero_or_more(flow_m3s)? / US_GALLON_PER_MINUTE_M3S;
    let head_ft = Quantity::Head.zero_or_more(head_m)? / FOOT_M;
    Quantity::HydraulicHorsepower.finite(flow_gpm * head_ft / GPM_FEET_PER_HP)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_narrower_the_pipe_the_higher_the_head() {
        let head = |curve: SystemCurve| curve.head_m(4e-3).unwrap();
        assert!(head(SystemCurve::B) > head(SystemCurve::A));
        assert!(head(SystemCurve::A) > head(SystemCurve::C));
        assert!(head(SystemCurve::C) > head(SystemCurve::D));
    }

    #[test]
    fn the_impossible_is_refused() {
        assert!(SystemCurve::C.head_m(-1e-3).is_err());
        assert!(hydraulic_horsepower(1e-3, -1.0).is_err());
        assert!(hydraulic_horsepower(f64::NAN, 1.0).is_err());
    }
}
