//! Rough bands: by the affinity laws from rows near by, by the maker's curve, and by what such pumps do.

use numerics::elementary::pow;
use records::{Measured, Site};

/// The exponents between which a quantity grows with speed, each from the affinity laws and what bends them.
struct Growth {
    least: f64,
    most: f64,
}

/// From this share of the top speed on, the draw that does not depend on speed is small beside the rest. Common
/// practice, no source.
const FAST: f64 = 0.5;
/// Rows whose speeds are further apart than this factor say nothing of each other.
const FURTHEST: f64 = 3.0;
/// Meters are off by this share, and so is a band by the reading it starts from. Common practice, no source.
const METER_SHARE: f64 = 0.08;
/// What a gauge shows with the pump at rest, and its own error: 2 m of water either way. Common practice, no source.
const GAUGE_OFFSET_PA: f64 = 20e3;

/// Flow per speed of pool pumps, m³/s per rpm, from the slowest to the fastest step: half and one and a half times what
/// is usual at the faster ones. Common practice, no source.
const FLOW_PER_RPM: (f64, f64) = (3.5e-7, 4.8e-6);
/// Electrical power of pool pumps at their top speed, W. Common practice, no source.
const POWER_AT_TOP_W: (f64, f64) = (150.0, 10_000.0);
/// What electronics and an idling motor draw at most, W. Common practice, no source.
const MOST_FIXED_W: f64 = 250.0;
/// Current of pool pumps at their top speed, A. Common practice, no source.
const CURRENT_AT_TOP_A: (f64, f64) = (0.6, 50.0);
/// What an idling drive draws at most, A. Common practice, no source.
const MOST_FIXED_A: f64 = 2.5;
/// Gauge pressure between pump and filter, Pa: a gauge high above the water at the least, a vessel's usual rating at the
/// most. Common practice, no source.
const PRESSURE_PA: (f64, f64) = (-40e3, 400e3);
/// Vacuum at a pump's inlet, Pa: a pump far below the water at the least, a perfect vacuum at the most.
const VACUUM_PA: (f64, f64) = (-60e3, 101_325.0);

/// A reading at another speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Neighbour {
    /// The speed, rpm.
    pub(crate) speed_rpm: f64,
    /// The reading, SI.
    pub(crate) si: f64,
}

/// Computes the band of a quantity at a speed from readings at others, of which one may be wrong; `None` where none is near.
///
/// # Inputs
/// What is measured; the readings; the speed and the pump's top speed, rpm.
///
/// # Returns
/// The ends, SI. Of one neighbour its band, of two what either allows, of more that in the middle of the nearest three.
///
/// # Source
/// Affinity laws: flow in proportion to speed, head to its square, power to its cube.
pub(crate) fn band_by_neighbours(
    measured: Measured,
    readings: &[Neighbour],
    speed_rpm: f64,
    top_rpm: f64,
) -> Option<(f64, f64)> {
    let apart = |other: &Neighbour| {
        let ratio = other.speed_rpm / speed_rpm;
        ratio.max(1.0 / ratio)
    };
    let mut near: Vec<Neighbour> = readings
        .iter()
        .copied()
        .filter(|other| other.speed_rpm > 0.0 && apart(other) <= FURTHEST)
        .collect();
    numerics::order::sort_by(&mut near, |a, b| apart(a).total_cmp(&apart(b)));
    near.truncate(3);
    let mut bands: Vec<(f64, f64)> = near
        .iter()
        .filter_map(|other| band(measured, *other, speed_rpm, top_rpm))
        .collect();
    numerics::order::sort_by(&mut bands, |a, b| (a.0 + a.1).total_cmp(&(b.0 + b.1)));
    match bands.as_slice() {
        [] => None,
        [one] => Some(*one),
        [one, other] => Some((one.0.min(other.0), one.1.max(other.1))),
        [_, middle, ..] => Some(*middle),
    }
}

