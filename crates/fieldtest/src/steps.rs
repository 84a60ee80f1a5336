//! The steps of a test: all rows of one speed drawn together, with what the readings of each are worth.

use crate::cells::{Scatter, SpeedKey, UsedColumn, by_speed};
use crate::electrical::{StepVoltage, power_factor};
use crate::head::bound_m;
use crate::result::Step;
use hydraulics::water::Water;
use metrology::{Estimate, effective_dof};
use numerics::elementary::ln;
use records::{Measured, Readings};
use std::collections::BTreeMap;

/// Seconds in an hour, exact.
const SECONDS_PER_HOUR: f64 = 3600.0;

/// Estimates of one quantity by speed.
type BySpeed = BTreeMap<SpeedKey, Estimate>;

/// Draws the rows of each speed together; `in_use` says of row and column whether the reading counts.
pub(crate) fn steps(
    readings: &Readings,
    columns: &[UsedColumn<'_>],
    in_use: &impl Fn(usize, usize) -> bool,
    supply_v: Option<f64>,
    water: &Water,
) -> Vec<Step> {
    let of = |measured: Measured| estimates(readings, columns, measured, in_use);
    let flow = of(Measured::Flow);
    let power = of(Measured::Power);
    let current = of(Measured::Current);
    let voltage = of(Measured::Voltage);
    let filter = of(Measured::FilterPressure);
    let (inlet, vacuum) = (of(Measured::InletPressure), of(Measured::InletVacuum));
    rows_by_speed(readings)
        .into_iter()
        .map(|(key, (speed_rpm, rows))| {
            let volts = step_voltage(voltage.get(&key).copied(), supply_v);
            let electrical = (power.get(&key), current.get(&key), volts);
            let moved = power.get(&key).zip(flow.get(&key));
            Step {
                speed_rpm,
                rows,
                flow_m3s: flow.get(&key).copied(),
                power_w: power.get(&key).copied(),
                current_a: current.get(&key).copied(),
                power_factor: match electrical {
                    (Some(p), Some(i), Some(v)) => power_factor(*p, *i, v.volts),
                    _ => None,
                },
                head_bound_m: moved.and_then(|(p, q)| bound_m(*p, *q, water)),
                energy_wh_per_m3: moved.and_then(|(p, q)| energy_per_volume(*p, *q)),
                voltage: volts,
                filter_pressure_pa: filter.get(&key).copied(),
                inlet_pressure_pa: inlet
                    .get(&key)
                    .copied()
                    .or_else(|| vacuum.get(&key).map(|vacuum| vacuum.negated())),
                ..Step::default()
            }
        })
        .collect()
}

/// Lists the speeds with the lines of their rows, by rising speed; standby is no step.
fn rows_by_speed(readings: &Readings) -> BTreeMap<SpeedKey, (f64, Vec<usize>)> {
    let mut rows: BTreeMap<SpeedKey, (f64, Vec<usize>)> = BTreeMap::new();
    for row in readings.rows.iter().filter(|row| row.speed_rpm > 0.0) {
        let entry = rows.entry(SpeedKey::new(row.speed_rpm));
        let (_, lines) = entry.or_insert_with(|| (row.speed_rpm, Vec::new()));
        lines.push(row.line);
    }
    rows
}

/// Returns the voltage of a step: as read, or that of the supply.
fn step_voltage(read: Option<Estimate>, supply_v: Option<f64>) -> Option<StepVoltage> {
    read.map(StepVoltage::read)
        .or(supply_v.map(StepVoltage::of_supply))
}

/// Estimates one quantity at each speed from all columns that measure it.
fn estimates(
    readings: &Readings,
    columns: &[UsedColumn<'_>],
    measured: Measured,
    in_use: &impl Fn(usize, usize) -> bool,
) -> BySpeed {
    let mut by_meter: BTreeMap<SpeedKey, Vec<Estimate>> = BTreeMap::new();
    let of_kind = || columns.iter().filter(|column| column.measured == measured);
    // Gauges at other taps of the pad read other pressures.
    let tap = of_kind().next().and_then(|first| first.meter.tap);
    for column in of_kind().filter(|column| column.meter.tap == tap) {
        let groups = by_speed(readings, column.index, |row| in_use(row, column.index));
        for (key, group) in groups {
            let estimate = repeated(*column, group.iter().map(|(si, _)| *si));
            by_meter.entry(key).or_default().extend(estimate);
        }
    }
    by_meter
        .into_iter()
        .filter_map(|(key, meters)| Some((key, combined(&meters)?)))
        .map(|(key, estimate)| match measured {
            // Only a gauge shows less than nothing.
            Measured::FilterPressure | Measured::InletPressure | Measured::InletVacuum => {
                (key, estimate)
            }
            _ => (key, estimate.not_below(0.0)),
        })
        .collect()
}

/// Estimates a quantity from readings of one meter at one speed.
///
/// # Source
/// JCGM 100:2008 (GUM): type A from the scatter of the readings (4.2), type B from accuracy and resolution (4.3),
/// effective degrees of freedom (G.4).
pub(crate) fn repeated(
    column: UsedColumn<'_>,
    values: impl Iterator<Item = f64> + Clone,
) -> Option<Estimate> {
    let scatter = Scatter::of(values);
    let instrument = &column.meter.instrument;
    let accuracy = column.widening * instrument.accuracy_u(scatter.mean);
    let rounding = instrument.resolution / 12.0_f64.sqrt();
    let random = (scatter.sd_of_mean * scatter.sd_of_mean + rounding * rounding).sqrt();
    if scatter.count == 1 && instrument.is_one_rectangle() {
        return Estimate::mixed(scatter.mean, random, accuracy);
    }
    let u = (random * random + accuracy * accuracy).sqrt();
    let repeats = scatter.count.saturating_sub(1).max(1) as f64;
    let of_type_b = (accuracy * accuracy + rounding * rounding).sqrt();
    let dof = effective_dof(&[(scatter.sd_of_mean, repeats), (of_type_b, f64::INFINITY)]);
    Estimate::student(scatter.mean, u, dof)
}

/// Combines independent meters by their relative uncertainties: an error in per cent of what is read would otherwise
/// make the meter that reads less the better one.
///
/// # Source
/// Weighted mean, each weight the inverse of a variance (Gauss-Markov), in logarithms.
fn combined(meters: &[Estimate]) -> Option<Estimate> {
    if let [only] = meters {
        return Some(*only);
    }
    let positive: Vec<&Estimate> = meters.iter().filter(|meter| meter.value > 0.0).collect();
    let weight = |meter: &Estimate| 1.0 / (meter.relative_u() * meter.relative_u());
    let total: f64 = positive.iter().map(|meter| weight(meter)).sum();
    let sum: f64 = positive
        .iter()
        .map(|meter| weight(meter) * ln(meter.value))
        .sum();
    Estimate::log_normal(sum / total, (1.0 / total).sqrt())
}

/// Computes electrical energy per volume, W h/m³.
fn energy_per_volume(power_w: Estimate, flow_m3s: Estimate) -> Option<Estimate> {
    let value = power_w.value / (flow_m3s.value * SECONDS_PER_HOUR);
    let (a, b) = (power_w.relative_u(), flow_m3s.relative_u());
    Estimate::normal(value, value * (a * a + b * b).sqrt())
}
