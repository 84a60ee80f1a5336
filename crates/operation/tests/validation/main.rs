//! Days held against those of another solver. Each case prints a line that `cargo xtask validate` reads.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use operation::{
    BeforeFirst, Effort, HoursLie, Least, Outcome, Problem, Rule, Slot, Speed, TaskRule,
    present_value_factor, replay, schedule,
};
use records::ClockTime;
use serde_json::Value;
use std::fs;
use std::path::Path;

const FOLDER: &str = "../../validation/schedule/highs";
/// The costs are whole millionths of up to seven digits: a day that is not the optimum is off by more.
const TOLERANCE: f64 = 1e-6;
const SECONDS_PER_HOUR: f64 = 3600.0;

/// Reads a problem as the reference states it; a cost of 1 is a millionth.
fn problem(case: &Value) -> Problem {
    let number = |value: &Value| value.as_f64().unwrap();
    let list = |key: &str| case[key].as_array().unwrap().clone();
    let hours = number(&case["slot_minutes"]) / 60.0;
    let minutes = u32::try_from(case["slot_minutes"].as_u64().unwrap()).unwrap();
    let prices = list("tariff_micro_per_Wh");
    let slots = (0..).zip(&prices).map(|(index, price)| Slot {
        start: ClockTime {
            minutes: index * minutes,
        },
        hours,
        // A millionth per watt-hour is a thousandth per kilowatt-hour; costs are then in units, not millionths.
        price_per_kwh: Some(1000.0 * number(price)),
    });
    let speeds: Vec<Speed> = list("speeds")
        .iter()
        .map(|speed| Speed {
            speed_rpm: number(&speed["rpm"]),
            flow_m3s: number(&speed["flow_m3_h"]) / SECONDS_PER_HOUR,
            power_w: number(&speed["power_W"]),
            lineup: None,
        })
        .collect();
    let window = |window: &Value| {
        let end = |key: &str| usize::try_from(window[key].as_u64().unwrap()).unwrap();
        (end("first_slot")..end("end_slot_exclusive")).collect::<Vec<usize>>()
    };
    let tasks = list("min_flow_windows").into_iter().map(|task| {
        Rule::Task(TaskRule {
            name: "task".to_owned(),
            min_flow_m3s: number(&task["min_flow_m3_h"]) / SECONDS_PER_HOUR,
            hours: hours * number(&task["min_slots"]),
            slots: window(&task),
            lineup: None,
            hours_lie: HoursLie::Anywhere,
        })
    });
    let quiet = list("quiet_windows").into_iter().map(|quiet| {
        let index = usize::try_from(quiet["max_speed_index"].as_u64().unwrap()).unwrap();
        Rule::MaxSpeed {
            slots: window(&quiet),
            speed_rpm: index
                .checked_sub(1)
                .map_or(0.0, |speed| speeds[speed].speed_rpm),
        }
    });
    let mut rules = vec![
        Rule::Volume {
            min_m3: number(&case["required_volume_m3"]),
        },
        Rule::Starts {
            max: u32::try_from(case["max_starts"].as_u64().unwrap()).unwrap(),
        },
    ];
    rules.extend(tasks.chain(quiet));
    Problem {
        slots: slots.collect(),
        rules,
        before_first: if case["initial_on"].as_bool().unwrap() {
            BeforeFirst::On
        } else {
            BeforeFirst::Off
        },
        least: Least::Cost,
        off_power_w: 0.0,
        start_energy_wh: 0.0,
        start_volume_m3: 0.0,
        // A millionth per watt is a thousandth per kilowatt.
        demand_per_kw: 1000.0 * case["demand_micro_per_W"].as_f64().unwrap_or(0.0),
        speeds,
    }
}

fn cases() -> Vec<(String, Value)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(FOLDER);
    let mut paths: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| {
            path.extension()
                .is_some_and(|extension| extension == "json")
        })
        .collect();
    paths.sort();
    let read = |path: &std::path::PathBuf| {
        let case: Value = serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap();
        (case["id"].as_str().unwrap().to_owned(), case)
    };
    paths.iter().map(read).collect()
}

