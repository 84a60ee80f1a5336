//! How far the pump may be taken, by what is foreseen and by what the gauge shows on the way up.

use super::design::Chosen;
use super::expected::{At, Foresight};
use super::refusal::{NoPlan, PlanNote};
use crate::expectation::ExpectedBy;
use crate::limits::{of_lines, of_rule, pad_rules};
use crate::result::{Bound, Limit, LimitOf};
use records::{Measured, Site};

/// The lowest step where the site states no lowest speed, as a share of the top speed. Common practice, no source.
const LOWEST_SHARE: f64 = 0.2;
/// Speeds are set to this closeness, rpm.
pub(super) const ROUND_RPM: f64 = 50.0;
/// Steps of the climb below its last, as shares of the highest speed. Common practice, no source.
const CLIMB: [f64; 3] = [0.5, 0.7, 0.85];
/// Three steps need a range of this ratio at the least.
const LEAST_RANGE: f64 = 1.3;
/// Standard uncertainties to the end of a 95 % interval.
const REACH: f64 = 1.959_963_984_540_054;

/// How far the pump may be taken.
#[derive(Clone, Debug, PartialEq)]
pub struct Ceiling {
    /// The highest speed, rpm.
    pub speed_rpm: f64,
    /// The limit that sets it, where it is not the pump's own.
    pub limit: Option<Limit>,
    /// Whether the pressure in the vessel was foreseen there.
    pub is_pressure_foreseen: bool,
}

/// A speed of the climb.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClimbStep {
    /// The speed, rpm.
    pub speed_rpm: f64,
    /// The highest pressure that is foreseen in the vessel, Pa.
    pub vessel_upper_pa: Option<f64>,
    /// The gauge reading above which the next step is not taken, or, at the last, the pump is stopped, Pa.
    pub stop_above_pa: Option<f64>,
}

/// Finds the highest speed at which no limit that harms is broken by what is foreseen.
pub(super) fn ceiling(foresight: &Foresight<'_>) -> Result<Ceiling, NoPlan> {
    let pump = &foresight.site.pump.speed;
    let limits = limits(foresight);
    let broken = |speed_rpm: f64| {
        let at = foresight.at(speed_rpm, foresight.closed(), 0);
        limits
            .iter()
            .find(|limit| is_broken(foresight, limit, &at))
            .cloned()
    };
    let top_rpm = pump.max.si;
    let Some(mut limit) = broken(top_rpm) else {
        return Ok(Ceiling {
            speed_rpm: top_rpm,
            limit: None,
            is_pressure_foreseen: foresight
                .at(top_rpm, foresight.closed(), 0)
                .vessel
                .is_some(),
        });
    };
    let low_rpm = lowest_rpm(foresight.site);
    let (mut kept, mut over) = (0, rounds(top_rpm - low_rpm));
    let speed = |count: u32| low_rpm + f64::from(count) * ROUND_RPM;
    if let Some(limit) = broken(low_rpm) {
        return Err(NoPlan::NoRoom {
            low_rpm,
            high_rpm: 0.0,
            limit: Some(Box::new(limit)),
        });
    }
    while over - kept > 1 {
        let middle = u32::midpoint(kept, over);
        match broken(speed(middle)) {
            Some(found) => (over, limit) = (middle, found),
            None => kept = middle,
        }
    }
    let speed_rpm = (speed(kept) / ROUND_RPM).floor() * ROUND_RPM;
    Ok(Ceiling {
        speed_rpm: speed_rpm.max(low_rpm),
        limit: Some(limit),
        is_pressure_foreseen: true,
    })
}

/// How many rounds of speed are in a stretch, one more than fit.
fn rounds(stretch_rpm: f64) -> u32 {
    let count = (stretch_rpm / ROUND_RPM).ceil().clamp(1.0, 1000.0);
    // Between 1 and 1000.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a small whole number"
    )]
    let count = count as u32;
    count
}

