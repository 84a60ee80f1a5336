//! What a test was held under: what stands around the pad, and where the gauges hang.

use crate::finding::Matter;
use crate::meters::ColumnMeter;
use crate::surroundings::Surroundings;
use hydraulics::HydraulicsError;
use records::{Measured, Readings, Site, Tap, Test};

/// What a test was held under.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Conditions {
    /// Water and air.
    pub around: Surroundings,
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
    /// Gathers what a test was held under, and what is to be said of it.
    pub(crate) fn of(
        site: &Site,
        test: &Test,
        meters: &[ColumnMeter],
    ) -> Result<(Self, Vec<Matter>), HydraulicsError> {
        let typed = test.head.water_temperature.as_ref();
        let (around, matters) = Surroundings::of(site, typed.map(|typed| typed.si))?;
        let gauge = |wanted: &[Measured]| gauge(&test.readings, meters, wanted);
        let conditions = Self {
            around,
            outlet: gauge(&[Measured::FilterPressure]),
            inlet: gauge(&[Measured::InletVacuum, Measured::InletPressure]),
        };
        Ok((conditions, matters))
    }

    /// What a gauge shows with the pump off, Pa: the weight of the water below it. An unstated height counts as none.
    pub(crate) fn at_rest_pa(&self, gauge: Option<Gauge>) -> f64 {
        let height_m = gauge.and_then(|gauge| gauge.height_m);
        -self.around.specific_weight() * height_m.unwrap_or(0.0)
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
