//! What a hydraulic calculation needs to know of the water: fresh or with salt, between freezing and 60 °C.
//!
//! This file gathers; the equations stand in `fresh` (IAPWS) and `saline` (a seawater correlation).

mod fresh;
mod saline;

use crate::error::HydraulicsError;
use crate::warning::Answer;

pub use fresh::{density_kg_m3, dynamic_viscosity_pa_s, vapour_pressure_pa};
pub use saline::{HIGHEST_CHECKED_SALINITY_KG_KG, HIGHEST_SALINITY_KG_KG, mass_fraction_of_salt};

/// The freezing point at one atmosphere, where liquid water begins: 0 °C in K.
pub const LOWEST_TEMPERATURE_K: f64 = 273.15;

/// The upper end of what pool equipment meets: 60 °C in K.
pub const HIGHEST_TEMPERATURE_K: f64 = 333.15;

/// Lets a bound through that was typed in another unit and converted: 140 °F may land 1e-13 K above 60 °C.
const TEMPERATURE_SLACK_K: f64 = 1e-9;

/// What a hydraulic calculation needs to know of the water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Water {
    /// Temperature in K.
    pub temperature_k: f64,
    /// Density in kg/m³.
    pub density_kg_m3: f64,
    /// Dynamic viscosity in Pa s.
    pub dynamic_viscosity_pa_s: f64,
    /// Vapour pressure, absolute, in Pa.
    pub vapour_pressure_pa: f64,
}

impl Water {
    /// Gathers the properties of fresh water at one temperature.
    ///
    /// # Inputs
    /// `temperature_k`: 273.15 to 333.15 K.
    ///
    /// # Returns
    /// Density, dynamic viscosity and vapour pressure, as the functions of this module give them.
    ///
    /// # Validity
    /// Fresh water at 0.1 MPa; for a pool with salt see [`Water::of`].
    ///
    /// # Accuracy
    /// That of [`density_kg_m3`], [`dynamic_viscosity_pa_s`] and [`vapour_pressure_pa`].
    ///
    /// # Errors
    /// [`HydraulicsError::TemperatureOutOfRange`].
    ///
    /// # Source
    /// IAPWS SR6-08 and R7-97, as the functions of this module cite them.
    ///
    /// # Checked against
    /// `validation/water/iapws`, `validation/water/iapws-releases`
    ///
    /// # Example
    /// ```
    /// let water = hydraulics::water::Water::fresh(293.15).unwrap();
    /// assert!((water.density_kg_m3 - 998.207).abs() < 0.001); // kg/m3
    /// ```
    pub fn fresh(temperature_k: f64) -> Result<Self, HydraulicsError> {
        Ok(Self {
            temperature_k,
            density_kg_m3: density_kg_m3(temperature_k)?,
            dynamic_viscosity_pa_s: dynamic_viscosity_pa_s(temperature_k)?,
            vapour_pressure_pa: vapour_pressure_pa(temperature_k)?,
        })
    }

    /// Gathers the properties of water with salt, stated as mass per volume, as a site file states it.
    ///
    /// # Inputs
    /// `temperature_k`: 273.15 to 333.15 K. `salinity_kg_m3`: 0 kg/m³ or more; 1 g/L is 1 kg/m³.
    ///
    /// # Returns
    /// As [`Water::saline`] at the fraction that [`mass_fraction_of_salt`] finds.
    ///
    /// # Validity
    /// As [`Water::saline`].
    ///
    /// # Accuracy
    /// As [`Water::saline`].
    ///
    /// # Errors
    /// [`HydraulicsError::TemperatureOutOfRange`], [`HydraulicsError::BelowZero`], [`HydraulicsError::OutOfRange`].
    ///
    /// # Source
    /// As [`Water::saline`].
    ///
    /// # Checked against
    /// `validation/water/saline`
    ///
    /// # Example
    /// ```
    /// use hydraulics::water::Water;
    /// let pool = Water::of(298.15, 3.2).unwrap();
    /// let fresh = Water::fresh(298.15).unwrap();
    /// assert!((pool.value.density_kg_m3 - fresh.density_kg_m3 - 2.44).abs() < 0.01); // kg/m3
    /// assert_eq!(Water::of(298.15, 0.0).unwrap().value, fresh);
    /// ```
    pub fn of(temperature_k: f64, salinity_kg_m3: f64) -> Result<Answer<Self>, HydraulicsError> {
        Self::saline(
            temperature_k,
            mass_fraction_of_salt(temperature_k, salinity_kg_m3)?,
        )
    }

