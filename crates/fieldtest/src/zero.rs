//! What the gauges show with the pump off: nothing but the height of the gauge.

use crate::cells::value;
use crate::finding::{Finding, Matter, Place, Severity};
use crate::meters::ColumnMeter;
use hydraulics::constants::STANDARD_GRAVITY_M_S2;
use hydraulics::water::Water;
use metrology::Estimate;
use records::{Measured, Readings};

/// Half-width of what a height of the pad may do to a gauge at rest, m: whether the line stays full is not known.
/// Common practice, no source.
const HEIGHT_HALF_WIDTH_M: f64 = 1.0;
/// A gauge is off when it is further from rest than so many standard uncertainties.
const OFF_Z: f64 = 2.0;

/// Finds the gauges that do not come to rest with the pump off.
pub(crate) fn gauges_off_zero(
    test: &str,
    readings: &Readings,
    meters: &[ColumnMeter],
    water: &Water,
) -> Vec<Finding> {
    let weight = water.density_kg_m3 * STANDARD_GRAVITY_M_S2;
    let mut findings = Vec::new();
    for (index, column) in readings.columns.iter().enumerate() {
        // A vacuum is counted downwards.
        let sign = match column.measured {
            Measured::FilterPressure | Measured::InletPressure => -1.0,
            Measured::InletVacuum => 1.0,
            _ => continue,
        };
        let at_rest = sign * weight * meters[index].height_m.unwrap_or(0.0);
        for (row, typed) in readings.rows.iter().enumerate() {
            let shown = value(readings, row, index).filter(|_| typed.speed_rpm <= 0.0);
            let Some(read) = shown.and_then(|_| crate::explain::reading(readings, row, index))
            else {
                continue;
            };
            let of_gauge = meters[index].instrument.accuracy_u(read.si);
            let of_height = weight * HEIGHT_HALF_WIDTH_M / 3.0_f64.sqrt();
            let u = (of_gauge * of_gauge + of_height * of_height).sqrt();
            if (read.si - at_rest).abs() <= OFF_Z * u {
                continue;
            }
            findings.extend(Estimate::normal(at_rest, u).map(|expected| Finding {
                severity: Severity::Warning,
                place: Place {
                    test: Some(test.to_owned()),
                    steps_rpm: vec![0.0],
                    rows: vec![typed.line],
                    column: Some(column.name()),
                },
                matter: Matter::GaugeZero { read, expected },
            }));
        }
    }
    findings
}
