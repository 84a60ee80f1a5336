//! A solar loop above the water: the speed that fills it, and the pressure at its top once it is full.

use crate::constants::STANDARD_GRAVITY_M_S2;
use crate::error::HydraulicsError;
use crate::quantity::Quantity;
use crate::water::Water;

/// Computes the least speed at which a pump lifts water over the top of an empty loop.
///
/// # Equation
/// N = N₀ √(h / H₀): shutoff head goes with the square of speed.
///
/// # Inputs
/// `top_m`: height of the loop's top above the water, 0 or more. `shutoff_m`: the pump's head at no flow and at
/// `curve_speed_rpm`, both above 0.
///
/// # Returns
/// Speed in rpm. At it the water just stands at the top; to fill in reasonable time the pump must run faster.
///
/// # Validity
/// The pump is primed and the line to the loop open. Once full, the loop is friction only: its water falls back as
/// high as it was lifted.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotAboveZero`].
///
/// # Source
/// Affinity laws of centrifugal pumps, as in Crane Technical Paper 410, example 7-33 (number from memory).
///
/// # Checked against
/// Unit tests: at that speed the shutoff head by the affinity law is the height.
///
/// # Example
/// ```
/// let speed = hydraulics::equipment::speed_to_fill_rpm(6.0, 24.0, 3450.0).unwrap();
/// assert!((speed - 1725.0).abs() < 1e-9); // rpm
/// ```
pub fn speed_to_fill_rpm(
    top_m: f64,
    shutoff_m: f64,
    curve_speed_rpm: f64,
) -> Result<f64, HydraulicsError> {
    let height_m = Quantity::Height.zero_or_more(top_m)?;
    let shutoff_m = Quantity::Head.above_zero(shutoff_m)?;
    Ok(Quantity::Speed.above_zero(curve_speed_rpm)? * (height_m / shutoff_m).sqrt())
}

/// Computes the pressure at the top of a full loop, over that of the atmosphere.
///
/// # Equation
/// p = ρ g (h_return − z)
///
/// # Inputs
/// `top_m`: z, height of the top above the water. `return_loss_m`: h_return, head lost between the top and the pool,
/// 0 or more. `water`: its density counts.
///
/// # Returns
/// Gauge pressure in Pa; below 0 the water at the top is under vacuum and a vacuum relief valve there lets air in.
///
/// # Validity
/// The line returns below the water, so that it stays full.
///
/// # Errors
/// [`HydraulicsError::BelowZero`] for the loss; [`HydraulicsError::NotAboveZero`] for the density.
///
/// # Source
/// Bernoulli's equation between the top and the pool, velocity heads left out.
///
/// # Checked against
/// Unit tests: hydrostatics.
///
/// # Example
/// ```
/// use hydraulics::{equipment::pressure_at_top_pa, water::Water};
/// let pressure = pressure_at_top_pa(5.0, 2.0, &Water::fresh(293.15).unwrap()).unwrap();
/// assert!((pressure + 29_367.0).abs() < 1.0); // Pa
/// ```
pub fn pressure_at_top_pa(
    top_m: f64,
    return_loss_m: f64,
    water: &Water,
) -> Result<f64, HydraulicsError> {
    let height_m = Quantity::Height.finite(top_m)?;
    let loss_m = Quantity::Head.zero_or_more(return_loss_m)?;
    let density_kg_m3 = Quantity::Density.above_zero(water.density_kg_m3)?;
    Ok(density_kg_m3 * STANDARD_GRAVITY_M_S2 * (loss_m - height_m))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shutoff_head_at_the_least_speed_is_the_height() {
        let speed = speed_to_fill_rpm(4.7, 26.3, 3450.0).unwrap();
        let ratio = speed / 3450.0;
        assert!((26.3 * ratio * ratio - 4.7).abs() < 1e-12);
        assert!(speed_to_fill_rpm(-1.0, 26.3, 3450.0).is_err());
        assert!(speed_to_fill_rpm(4.0, 0.0, 3450.0).is_err());
    }

    #[test]
    fn the_top_is_at_the_pressure_of_the_atmosphere_where_the_return_loses_its_height() {
        let water = Water::fresh(300.0).unwrap();
        assert!(pressure_at_top_pa(3.0, 3.0, &water).unwrap().abs() < f64::MIN_POSITIVE);
        assert!(pressure_at_top_pa(3.0, 4.0, &water).unwrap() > 0.0);
        assert!(pressure_at_top_pa(3.0, -1.0, &water).is_err());
    }
}
