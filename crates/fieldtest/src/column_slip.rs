//! A slip in a whole column: every flow typed in litres under gallons, every power in kilowatts under watts.
//!
//! No reading of such a column disagrees with its neighbours. It shows only against something else: the flow that
//! pumps of this kind give per speed, or the power that volts and amperes allow.

use crate::finding::{Matter, Seen, Slip};
use crate::result::Step;
use records::unit::Unit;
use records::{Column, Measured};

/// Flow per speed at the faster steps of a pool pump, m³/s per rpm: 0.012 to 0.05 gpm per rpm. Common practice, no source.
const USUAL_FLOW_PER_RPM: (f64, f64) = (7.5e-7, 3.2e-6);
/// Beyond the usual range by this factor, a flow per speed is none of a pool pump's.
const FAR: f64 = 1.5;
/// Power factors of a drive from its lowest to its highest load. Common practice, no source.
const USUAL_POWER_FACTOR: (f64, f64) = (0.2, 1.0);

/// Looks for another unit in which a whole column would be usual; steps are by rising speed.
pub(crate) fn column_slip(steps: &[Step], column: &Column) -> Option<Matter> {
    match column.measured {
        Measured::Flow => flow_column(steps, column),
        Measured::Power => power_column(steps, column),
        _ => None,
    }
}

/// Holds flow against what pool pumps give at a speed.
fn flow_column(steps: &[Step], column: &Column) -> Option<Matter> {
    let ratios = faster_half(steps, |step| Some(step.flow_m3s?.value / step.speed_rpm))?;
    let (low, high) = USUAL_FLOW_PER_RPM;
    let usual = (low / FAR)..=(high * FAR);
    if ratios.iter().any(|ratio| usual.contains(ratio)) {
        return None;
    }
    matter(column, Seen::FlowPerSpeed, |factor| {
        ratios
            .iter()
            .all(|ratio| (low..=high).contains(&(ratio / factor)))
    })
}

/// Holds power against volts and amperes.
fn power_column(steps: &[Step], column: &Column) -> Option<Matter> {
    let ratios = faster_half(steps, |step| Some(step.power_factor?.value))?;
    let (low, high) = USUAL_POWER_FACTOR;
    let usual = (low / 4.0)..=(high * 2.0);
    if ratios.iter().any(|ratio| usual.contains(ratio)) {
        return None;
    }
    matter(column, Seen::PowerFactor, |factor| {
        ratios
            .iter()
            .all(|ratio| (low..=high * 1.1).contains(&(ratio / factor)))
    })
}

/// Builds the finding from the unit, other than the column's own, that `explains` the column.
fn matter(column: &Column, seen: Seen, explains: impl Fn(f64) -> bool) -> Option<Matter> {
    let own = column.unit?;
    let others = Unit::all().filter(|other| other.dimension == own.dimension);
    // Read over true: a number of the other unit stands under the own one.
    let factors = others.map(|other| (other, own.factor / other.factor));
    let (unit, factor) = factors
        .filter(|(_, factor)| (factor - 1.0).abs() > 0.01 && explains(*factor))
        .min_by(|a, b| plausibility(a.0).cmp(&plausibility(b.0)))?;
    Some(Matter::ColumnSlip {
        measured: column.measured,
        typed: own,
        factor,
        slip: Slip::Unit(unit),
        seen,
    })
}

/// Ranks units by how often they stand on a meter of a pad.
fn plausibility(unit: &Unit) -> usize {
    let usual = ["gpm", "L/min", "m3/h", "L/s", "kW", "W"];
    usual
        .iter()
        .position(|name| *name == unit.name)
        .unwrap_or(usual.len())
}

/// Lists a number of the faster half of the steps; `None` of fewer than two, which are no column.
fn faster_half(steps: &[Step], number: impl Fn(&Step) -> Option<f64>) -> Option<Vec<f64>> {
    let all: Vec<f64> = steps.iter().filter_map(number).collect();
    let half = all[all.len() / 2..].to_vec();
    (half.len() >= 2).then_some(half)
}
