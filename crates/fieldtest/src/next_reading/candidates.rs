//! The readings that are weighed: what was not read in the last test, and may be read without harm.

use super::{ReadingToCome, Weighing};
use crate::calibration::{Asking, free_taps};
use crate::circuit::{PUMP_INLET, Side, passage, side};
use crate::limits::pad_rules;
use crate::network::is_overflow;
use crate::pump_curve::pump_curve;
use crate::result::{Bound, LimitOf, Passage, TestResult};
use crate::surroundings::Surroundings;
use hydraulics::equipment::highest_flow_with_one_blocked_m3s;
use records::{Cell, Line, Measured, PartKind, Site};

/// Steps that a line-up is read at.
const LINE_UP_STEPS: usize = 3;
/// Speeds are proposed to this closeness, rpm.
const ROUND_RPM: f64 = 50.0;
/// Steps closer than this share of the speed tell little apart. Common practice, no source.
const LEAST_GAP: f64 = 0.06;
/// Head at no flow over that at work, of a pump without a curve, at the most. Common practice, no source.
const SHUTOFF_OVER_WORKING: f64 = 1.5;

/// Lists the readings that are weighed for a number of the circuit.
pub(super) fn candidates(of: &Weighing<'_>, asking: &Asking<'_>) -> Vec<ReadingToCome> {
    let gauges = free_taps(asking).into_iter().map(ReadingToCome::Gauge);
    gauges.chain(line_ups(of)).chain(speeds(of)).collect()
}

/// Lists the readings that are weighed for a number of the laws: the draw at rest where it was not read, and speeds.
pub(super) fn of_laws(of: &Weighing<'_>) -> Vec<ReadingToCome> {
    let rested = of.tests.last().is_some_and(|test| {
        let columns = test.readings.columns.iter().enumerate();
        let mut powers = columns.filter(|(_, column)| column.measured == Measured::Power);
        powers.any(|(index, _)| {
            let read = |cell: &Cell| *cell != Cell::Empty;
            let mut rows = test.readings.rows.iter();
            rows.any(|row| row.speed_rpm <= 0.0 && row.cells.get(index).is_some_and(read))
        })
    });
    let standby = (!rested).then_some(ReadingToCome::Standby);
    standby.into_iter().chain(speeds(of)).collect()
}

/// Lists the speeds that are weighed: those that were not tested, and the ends and the middle of the test once more.
fn speeds(of: &Weighing<'_>) -> Vec<ReadingToCome> {
    let Some(test) = of.analysis.tests.last() else {
        return Vec::new();
    };
    let tested: Vec<f64> = test.steps.iter().map(|step| step.speed_rpm).collect();
    let apart = |speed: f64| tested.iter().all(|it| (it / speed - 1.0).abs() > LEAST_GAP);
    let low_rpm = of.site.pump.speed.min.as_ref().map(|min| min.si);
    let high_rpm = highest_rpm(of);
    let between = tested.windows(2).map(|pair| (pair[0] * pair[1]).sqrt());
    let rounded = between.map(|speed| (speed / ROUND_RPM).round() * ROUND_RPM);
    let ends = low_rpm.into_iter().chain(Some(high_rpm));
    let within = |speed: &f64| *speed >= low_rpm.unwrap_or(1.0) && *speed <= high_rpm;
    let others = ends
        .chain(rounded)
        .filter(|speed| within(speed) && apart(*speed));
    let mut found: Vec<ReadingToCome> = others.map(ReadingToCome::Speed).collect();
    let again = [0, tested.len() / 2, tested.len().saturating_sub(1)];
    for speed in again.into_iter().filter_map(|place| tested.get(place)) {
        let again = ReadingToCome::Again(*speed);
        if !found.contains(&again) {
            found.push(again);
        }
    }
    found
}