/// The limits that harm when they are broken: the vessel's rating, the covers', the suction head.
fn limits(foresight: &Foresight<'_>) -> Vec<Limit> {
    let mut limits: Vec<Limit> = of_lines(foresight.site, None).limits;
    limits.retain(|limit| {
        limit.bound == Bound::Max && limit.code == "above-cover-rating" && limit.of == LimitOf::Flow
    });
    if let Some(rule) = &foresight.rating {
        let of = LimitOf::Pressure {
            pressure_pa: rule.si,
        };
        limits.push(of_rule("pressure-above-rating", "filter vessel", of, rule));
    }
    if let Some(around) = &foresight.around {
        let rule = pad_rules(foresight.site, around).npsh_margin;
        let of = LimitOf::NpshMargin { margin_m: rule.si };
        limits.push(of_rule("npsh-short", "pump inlet", of, &rule));
    }
    limits
}

/// Says whether what is foreseen breaks a limit: by the upper end of its 95 % interval.
fn is_broken(foresight: &Foresight<'_>, limit: &Limit, at: &At) -> bool {
    match limit.of {
        LimitOf::Pressure { pressure_pa } => {
            at.vessel.is_some_and(|vessel| vessel.high > pressure_pa)
        }
        LimitOf::NpshMargin { margin_m } => {
            let left = at
                .inlet
                .zip(at.npsh_required_m)
                .and_then(|(inlet, required)| {
                    let lowest_m = inlet.head_m - REACH * inlet.u_m;
                    Some(foresight.around?.npsh_m(lowest_m)? - required)
                });
            left.is_some_and(|left| left < margin_m)
        }
        _ => {
            let line = foresight
                .site
                .lines
                .iter()
                .position(|line| Some(&line.name) == limit.line.as_ref());
            let part = line.and_then(|line| Some(at.divided.as_ref()?[line]));
            let flow = at.flow.zip(part).map(|(flow, part)| flow.high * part);
            flow.zip(limit.flow_m3s)
                .is_some_and(|(flow, most)| flow > most)
        }
    }
}

fn lowest_rpm(site: &Site) -> f64 {
    let share = (LOWEST_SHARE * site.pump.speed.max.si / ROUND_RPM).ceil() * ROUND_RPM;
    site.pump.speed.min.as_ref().map_or(share, |min| min.si)
}

/// Finds the range of speeds, and says where it is a guess.
pub(super) fn range(
    site: &Site,
    ceiling: &Ceiling,
    notes: &mut Vec<PlanNote>,
) -> Result<(f64, f64), NoPlan> {
    let low_rpm = lowest_rpm(site);
    if site.pump.speed.min.is_none() {
        notes.push(PlanNote::NoLowestSpeed { taken_rpm: low_rpm });
    }
    let high_rpm = ceiling.speed_rpm;
    if high_rpm < LEAST_RANGE * low_rpm {
        return Err(NoPlan::NoRoom {
            low_rpm,
            high_rpm,
            limit: ceiling.limit.clone().map(Box::new),
        });
    }
    Ok((low_rpm, high_rpm))
}

/// The speeds of the climb, rising.
pub(super) fn climb_speeds((low_rpm, high_rpm): (f64, f64)) -> Vec<f64> {
    let rounded = |share: f64| (share * high_rpm / ROUND_RPM).round() * ROUND_RPM;
    let below = CLIMB.map(|share| rounded(share).clamp(low_rpm, high_rpm));
    let mut speeds = [&below[..], &[high_rpm]].concat();
    speeds.dedup();
    speeds
}

/// Sets the gauge readings at which the climb ends.
///
/// # Equation
/// At speed N before N': rest + (rating − rest) (N/N')², less what the gauge may be off by.
///
/// # Source
/// Affinity laws: head in proportion to the square of speed; media that lose less than the square leave the true pressure lower.
pub(super) fn climb(foresight: &Foresight<'_>, range: (f64, f64)) -> Vec<ClimbStep> {
    let speeds = climb_speeds(range);
    let stop = stop_above_pa(foresight);
    let rest = rest_pa(foresight);
    let step = |(index, speed): (usize, &f64)| {
        let next = speeds.get(index + 1).unwrap_or(speed);
        let ratio = speed / next;
        ClimbStep {
            speed_rpm: *speed,
            vessel_upper_pa: foresight
                .at(*speed, foresight.closed(), 0)
                .vessel
                .map(|vessel| vessel.high),
            stop_above_pa: stop.map(|stop| rest + (stop - rest) * ratio * ratio),
        }
    };
    speeds.iter().enumerate().map(step).collect()
}

