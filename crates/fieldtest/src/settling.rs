//! Readings that had not settled: a trend over repeats, or a speed that reads otherwise when it is met again.

use crate::cells::{SpeedKey, value};
use crate::finding::{Finding, Matter, Place, Severity, Unrest};
use crate::meters::ColumnMeter;
use records::Readings;
use std::collections::BTreeMap;

/// A trend needs so many repeats to be one.
const LEAST_REPEATS: usize = 4;
/// A change below this share changes nothing that a test decides.
const LEAST_SHARE: f64 = 0.02;
/// A change above this share between two visits is rather a typing fault, which is judged elsewhere.
const MOST_SHARE: f64 = 0.3;
/// A change between two visits of so many standard uncertainties of what is each reading's own is no noise.
const CHANGED_Z: f64 = 3.0;
/// A trend is one when its slope is so many standard errors from none.
const TREND_T: f64 = 4.0;

/// A visit: rows of one speed, one after another.
#[derive(Clone, Debug, PartialEq)]
struct Visit {
    speed_rpm: f64,
    rows: Vec<usize>,
}

/// Finds what had not settled in one column.
pub(crate) fn unsettled(
    test: &str,
    readings: &Readings,
    column: usize,
    meter: &ColumnMeter,
    in_use: impl Fn(usize) -> bool,
) -> Vec<Finding> {
    let visits = visits(readings);
    let read = |visit: &Visit| -> Vec<(usize, f64)> {
        let rows = visit.rows.iter().filter(|row| in_use(**row));
        rows.filter_map(|row| Some((*row, value(readings, *row, column)?)))
            .collect()
    };
    let mut changes: Vec<(f64, Unrest, Vec<usize>, f64, f64)> = Vec::new();
    // The last visit of each speed that was read.
    let mut last: BTreeMap<SpeedKey, Vec<(usize, f64)>> = BTreeMap::new();
    for visit in &visits {
        let here = read(visit);
        if here.is_empty() {
            continue;
        }
        if let Some((from, to)) = trend(&here, meter) {
            let rows = here.iter().map(|(row, _)| *row).collect();
            changes.push((visit.speed_rpm, Unrest::Trend, rows, from, to));
        }
        let key = SpeedKey::new(visit.speed_rpm);
        if let Some(before) = last.get(&key)
            && let (Some(then), Some(now)) = (mean(before), mean(&here))
            && is_change(then, now, before.len().min(here.len()), meter)
        {
            let rows = before.iter().chain(&here).map(|(row, _)| *row).collect();
            changes.push((visit.speed_rpm, Unrest::Drift, rows, then, now));
        }
        last.insert(key, here);
    }
    let finding =
        |(speed_rpm, unrest, rows, from_si, to_si): (f64, Unrest, Vec<usize>, f64, f64)| Finding {
            severity: Severity::Warning,
            place: Place {
                test: Some(test.to_owned()),
                steps_rpm: vec![speed_rpm],
                rows: rows.iter().map(|row| readings.rows[*row].line).collect(),
                column: Some(readings.columns[column].name()),
            },
            matter: Matter::Unsettled {
                measured: readings.columns[column].measured,
                unit: readings.columns[column].unit,
                unrest,
                from_si,
                to_si,
            },
        };
    changes.into_iter().map(finding).collect()
}

/// Cuts the rows into visits; standby is none.
fn visits(readings: &Readings) -> Vec<Visit> {
    let mut visits: Vec<Visit> = Vec::new();
    for (row, typed) in readings.rows.iter().enumerate() {
        match visits.last_mut() {
            Some(visit) if visit.speed_rpm.to_bits() == typed.speed_rpm.to_bits() => {
                visit.rows.push(row);
            }
            _ => visits.push(Visit {
                speed_rpm: typed.speed_rpm,
                rows: vec![row],
            }),
        }
    }
    visits.retain(|visit| visit.speed_rpm > 0.0);
    visits
}

fn mean(read: &[(usize, f64)]) -> Option<f64> {
    let sum: f64 = read.iter().map(|(_, si)| si).sum();
    (!read.is_empty()).then(|| sum / read.len() as f64)
}

/// Finds a trend: every repeat on the same side of the one before, and the whole way more than the scatter about it.
fn trend(read: &[(usize, f64)], meter: &ColumnMeter) -> Option<(f64, f64)> {
    let (first, last) = (read.first()?.1, read.last()?.1);
    let rises = read.windows(2).all(|pair| pair[0].1 < pair[1].1);
    let falls = read.windows(2).all(|pair| pair[0].1 > pair[1].1);
    let change = (last - first).abs();
    // What a meter errs from reading to reading may fall in one line by chance: twice in 24 for four repeats.
    let own = meter.instrument.independent_u(first.abs().max(last.abs()));
    let large = change > LEAST_SHARE * first.abs()
        && change > 4.0 * meter.instrument.resolution
        && change > CHANGED_Z * 2.0_f64.sqrt() * own;
    let is_trend = read.len() >= LEAST_REPEATS && (rises || falls) && large;
    (is_trend && slope_t(read, meter.instrument.resolution).abs() > TREND_T)
        .then_some((first, last))
}

/// Computes the slope of readings over their order, in its standard errors; the rounding of the display counts as scatter.
fn slope_t(read: &[(usize, f64)], resolution: f64) -> f64 {
    let count = read.len() as f64;
    let middle = 0.5 * (count - 1.0);
    let mean = read.iter().map(|(_, si)| si).sum::<f64>() / count;
    let (mut sxx, mut sxy) = (0.0, 0.0);
    for (order, (_, si)) in read.iter().enumerate() {
        let x = order as f64 - middle;
        sxx += x * x;
        sxy += x * (si - mean);
    }
    let slope = sxy / sxx;
    let left = |(order, (_, si)): (usize, &(usize, f64))| {
        let residual = si - mean - slope * (order as f64 - middle);
        residual * residual
    };
    let scatter = read.iter().enumerate().map(left).sum::<f64>() / (count - 2.0);
    slope / ((scatter + resolution * resolution / 12.0) / sxx).sqrt()
}

/// Says whether two means of `count` readings by one meter differ by more than its own noise, and not as a typing fault does.
fn is_change(from: f64, to: f64, count: usize, meter: &ColumnMeter) -> bool {
    let own = meter.instrument.independent_u(from.abs().max(to.abs()));
    let u = own * (2.0 / count.max(1) as f64).sqrt();
    let change = (to - from).abs();
    let share = change / from.abs().max(to.abs());
    change > CHANGED_Z * u && (LEAST_SHARE..=MOST_SHARE).contains(&share)
}
