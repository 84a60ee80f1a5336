//! The plan under the names of the contract: SI numbers, and the English words.

use super::Subject;
use super::words;
use crate::cautions::CAUTIONS;
use crate::json::MACHINE;
use crate::json::{E, FORMAT, LearningJson, LimitJson, learning_of, limit, text};
use crate::words::learning;
use fieldtest::{ExpectedBy, Lesson, PlannedStep, Stage, Why};
use serde::Serialize;

#[derive(Serialize)]
struct PlanJson {
    format: u32,
    site: String,
    time_s: f64,
    needed_s: f64,
    closed: Vec<String>,
    throttled: Vec<String>,
    columns: Vec<ColumnJson>,
    highest: HighestJson,
    order: Vec<StageJson>,
    climb: Vec<ClimbJson>,
    steps: Vec<StepJson>,
    would_tell: Vec<ToldJson>,
    to_learn: Option<LearningJson>,
    notes: Vec<String>,
    meters: Vec<String>,
    cautions: Vec<&'static str>,
}

#[derive(Serialize)]
struct ColumnJson {
    heading: String,
    meter: Option<String>,
}

#[derive(Serialize)]
struct HighestJson {
    speed_rpm: f64,
    limit: Option<LimitJson>,
    pressure_foreseen: bool,
}

#[derive(Serialize)]
struct StageJson {
    stage: &'static str,
    time_s: f64,
    says: String,
}

#[derive(Serialize)]
struct ClimbJson {
    speed_rpm: f64,
    vessel_upper_pa: Option<f64>,
    stop_above_pa: Option<f64>,
}

#[derive(Serialize)]
struct StepJson {
    speed_rpm: f64,
    closed: Vec<String>,
    #[serde(rename = "for")]
    purpose: &'static str,
    narrows: Option<String>,
    without: Option<f64>,
    left: Option<f64>,
    says: String,
    settle_s: f64,
    vessel_upper_pa: Option<f64>,
    stop_above_pa: Option<f64>,
    expected: Vec<ExpectedJson>,
}

#[derive(Serialize)]
struct ExpectedJson {
    column: String,
    by: &'static str,
    value: Option<f64>,
    low: f64,
    high: f64,
}

#[derive(Serialize)]
struct ToldJson {
    answer: String,
    estimate: E,
}

/// Writes `plan --json`.
pub fn json(subject: &Subject<'_>) -> String {
    let plan = subject.plan;
    let order = plan.stages.iter().zip(words::order(subject));
    text(&PlanJson {
        format: FORMAT,
        site: subject.site.name.clone(),
        time_s: subject.question.time_s,
        needed_s: plan.time_s(),
        closed: subject.question.closed.to_vec(),
        throttled: subject.question.throttled.to_vec(),
        columns: plan
            .columns
            .iter()
            .map(|column| ColumnJson {
                heading: column.column.heading.clone(),
                meter: column.meter.clone(),
            })
            .collect(),
        highest: HighestJson {
            speed_rpm: plan.ceiling.speed_rpm,
            limit: plan.ceiling.limit.as_ref().map(limit),
            pressure_foreseen: plan.ceiling.is_pressure_foreseen,
        },
        order: order
            .map(|(stage, (_, says))| StageJson {
                stage: stage_name(stage.stage),
                time_s: stage.time_s,
                says,
            })
            .collect(),
        climb: plan
            .climb
            .iter()
            .map(|step| ClimbJson {
                speed_rpm: step.speed_rpm,
                vessel_upper_pa: step.vessel_upper_pa,
                stop_above_pa: step.stop_above_pa,
            })
            .collect(),
        steps: plan
            .steps
            .iter()
            .map(|step| step_of(subject, step))
            .collect(),
        would_tell: plan
            .would_tell
            .iter()
            .map(|told| ToldJson {
                answer: learning::answer(subject.site, &told.answer, MACHINE),
                estimate: told.estimate.into(),
            })
            .collect(),
        to_learn: plan
            .next
            .as_ref()
            .map(|next| learning_of(subject.site, next)),
        notes: words::notes(subject),
        meters: words::meters(subject),
        cautions: CAUTIONS.to_vec(),
    })
}

fn step_of(subject: &Subject<'_>, step: &PlannedStep) -> StepJson {
    let (purpose, narrows, without, left) = match &step.why {
        Why::Narrows { told, without } => (
            "law",
            Some(told_name(*told).to_owned()),
            Some(*without),
            None,
        ),
        Why::DriftCheck => ("drift check", None, None, None),
        Why::LineUp { answer, left, .. } => (
            "line-up",
            Some(learning::answer(subject.site, answer, MACHINE)),
            None,
            Some(*left),
        ),
    };
    let expected = step.expected.iter().map(|it| ExpectedJson {
        column: subject.plan.columns[it.column].column.name(),
        by: match it.by {
            ExpectedBy::Law => "earlier test",
            ExpectedBy::Plumbing => "plumbing",
            ExpectedBy::Neighbours => "nearest steps",
            ExpectedBy::MakersCurve => "maker's curve",
            ExpectedBy::SuchPumps => "such pumps",
        },
        // Of a rough band only the ends say anything.
        value: (!it.by.is_rough()).then_some(it.si.value),
        low: it.si.low,
        high: it.si.high,
    });
    StepJson {
        speed_rpm: step.speed_rpm,
        closed: step.closed.clone(),
        purpose,
        narrows,
        without,
        left,
        says: words::why(subject, step),
        settle_s: step.settle_s,
        vessel_upper_pa: step.vessel_upper_pa,
        stop_above_pa: step.stop_above_pa,
        expected: expected.collect(),
    }
}

fn stage_name(stage: Stage) -> &'static str {
    match stage {
        Stage::Prepare => "prepare",
        Stage::AtRest => "at rest",
        Stage::Prime => "prime",
        Stage::Climb => "climb",
        Stage::Steps => "steps",
        Stage::DriftCheck => "drift check",
        Stage::LineUps => "line-ups",
        Stage::PutBack => "put back",
    }
}

fn told_name(told: Lesson) -> &'static str {
    match told {
        Lesson::FixedDraw => "fixed_w",
        Lesson::Growth => "exponent",
        Lesson::Flow => "slope_m3s_per_rpm",
        Lesson::Start => "intercept_speed_rpm",
        Lesson::CheapestSpeed => "least_energy_speed_rpm",
    }
}
