//! The points at which a variable-speed filter pump is rated.

use super::{Provenance, SystemCurve, hydraulic_horsepower};
use crate::constants::US_GALLON_PER_MINUTE_M3S;
use crate::error::HydraulicsError;

/// A point that the rule prescribes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoadPoint {
    /// The least flow of the point in m³/s: the pump runs at the lowest of its speeds that meets it.
    pub least_flow_m3s: f64,
    /// Head of the reference system at that flow, in m.
    pub head_m: f64,
    /// Weight in the weighted energy factor.
    pub weight: f64,
}

/// Both points of a multi-speed or variable-speed filter pump.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoadPoints {
    /// The low-speed point.
    pub low: LoadPoint,
    /// The high-speed point.
    pub high: LoadPoint,
    /// How well the figures of the rule are known.
    pub provenance: Provenance,
}

/// Finds the load points of a multi-speed or variable-speed filter pump.
///
/// # Equation
/// Low: 31.1 gpm where the hydraulic power at the highest flow exceeds 0.75 hp, else 24.7 gpm, weight 0.8. High:
/// 0.8 Q_max, weight 0.2. Heads on curve C.
///
/// # Inputs
/// `highest_flow_m3s`: the flow at which the curve of the pump at its highest speed meets curve C, 0 m³/s or more.
///
/// # Returns
/// Both points, with the provenance of the figures: from memory.
///
/// # Validity
/// The threshold of 0.75 hp is that of the test procedure; the class edge of the standard, 0.711 hp, is another
/// (see [`minimum_weighted_energy_factor`](super::minimum_weighted_energy_factor)). For a pump so small that
/// 0.8 Q_max lies below the low point the points cross, and the rule was not read as to what it asks then.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotFinite`].
///
/// # Source
/// 10 CFR 431 subpart Y, appendix C, tables of section D.3 and E; from memory.
///
/// # Checked against
/// `validation/rating/cfr-431`
///
/// # Example
/// ```
/// use hydraulics::{constants::US_GALLON_PER_MINUTE_M3S, rating::variable_speed_load_points};
/// let points = variable_speed_load_points(100.0 * US_GALLON_PER_MINUTE_M3S).unwrap();
/// assert!((points.low.least_flow_m3s / US_GALLON_PER_MINUTE_M3S - 31.1).abs() < 1e-9); // gpm
/// assert!((points.high.head_m / 0.3048 - 52.48).abs() < 1e-9); // ft
/// ```
pub fn variable_speed_load_points(highest_flow_m3s: f64) -> Result<LoadPoints, HydraulicsError> {
    const THRESHOLD_HP: f64 = 0.75;
    const LOW_FLOW_LARGE_GPM: f64 = 31.1;
    const LOW_FLOW_SMALL_GPM: f64 = 24.7;
    const LOW_WEIGHT: f64 = 0.8;
    const HIGH_SHARE_OF_FLOW: f64 = 0.8;
    const HIGH_WEIGHT: f64 = 0.2;
    let highest_hp =
        hydraulic_horsepower(highest_flow_m3s, SystemCurve::C.head_m(highest_flow_m3s)?)?;
    let low_flow_gpm = if highest_hp > THRESHOLD_HP {
        LOW_FLOW_LARGE_GPM
    } else {
        LOW_FLOW_SMALL_GPM
    };
    Ok(LoadPoints {
        low: on_curve_c(low_flow_gpm * US_GALLON_PER_MINUTE_M3S, LOW_WEIGHT)?,
        high: on_curve_c(HIGH_SHARE_OF_FLOW * highest_flow_m3s, HIGH_WEIGHT)?,
        provenance: Provenance::FromMemory,
    })
}

fn on_curve_c(least_flow_m3s: f64, weight: f64) -> Result<LoadPoint, HydraulicsError> {
    Ok(LoadPoint {
        least_flow_m3s,
        head_m: SystemCurve::C.head_m(least_flow_m3s)?,
        weight,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_low_flow_changes_at_the_threshold_of_the_test_procedure() {
        let low_gpm = |highest_gpm: f64| {
            let points =
                variable_speed_load_points(highest_gpm * US_GALLON_PER_MINUTE_M3S).unwrap();
            points.low.least_flow_m3s / US_GALLON_PER_MINUTE_M3S
        };
        // 0.75 hp on curve C is 71.26 gpm; between there and the class edge, 70 gpm, the smaller flow holds.
        assert!((low_gpm(70.5) - 24.7).abs() < 1e-12);
        assert!((low_gpm(71.2) - 24.7).abs() < 1e-12);
        assert!((low_gpm(71.3) - 31.1).abs() < 1e-12);
    }

    #[test]
    fn the_weights_are_whole() {
        let points = variable_speed_load_points(6e-3).unwrap();
        assert!((points.low.weight + points.high.weight - 1.0).abs() < 1e-15);
        assert!(variable_speed_load_points(-1e-3).is_err());
    }
}
