//! The answer of `schedule` as JSON: SI numbers under the names of the contract.

use super::Subject;
use crate::json::{FORMAT, text};
use crate::units::Printing;
use fieldtest::Analysis;
use metrology::Estimate;
use operation::{
    Advice, AdvisedDay, BeforeFirst, DayPlan, Fulfilment, Least, Problem, Programmed, Rule, Sums,
    TaskRule,
};
use records::Site;
use serde::Serialize;
use serde_json::{Map, Value, json};

/// Writes `schedule --json`; `printing` sets the units of the words, the numbers being SI.
pub fn json(site: &Site, analysis: &Analysis, plan: &DayPlan, printing: Printing) -> String {
    let subject = Subject {
        site,
        analysis,
        plan,
        printing,
    };
    text(&Document::of(&subject))
}

#[derive(Serialize)]
struct Document {
    format: u32,
    site: String,
    minimised: &'static str,
    currency: Option<String>,
    problem: Value,
    slots: Option<Vec<Value>>,
    turnover_m3_per_day: Option<f64>,
    cost_per_day: Option<f64>,
    energy_kwh_per_day: Option<f64>,
    volume_m3_per_day: Option<f64>,
    gap: Option<f64>,
    binding: Vec<Value>,
    #[serde(skip_serializing_if = "Option::is_none")]
    program: Option<Value>,
    #[serde(skip_serializing_if = "Option::is_none")]
    sums: Option<Value>,
    #[serde(skip_serializing_if = "Option::is_none")]
    as_found: Option<Value>,
    #[serde(skip_serializing_if = "Option::is_none")]
    one_more: Option<Value>,
    #[serde(skip_serializing_if = "Option::is_none")]
    easier: Option<Value>,
}

impl Document {
    fn of(subject: &Subject<'_>) -> Self {
        let plan = subject.plan;
        let day = match &plan.advice {
            Advice::Day(day) => Some(day.as_ref()),
            Advice::Impossible(_) | Advice::Unsettled => None,
        };
        let planned = day.map(|day| &day.program.planned);
        let replay = planned.map(|planned| &planned.replay);
        Self {
            format: FORMAT,
            site: subject.site.name.clone(),
            minimised: match plan.problem.least {
                Least::Cost => "cost",
                Least::Energy => "energy",
            },
            currency: plan.currency.clone(),
            problem: problem(&plan.problem),
            slots: day.map(|day| slots(&plan.problem, &day.program)),
            turnover_m3_per_day: plan.turnover_m3,
            cost_per_day: replay.and_then(|replay| replay.cost),
            energy_kwh_per_day: replay.map(|replay| replay.energy_kwh),
            volume_m3_per_day: replay.map(|replay| replay.volume_m3),
            gap: planned.map(operation::Planned::gap),
            binding: binding(subject, day),
            program: day.map(|day| program(&plan.problem, &day.program)),
            sums: day.map(|day| sums(&day.sums)),
            as_found: day.and_then(as_found),
            one_more: day.map(|day| one_more(subject, day)),
            easier: day.and_then(|day| easier(&plan.problem, day)),
        }
    }
}

fn problem(problem: &Problem) -> Value {
    let slots = problem.slots.iter().map(|slot| {
        json!({ "start": slot.start.to_string(), "hours": slot.hours, "price_per_kwh": slot.price_per_kwh })
    });
    let speeds = problem.speeds.iter().map(|speed| {
        let mut value = json!({ "speed_rpm": speed.speed_rpm, "flow_m3s": speed.flow_m3s, "power_w": speed.power_w });
        if let (Some(lineup), Some(map)) = (&speed.lineup, value.as_object_mut()) {
            map.insert("lineup".to_owned(), json!(lineup));
        }
        value
    });
    json!({
        "slots": slots.collect::<Vec<_>>(),
        "speeds": speeds.collect::<Vec<_>>(),
        "rules": problem.rules.iter().map(rule).collect::<Vec<_>>(),
        "before_first": match problem.before_first {
            BeforeFirst::Cyclic => "cyclic",
            BeforeFirst::Off => "off",
            BeforeFirst::On => "on",
        },
        "off_power_w": problem.off_power_w,
        "start_energy_wh": problem.start_energy_wh,
        "start_volume_m3": problem.start_volume_m3,
        "demand_per_kw": problem.demand_per_kw,
    })
}

fn rule(rule: &Rule) -> Value {
    match rule {
        Rule::Volume { min_m3 } => json!({ "rule": "volume", "min_m3": min_m3 }),
        Rule::Task(task) => task_rule(task),
        Rule::MaxSpeed { slots, speed_rpm } => {
            json!({ "rule": "max_speed", "slots": slots, "speed_rpm": speed_rpm })
        }
        Rule::NoStart { slots } => json!({ "rule": "no_start", "slots": slots }),
        Rule::Starts { max } => json!({ "rule": "starts", "max": max }),
        Rule::Speeds { max } => json!({ "rule": "speeds", "max": max }),
        Rule::Changes { max } => json!({ "rule": "changes", "max": max }),
        Rule::Run { min_hours } => json!({ "rule": "run", "min_hours": min_hours }),
        Rule::Pause { max_hours } => json!({ "rule": "pause", "max_hours": max_hours }),
    }
}

fn task_rule(task: &TaskRule) -> Value {
    let mut map = Map::new();
    map.insert("rule".to_owned(), json!("task"));
    map.insert("name".to_owned(), json!(task.name));
    map.insert("min_flow_m3s".to_owned(), json!(task.min_flow_m3s));
    map.insert("hours".to_owned(), json!(task.hours));
    map.insert("slots".to_owned(), json!(task.slots));
    if let Some(lineup) = &task.lineup {
        map.insert("lineup".to_owned(), json!(lineup));
    }
    if task.hours_lie == operation::HoursLie::InOneStretch {
        map.insert("in_one_go".to_owned(), json!(true));
    }
    Value::Object(map)
}

