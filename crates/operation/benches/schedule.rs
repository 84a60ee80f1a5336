//! How long the cheapest day takes: the sizes of the contract, and what a controller asks for on top.

#![expect(clippy::unwrap_used, reason = "a benchmark fails by panicking")]

use criterion::{Criterion, criterion_group, criterion_main};
use operation::{
    BeforeFirst, Effort, HoursLie, Least, Problem, Rule, Slot, Speed, TaskRule, schedule,
};
use records::ClockTime;
use std::hint::black_box;

/// A pool of 70 m³ under a tariff of two prices, with skimming by day and a quiet night.
fn day(slots: u32, speeds: u32) -> Problem {
    let hours = 24.0 / f64::from(slots);
    let all = |from: f64, to: f64| {
        let start = |slot: u32| f64::from(slot) * hours;
        let within = (0..slots).filter(move |slot| start(*slot) >= from && start(*slot) < to);
        within.map(|slot| slot as usize).collect::<Vec<usize>>()
    };
    let quiet: Vec<usize> = [all(0.0, 7.0), all(22.0, 24.0)].concat();
    Problem {
        slots: (0..slots)
            .map(|slot| Slot {
                start: ClockTime {
                    minutes: slot * 1440 / slots,
                },
                hours,
                price_per_kwh: Some(if all(16.0, 21.0).contains(&(slot as usize)) {
                    0.52
                } else {
                    0.24
                }),
            })
            .collect(),
        speeds: (0..speeds)
            .map(|index| {
                let share = 0.2 + 0.8 * f64::from(index) / f64::from(speeds - 1);
                Speed {
                    speed_rpm: 3450.0 * share,
                    flow_m3s: 0.005 * (share * share - 0.01).sqrt(),
                    power_w: 45.0 + 1550.0 * share * share * share,
                    lineup: None,
                }
            })
            .collect(),
        rules: vec![
            Rule::Volume { min_m3: 70.0 },
            Rule::Task(TaskRule {
                name: "skimming".to_owned(),
                min_flow_m3s: 0.0019,
                hours: 4.0,
                slots: all(8.0, 20.0),
                lineup: None,
                hours_lie: HoursLie::Anywhere,
            }),
            Rule::MaxSpeed {
                slots: quiet,
                speed_rpm: 1800.0,
            },
            Rule::Starts { max: 3 },
        ],
        before_first: BeforeFirst::Cyclic,
        least: Least::Cost,
        off_power_w: 6.0,
        start_energy_wh: 150.0,
        start_volume_m3: 0.0,
        demand_per_kw: 0.0,
    }
}

fn schedules(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("schedule");
    group.sample_size(10);
    let cases = [
        ("24 slots, 12 speeds", day(24, 12)),
        ("96 slots, 12 speeds", day(96, 12)),
        ("48 slots, 61 speeds", day(48, 61)),
        (
            "48 slots, 61 speeds, two in use",
            day(48, 61).with(Rule::Speeds { max: 2 }),
        ),
        (
            "48 slots, 61 speeds, three in use",
            day(48, 61).with(Rule::Speeds { max: 3 }),
        ),
        (
            "48 slots, 61 speeds, four changes",
            day(48, 61).with(Rule::Changes { max: 4 }),
        ),
    ];
    for (name, problem) in cases {
        group.bench_function(name, |bencher| {
            bencher.iter(|| schedule(black_box(&problem), &mut Effort::a_second()).unwrap());
        });
    }
    group.finish();
}

criterion_group!(benches, schedules);
criterion_main!(benches);
