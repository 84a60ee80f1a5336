//! A step test before it is held: which speeds and line-ups tell most in the time there is, what each meter should read, and how
//! far the pump may be taken.
//!
//! A plan rests on the site file and, where there are, earlier tests. What it cannot foresee it says; a step whose foreseen
//! pressure breaks a rating is not in it.

mod columns;
mod design;
mod expected;
mod refusal;
mod rehearsal;
mod safety;
mod timing;

pub use columns::PlannedColumn;
pub use design::{Lesson, Why};
pub use refusal::{NoPlan, PlanNote};
pub use rehearsal::WouldTell;
pub use safety::{Ceiling, ClimbStep};
pub use timing::{Stage, StageTime};

use crate::expectation::Expectation;
use crate::next_reading::Learning;
use columns::columns;
use design::{Chosen, Design};
use expected::Foresight;
use records::{Site, Test};
use rehearsal::rehearse;
use timing::Budget;

/// What is asked of a plan.
#[derive(Clone, Copy, Debug)]
pub struct PlanQuestion<'a> {
    /// The time at the pad, s.
    pub time_s: f64,
    /// Lines that are shut.
    pub closed: &'a [String],
    /// Lines that are part-open.
    pub throttled: &'a [String],
}

/// A plan.
#[derive(Clone, Debug)]
pub struct Plan {
    /// The columns of the readings.
    pub columns: Vec<PlannedColumn>,
    /// The stages in their order, with the time each takes.
    pub stages: Vec<StageTime>,
    /// How far the pump may be taken.
    pub ceiling: Ceiling,
    /// The speeds of the climb, rising.
    pub climb: Vec<ClimbStep>,
    /// The steps in the order in which they are read.
    pub steps: Vec<PlannedStep>,
    /// What the readings would tell.
    pub would_tell: Vec<WouldTell>,
    /// Which reading that is not in the plan would narrow the share of lines that stays widest.
    pub next: Option<Learning>,
    /// What is to be said beside.
    pub notes: Vec<PlanNote>,
}

/// A step of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedStep {
    /// The speed, rpm.
    pub speed_rpm: f64,
    /// The lines that are shut.
    pub closed: Vec<String>,
    /// What it is for.
    pub why: Why,
    /// How long the pad settles before it is read, s.
    pub settle_s: f64,
    /// What each meter should read; `row` is the place of the step.
    pub expected: Vec<Expectation>,
    /// The highest pressure that is foreseen in the filter vessel, Pa: the upper end of the 95 % interval.
    pub vessel_upper_pa: Option<f64>,
    /// The gauge reading above which the pump is stopped, Pa.
    pub stop_above_pa: Option<f64>,
}

impl Plan {
    /// Lists the different speeds read with the valves of the plan, rising.
    pub fn speeds_rpm(&self) -> Vec<f64> {
        let chosen = self
            .steps
            .iter()
            .filter(|step| matches!(step.why, Why::Narrows { .. }));
        let mut speeds: Vec<f64> = chosen.map(|step| step.speed_rpm).collect();
        numerics::order::sort_values(&mut speeds);
        speeds
    }

    /// The time of all stages, s.
    pub fn time_s(&self) -> f64 {
        self.stages.iter().map(|stage| stage.time_s).sum()
    }
}

/// Plans a step test.
///
/// # Inputs
/// `tests`: earlier ones, in the order of time; with none, all rests on the site file.
///
/// # Errors
/// Why there is no test to plan.
///
/// # Source
/// Speeds one after the other, each the one that narrows the answers of a test most: K. Chaloner, I. Verdinelli, "Bayesian
/// experimental design: a review", Statistical Science 10 (1995) 273-304 (from memory). The order of work is common practice, no
/// source.
pub fn plan(site: &Site, tests: &[Test], question: &PlanQuestion<'_>) -> Result<Plan, NoPlan> {
    refusal::refuse_shut(site, question)?;
    let columns = columns(site, tests);
    let foresight = Foresight::of(site, tests, &columns, question);
    let mut notes = foresight.notes();
    let ceiling = safety::ceiling(&foresight)?;
    let range = safety::range(site, &ceiling, &mut notes)?;
    let budget = Budget::of(site, &columns, safety::climb_speeds(range).len());
    let design = Design::of(&foresight, range);
    let speeds = budget.speeds(question.time_s)?;
    let chosen = design.choose(speeds, &budget, question.time_s);
    safety::notes(&foresight, &ceiling, &chosen, &mut notes);
    let rehearsed = rehearse(&foresight, &chosen);
    notes.extend(rehearsed.note);
    Ok(Plan {
        stages: budget.stages(&chosen),
        climb: safety::climb(&foresight, range),
        steps: steps(&foresight, &chosen),
        columns,
        ceiling,
        would_tell: rehearsed.would_tell,
        next: rehearsed.next,
        notes,
    })
}

/// Puts the chosen steps into the order in which they are read: from high to low, one in the middle again, then the line-ups.
fn steps(foresight: &Foresight<'_>, chosen: &Chosen) -> Vec<PlannedStep> {
    let stop_above_pa = safety::stop_above_pa(foresight);
    let mut steps: Vec<PlannedStep> = Vec::new();
    let mut add = |speed_rpm: f64, closed: &[String], why: Why| {
        let row = steps.len();
        let at = foresight.at(speed_rpm, closed, row);
        steps.push(PlannedStep {
            speed_rpm,
            closed: closed.to_vec(),
            settle_s: timing::settle_s(&why),
            why,
            expected: at.expected,
            vessel_upper_pa: at.vessel.map(|vessel| vessel.high),
            stop_above_pa,
        });
    };
    let mut high_to_low = chosen.speeds.clone();
    numerics::order::sort_by(&mut high_to_low, |a, b| b.speed_rpm.total_cmp(&a.speed_rpm));
    for speed in &high_to_low {
        add(speed.speed_rpm, foresight.closed(), speed.why.clone());
    }
    add(chosen.again_rpm, foresight.closed(), Why::DriftCheck);
    for line_up in &chosen.line_ups {
        for speed in &line_up.steps_rpm {
            add(*speed, &line_up.closed, line_up.why.clone());
        }
    }
    steps
}