/// The reading of the vessel's gauge above which the pump is stopped: the rating less what the gauge may be off by.
pub(super) fn stop_above_pa(foresight: &Foresight<'_>) -> Option<f64> {
    let rating = foresight.rating.as_ref()?.si;
    let meter = &foresight.meters[vessel_column(foresight)?];
    Some(rating - REACH * meter.instrument.accuracy_u(rating))
}

/// What the vessel's gauge shows with the pump off.
fn rest_pa(foresight: &Foresight<'_>) -> f64 {
    let meter = vessel_column(foresight).and_then(|column| foresight.meters[column].height_m);
    let weight = foresight
        .around
        .map_or(0.0, |around| around.specific_weight());
    -weight * meter.unwrap_or(0.0)
}

fn vessel_column(foresight: &Foresight<'_>) -> Option<usize> {
    let mut columns = foresight.columns.iter();
    columns.position(|column| column.column.measured == Measured::FilterPressure)
}

/// Says what is missing for the climb, and what the steps ask of drive and meters.
pub(super) fn notes(
    foresight: &Foresight<'_>,
    ceiling: &Ceiling,
    chosen: &Chosen,
    notes: &mut Vec<PlanNote>,
) {
    notes.extend(foresight.rating.is_none().then_some(PlanNote::NoRating));
    notes.extend(
        vessel_column(foresight)
            .is_none()
            .then_some(PlanNote::NoVesselGauge),
    );
    let prime = foresight
        .site
        .pump
        .prime
        .as_ref()
        .map(|prime| prime.speed.si);
    notes.extend(
        prime
            .filter(|prime| *prime > ceiling.speed_rpm)
            .map(|prime_rpm| PlanNote::PrimesTooFast {
                prime_rpm,
                high_rpm: ceiling.speed_rpm,
            }),
    );
    notes.extend(beyond_printed(foresight, chosen));
    for (index, column) in foresight.columns.iter().enumerate() {
        let Some((low_si, _)) = foresight.meters[index]
            .instrument
            .range
            .filter(|_| column.column.measured == Measured::Flow)
        else {
            continue;
        };
        let is_below = |speed: &f64| {
            let at = foresight.at(*speed, foresight.closed(), 0);
            let mut expected = at.expected.iter();
            expected.any(|it| {
                let is_told = matches!(it.by, ExpectedBy::Law | ExpectedBy::Plumbing);
                it.column == index && is_told && it.si.value < low_si
            })
        };
        let mut speeds_rpm: Vec<f64> = chosen
            .speeds
            .iter()
            .map(|it| it.speed_rpm)
            .filter(is_below)
            .collect();
        numerics::order::sort_values(&mut speeds_rpm);
        if !speeds_rpm.is_empty() {
            notes.push(PlanNote::BelowMeter {
                column: column.column.name(),
                speeds_rpm,
            });
        }
    }
}

/// Finds from which of the speeds on what is printed on equipment is passed: a short step does no harm, a long one may.
fn beyond_printed(foresight: &Foresight<'_>, chosen: &Chosen) -> Vec<PlanNote> {
    let mut printed: Vec<Limit> = of_lines(foresight.site, None).limits;
    printed.retain(|limit| {
        limit.bound == Bound::Max
            && matches!(limit.code, "above-filter-flow" | "above-equipment-maximum")
            && limit.of == LimitOf::Flow
    });
    let mut speeds: Vec<f64> = chosen.speeds.iter().map(|it| it.speed_rpm).collect();
    numerics::order::sort_values(&mut speeds);
    let at: Vec<(f64, At)> = speeds
        .into_iter()
        .map(|speed| (speed, foresight.at(speed, foresight.closed(), 0)))
        .collect();
    let first = |limit: Limit| {
        let mut steps = at.iter();
        let (from_rpm, _) = steps.find(|(_, at)| is_broken(foresight, &limit, at))?;
        Some(PlanNote::BeyondPrinted {
            limit: Box::new(limit),
            from_rpm: *from_rpm,
        })
    };
    printed.into_iter().filter_map(first).collect()
}

/// Says whether a step with other lines shut keeps all limits, its pressure being foreseen.
pub(super) fn is_safe(foresight: &Foresight<'_>, speed_rpm: f64, closed: &[String]) -> bool {
    let at = foresight.at(speed_rpm, closed, 0);
    let foreseen = foresight.rating.is_none() || at.vessel.is_some();
    foreseen
        && !limits(foresight)
            .iter()
            .any(|limit| is_broken(foresight, limit, &at))
}
