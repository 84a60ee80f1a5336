//! Total head from the gauges on both sides of the pump.

use crate::bores::{discharge_bore_m, suction_bore_m};
use crate::conditions::Conditions;
use crate::meters::ColumnMeter;
use crate::result::Step;
use hydraulics::constants::STANDARD_GRAVITY_M_S2;
use hydraulics::total_head::{Stream, Tap as TapPoint, total_head};
use metrology::Estimate;
use records::{Measured, Readings, Site, Tap};

/// Half-width of the difference in height of two gauges where the site does not state it, m: a pad is about as high as
/// a person reaches. Common practice, no source.
const HEIGHT_HALF_WIDTH_M: f64 = 1.0;

/// The pair of gauges of a test.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Gauges {
    /// Density of the water, kg/m³.
    density_kg_m3: f64,
    /// Height of the outlet gauge above the inlet gauge, m.
    rise_m: f64,
    /// Standard uncertainty of that height, m.
    rise_u_m: f64,
    /// Bore of the pipe that the inlet gauge is tapped into; `None` where the water stands nearly still, as in the pot.
    inlet_bore_m: Option<f64>,
    /// The same of the outlet gauge.
    outlet_bore_m: Option<f64>,
    /// The share of the variance of a head that all steps of the test have in common.
    share_common: f64,
}

/// A total head with the part of its uncertainty that all steps share.
#[derive(Clone, Copy, Debug)]
pub(crate) struct GaugeHead {
    /// The head, m.
    pub head_m: Estimate,
    /// The part of its standard uncertainty that all steps share, m.
    pub common_u_m: f64,
}

impl Gauges {
    /// Finds the pair, where a test reads a gauge between pump and filter and one at the pump's inlet.
    pub(crate) fn of(
        site: &Site,
        conditions: &Conditions,
        readings: &Readings,
        meters: &[ColumnMeter],
    ) -> Option<Self> {
        let (outlet, inlet) = (conditions.outlet?, conditions.inlet?);
        // A gauge behind the filter does not see the filter's share of the head.
        if matches!(outlet.tap, Some(Tap::FilterOutlet | Tap::PadOutlet)) {
            return None;
        }
        let rise = outlet
            .height_m
            .zip(inlet.height_m)
            .map(|(high, low)| high - low);
        let share_of = |wanted: &[Measured]| {
            let mut columns = readings.columns.iter().zip(meters);
            let (_, meter) = columns.find(|(column, _)| wanted.contains(&column.measured))?;
            Some(meter.instrument.share_common)
        };
        let shares = share_of(&[Measured::FilterPressure])
            .zip(share_of(&[Measured::InletVacuum, Measured::InletPressure]));
        Some(Self {
            density_kg_m3: conditions.around.water.density_kg_m3,
            rise_m: rise.unwrap_or(0.0),
            rise_u_m: rise.map_or(HEIGHT_HALF_WIDTH_M / 3.0_f64.sqrt(), |_| 0.0),
            inlet_bore_m: suction_bore_m(site).filter(|_| inlet.tap == Some(Tap::SuctionPipe)),
            outlet_bore_m: discharge_bore_m(site).filter(|_| outlet.tap == Some(Tap::PumpOutlet)),
            share_common: shares.map(|(outlet, inlet)| 0.5 * (outlet + inlet))?,
        })
    }

    /// Computes the total head of a step, as [`total_head`] does from two taps.
    pub(crate) fn head(&self, step: &Step) -> Option<GaugeHead> {
        let (outlet, inlet) = (step.filter_pressure_pa?, step.inlet_pressure_pa?);
        let suction = TapPoint {
            gauge_pressure_pa: inlet.value,
            height_m: 0.0,
            bore_m: self.inlet_bore_m,
        };
        let discharge = TapPoint {
            gauge_pressure_pa: outlet.value,
            height_m: self.rise_m,
            bore_m: self.outlet_bore_m,
        };
        let stream = Stream {
            flow_m3s: step.flow_m3s.map_or(0.0, |flow| flow.value),
            density_kg_m3: self.density_kg_m3,
        };
        let head = total_head(&suction, &discharge, &stream).ok()?.total_m;
        let specific_weight = self.density_kg_m3 * STANDARD_GRAVITY_M_S2;
        let of_gauges = (outlet.u * outlet.u + inlet.u * inlet.u).sqrt() / specific_weight;
        let rise = self.rise_u_m * self.rise_u_m;
        let common = self.share_common * of_gauges * of_gauges + rise;
        Some(GaugeHead {
            head_m: Estimate::normal(head, (of_gauges * of_gauges + rise).sqrt())?,
            common_u_m: common.sqrt(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_worked_case_of_the_sheet_is_met() {
        // 82 F water, 996.30 kg/m³, 60 gpm; discharge 20 psi in 2 in (2.067 in bore), its gauge 1.0 ft above the suction
        // tap; suction 6 inHg vacuum in 2-1/2 in (2.469 in): 54.387 ft, to 0.005 ft (validation/pump/handbook, T12).
        let gauges = Gauges {
            density_kg_m3: 996.30,
            rise_m: 0.3048,
            rise_u_m: 0.0,
            inlet_bore_m: Some(2.469 * 0.0254),
            outlet_bore_m: Some(2.067 * 0.0254),
            share_common: 0.7,
        };
        let step = Step {
            flow_m3s: Estimate::normal(60.0 * 3.785_411_784e-3 / 60.0, 0.0),
            filter_pressure_pa: Estimate::normal(20.0 * 6_894.757_293, 0.0),
            inlet_pressure_pa: Estimate::normal(-6.0 * 3_386.389, 0.0),
            ..Step::default()
        };
        let head = gauges.head(&step).unwrap().head_m;
        assert!((head.value / 0.3048 - 54.387).abs() < 0.005, "{head:?}");
    }
}
