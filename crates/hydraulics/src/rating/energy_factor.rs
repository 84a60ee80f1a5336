//! How much water a unit of energy moves, at one point and weighted over several.

use crate::constants::US_GALLON_M3;
use crate::error::HydraulicsError;
use crate::quantity::Quantity;

/// A load point as measured, with its share of the time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeightedPoint {
    /// Flow in m³/s.
    pub flow_m3s: f64,
    /// Electrical power in W.
    pub electrical_power_w: f64,
    /// Weight; all weights sum to 1.
    pub weight: f64,
}

/// Computes the energy factor of one point.
///
/// # Equation
/// EF = 60 Q / P, Q in US gallons per minute, P in W
///
/// # Inputs
/// `flow_m3s`: 0 m³/s or more. `electrical_power_w`: above 0 W.
///
/// # Returns
/// Energy factor in US gallons per Wh; the same number is kgal/kWh.
///
/// # Accuracy
/// A few roundings. The rule rounds to 0.1 (from memory), only at the end.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotAboveZero`], [`HydraulicsError::NotFinite`].
///
/// # Source
/// ANSI/APSP/ICC-15 2011, as quoted in a data dictionary of energy models ("flow rate (gpm) * 60 / power (watts)").
///
/// # Checked against
/// `validation/rating/cfr-431`
///
/// # Example
/// ```
/// use hydraulics::{constants::US_GALLON_PER_MINUTE_M3S, rating::energy_factor_gal_wh};
/// let factor = energy_factor_gal_wh(80.0 * US_GALLON_PER_MINUTE_M3S, 1600.0).unwrap();
/// assert!((factor - 3.0).abs() < 1e-12); // gal/Wh
/// ```
pub fn energy_factor_gal_wh(
    flow_m3s: f64,
    electrical_power_w: f64,
) -> Result<f64, HydraulicsError> {
    let point = WeightedPoint {
        flow_m3s,
        electrical_power_w,
        weight: 1.0,
    };
    weighted_energy_factor_kgal_kwh(&[point])
}

/// Computes the weighted energy factor: weighted volume over weighted energy.
///
/// # Equation
/// WEF = Σ wᵢ Qᵢ / Σ wᵢ Pᵢ. It is not the weighted mean of the energy factors, which is far higher.
///
/// # Inputs
/// `points`: flow 0 m³/s or more, power above 0 W, weight above 0; the weights sum to 1.
///
/// # Returns
/// Weighted energy factor in thousands of US gallons per kWh.
///
/// # Accuracy
/// A few roundings. The rule rounds to 0.1 (from memory), only at the end.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotAboveZero`], [`HydraulicsError::NotFinite`],
/// [`HydraulicsError::WeightsNotOne`].
///
/// # Source
/// 10 CFR 431 subpart Y, appendix C; from memory.
///
/// # Checked against
/// `validation/rating/cfr-431`
///
/// # Example
/// ```
/// use hydraulics::{constants::US_GALLON_PER_MINUTE_M3S, rating::{WeightedPoint, weighted_energy_factor_kgal_kwh}};
/// let point = |gpm: f64, electrical_power_w: f64, weight: f64| WeightedPoint {
///     flow_m3s: gpm * US_GALLON_PER_MINUTE_M3S,
///     electrical_power_w,
///     weight,
/// };
/// let factor = weighted_energy_factor_kgal_kwh(&[point(31.1, 150.0, 0.8), point(80.0, 1600.0, 0.2)]).unwrap();
/// assert!((factor - 5.5745).abs() < 5e-5); // kgal/kWh
/// ```
pub fn weighted_energy_factor_kgal_kwh(points: &[WeightedPoint]) -> Result<f64, HydraulicsError> {
    const SECONDS_PER_HOUR: f64 = 3600.0;
    weights_sum_to_one(points)?;
    let (mut flow_m3s, mut power_w) = (0.0, 0.0);
    for point in points {
        flow_m3s += point.weight * Quantity::Flow.zero_or_more(point.flow_m3s)?;
        power_w += point.weight * Quantity::Power.above_zero(point.electrical_power_w)?;
    }
    Quantity::EnergyFactor.finite(SECONDS_PER_HOUR * flow_m3s / US_GALLON_M3 / power_w)
}

fn weights_sum_to_one(points: &[WeightedPoint]) -> Result<(), HydraulicsError> {
    /// Weights are typed with a few digits.
    const SLACK: f64 = 1e-9;
    let mut sum = 0.0;
    for point in points {
        sum += Quantity::Weight.above_zero(point.weight)?;
    }
    if (sum - 1.0).abs() <= SLACK {
        Ok(())
    } else {
        Err(HydraulicsError::WeightsNotOne { sum })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn point(flow_m3s: f64, electrical_power_w: f64, weight: f64) -> WeightedPoint {
        WeightedPoint {
            flow_m3s,
            electrical_power_w,
            weight,
        }
    }

    #[test]
    fn weights_that_do_not_sum_to_one_are_refused() {
        let points = [point(2e-3, 150.0, 0.8), point(5e-3, 1600.0, 0.3)];
        assert!(matches!(
            weighted_energy_factor_kgal_kwh(&points),
            Err(HydraulicsError::WeightsNotOne { .. })
        ));
        assert!(weighted_energy_factor_kgal_kwh(&[]).is_err());
        assert!(weighted_energy_factor_kgal_kwh(&[point(2e-3, 150.0, f64::NAN)]).is_err());
        assert!(energy_factor_gal_wh(2e-3, 0.0).is_err());
    }

    proptest! {
        /// The mean lies between the points, and never above the weighted mean of their factors where the
        /// thriftier point draws less.
        #[test]
        fn the_weighted_factor_is_a_mean(
            low in 1e-3_f64..3e-3, low_w in 80.0_f64..300.0, high in 3e-3_f64..8e-3, high_w in 800.0_f64..2500.0,
        ) {
            let single = |flow, power| energy_factor_gal_wh(flow, power).unwrap();
            let weighted =
                weighted_energy_factor_kgal_kwh(&[point(low, low_w, 0.8), point(high, high_w, 0.2)]).unwrap();
            let (one, other) = (single(low, low_w), single(high, high_w));
            prop_assert!(weighted <= one.max(other) * (1.0 + 1e-14));
            prop_assert!(weighted >= one.min(other) * (1.0 - 1e-14));
            if one >= other {
                prop_assert!(weighted <= (0.8 * one + 0.2 * other) * (1.0 + 1e-14));
            }
        }
    }
}
