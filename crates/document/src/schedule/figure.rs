//! The figure of a day: the speed hour by hour, the dearest stretch, the speeds that tasks need.

use super::Subject;
use super::words::{end, minutes_between};
use crate::figures::NamedFigure;
use crate::language::say;
use crate::number;
use crate::units::Printing;
use charts::{
    At, Axis, Curve, CurveKind, CurvePoint, Figure, Highlight, Rule, Span, Start, Weight,
};
use fieldtest::Analysis;
use operation::{Advice, AdvisedDay, DayPlan, Slot};
use records::{ClockTime, ProgramBlock, Site};

/// Minutes in an hour and hours in a day, exact.
const MINUTES_PER_HOUR: f64 = 60.0;
const DAY_HOURS: f64 = 24.0;
/// A step is drawn over so many hours: too little to be seen.
const STEP_HOURS: f64 = 1e-3;

/// Draws the day; `None` where none is advised.
pub fn figure(
    site: &Site,
    analysis: &Analysis,
    plan: &DayPlan,
    printing: Printing,
) -> Option<NamedFigure> {
    let Advice::Day(day) = &plan.advice else {
        return None;
    };
    let subject = Subject {
        site,
        analysis,
        plan,
        printing,
    };
    Some(NamedFigure {
        name: "day".to_owned(),
        figure: crate::figures::held(drawn(&subject, day)),
    })
}

fn drawn(subject: &Subject<'_>, day: &AdvisedDay) -> Figure {
    let title = title(subject, day);
    let line = subject.in_a_line(&day.program);
    let mut curves = vec![Curve {
        label: say!(subject.printing, "set" as "program").to_owned(),
        kind: CurveKind::Law,
        points: steps(&advised_speeds(subject, day)),
    }];
    if !subject.site.operation.as_found.is_empty() {
        curves.push(Curve {
            label: say!(subject.printing, "as found").to_owned(),
            kind: CurveKind::Context,
            points: steps(&found_speeds(&subject.site.operation.as_found)),
        });
    }
    Figure {
        description: say!(
            subject.printing,
            "{title}. Speed in rpm through the day: {line}.",
            title,
            line
        ),
        note: say!(
            subject.printing,
            "A speed of 0 is off. {site}.",
            site = subject.site.name
        ),
        title,
        x: Axis {
            title: say!(subject.printing, "Hour of the day").to_owned(),
            start: Start::Day,
            write: number::of_axis(subject.printing),
        },
        y: Axis {
            title: say!(subject.printing, "Pump speed, rpm").to_owned(),
            start: Start::Zero,
            write: number::of_axis(subject.printing),
        },
        highlight: dearest(subject),
        curves,
        points: Vec::new(),
        left_out: Vec::new(),
        rules: tasks(subject),
    }
}

/// Says what the day is: what it comes to, and between which speeds.
fn title(subject: &Subject<'_>, day: &AdvisedDay) -> String {
    let speeds = &subject.plan.problem.speeds;
    let used = day.program.entries.iter().filter_map(|entry| entry.speed);
    let used: Vec<f64> = used.map(|speed| speeds[speed].speed_rpm).collect();
    let low = used.iter().copied().fold(f64::INFINITY, f64::min);
    let high = used.iter().copied().fold(0.0, f64::max);
    let off: f64 = day
        .program
        .entries
        .iter()
        .filter(|entry| entry.speed.is_none())
        .map(|entry| entry.hours)
        .sum();
    let comes_to = subject.least(day.program.planned.replay.least);
    let runs = match used.as_slice() {
        [] => say!(subject.printing, ", always off").to_owned(),
        _ if low < high => say!(
            subject.printing,
            ": {low} to {high} rpm",
            low = number::rpm(subject.printing, low),
            high = number::rpm(subject.printing, high)
        ),
        _ => say!(
            subject.printing,
            ": {speed} rpm",
            speed = number::rpm(subject.printing, low)
        ),
    };
    let rests = if off > 0.0 && !used.is_empty() {
        say!(
            subject.printing,
            ", off for {off}",
            off = super::words::hours(off, subject.printing)
        )
    } else {
        String::new()
    };
    say!(
        subject.printing,
        "A day of {comes_to}{runs}{rests}",
        comes_to,
        runs,
        rests
    )
}