/// Lists what each slot does; a speed of 0 is off.
fn slots(problem: &Problem, program: &Programmed) -> Vec<Value> {
    let day = problem.slots.iter().zip(&program.planned.day);
    day.map(|(slot, speed)| {
        let speed_rpm = speed.map_or(0.0, |speed| problem.speeds[speed].speed_rpm);
        json!({ "start": slot.start.to_string(), "speed_rpm": speed_rpm })
    })
    .collect()
}

pub(crate) fn program(problem: &Problem, program: &Programmed) -> Value {
    let entries = program.entries.iter().map(|entry| {
        let speed = entry.speed.map(|speed| &problem.speeds[speed]);
        json!({
            "from": entry.from.to_string(),
            "to": super::words::end(entry.to),
            "hours": entry.hours,
            "speed_rpm": speed.map_or(0.0, |speed| speed.speed_rpm),
            "lineup": speed.and_then(|speed| speed.lineup.as_deref()),
            "flow_m3s": speed.map_or(0.0, |speed| speed.flow_m3s),
            "power_w": speed.map_or(problem.off_power_w, |speed| speed.power_w),
        })
    });
    Value::Array(entries.collect())
}

/// Lists the rules that cost something, or those that cannot hold together.
fn binding(subject: &Subject<'_>, day: Option<&AdvisedDay>) -> Vec<Value> {
    let rules = &subject.plan.problem.rules;
    let named = |index: usize, saves: Option<f64>| {
        let mut value = rule(&rules[index]);
        if let Some(map) = value.as_object_mut() {
            map.insert("index".to_owned(), json!(index));
            map.extend(
                saves.map(|saves| ("saves_per_day".to_owned(), json!(in_print(subject, saves)))),
            );
            map.insert("says".to_owned(), json!(subject.rule(&rules[index])));
        }
        value
    };
    match (day, &subject.plan.advice) {
        (Some(day), _) => day
            .binding
            .iter()
            .map(|binding| named(binding.rule, Some(binding.saves)))
            .collect(),
        (None, Advice::Impossible(conflict)) => {
            conflict.iter().map(|index| named(*index, None)).collect()
        }
        (None, _) => Vec::new(),
    }
}

/// Returns what was made least as money, or as kWh.
fn in_print(subject: &Subject<'_>, least: f64) -> f64 {
    /// Watt-hours in a kilowatt-hour, exact.
    const WH_PER_KWH: f64 = 1000.0;
    match subject.plan.problem.least {
        Least::Cost => least,
        Least::Energy => least / WH_PER_KWH,
    }
}

pub(crate) fn e(estimate: Option<Estimate>) -> Value {
    estimate.map_or(
        Value::Null,
        |e| json!({ "value": e.value, "u": e.u, "low": e.low, "high": e.high }),
    )
}

fn sums(sums: &Sums) -> Value {
    json!({
        "cost_per_day": e(sums.cost),
        "cost_per_month": e(sums.cost_month),
        "cost_per_year": e(sums.cost_year),
        "fixed_per_month": sums.fixed_month,
        "energy_kwh_per_day": e(sums.energy_kwh),
        "energy_kwh_per_year": e(sums.energy_year_kwh),
        "co2_kg_per_year": e(sums.co2_year_kg),
        "volume_m3_per_day": e(sums.volume_m3),
        "chance_of_volume": sums.chance_of_volume,
    })
}

fn as_found(day: &AdvisedDay) -> Option<Value> {
    let found = day.as_found.as_ref()?;
    Some(json!({
        "sums": sums(&found.sums),
        "saves_per_month": e(found.saves_month),
        "saves_per_year": e(found.saves_year),
        "saves_kwh_per_year": e(found.saves_year_kwh),
        "fulfils": found.fulfilment.as_ref().map(fulfils),
    }))
}

/// Writes what a stated program does of what is asked.
pub(crate) fn fulfils(fulfilment: &Fulfilment) -> Value {
    let missed = fulfilment.missed.iter().map(|missed| {
        let mut missed = rule(missed);
        // Its slots are those of its own replay, which nobody else has.
        missed.as_object_mut().and_then(|map| map.remove("slots"));
        missed
    });
    json!({
        "volume_m3": fulfilment.volume_m3,
        "missed": missed.collect::<Vec<_>>(),
    })
}

fn one_more(subject: &Subject<'_>, day: &AdvisedDay) -> Value {
    let rules = &subject.plan.problem.rules;
    let more = day.one_more.iter().map(|more| {
        let (rule, name) = match &rules[more.rule] {
            Rule::Task(task) => ("task", Some(task.name.as_str())),
            _ => ("volume", None),
        };
        json!({
            "rule": rule,
            "name": name,
            "costs_per_day": more.costs.map(|costs| in_print(subject, costs)),
        })
    });
    Value::Array(more.collect())
}

fn easier(problem: &Problem, day: &AdvisedDay) -> Option<Value> {
    let easier = day.easier.as_ref()?;
    Some(json!({
        "slots": slots(problem, easier),
        "program": program(problem, easier),
        "cost_per_day": easier.planned.replay.cost,
        "energy_kwh_per_day": easier.planned.replay.energy_kwh,
        "volume_m3_per_day": easier.planned.replay.volume_m3,
        "gap": easier.planned.gap(),
    }))
}
