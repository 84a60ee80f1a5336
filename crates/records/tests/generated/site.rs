//! Sites whose names are apart and whose lines meet.

use super::operation::{limits, operation};
use super::parts::part;
use super::{between, maybe, maybe_name, name, positive};
use proptest::collection::vec;
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;
use records::unit::Dimension::{
    Concentration, Flow, Length, Power, Pressure, Ratio, Speed, Temperature, Time, Voltage, Volume,
};
use records::*;

pub(crate) fn site() -> BoxedStrategy<Site> {
    let units = of(select(vec![UnitSystem::Us, UnitSystem::Si]));
    let elevation = of(between(Length, "m", -500, 9000));
    let tail = (limits(), operation(), tee());
    let lines = vec(vec(part(), 0..6), 3..=5);
    (
        name(),
        units,
        water(),
        elevation,
        vec(positive(Length), 0..2),
        pump(),
        vec(meter(), 0..6),
        lines,
        tail,
    )
        .prop_map(
            |(
                name,
                units,
                water,
                elevation,
                levels,
                pump,
                meters,
                parts,
                (limits, operation, tee),
            )| {
                let bodies = levels.into_iter().enumerate().map(|(index, level)| Body {
                    name: format!("body {index}"),
                    level,
                });
                Site {
                    tees: (parts.len() == 4).then_some(tee).into_iter().collect(),
                    format: 1,
                    name,
                    units,
                    water,
                    place: Place { elevation },
                    bodies: bodies.collect(),
                    pump,
                    meters: meters
                        .into_iter()
                        .enumerate()
                        .map(|(index, meter)| with_id(index, meter))
                        .collect(),
                    lines: parts
                        .into_iter()
                        .enumerate()
                        .map(|(index, parts)| line(index, parts))
                        .collect(),
                    limits,
                    operation,
                }
            },
        )
        .boxed()
}

fn with_id(index: usize, meter: Meter) -> Meter {
    Meter {
        id: format!("{} {index}", meter.id),
        ..meter
    }
}

/// Suction, pad and then as many returns as there are.
fn line(index: usize, parts: Vec<Part>) -> Line {
    let (from, to) = match index {
        0 => ("pool", "pump inlet"),
        1 => ("pump outlet", "the \"pad\" outlet"),
        _ => ("the \"pad\" outlet", "pool"),
    };
    Line {
        name: format!("line {index}"),
        from: from.to_owned(),
        to: to.to_owned(),
        unknown: parts.is_empty(),
        parts,
    }
}

/// For sites in which two returns meet the pad.
fn tee() -> BoxedStrategy<JoiningTee> {
    let shape = of(select(vec![TeeShape::Tee, TeeShape::Wye]));
    (shape, maybe(Length), maybe(Length))
        .prop_map(|(shape, run_bore, branch_bore)| JoiningTee {
            at: "the \"pad\" outlet".to_owned(),
            run: ["line 1", "line 3"].map(str::to_owned),
            branch: "line 2".to_owned(),
            shape,
            run_bore,
            branch_bore,
        })
        .boxed()
}

fn water() -> BoxedStrategy<Water> {
    let temperature = of(between(Temperature, "°F", 33, 139));
    let salinity = of(between(Concentration, "ppm", 0, 35_000));
    (maybe(Volume), temperature, salinity)
        .prop_map(|(volume, temperature, salinity)| Water {
            volume,
            temperature,
            salinity,
        })
        .boxed()
}

fn pump() -> BoxedStrategy<Pump> {
    let min = of(between(Speed, "rpm", 300, 600));
    let speed =
        (min, between(Speed, "RPM", 601, 9000)).prop_map(|(min, max)| SpeedRange { min, max });
    let prime =
        of((positive(Speed), positive(Time)).prop_map(|(speed, time)| Prime { speed, time }));
    let points = of(vec(point(), 2..5));
    (
        maybe_name(),
        speed,
        maybe(Voltage),
        maybe(Length),
        prime,
        positive(Speed),
        points,
    )
        .prop_map(
            |(name, speed, supply, height, prime, curve_speed, points)| {
                let curve_speed = points.as_ref().map(|_| curve_speed);
                let curve = points
                    .into_iter()
                    .flatten()
                    .enumerate()
                    .map(|(index, point)| at_flow(index, point))
                    .collect();
                Pump {
                    name,
                    speed,
                    supply,
                    height,
                    prime,
                    curve_speed,
                    curve,
                }
            },
        )
        .boxed()
}

/// Gives each point a flow of its own.
fn at_flow(index: usize, point: CurvePoint) -> CurvePoint {
    CurvePoint {
        flow: Quantity::parse(&format!("{} gpm", 20 * index), Flow).unwrap(),
        ..point
    }
}

fn point() -> BoxedStrategy<CurvePoint> {
    let efficiency = of(between(Ratio, "%", 0, 100));
    (
        positive(Flow),
        positive(Length),
        maybe(Length),
        maybe(Power),
        efficiency,
    )
        .prop_map(|(flow, head, npshr, power, efficiency)| CurvePoint {
            flow,
            head,
            npshr,
            power,
            efficiency,
        })
        .boxed()
}

fn meter() -> BoxedStrategy<Meter> {
    let measures = select(vec![
        MeterOf::Flow,
        MeterOf::Power,
        MeterOf::Current,
        MeterOf::Voltage,
        MeterOf::Pressure,
        MeterOf::Vacuum,
    ]);
    let numbers = (of(0.5..4.0_f64), of(0.0..=1.0_f64), 1..9_u32, 10..99_u32);
    let texts = (
        name(),
        maybe_name(),
        any::<bool>(),
        of(select(vec!["top", "middle", "bottom"])),
    );
    (measures, numbers, texts, maybe(Length))
        .prop_map(
            |(
                measures,
                (coverage, share_common, low, high),
                (id, scaled_for, stated, read_at),
                height,
            )| {
                let dimension = measures.dimension();
                let unit = records::unit::Unit::accepted(dimension)[0];
                let amount =
                    |number: u32| Quantity::parse(&format!("{number} {unit}"), dimension).unwrap();
                let terms =
                    ["2 % of reading", "1 % FS"].map(|term| format!("{term} + {low} {unit}"));
                let is_gauge = dimension == Pressure;
                let is_flow = measures == MeterOf::Flow;
                Meter {
                    id,
                    measures,
                    kind: stated.then(|| kind_for(measures)),
                    accuracy: terms
                        .iter()
                        .filter_map(|term| Accuracy::parse(term, dimension).ok())
                        .filter(|_| stated)
                        .collect(),
                    coverage,
                    resolution: stated.then(|| amount(low)),
                    range: stated.then(|| [amount(low), amount(high)]),
                    share_common,
                    on: is_flow.then(|| "line 1".to_owned()),
                    scaled_for: scaled_for.filter(|_| is_flow),
                    tap: is_gauge.then_some(Tap::FilterInlet),
                    height: height.filter(|_| is_gauge),
                    read_at: read_at.filter(|_| is_flow).map(str::to_owned),
                }
            },
        )
        .boxed()
}

fn kind_for(measures: MeterOf) -> MeterKind {
    match measures {
        MeterOf::Flow => MeterKind::Float,
        MeterOf::Pressure | MeterOf::Vacuum => MeterKind::Gauge,
        MeterOf::Power | MeterOf::Current | MeterOf::Voltage => MeterKind::TrueRms,
    }
}
