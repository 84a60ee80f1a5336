//! Why a day is as it is: which rules cannot hold together, which ones cost something, and what more would cost.

use crate::problem::{Least, Problem, ProblemError, Rule, TaskRule};
use crate::schedule::{Effort, Outcome, Planned, schedule};

/// A rule without which the day would come to less.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Binding {
    /// Its number among the rules of the problem.
    pub rule: usize,
    /// How much less at least, in what is to be least.
    pub saves: f64,
}

/// What one more of something that is demanded would cost.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OneMore {
    /// The number of the rule.
    pub rule: usize,
    /// How much more, in what is to be least; `None` where no day does it.
    pub costs: Option<f64>,
}

/// A difference below this share of the day is none.
const SLACK: f64 = 1e-9;

/// Finds a smallest set of rules that cannot hold together: without any one of them, the others can.
///
/// # Returns
/// The numbers of the rules; empty where a day is found, or the effort did not suffice to say.
///
/// # Source
/// The deletion filter: J. Chinneck, E. Dravnieks, "Locating minimal infeasible constraint sets in linear programs", ORSA
/// Journal on Computing 3 (1991) 157-168.
pub fn conflict(problem: &Problem, effort: Effort) -> Result<Vec<usize>, ProblemError> {
    let kept_only = |kept: &[usize]| Problem {
        rules: kept
            .iter()
            .map(|rule| problem.rules[*rule].clone())
            .collect(),
        // Any day will do: without costs the first one found is the answer.
        least: Least::Cost,
        demand_per_kw: 0.0,
        slots: problem
            .slots
            .iter()
            .map(|slot| crate::Slot {
                price_per_kwh: Some(0.0),
                ..*slot
            })
            .collect(),
        ..problem.clone()
    };
    let cannot_hold = |kept: &[usize]| {
        let outcome = schedule(&kept_only(kept), &mut effort.clone());
        outcome.map(|outcome| outcome == Outcome::Impossible)
    };
    let mut kept: Vec<usize> = (0..problem.rules.len()).collect();
    if !cannot_hold(&kept)? {
        return Ok(Vec::new());
    }
    for rule in 0..problem.rules.len() {
        let fewer: Vec<usize> = kept
            .iter()
            .copied()
            .filter(|other| *other != rule)
            .collect();
        if cannot_hold(&fewer)? {
            kept = fewer;
        }
    }
    Ok(kept)
}

/// Finds the rules that cost something, by leaving out one after the other.
pub fn binding(
    problem: &Problem,
    planned: &Planned,
    effort: Effort,
) -> Result<Vec<Binding>, ProblemError> {
    let mut found = Vec::new();
    for rule in 0..problem.rules.len() {
        let without = schedule(&problem.without(rule), &mut effort.clone())?;
        if let Outcome::Found(without) = without {
            let saves = planned.replay.least - without.replay.least;
            if saves > SLACK * planned.replay.least.abs() {
                found.push(Binding { rule, saves });
            }
        }
    }
    Ok(found)
}

/// Finds what one more of each demand costs: a turnover of the pool more, or an hour more of a task. What the effort does
/// not settle is left out.
pub fn one_more(
    problem: &Problem,
    planned: &Planned,
    turnover_m3: f64,
    effort: Effort,
) -> Result<Vec<OneMore>, ProblemError> {
    let mut found = Vec::new();
    for (rule, demand) in problem.rules.iter().enumerate() {
        let more = match demand {
            Rule::Volume { min_m3 } => Rule::Volume {
                min_m3: min_m3 + turnover_m3,
            },
            Rule::Task(task) => Rule::Task(TaskRule {
                hours: task.hours + 1.0,
                ..task.clone()
            }),
            _ => continue,
        };
        let mut changed = problem.clone();
        changed.rules[rule] = more;
        let costs = match schedule(&changed, &mut effort.clone())? {
            Outcome::Found(day) => Some((day.replay.least - planned.replay.least).max(0.0)),
            Outcome::Impossible => None,
            Outcome::Unsettled => continue,
        };
        found.push(OneMore { rule, costs });
    }
    Ok(found)
}
