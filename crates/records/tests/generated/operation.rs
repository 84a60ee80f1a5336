//! Limits and operation.

use super::{maybe, maybe_name, name, positive};
use proptest::collection::vec;
use proptest::prelude::*;
use records::unit::Dimension::{
    CarbonIntensity, Charge, DemandCharge, Energy, Flow, Length, Pressure, Price, Speed, Velocity,
};
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
    (-500..9999_i32)
        .prop_map(|price| {
            Quantity::parse(&format!("{} EUR/kWh", f64::from(price) / 1000.0), Price).unwrap()
        })
        .boxed()
}

/// Blocks that cover a day, the last of which may pass midnight.
fn day_of_blocks(
    season: Option<&'static str>,
    days: Vec<DayKind>,
) -> BoxedStrategy<Vec<TariffBlock>> {
    let cuts = proptest::collection::btree_set(0..1440_u32, 2..5);
    let whole_day = (Just(vec![0, 1440]), vec(price(), 1..2));
    let in_parts = cuts.prop_flat_map(|cuts| {
        let mut ends: Vec<u32> = cuts.into_iter().collect();
        ends.push(ends[0]);
        let blocks = ends.len() - 1;
        (Just(ends), vec(price(), blocks..=blocks))
    });
    prop_oneof![whole_day, in_parts]
        .prop_map(move |(ends, prices)| {
            let ends = ends.windows(2).zip(prices);
            ends.map(|(ends, price)| TariffBlock {
                from: ClockTime { minutes: ends[0] },
                to: ClockTime { minutes: ends[1] },
                price,
                season: season.map(str::to_owned),
                days: days.clone(),
            })
            .collect()
        })
        .boxed()
}

/// A tariff with its seasons: none, flat, by time, by kind of day, or by season.
fn tariff() -> BoxedStrategy<(Vec<TariffBlock>, Vec<Season>)> {
    let of = |season, days| day_of_blocks(season, days);
    let weekdays = || of(None, vec![DayKind::Weekdays]);
    let others = || of(None, vec![DayKind::Holidays, DayKind::Weekends]);
    let seasons = (1..28_u8, 1..12_u8).prop_map(|(day, month)| {
        let on = |day, month| CalendarDay {
            year: None,
            month,
            day,
        };
        let season = |name: &str, first_day, last_day| Season {
            name: name.to_owned(),
            first_day,
            last_day,
        };
        vec![
            season("summer", on(day, month), on(20, 12)),
            season(
                "winter",
                on(21, 12),
                match (day, month) {
                    (1, 1) => on(31, 12),
                    (1, month) => on(
                        [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30][usize::from(month) - 2],
                        month - 1,
                    ),
                    (day, month) => on(day - 1, month),
                },
            ),
        ]
    });
    prop_oneof![
        Just((Vec::new(), Vec::new())),
        of(None, Vec::new()).prop_map(|blocks| (blocks, Vec::new())),
        (weekdays(), others()).prop_map(|(a, b)| ([a, b].concat(), Vec::new())),
        (
            of(Some("summer"), Vec::new()),
            of(Some("winter"), Vec::new()),
            seasons
        )
            .prop_map(|(a, b, seasons)| ([a, b].concat(), seasons)),
    ]
    .boxed()
}

/// A sum of money in the one currency.
fn money(
    dimension: records::unit::Dimension,
    per: &'static str,
) -> BoxedStrategy<Option<Quantity>> {
    let sum = (0..9999_u32).prop_map(move |cents| {
        Quantity::parse(
            &format!("{} EUR/{per}", f64::from(cents) / 100.0),
            dimension,
        )
        .unwrap()
    });
    proptest::option::of(sum).boxed()
}

