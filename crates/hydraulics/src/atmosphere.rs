//! The pressure of the air at a place, from its elevation: the standard atmosphere, troposphere only.
//!
//! Weather moves the pressure by about 3 % (from memory) and is not known here; a barometer that was
//! read is better than this file.

use numerics::elementary::pow;

use crate::constants::{STANDARD_ATMOSPHERE_PA, STANDARD_GRAVITY_M_S2};
use crate::error::HydraulicsError;
use crate::quantity::Quantity;

/// The lowest elevation that is accepted, m: the lowest land, at the Dead Sea.
pub const LOWEST_ELEVATION_M: f64 = -430.0;

/// The highest elevation that is accepted, m: the end of the troposphere of the standard.
pub const HIGHEST_ELEVATION_M: f64 = 11_000.0;

/// Computes the pressure of the standard atmosphere at an elevation.
///
/// # Equation
/// p = p₀ (1 − L H / T₀)^(g M / (R L)), H = r h / (r + h): h the geometric elevation, H the geopotential one.
/// p₀ = 101325 Pa, T₀ = 288.15 K, L = 0.0065 K/m, M = 0.0289644 kg/mol, R = 8.31432 J/(mol K), r = 6 356 766 m.
///
/// # Inputs
/// `elevation_m`: geometric height above mean sea level, as a map states it, −430 to 11 000 m.
///
/// # Returns
/// Absolute pressure in Pa.
///
/// # Validity
/// Still air of the standard's temperature. Taking the elevation for a geopotential one would change the
/// pressure by 0.02 % at 3000 m. Weather is ± 3 % (from memory).
///
/// # Accuracy
/// Every digit of the standard; some five roundings.
///
/// # Errors
/// [`HydraulicsError::OutOfRange`].
///
/// # Source
/// U.S. Standard Atmosphere 1976, NOAA-S/T 76-1562, section 1.3 (constants and equation from memory, confirmed by
/// the comparison below); ISO 2533:1975 is the same in the troposphere but for the last digits of R.
///
/// # Checked against
/// `validation/atmosphere/us-1976`, `validation/atmosphere/fluids`
///
/// # Example
/// ```
/// let pressure_pa = hydraulics::atmosphere::standard_pressure_pa(1524.0).unwrap();
/// assert!((pressure_pa - 84_307.0).abs() < 10.0); // Pa at 5000 ft
/// ```
pub fn standard_pressure_pa(elevation_m: f64) -> Result<f64, HydraulicsError> {
    const EARTH_RADIUS_M: f64 = 6_356_766.0;
    const TEMPERATURE_K: f64 = 288.15;
    const LAPSE_K_M: f64 = 0.0065;
    const MOLAR_MASS_KG_MOL: f64 = 0.028_964_4;
    const GAS_CONSTANT_J_MOL_K: f64 = 8.31432;
    const EXPONENT: f64 =
        STANDARD_GRAVITY_M_S2 * MOLAR_MASS_KG_MOL / (GAS_CONSTANT_J_MOL_K * LAPSE_K_M);
    let elevation_m =
        Quantity::Elevation.within(elevation_m, (LOWEST_ELEVATION_M, HIGHEST_ELEVATION_M))?;
    let geopotential_m = EARTH_RADIUS_M * elevation_m / (EARTH_RADIUS_M + elevation_m);
    let share = 1.0 - LAPSE_K_M * geopotential_m / TEMPERATURE_K;
    Ok(STANDARD_ATMOSPHERE_PA * pow(share, EXPONENT))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_pressure_falls_with_elevation() {
        let pressures: Vec<f64> = (-43..=1100)
            .map(|step| standard_pressure_pa(10.0 * f64::from(step)).unwrap())
            .collect();
        assert!(pressures.windows(2).all(|pair| pair[0] > pair[1]));
    }

    #[test]
    fn the_sea_has_the_standard_atmosphere() {
        let at_sea_pa = standard_pressure_pa(0.0).unwrap();
        assert_eq!(at_sea_pa.to_bits(), STANDARD_ATMOSPHERE_PA.to_bits());
    }

    #[test]
    fn no_pool_lies_there() {
        for elevation_m in [-431.0, 11_001.0, f64::NAN, f64::INFINITY] {
            let error = standard_pressure_pa(elevation_m).unwrap_err();
            assert!(error.to_string().ends_with("expected -430 m to 11000 m"));
        }
    }
}