/// The highest speed that no limit forbids: one whose breach harms while a person reads.
fn highest_rpm(of: &Weighing<'_>) -> f64 {
    let harms = of.analysis.limits.iter().filter(|limit| {
        limit.bound == Bound::Max
            && (limit.code == "above-cover-rating"
                || matches!(
                    limit.of,
                    LimitOf::Pressure { .. } | LimitOf::Vacuum { .. } | LimitOf::NpshMargin { .. }
                ))
    });
    let lowest = harms.filter_map(|limit| limit.speed_rpm);
    lowest.fold(of.site.pump.speed.max.si, f64::min)
}

/// Lists the lines that may be shut with an open way left, each with speeds at which that is safe.
fn line_ups(of: &Weighing<'_>) -> Vec<ReadingToCome> {
    let Some((test, typed)) = of.analysis.tests.last().zip(of.tests.last()) else {
        return Vec::new();
    };
    let safe = safe_steps_rpm(of.site, test);
    if safe.len() < LINE_UP_STEPS {
        return Vec::new();
    }
    // From the fastest down to a third of the way: slower, a gauge tells little.
    let spread = |part: usize| safe[(safe.len() - 1) * part / LINE_UP_STEPS];
    let steps_rpm: Vec<f64> = (1..=LINE_UP_STEPS).rev().map(spread).collect();
    let top_m3s = test
        .steps
        .iter()
        .filter_map(|step| Some(step.flow_m3s?.high))
        .fold(0.0, f64::max);
    let may_be_shut = |line: &&Line| may_be_shut(of.site, line, &typed.head.closed, top_m3s);
    let lines = of.site.lines.iter().filter(may_be_shut);
    lines
        .map(|line| ReadingToCome::LineUp {
            shut: line.name.clone(),
            steps_rpm: steps_rpm.clone(),
        })
        .collect()
}

/// Says whether a line may be shut: an open way is left, and the suctions that are left stand the whole flow by the ratings of
/// their covers, which must be stated.
pub(crate) fn may_be_shut(site: &Site, line: &Line, closed: &[String], flow_m3s: f64) -> bool {
    if passage(site, line, closed) != Passage::Part || is_overflow(site, line) {
        return false;
    }
    if side(site, line) != Some(Side::Suction) {
        return true;
    }
    let left = site.lines.iter().filter(|other| {
        other.name != line.name && !closed.contains(&other.name) && other.to == PUMP_INLET
    });
    let mut covers = left
        .flat_map(|other| &other.parts)
        .filter_map(|part| match &part.kind {
            PartKind::Cover(cover) => {
                Some((cover.rating.as_ref().map(|rating| rating.si), part.count))
            }
            _ => None,
        });
    covers.all(|(rating, count)| {
        rating.is_some_and(|rating| {
            let highest = match count {
                1 => Ok(rating),
                count => highest_flow_with_one_blocked_m3s(rating, count),
            };
            highest.is_ok_and(|highest| flow_m3s <= highest)
        })
    })
}

/// Lists the tested speeds at which the vessel stands even a shut valve: by the maker's curve, else by what its gauge read.
fn safe_steps_rpm(site: &Site, test: &TestResult) -> Vec<f64> {
    let all = test.steps.iter();
    let Ok((around, _)) = Surroundings::of(site, None) else {
        return Vec::new();
    };
    let rating = pad_rules(site, &around).vessel_pressure.map(|rule| rule.si);
    let curve = pump_curve(site).and_then(Result::ok);
    let highest_pa = |speed_rpm: f64, read_pa: Option<f64>| match &curve {
        Some(curve) => Some(around.specific_weight() * curve.head_and_slope(0.0, speed_rpm).head_m),
        None => read_pa.map(|read| SHUTOFF_OVER_WORKING * read),
    };
    let stands = |step: &&crate::result::Step| {
        let read_pa = step.filter_pressure_pa.map(|read| read.high);
        let highest = highest_pa(step.speed_rpm, read_pa);
        rating.is_none_or(|rating| highest.is_some_and(|highest| highest <= rating))
    };
    all.filter(stands).map(|step| step.speed_rpm).collect()
}