fn tiers() -> BoxedStrategy<Vec<Tier>> {
    (
        proptest::collection::btree_set(1..900_u32, 0..3),
        vec(price(), 3..4),
    )
        .prop_map(|(ends, prices)| {
            let ends: Vec<Option<u32>> = ends.into_iter().map(Some).collect();
            let open = (!ends.is_empty()).then_some(None);
            ends.into_iter()
                .chain(open)
                .zip(prices)
                .map(|(end, add)| Tier {
                    up_to: end.map(|end| Quantity::parse(&format!("{end} kWh"), Energy).unwrap()),
                    add,
                })
                .collect()
        })
        .boxed()
}

/// What energy costs, with everything else left empty.
fn priced() -> BoxedStrategy<Operation> {
    let holiday = (1..28_u8, 1..=12_u8, proptest::option::of(2000..2100_u16));
    let holidays = holiday.prop_map(|(day, month, year)| CalendarDay { year, month, day });
    let co2 = (positive(CarbonIntensity), 1950..=2100_u32, name()).prop_map(
        |(intensity, year, source)| CarbonDioxide {
            intensity,
            year,
            source,
        },
    );
    (
        tariff(),
        vec(holidays, 0..3),
        money(Charge, "month"),
        money(DemandCharge, "kW"),
        tiers(),
        maybe(Energy),
        proptest::option::of(co2),
    )
        .prop_map(
            |((tariff, seasons), holidays, fixed_charge, demand_charge, tiers, other_use, co2)| {
                Operation {
                    tariff,
                    seasons,
                    holidays,
                    fixed_charge,
                    demand_charge,
                    tiers,
                    other_use,
                    co2,
                    ..Operation::default()
                }
            },
        )
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
    let kind = proptest::option::of(proptest::sample::select(vec![
        TaskKind::Skimming,
        TaskKind::Chlorination,
        TaskKind::WaterFall,
    ]));
    (
        name(),
        kind,
        positive(Flow),
        1..=48_u32,
        proptest::option::of(ends()),
        any::<bool>(),
    )
        .prop_map(|(name, kind, min_flow, halves, between, in_one_go)| Task {
            name,
            kind,
            min_flow,
            hours: f64::from(halves) / 2.0,
            between: between.map(|(from, to)| [from, to]),
            in_one_go,
            // Lines are made up elsewhere, and a name of none is refused.
            closed: Vec::new(),
        })
        .boxed()
}

/// What a controller can hold, with everything else left empty.
fn held() -> BoxedStrategy<Operation> {
    let counts = || proptest::option::of(2..=144_u32);
    let time = || {
        proptest::option::of(super::between(
            records::unit::Dimension::Time,
            "min",
            1,
            1440,
        ))
    };
    let step = proptest::option::of(super::between(Speed, "rpm", 1, 1000));
    (
        counts(),
        counts(),
        counts(),
        time(),
        time(),
        vec(positive(Speed), 0..3),
        step,
    )
        .prop_map(
            |(max_starts, max_speeds, max_changes, min_run, max_pause, speeds, speed_step)| {
                Operation {
                    max_starts,
                    max_speeds,
                    max_changes,
                    min_run,
                    max_pause,
                    speeds,
                    speed_step,
                    ..Operation::default()
                }
            },
        )
        .boxed()
}

pub(crate) fn operation() -> BoxedStrategy<Operation> {
    let as_found =
        (ends(), positive(Speed)).prop_map(|((from, to), speed)| ProgramBlock { from, to, speed });
    let quiet = (ends(), positive(Speed)).prop_map(|((from, to), max_speed)| QuietBlock {
        from,
        to,
        max_speed,
    });
    let turnover = proptest::option::of(turnover());
    (
        priced(),
        held(),
        vec(as_found, 0..3),
        turnover,
        vec(task(), 0..3),
        vec(quiet, 0..3),
    )
        .prop_map(
            |(priced, held, as_found, turnover, tasks, quiet)| Operation {
                as_found,
                turnover,
                tasks,
                quiet,
                max_starts: held.max_starts,
                max_speeds: held.max_speeds,
                max_changes: held.max_changes,
                min_run: held.min_run,
                max_pause: held.max_pause,
                speeds: held.speeds,
                speed_step: held.speed_step,
                ..priced
            },
        )
        .boxed()
}
