//! What a test was held under: the water, the air above it, and where the gauges hang.

use crate::finding::Matter;
use crate::meters::ColumnMeter;
use hydraulics::HydraulicsError;
use hydraulics::atmosphere::standard_pressure_pa;
use hydraulics::constants::{STANDARD_ATMOSPHERE_PA, STANDARD_GRAVITY_M_S2};
use hydraulics::suction::boiling_margin_m;
use hydraulics::water::Water;
use records::{Measured, Readings, Site, Tap, Test};

/// The temperature of water that nobody measured, K: 20 °C, that of handbook tables.
const HANDBOOK_TEMPERATURE_K: f64 = 293.15;

/// What a test was held under.
#[derive(Clone, Debug)]
pub(crate) struct Conditions {
    /// The water.
    pub water: Water,
    /// Pressure of the atmosphere by the elevation of the site, Pa.
    pub atmosphere_pa: f64,
    /// Height of the pump's centre above the water, m, where it is stated.
    pub pump_m: Option<f64>,
    /// The gauge between pump and filter.
    pub outlet: Option<Gauge>,
    /// The gauge at the pump's inlet.
    pub inlet: Option<Gauge>,
}

/// Where a gauge hangs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Gauge {
    /// Its height above the water, m, where it is stated.
    pub height_m: Option<f64>,
    /// Where it is tapped, as far as that is stated.
    pub tap: Option<Tap>,
}

impl Conditions {
    /// Gathers what a test was held under, and what is to be said of it. What cannot be is replaced by the values of a
    /// handbook: fresh water at 20 °C, at sea level.
    pub(crate) fn of(
        site: &Site,
        test: &Test,
        meters: &[ColumnMeter],
    ) -> Result<(Self, Vec<Matter>), HydraulicsError> {
        let typed = test.head.water_temperature.as_ref();
        let temperature_k = typed
            .or(site.water.temperature.as_ref())
            .map_or(HANDBOOK_TEMPERATURE_K, |temperature| temperature.si);
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
        let gauge = |wanted: &[Measured]| gauge(&test.readings, meters, wanted);
        let conditions = Self {
            water,
            atmosphere_pa,
            pump_m: site.pump.height.as_ref().map(|height| height.si),
            outlet: gauge(&[Measured::FilterPressure]),
            inlet: gauge(&[Measured::InletVacuum, Measured::InletPressure]),
        };
        Ok((conditions, matters))
    }

    /// Weight of a cubic metre of the water, N/m³.
    pub(crate) fn specific_weight(&self) -> f64 {
        self.water.density_kg_m3 * STANDARD_GRAVITY_M_S2
    }

    /// The pressure of the atmosphere over the standard one.
    pub(crate) fn of_standard_atmosphere(&self) -> f64 {
        self.atmosphere_pa / STANDARD_ATMOSPHERE_PA
    }

    /// What a gauge shows with the pump off, Pa: the weight of the water below it. An unstated height counts as none.
    pub(crate) fn at_rest_pa(&self, gauge: Option<Gauge>) -> f64 {
        let height_m = gauge.and_then(|gauge| gauge.height_m);
        -self.specific_weight() * height_m.unwrap_or(0.0)
    }

    /// NPSH available before any flow, m, where the height of the pump is stated.
    pub(crate) fn npsh_at_rest_m(&self) -> Option<f64> {
        let above_boiling_m = boiling_margin_m(self.atmosphere_pa, &self.water).ok()?;
        Some(above_boiling_m - self.pump_m?)
    }
}

/// Finds the gauge behind the first column of a kind.
fn gauge(readings: &Readings, meters: &[ColumnMeter], wanted: &[Measured]) -> Option<Gauge> {
    let columns = readings.columns.iter().zip(meters);
    let mut of_kind = columns.filter(|(column, _)| wanted.contains(&column.measured));
    of_kind.next().map(|(_, meter)| Gauge {
        height_m: meter.height_m,
        tap: meter.tap,
    })
}
