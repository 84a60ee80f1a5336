//! The cheapest day of a pump: slots by speeds under a volume, a task, quiet hours and few starts, proven.

use std::error::Error;
use std::hint::black_box;
use std::path::Path;

use operation::{
    BeforeFirst, Effort, HoursLie, Least, Outcome, Problem, Rule, Slot, Speed, TaskRule, schedule,
};
use records::ClockTime;
use serde_json::{Value, json};

use crate::{best_seconds, report};

const VOLUME_M3: f64 = 70.0;
const TASK_FLOW_M3S: f64 = 0.0019;
const TASK_HOURS: f64 = 4.0;
const QUIET_RPM: f64 = 1800.0;
const STARTS: u32 = 2;

pub(crate) fn run(folder: &Path) -> Result<(), Box<dyn Error>> {
    for slots in [24, 48, 96] {
        let problem = day(slots, 12);
        let Outcome::Found(planned) = schedule(&problem, &mut Effort::a_second())? else {
            return Err("the day of the comparison has no plan".into());
        };
        let given = written(&problem, planned.replay.least);
        std::fs::write(
            folder.join(format!("schedule-{slots}.json")),
            given.to_string(),
        )?;
        let seconds = best_seconds(|| {
            let _ = black_box(schedule(black_box(&problem), &mut Effort::a_second()));
        });
        report(
            &format!("schedule, {slots} slots"),
            "operation::schedule",
            seconds,
        );
    }
    Ok(())
}

/// Lists the slots between two hours.
fn within(slots: u32, from: f64, to: f64) -> Vec<usize> {
    let hour = |slot: &u32| 24.0 * f64::from(*slot) / f64::from(slots);
    (0..slots)
        .filter(|slot| hour(slot) >= from && hour(slot) < to)
        .map(|slot| slot as usize)
        .collect()
}

/// An invented pool under a tariff of two prices.
fn day(slots: u32, speeds: u32) -> Problem {
    let dear = within(slots, 16.0, 21.0);
    let slot = |slot: u32| Slot {
        start: ClockTime {
            minutes: slot * 1440 / slots,
        },
        hours: 24.0 / f64::from(slots),
        price_per_kwh: Some(if dear.contains(&(slot as usize)) {
            0.52
        } else {
            0.24
        }),
    };
    let speed = |index: u32| {
        let share = 0.2 + 0.8 * f64::from(index) / f64::from(speeds - 1);
        Speed {
            speed_rpm: 3450.0 * share,
            flow_m3s: 0.005 * (share * share - 0.01).sqrt(),
            power_w: 45.0 + 1550.0 * share * share * share,
            lineup: None,
        }
    };
    Problem {
        demand_per_kw: 0.0,
        slots: (0..slots).map(slot).collect(),
        speeds: (0..speeds).map(speed).collect(),
        rules: vec![
            Rule::Volume { min_m3: VOLUME_M3 },
            Rule::Task(TaskRule {
                name: "skimming".to_owned(),
                min_flow_m3s: TASK_FLOW_M3S,
                hours: TASK_HOURS,
                slots: within(slots, 8.0, 20.0),
                lineup: None,
                hours_lie: HoursLie::Anywhere,
            }),
            Rule::MaxSpeed {
                slots: [within(slots, 0.0, 7.0), within(slots, 22.0, 24.0)].concat(),
                speed_rpm: QUIET_RPM,
            },
            Rule::Starts { max: STARTS },
        ],
        before_first: BeforeFirst::Cyclic,
        least: Least::Cost,
        off_power_w: 6.0,
        start_energy_wh: 150.0,
        start_volume_m3: 0.0,
    }
}

/// Writes a problem as the other side takes it, with what our day costs.
fn written(problem: &Problem, cost: f64) -> Value {
    let column = |of: fn(&Speed) -> f64| problem.speeds.iter().map(of).collect::<Vec<f64>>();
    let slots = |index: usize| match &problem.rules[index] {
        Rule::Task(task) => task.slots.clone(),
        Rule::MaxSpeed { slots, .. } => slots.clone(),
        _ => Vec::new(),
    };
    json!({
        "hours": problem.slots[0].hours,
        "price_per_kwh": problem.slots.iter().map(|slot| slot.price_per_kwh).collect::<Vec<_>>(),
        "speed_rpm": column(|speed| speed.speed_rpm),
        "flow_m3s": column(|speed| speed.flow_m3s),
        "power_w": column(|speed| speed.power_w),
        "min_m3": VOLUME_M3,
        "task": { "min_flow_m3s": TASK_FLOW_M3S, "hours": TASK_HOURS, "slots": slots(1) },
        "quiet": { "speed_rpm": QUIET_RPM, "slots": slots(2) },
        "starts": STARTS,
        "off_power_w": problem.off_power_w,
        "start_energy_wh": problem.start_energy_wh,
        "cost": cost,
    })
}
