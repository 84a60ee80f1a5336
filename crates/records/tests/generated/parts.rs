//! Parts of every kind.

use super::{between, maybe, maybe_name, name, positive};
use proptest::prelude::*;
use proptest::sample::select;
use records::unit::Dimension::{Area, Flow, Length, Pressure, Ratio};
use records::*;

pub(crate) fn part() -> BoxedStrategy<Part> {
    let count = prop_oneof![3 => Just(1_u32), 1 => 1..=1000_u32];
    (kind(), count)
        .prop_map(|(kind, count)| Part { kind, count })
        .boxed()
}

fn kind() -> BoxedStrategy<PartKind> {
    prop_oneof![
        passages(),
        appliances(),
        loss().prop_map(|k| PartKind::MinorLoss(MinorLoss { k })),
    ]
    .boxed()
}

fn passages() -> BoxedStrategy<PartKind> {
    let open = proptest::option::of(between(Ratio, "%", 0, 100));
    prop_oneof![
        pipe(),
        (name(), maybe(Length))
            .prop_map(|(fitting, size)| PartKind::Fitting(Fitting { fitting, size })),
        (name(), maybe(Length), open, maybe(Flow)).prop_map(|(valve, size, open, kv)| {
            PartKind::Valve(Valve {
                valve,
                size,
                open,
                kv,
            })
        }),
        (select(vec![TeePath::Run, TeePath::Branch]), maybe(Length))
            .prop_map(|(tee, size)| PartKind::Tee(Tee { tee, size })),
        (positive(Length), maybe_name())
            .prop_map(|(reducer, spec)| PartKind::Reducer(Reducer { reducer, spec })),
        (name(), maybe(Length), maybe(Pressure), maybe(Flow)).prop_map(
            |(check_valve, size, cracking, kv)| {
                PartKind::CheckValve(CheckValve {
                    check_valve,
                    size,
                    cracking,
                    kv,
                })
            }
        ),
        (name(), maybe(Length))
            .prop_map(|(spillover, height)| PartKind::Spillover(Spillover { spillover, height })),
        (name(), maybe(Length))
            .prop_map(|(outlet, bore)| PartKind::Outlet(Outlet { outlet, bore })),
    ]
    .boxed()
}

fn pipe() -> BoxedStrategy<PartKind> {
    (
        any::<bool>(),
        positive(Length),
        maybe_name(),
        maybe(Length),
        maybe(Length),
    )
        .prop_map(|(named, size, spec, length, roughness)| {
            let (pipe, pipe_bore) = if named {
                (Some(size), None)
            } else {
                (None, Some(size))
            };
            PartKind::Pipe(Pipe {
                pipe,
                pipe_bore,
                spec,
                length,
                roughness,
            })
        })
        .boxed()
}

fn rated() -> BoxedStrategy<RatedDrop> {
    (positive(Flow), positive(Pressure))
        .prop_map(|(flow, drop)| RatedDrop { flow, drop })
        .boxed()
}

fn at() -> BoxedStrategy<Vec<RatedDrop>> {
    proptest::collection::vec(rated(), 0..3).boxed()
}

/// A least and a highest flow, far enough apart for any guess.
fn flow_limits() -> BoxedStrategy<(Option<Quantity>, Option<Quantity>)> {
    (
        proptest::option::of(between(Flow, "gpm", 1, 40)),
        proptest::option::of(between(Flow, "m3/h", 10, 40)),
    )
        .boxed()
}

fn appliances() -> BoxedStrategy<PartKind> {
    let place = select(vec![CoverPlace::Floor, CoverPlace::Wall]);
    prop_oneof![
        (name(), at()).prop_map(|(skimmer, at)| PartKind::Skimmer(Skimmer { skimmer, at })),
        (place, maybe(Flow), at()).prop_map(|(cover, rating, at)| PartKind::Cover(Cover {
            cover,
            rating,
            at
        })),
        (name(), at()).prop_map(|(basket, at)| PartKind::Basket(Basket { basket, at })),
        (name(), at())
            .prop_map(|(flow_meter, at)| PartKind::FlowMeter(FlowMeter { flow_meter, at })),
        (
            name(),
            maybe(Area),
            proptest::option::of(rated()),
            maybe(Flow),
            maybe(Pressure)
        )
            .prop_map(|(filter, area, clean, max_flow, max_pressure)| {
                PartKind::Filter(Filter {
                    filter,
                    area,
                    clean,
                    max_flow,
                    max_pressure,
                })
            }),
        (name(), at(), flow_limits(), maybe_name()).prop_map(
            |(heater, at, (min_flow, max_flow), bypass)| {
                PartKind::Heater(Heater {
                    heater,
                    at,
                    min_flow,
                    max_flow,
                    bypass,
                })
            }
        ),
        (name(), at(), flow_limits()).prop_map(|(cell, at, (min_flow, max_flow))| {
            PartKind::Cell(ChlorineCell {
                cell,
                at,
                min_flow,
                max_flow,
            })
        }),
        (name(), maybe(Length), at(), flow_limits()).prop_map(
            |(solar, height, at, (min_flow, max_flow))| {
                PartKind::Solar(Solar {
                    solar,
                    height,
                    at,
                    min_flow,
                    max_flow,
                })
            }
        ),
    ]
    .boxed()
}

fn loss() -> BoxedStrategy<Coefficient> {
    let guess = proptest::option::of((1.01..1000.0_f64).prop_map(|factor| Guess { factor }));
    (1e-3..1e3_f64, guess)
        .prop_map(|(value, guess)| Coefficient { value, guess })
        .boxed()
}