#[test]
fn days_cost_what_the_other_solver_says() {
    let cases = cases();
    assert!(cases.len() >= 7, "only {} cases", cases.len());
    let (mut worst, mut compared, mut at) = (0.0, 0, String::new());
    for (id, case) in cases {
        let problem = problem(&case);
        let outcome = schedule(&problem, &mut Effort::a_second()).unwrap();
        let Some(optimum) = case["solution"]["optimal_cost_micro"].as_f64() else {
            assert_eq!(outcome, Outcome::Impossible, "{id}");
            continue;
        };
        let Outcome::Found(planned) = outcome else {
            unreachable!("{id} has a day: {outcome:?}");
        };
        assert!(planned.gap() <= 0.0, "{id}: {}", planned.gap());
        assert!(replay(&problem, &planned.day).broken.is_empty(), "{id}");
        let apart = (planned.replay.least / optimum - 1.0).abs();
        if apart >= worst {
            (worst, at) = (apart, id);
        }
        compared += 1;
    }
    assert!(compared >= 6, "{compared} compared");
    assert!(worst <= TOLERANCE, "{worst}");
    println!(
        "schedule/highs: cost of the cheapest day: {compared} cases, worst {worst:.2e} of {TOLERANCE:e} at {at}"
    );
}

/// A charge for the highest draw, in the optimum: `validation/schedule/highs-demand`.
#[test]
fn days_with_a_charge_for_the_highest_draw_cost_what_the_other_solver_says() {
    const CASES: &str = "../../validation/schedule/highs-demand/cases.json";
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(CASES);
    let read: Value = serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap();
    let cases = read["cases"].as_array().unwrap();
    assert!(cases.len() >= 20, "only {} cases", cases.len());
    let (mut worst, mut at) = (0.0, "");
    for case in cases {
        let id = case["id"].as_str().unwrap();
        let problem = problem(case);
        let outcome = schedule(&problem, &mut Effort::a_second()).unwrap();
        let Outcome::Found(planned) = outcome else {
            unreachable!("{id} has a day: {outcome:?}");
        };
        assert!(planned.gap() <= 0.0, "{id}: {}", planned.gap());
        assert!(replay(&problem, &planned.day).broken.is_empty(), "{id}");
        let optimum = case["solution"]["optimal_cost_micro"].as_f64().unwrap();
        let apart = (planned.replay.least / optimum - 1.0).abs();
        if apart >= worst {
            (worst, at) = (apart, id);
        }
    }
    assert!(worst <= TOLERANCE, "{worst} at {at}");
    println!(
        "schedule/highs-demand: cost of the cheapest day with a charge for its highest draw: {} cases, worst {worst:.2e} of {TOLERANCE:e} at {at}",
        cases.len()
    );
}

/// Uniform present value factors: `validation/economics/textbook`.
#[test]
fn later_money_is_weighed_as_textbooks_do() {
    const FACTORS: &str = "../../validation/economics/textbook/factors.csv";
    /// Half a unit of the last printed digit.
    const PRINTED: f64 = 5e-4;
    /// Where the digits of the package are cut.
    const COMPUTED: f64 = 1e-9;
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(FACTORS);
    let text = fs::read_to_string(path).unwrap();
    let rows: Vec<Vec<f64>> = text
        .lines()
        .skip(1)
        .map(|line| line.split(',').map(|cell| cell.parse().unwrap()).collect())
        .collect();
    assert!(rows.len() >= 18, "only {} rows", rows.len());
    let mut worst: f64 = 0.0;
    for row in &rows {
        let own = present_value_factor(row[0], row[1]);
        assert!(
            (own - row[2]).abs() <= PRINTED * 1.000_001,
            "{row:?}: {own}"
        );
        worst = worst.max((own / row[3] - 1.0).abs());
    }
    assert!(worst <= COMPUTED, "{worst}");
    // Without interest a sum a year is worth as many sums as there are years.
    assert!((present_value_factor(0.0, 12.0) - 12.0).abs() < 1e-12);
    println!(
        "economics/textbook: uniform present value factor: {} cases, worst {worst:.2e} of {COMPUTED:e} at the package's digits",
        rows.len()
    );
}