    /// Gathers the properties of water with salt.
    ///
    /// # Equation
    /// t = T − 273.15 K, S in kg/kg.
    /// ρ / ρ₀ = 1 + S (802.0 − 2.001 t + 0.01677 t² − 3.060e-5 t³ − 1.613e-5 S t²) / ρ₀(t), ρ₀(t) the correlation's own;
    /// μ / μ₀ = 1 + A S + B S², A = 1.541 + 0.01998 t − 9.52e-5 t², B = 7.974 − 0.07561 t + 4.724e-4 t²;
    /// p / p₀ = 1 / (1 + 0.57357 S / (1 − S)). The fresh values are those of [`Water::fresh`].
    ///
    /// # Inputs
    /// `temperature_k`: 273.15 to 333.15 K. `salinity_kg_kg`: mass of salt in a mass of water, 0 to 0.12 kg/kg.
    ///
    /// # Returns
    /// Density, dynamic viscosity and vapour pressure; exactly the fresh ones where the salinity is zero. Above
    /// 0.035 kg/kg with a [`Warning`](crate::Warning): the correlation goes on, but nothing here checks it.
    ///
    /// # Validity
    /// Sea salt at 0.1 MPa. Pool salt is sodium chloride: brine of the same mass fraction is lighter than seawater
    /// by 0.02 % or less at 3 g/kg and by 0.15 % at 35 g/kg (column `rel_nacl` of the
    /// reference), so that a density from here is within 0.21 % of that of brine.
    ///
    /// # Accuracy
    /// Published: density ±0.1 %, viscosity ±1.5 %. Density is within 0.06 % of TEOS-10 up to 35 g/kg, and within
    /// 0.004 % at 3 g/kg up to 40 °C. Raoult's law is 0.1 % of the vapour pressure (from memory).
    ///
    /// # Errors
    /// [`HydraulicsError::TemperatureOutOfRange`], [`HydraulicsError::OutOfRange`].
    ///
    /// # Source
    /// M. H. Sharqawy, J. H. Lienhard, S. M. Zubair, Thermophysical properties of seawater: a review of existing
    /// correlations and data, Desalination and Water Treatment 16 (2010) 354-380, equations 8, 22 and 31;
    /// coefficients and numbers of equations from memory, confirmed by the comparison below.
    ///
    /// # Checked against
    /// `validation/water/saline`
    ///
    /// # Example
    /// ```
    /// let sea = hydraulics::water::Water::saline(293.15, 0.035).unwrap();
    /// assert!((sea.value.density_kg_m3 - 1024.76).abs() < 1.0); // kg/m3
    /// assert!(sea.warnings.is_empty());
    /// ```
    pub fn saline(
        temperature_k: f64,
        salinity_kg_kg: f64,
    ) -> Result<Answer<Self>, HydraulicsError> {
        let fresh = Self::fresh(temperature_k)?;
        let (salinity_kg_kg, warning) = saline::accepted(salinity_kg_kg)?;
        let value = Self {
            temperature_k,
            density_kg_m3: fresh.density_kg_m3
                * saline::density_factor(temperature_k, salinity_kg_kg),
            dynamic_viscosity_pa_s: fresh.dynamic_viscosity_pa_s
                * saline::viscosity_factor(temperature_k, salinity_kg_kg),
            vapour_pressure_pa: fresh.vapour_pressure_pa
                * saline::vapour_pressure_factor(salinity_kg_kg),
        };
        Ok(Answer::new(value, warning))
    }
}

fn in_range(temperature_k: f64) -> Result<f64, HydraulicsError> {
    let low_k = LOWEST_TEMPERATURE_K;
    let high_k = HIGHEST_TEMPERATURE_K;
    if (low_k - TEMPERATURE_SLACK_K..=high_k + TEMPERATURE_SLACK_K).contains(&temperature_k) {
        Ok(temperature_k)
    } else {
        Err(HydraulicsError::TemperatureOutOfRange {
            temperature_k,
            low_k,
            high_k,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn vapour_pressure_rises_and_viscosity_falls() {
        let waters: Vec<Water> = (0..=600)
            .map(|i| Water::fresh(LOWEST_TEMPERATURE_K + 0.1 * f64::from(i)).unwrap())
            .collect();
        for pair in waters.windows(2) {
            assert!(pair[1].vapour_pressure_pa > pair[0].vapour_pressure_pa);
            assert!(pair[1].dynamic_viscosity_pa_s < pair[0].dynamic_viscosity_pa_s);
        }
    }

    #[test]
    fn ice_and_steam_are_refused_with_the_range() {
        for temperature_k in [273.1, 333.2, 20.0, f64::NAN, f64::INFINITY] {
            let error = Water::fresh(temperature_k).unwrap_err();
            assert!(error.to_string().contains("expected 273.15 K to 333.15 K"));
        }
        assert!(Water::fresh((140.0 - 32.0) * 5.0 / 9.0 + 273.15).is_ok());
    }

    #[test]
    fn water_of_no_salt_is_fresh_water() {
        for temperature_k in [273.15, 298.15, 333.15] {
            let fresh = Water::fresh(temperature_k).unwrap();
            assert_eq!(
                Water::of(temperature_k, 0.0).unwrap(),
                Answer::new(fresh, None)
            );
        }
    }

    #[test]
    fn more_salt_than_the_sea_is_warned_of_and_brine_is_refused() {
        use crate::{Quantity, Warning};
        assert!(Water::saline(300.0, 0.035).unwrap().warnings.is_empty());
        assert!(matches!(
            Water::saline(300.0, 0.05).unwrap().warnings[..],
            [Warning::OutsideRange {
                quantity: Quantity::Salinity,
                ..
            }]
        ));
        for salinity_kg_kg in [-0.001, 0.121, f64::NAN] {
            let error = Water::saline(300.0, salinity_kg_kg).unwrap_err();
            assert!(
                error
                    .to_string()
                    .ends_with("expected 0 kg/kg to 0.12 kg/kg")
            );
        }
    }
}
