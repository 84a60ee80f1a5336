//! What stands around a pad whatever is tested: the water and the air above it.

use crate::finding::Matter;
use hydraulics::HydraulicsError;
use hydraulics::atmosphere::standard_pressure_pa;
use hydraulics::constants::{STANDARD_ATMOSPHERE_PA, STANDARD_GRAVITY_M_S2};
use hydraulics::suction::boiling_margin_m;
use hydraulics::water::Water;
use records::Site;

/// The temperature of water that nobody measured, K: 20 °C, that of handbook tables.
const HANDBOOK_TEMPERATURE_K: f64 = 293.15;

/// What stands around a pad.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Surroundings {
    /// The water.
    pub water: Water,
    /// Pressure of the atmosphere by the elevation of the site, Pa.
    pub atmosphere_pa: f64,
    /// Height of the pump's centre above the water, m, where it is stated.
    pub pump_m: Option<f64>,
}

impl Surroundings {
    /// Gathers what stands around a site, and what is to be said of it; without a temperature that of the site is taken.
    /// What cannot be is replaced by the values of a handbook: fresh water at 20 °C, at sea level.
    pub(crate) fn of(
        site: &Site,
        temperature_k: Option<f64>,
    ) -> Result<(Self, Vec<Matter>), HydraulicsError> {
        let of_site = site.water.temperature.as_ref().map(|typed| typed.si);
        let temperature_k = temperature_k.or(of_site).unwrap_or(HANDBOOK_TEMPERATURE_K);
        let salinity_kg_m3 = site.water.salinity.as_ref().map_or(0.0, |salt| salt.si);
        let mut matters = Vec::new();
        let water = match Water::of(temperature_k, salinity_kg_m3) {
            Ok(water) => {
                matters.extend(water.warnings.into_iter().map(Matter::OutsideRange));
                water.value
            }
            Err(refused) => {
                matters.push(Matter::Refused(refused));
                Water::fresh(HANDBOOK_TEMPERATURE_K)?
            }
        };
        let elevation_m = site.place.elevation.as_ref().map_or(0.0, |place| place.si);
        let atmosphere_pa = standard_pressure_pa(elevation_m).unwrap_or_else(|refused| {
            matters.push(Matter::Refused(refused));
            STANDARD_ATMOSPHERE_PA
        });
        let around = Self {
            water,
            atmosphere_pa,
            pump_m: site.pump.height.as_ref().map(|height| height.si),
        };
        Ok((around, matters))
    }

    /// Weight of a cubic metre of the water, N/m³.
    pub(crate) fn specific_weight(&self) -> f64 {
        self.water.density_kg_m3 * STANDARD_GRAVITY_M_S2
    }

    /// The pressure of the atmosphere over the standard one.
    pub(crate) fn of_standard_atmosphere(&self) -> f64 {
        self.atmosphere_pa / STANDARD_ATMOSPHERE_PA
    }

    /// NPSH available where the water at the pump's inlet has a head over the pool, m; `None` where the height of the pump is
    /// not stated.
    pub(crate) fn npsh_m(&self, inlet_head_m: f64) -> Option<f64> {
        let of_air_m = boiling_margin_m(self.atmosphere_pa, &self.water).ok()?;
        Some(of_air_m + inlet_head_m - self.pump_m?)
    }
}