/// Computes the band that one reading leads to.
fn band(measured: Measured, from: Neighbour, speed_rpm: f64, top_rpm: f64) -> Option<(f64, f64)> {
    let ratio = speed_rpm / from.speed_rpm;
    let is_fast = speed_rpm.min(from.speed_rpm) >= FAST * top_rpm;
    let growth = growth(measured, is_fast)?;
    let grown = [pow(ratio, growth.least), pow(ratio, growth.most)];
    let offsets = match measured {
        Measured::FilterPressure | Measured::InletVacuum | Measured::InletPressure => {
            [-GAUGE_OFFSET_PA, GAUGE_OFFSET_PA]
        }
        _ if from.si <= 0.0 => return None,
        _ => [0.0, 0.0],
    };
    let corners = grown
        .iter()
        .flat_map(|grown| offsets.map(|offset| (from.si - offset) * grown + offset));
    let (low, high) = corners.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), si| {
        (low.min(si), high.max(si))
    });
    // Half of what gauges are off at rest does not cancel between two readings of one.
    let spread = 0.25 * (offsets[1] - offsets[0]);
    Some((
        low - METER_SHARE * low.abs() - spread,
        high + METER_SHARE * high.abs() + spread,
    ))
}

/// Returns the exponents between which a quantity grows; `None` where it does not follow speed.
fn growth(measured: Measured, is_fast: bool) -> Option<Growth> {
    let of = |least, most| Some(Growth { least, most });
    match (measured, is_fast) {
        (Measured::Flow, true) => of(0.85, 1.4),
        // A lift or a check valve keeps the flow down until it is overcome.
        (Measured::Flow, false) => of(0.8, 2.5),
        (Measured::Power, true) => of(1.7, 3.2),
        // Electronics draw the same at any speed.
        (Measured::Power, false) => of(0.2, 3.2),
        (Measured::Current, true) => of(1.2, 3.2),
        (Measured::Current, false) => of(0.1, 3.2),
        (Measured::FilterPressure | Measured::InletVacuum | Measured::InletPressure, _) => {
            of(1.5, 2.4)
        }
        _ => None,
    }
}

/// Computes the band of a quantity at a speed from what such pumps do, and from the maker's curve where the site has one.
///
/// # Returns
/// The ends, SI, and whether the maker's curve has set them; `None` of a quantity that follows no speed.
pub(crate) fn band_of_such_pumps(
    site: &Site,
    measured: Measured,
    speed_rpm: f64,
) -> Option<((f64, f64), bool)> {
    let top_rpm = site.pump.speed.max.si;
    let ratio = speed_rpm / top_rpm;
    let with_fixed = |(low, high): (f64, f64), fixed: f64| {
        (low * pow(ratio, 3.2), high * pow(ratio, 1.7) + fixed)
    };
    let usual = match measured {
        Measured::Flow => {
            // Slower than half the top speed, a lift may hold all of it back.
            let low = if ratio >= FAST { FLOW_PER_RPM.0 } else { 0.0 };
            (low * speed_rpm, FLOW_PER_RPM.1 * speed_rpm)
        }
        Measured::Power => with_fixed(POWER_AT_TOP_W, MOST_FIXED_W),
        Measured::Current => with_fixed(CURRENT_AT_TOP_A, MOST_FIXED_A),
        Measured::FilterPressure => PRESSURE_PA,
        Measured::InletVacuum => VACUUM_PA,
        Measured::InletPressure => (-VACUUM_PA.1, -VACUUM_PA.0),
        _ => return None,
    };
    match makers_most_flow(site, speed_rpm).filter(|_| measured == Measured::Flow) {
        Some(most) if most < usual.1 => Some(((usual.0.min(most), most), true)),
        _ => Some((usual, false)),
    }
}

/// Returns the most flow that the maker's curve has, at another speed, with room for a curve that ends early.
fn makers_most_flow(site: &Site, speed_rpm: f64) -> Option<f64> {
    /// A curve mostly ends before the pump does. Common practice, no source.
    const BEYOND_THE_CURVE: f64 = 1.3;
    let curve_rpm = site.pump.curve_speed.as_ref()?.si;
    let flows = site.pump.curve.iter().map(|point| point.flow.si);
    let most = flows.fold(0.0, f64::max);
    (most > 0.0 && curve_rpm > 0.0).then(|| BEYOND_THE_CURVE * most * speed_rpm / curve_rpm)
}
