//! What salt changes: one seawater correlation, as factors on fresh water, so that no salt changes no bit.
//!
//! The factors are kernels and trust their arguments; [`Water::saline`](super::Water::saline) checks them. Fresh
//! water itself does not belong in this file.

use super::fresh::liquid_density_kg_m3;
use super::in_range;
use crate::constants::ZERO_CELSIUS_K;
use crate::error::HydraulicsError;
use crate::quantity::Quantity;
use crate::warning::Warning;

/// The salinity up to which the correlation is held against outside values here, kg/kg: that of the sea.
pub const HIGHEST_CHECKED_SALINITY_KG_KG: f64 = 0.035;

/// The highest salinity that is accepted, kg/kg; the correlation itself ends at 0.15 (viscosity) and 0.16 (density).
pub const HIGHEST_SALINITY_KG_KG: f64 = 0.12;

/// Computes which mass fraction of salt a stated mass per volume is.
///
/// # Equation
/// S = c / ρ(T, S)
///
/// # Inputs
/// `temperature_k`: 273.15 to 333.15 K. `salinity_kg_m3`: mass of salt in a volume of the water, 0 kg/m³ or more;
/// 1 g/L is 1 kg/m³, and 1000 ppm as the pool trade uses the word is 1 kg/m³.
///
/// # Returns
/// Mass of salt in a mass of the water, kg/kg.
///
/// # Validity
/// Up to 0.12 kg/kg, about 130 kg/m³.
///
/// # Accuracy
/// That of the density. The equation is solved by putting its result back in a fixed number of times: each
/// step shrinks the error at least tenfold in the accepted range, so that 20 steps end at rounding.
///
/// # Errors
/// [`HydraulicsError::TemperatureOutOfRange`], [`HydraulicsError::BelowZero`], [`HydraulicsError::OutOfRange`].
///
/// # Source
/// Definition of the mass fraction; density as in [`Water::saline`](super::Water::saline).
///
/// # Checked against
/// `validation/water/saline`
///
/// # Example
/// ```
/// let fraction = hydraulics::water::mass_fraction_of_salt(298.15, 3.2).unwrap();
/// assert!((fraction - 3.202e-3).abs() < 1e-6); // kg/kg
/// ```
pub fn mass_fraction_of_salt(
    temperature_k: f64,
    salinity_kg_m3: f64,
) -> Result<f64, HydraulicsError> {
    const STEPS: u32 = 20;
    let temperature_k = in_range(temperature_k)?;
    let salinity_kg_m3 = Quantity::SaltConcentration.zero_or_more(salinity_kg_m3)?;
    let density_kg_m3 =
        |fraction| liquid_density_kg_m3(temperature_k) * density_factor(temperature_k, fraction);
    let highest_kg_m3 = HIGHEST_SALINITY_KG_KG * density_kg_m3(HIGHEST_SALINITY_KG_KG);
    Quantity::SaltConcentration.within(salinity_kg_m3, (0.0, highest_kg_m3))?;
    Ok((0..STEPS).fold(0.0, |fraction, _| salinity_kg_m3 / density_kg_m3(fraction)))
}

/// Passes a salinity that is accepted, with the warning that it deserves.
pub(super) fn accepted(salinity_kg_kg: f64) -> Result<(f64, Option<Warning>), HydraulicsError> {
    let salinity_kg_kg =
        Quantity::Salinity.within(salinity_kg_kg, (0.0, HIGHEST_SALINITY_KG_KG))?;
    let warning = Warning::outside(
        "correlation of salt water",
        Quantity::Salinity,
        salinity_kg_kg,
        (0.0, HIGHEST_CHECKED_SALINITY_KG_KG),
    );
    Ok((salinity_kg_kg, warning))
}

/// Density over that of fresh water: Sharqawy et al. 2010, equation 8, over its own value without salt.
pub(super) fn density_factor(temperature_k: f64, salinity_kg_kg: f64) -> f64 {
    let (t, s) = (temperature_k - ZERO_CELSIUS_K, salinity_kg_kg);
    let fresh_kg_m3 = 9.999e2 + t * (2.034e-2 + t * (-6.162e-3 + t * (2.261e-5 - t * 4.657e-8)));
    let salt_kg_m3 =
        s * (8.020e2 + t * (-2.001 + t * (1.677e-2 - t * 3.060e-5)) - 1.613e-5 * s * t * t);
    1.0 + salt_kg_m3 / fresh_kg_m3
}

/// Dynamic viscosity over that of fresh water: Sharqawy et al. 2010, equation 22.
pub(super) fn viscosity_factor(temperature_k: f64, salinity_kg_kg: f64) -> f64 {
    let (t, s) = (temperature_k - ZERO_CELSIUS_K, salinity_kg_kg);
    let a = 1.541 + t * (1.998e-2 - t * 9.52e-5);
    let b = 7.974 + t * (-7.561e-2 + t * 4.724e-4);
    1.0 + s * (a + b * s)
}

/// Vapour pressure over that of fresh water, by Raoult's law: Sharqawy et al. 2010, equation 31.
pub(super) fn vapour_pressure_factor(salinity_kg_kg: f64) -> f64 {
    1.0 / (1.0 + 0.57357 * salinity_kg_kg / (1.0 - salinity_kg_kg))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn the_fraction_of_a_concentration_beyond_the_range_is_refused() {
        for salinity_kg_m3 in [-0.1, 140.0, f64::NAN, f64::INFINITY] {
            assert!(mass_fraction_of_salt(298.15, salinity_kg_m3).is_err());
        }
        assert!(mass_fraction_of_salt(20.0, 3.0).is_err());
    }

    #[test]
    fn water_without_salt_is_fresh_to_the_last_bit() {
        for temperature_k in [273.15, 300.0, 333.15] {
            assert_eq!(
                density_factor(temperature_k, 0.0).to_bits(),
                1.0_f64.to_bits()
            );
            assert_eq!(
                viscosity_factor(temperature_k, 0.0).to_bits(),
                1.0_f64.to_bits()
            );
        }
        assert_eq!(vapour_pressure_factor(0.0).to_bits(), 1.0_f64.to_bits());
    }

    proptest! {
        #[test]
        fn a_fraction_times_the_density_is_the_concentration(
            temperature_k in 273.15_f64..333.15, salinity_kg_m3 in 0.0_f64..120.0,
        ) {
            let fraction = mass_fraction_of_salt(temperature_k, salinity_kg_m3).unwrap();
            let density_kg_m3 =
                liquid_density_kg_m3(temperature_k) * density_factor(temperature_k, fraction);
            // A few roundings.
            prop_assert!((fraction * density_kg_m3 - salinity_kg_m3).abs() <= 1e-15 * salinity_kg_m3.max(1.0) * 4.0);
        }

        #[test]
        fn salt_makes_water_denser_thicker_and_less_ready_to_boil(
            temperature_k in 273.15_f64..333.15, salinity in 0.0_f64..0.119, step in 1e-6_f64..1e-3,
        ) {
            let more = salinity + step;
            prop_assert!(density_factor(temperature_k, more) > density_factor(temperature_k, salinity));
            prop_assert!(viscosity_factor(temperature_k, more) > viscosity_factor(temperature_k, salinity));
            prop_assert!(vapour_pressure_factor(more) < vapour_pressure_factor(salinity));
        }
    }
}