/// Lists the speeds of a day by the hour at which each begins.
fn advised_speeds(subject: &Subject<'_>, day: &AdvisedDay) -> Vec<(f64, f64)> {
    let problem = &subject.plan.problem;
    let slots = problem.slots.iter().zip(&day.program.planned.day);
    let mut hour = 0.0;
    slots
        .map(|(slot, speed)| {
            let start = hour;
            hour += slot.hours;
            (
                start,
                speed.map_or(0.0, |speed| problem.speeds[speed].speed_rpm),
            )
        })
        .collect()
}

fn found_speeds(blocks: &[ProgramBlock]) -> Vec<(f64, f64)> {
    let holds = |block: &&ProgramBlock, minute: u32| {
        let since = minutes_between(block.from, ClockTime { minutes: minute });
        let since = if block.from.minutes == minute {
            0
        } else {
            since
        };
        since < minutes_between(block.from, block.to)
    };
    let speed = |minute| {
        let block = blocks.iter().find(|block| holds(block, minute));
        block.map_or(0.0, |block| block.speed.si)
    };
    (0..24 * 60)
        .map(|minute| (f64::from(minute) / MINUTES_PER_HOUR, speed(minute)))
        .collect()
}

/// Turns speeds with their beginnings into the corners of a line.
fn steps(speeds: &[(f64, f64)]) -> Vec<CurvePoint> {
    let point = |x, speed| CurvePoint {
        x,
        y: Span::exact(speed),
    };
    let mut points: Vec<CurvePoint> = Vec::new();
    let mut before: Option<f64> = None;
    for (hour, speed) in speeds {
        match before {
            Some(same) if same.total_cmp(speed).is_eq() => continue,
            Some(other) => points.extend([point(hour - STEP_HOURS, other), point(*hour, *speed)]),
            None => points.push(point(*hour, *speed)),
        }
        before = Some(*speed);
    }
    points.extend(before.map(|last| point(DAY_HOURS, last)));
    points
}

/// Marks the first stretch of the dearest price, where prices differ.
fn dearest(subject: &Subject<'_>) -> Option<Highlight> {
    let slots = &subject.plan.problem.slots;
    let prices = slots.iter().map(|slot| slot.price_per_kwh);
    let prices: Vec<f64> = prices.collect::<Option<Vec<f64>>>()?;
    let highest = prices.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let lowest = prices.iter().copied().fold(f64::INFINITY, f64::min);
    let is_dearest = |slot: &Slot| slot.price_per_kwh.is_some_and(|price| price >= highest);
    let first = slots
        .iter()
        .position(is_dearest)
        .filter(|_| lowest < highest)?;
    let length = slots[first..]
        .iter()
        .take_while(|slot| is_dearest(slot))
        .count();
    let hours = |slots: &[Slot]| slots.iter().map(|slot| slot.hours).sum::<f64>();
    let next = slots[(first + length) % slots.len()].start;
    Some(Highlight {
        from: hours(&slots[..first]),
        to: hours(&slots[..first + length]),
        label: format!(
            "{} {}/kWh, {}–{}",
            number::plain(subject.printing, highest),
            subject.currency(),
            slots[first].start,
            end(next)
        ),
    })
}

/// Lists the speeds that give tasks their flow.
fn tasks(subject: &Subject<'_>) -> Vec<Rule> {
    let problem = &subject.plan.problem;
    let rule = |rule: &operation::Rule| {
        let operation::Rule::Task(task) = rule else {
            return None;
        };
        let enough = problem
            .speeds
            .iter()
            .filter(|speed| speed.flow_m3s >= task.min_flow_m3s);
        let slowest = enough
            .map(|speed| speed.speed_rpm)
            .fold(f64::INFINITY, f64::min);
        slowest.is_finite().then(|| Rule {
            at: At::Y(slowest),
            label: say!(
                subject.printing,
                "{task}: from {speed} rpm",
                task = task.name,
                speed = number::rpm(subject.printing, slowest)
            ),
            weight: Weight::Context,
        })
    };
    problem.rules.iter().filter_map(rule).collect()
}
