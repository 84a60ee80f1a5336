//! Limits and operation.

use super::{maybe, maybe_name, name, positive};
use proptest::collection::vec;
use proptest::prelude::*;
use records::unit::Dimension::{Flow, Length, Pressure, Price, Speed, Velocity};
use records::*;

pub(crate) fn limits() -> BoxedStrategy<Limits> {
    (
        maybe_name(),
        maybe(Velocity),
        maybe(Velocity),
        maybe(Pressure),
        maybe(Pressure),
        maybe(Length),
    )
        .prop_map(
            |(rules, suction_velocity, return_velocity, pressure, inlet_vacuum, npsh_margin)| {
                Limits {
                    rules,
                    suction_velocity,
                    return_velocity,
                    pressure,
                    inlet_vacuum,
                    npsh_margin,
                }
            },
        )
        .boxed()
}

/// The ends of a block, which may pass midnight.
fn ends() -> BoxedStrategy<(ClockTime, ClockTime)> {
    let apart = (0..1440_u32, 0..=1440_u32).prop_filter("two ends", |(from, to)| from != to);
    apart
        .prop_map(|(from, to)| (ClockTime { minutes: from }, ClockTime { minutes: to }))
        .boxed()
}

fn price() -> BoxedStrategy<Quantity> {
    (0..9999_u32)
        .prop_map(|price| {
            Quantity::parse(&format!("{} EUR/kWh", f64::from(price) / 1000.0), Price).unwrap()
        })
        .boxed()
}

fn turnover() -> BoxedStrategy<Turnover> {
    let text = prop_oneof![
        (1..9_u32).prop_map(|turns| format!("{turns} per day")),
        (1..48_u32).prop_map(|hours| format!("{hours} h")),
    ];
    text.prop_map(|text| Turnover::parse(&text).unwrap())
        .boxed()
}

fn task() -> BoxedStrategy<Task> {
    (
        name(),
        positive(Flow),
        1..=48_u32,
        proptest::option::of(ends()),
    )
        .prop_map(|(name, min_flow, halves, between)| Task {
            name,
            min_flow,
            hours: f64::from(halves) / 2.0,
            between: between.map(|(from, to)| [from, to]),
        })
        .boxed()
}

pub(crate) fn operation() -> BoxedStrategy<Operation> {
    let as_found =
        (ends(), positive(Speed)).prop_map(|((from, to), speed)| ProgramBlock { from, to, speed });
    let tariff = (ends(), price()).prop_map(|((from, to), price)| TariffBlock { from, to, price });
    let quiet = (ends(), positive(Speed)).prop_map(|((from, to), max_speed)| QuietBlock {
        from,
        to,
        max_speed,
    });
    let turnover = proptest::option::of(turnover());
    let max_starts = proptest::option::of(1..=144_u32);
    (
        vec(as_found, 0..3),
        turnover,
        vec(tariff, 0..3),
        vec(task(), 0..3),
        vec(quiet, 0..3),
        max_starts,
    )
        .prop_map(
            |(as_found, turnover, tariff, tasks, quiet, max_starts)| Operation {
                as_found,
                turnover,
                tariff,
                tasks,
                quiet,
                max_starts,
            },
        )
        .boxed()
}
