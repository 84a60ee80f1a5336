//! What one run of pipe with its parts takes at one flow: the handbook question, answered part by part.

use crate::plumbing::{PartProblem, place};
use crate::rules::{Rule, RuleSet};
use hydraulics::constants::STANDARD_GRAVITY_M_S2;
use hydraulics::element::Element;
use hydraulics::friction::{BothFrictionLaws, both_friction_laws};
use hydraulics::head::flow_at_velocity_m3s;
use hydraulics::loss::{PipeLoss, pipe_loss};
use hydraulics::water::Water;
use hydraulics::{Answer, Warning};
use records::Part;

/// A run of pipe and what sits in it.
#[derive(Clone, Copy, Debug)]
pub struct RunQuestion<'a> {
    /// What is in the run, its pipe first.
    pub parts: &'a [Part],
    /// The flow, m³/s.
    pub flow_m3s: f64,
    /// The water.
    pub water: &'a Water,
    /// The coefficient C of the Hazen-Williams formula.
    pub hazen_williams_c: f64,
    /// The rules whose velocities the answer is held against.
    pub rules: &'a RuleSet,
}

/// What a run takes.
#[derive(Clone, Debug)]
pub struct RunLoss {
    /// The pipe alone.
    pub pipe: PipeLoss,
    /// Each part, in order.
    pub parts: Vec<PartLoss>,
    /// Head of the whole run, as far as it is stated, m.
    pub head_m: f64,
    /// The same as a pressure, Pa.
    pub pressure_pa: f64,
    /// The friction of the pipe by both laws.
    pub friction: Answer<BothFrictionLaws>,
    /// The rules for the velocity before and after the pump.
    pub velocity_limits: [VelocityLimit; 2],
}

/// What one part takes.
#[derive(Clone, Debug)]
pub struct PartLoss {
    /// The head, m; `None` where what it takes is not stated.
    pub head_m: Option<f64>,
    /// What must be said beside it.
    pub warnings: Vec<Warning>,
}

/// A velocity that a rule allows, in this pipe.
#[derive(Clone, Copy, Debug)]
pub struct VelocityLimit {
    /// The rule, in m/s.
    pub rule: Rule,
    /// The flow at which this pipe reaches it, m³/s.
    pub flow_m3s: f64,
}

/// Answers for a run of pipe with its parts.
///
/// # Errors
/// The index of the part that has no law, and why.
pub fn run_loss(question: &RunQuestion<'_>) -> Result<RunLoss, (usize, PartProblem)> {
    let RunQuestion {
        flow_m3s,
        water,
        rules,
        ..
    } = *question;
    let mut placed = Vec::with_capacity(question.parts.len());
    for (index, part) in place(question.parts).into_iter().enumerate() {
        placed.push(part.map_err(|problem| (index, problem))?);
    }
    let run = placed.first().and_then(|part| part.element.as_ref());
    let Some(Element::Pipe(run)) = run else {
        return Err((0, PartProblem::NoPipe));
    };
    let of_pipe = |error| (0, PartProblem::Physics(error));
    let friction = both_friction_laws(run, flow_m3s, water, question.hazen_williams_c);
    let limit = |rule: Rule| {
        let flow_m3s = flow_at_velocity_m3s(rule.si, run.bore_m);
        flow_m3s.map(|flow_m3s| VelocityLimit { rule, flow_m3s })
    };
    let velocity_limits = [
        limit(rules.suction_velocity).map_err(of_pipe)?,
        limit(rules.return_velocity).map_err(of_pipe)?,
    ];
    let pipe = pipe_loss(run, flow_m3s, water).map_err(of_pipe)?;
    let mut parts = Vec::with_capacity(placed.len());
    for (index, part) in placed.iter().enumerate() {
        let head = part.head_m(flow_m3s, water);
        parts.push(part_loss(head.map_err(|error| (index, error.into()))?));
    }
    let head_m = parts.iter().filter_map(|part| part.head_m).sum();
    Ok(RunLoss {
        pipe,
        parts,
        head_m,
        pressure_pa: water.density_kg_m3 * STANDARD_GRAVITY_M_S2 * head_m,
        friction: friction.map_err(of_pipe)?,
        velocity_limits,
    })
}

fn part_loss(head: Option<Answer<f64>>) -> PartLoss {
    match head {
        Some(answer) => PartLoss {
            head_m: Some(answer.value),
            warnings: answer.warnings,
        },
        None => PartLoss {
            head_m: None,
            warnings: Vec::new(),
        },
    }
}
