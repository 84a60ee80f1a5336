//! Branch and bound over what no table of states holds: which speeds a day uses, and where a task in one stretch lies.
//!
//! A node leaves some of it open and is solved without these rules, so that its optimum bounds all days below it. Where that
//! day keeps them by itself, the node is done; else it is parted.

use super::bound::{Bound, bound};
use super::effort::Effort;
use super::labels::{Best, Labels};
use super::model::{Model, Settled, in_one_stretch, stretch};
use super::phase::{Choice, OFF, Origins};
use crate::problem::{Problem, ProblemError, Rule, TaskRule};

/// How many labels are held: first few, to have a good day early, then all that are left.
const WIDTHS: [usize; 3] = [100, 3000, 400_000];

/// A part of all days.
#[derive(Clone, Debug)]
struct Node {
    settled: Settled,
    /// Speeds that count as used.
    used: Vec<bool>,
    /// No day of the node costs less, in counts.
    bound: f64,
}

/// What the search came to, in counts.
#[derive(Debug)]
pub(super) struct Found {
    pub(super) best: Best,
    /// No day costs less; infinite where there is none at all.
    pub(super) bound: f64,
}

/// Searches all days.
pub(super) fn search(problem: &Problem, effort: &mut Effort) -> Result<Found, ProblemError> {
    let mut best = Best::default();
    let mut closed = f64::INFINITY;
    let mut open = vec![Node {
        settled: Settled::nothing(problem),
        used: vec![false; problem.speeds.len()],
        bound: f64::NEG_INFINITY,
    }];
    while let Some(node) = take_best(&mut open) {
        if best.beats(node.bound) {
            break;
        }
        if effort.is_spent() {
            closed = closed.min(node.bound);
            break;
        }
        let solved = solve(problem, &node, &best, effort)?;
        let Some((cost, day)) = solved.best.day else {
            closed = closed.min(solved.bound);
            continue;
        };
        let reached = node.bound.max(solved.bound.min(cost as f64));
        if let Some(children) = part(problem, &node, &day) {
            open.extend(children.into_iter().map(|child| Node {
                bound: reached,
                ..child
            }));
        } else {
            best.offer(cost, || day);
            closed = closed.min(solved.bound);
        }
    }
    let found = best
        .day
        .as_ref()
        .map_or(f64::INFINITY, |(cost, _)| *cost as f64);
    Ok(Found {
        bound: closed.min(found),
        best,
    })
}

/// Takes the node of the least bound; of equals the last, which is the most settled.
fn take_best(open: &mut Vec<Node>) -> Option<Node> {
    let least = open
        .iter()
        .map(|node| node.bound)
        .fold(f64::INFINITY, f64::min);
    let index = open.iter().rposition(|node| node.bound <= least)?;
    Some(open.remove(index))
}

/// Solves a node: its cheapest day, if it is cheaper than the best known one.
fn solve(
    problem: &Problem,
    node: &Node,
    best: &Best,
    effort: &mut Effort,
) -> Result<Found, ProblemError> {
    let model = Model::new(problem, &node.settled)?;
    let groups = model.phases.origins(problem.before_first);
    let mut bounded: Vec<(&Origins, Bound)> = groups
        .iter()
        .filter_map(|origins| Some((origins, bound(&model, origins, effort)?)))
        .collect();
    numerics::order::sort_by(&mut bounded, |(_, a), (_, b)| a.value.total_cmp(&b.value));
    // Days that are no better than the best known one are of no use here either.
    let mut found = Best {
        day: best.day.as_ref().map(|(cost, _)| (*cost, Vec::new())),
    };
    let mut open = f64::INFINITY;
    for width in WIDTHS {
        open = f64::INFINITY;
        for (origins, bound) in &bounded {
            if found.beats(bound.value) {
                continue;
            }
            let labels = Labels {
                model: &model,
                origins,
                bound,
                width,
            };
            open = open.min(labels.search(&mut found, effort));
        }
        if found.beats(open) || effort.is_spent() {
            break;
        }
    }
    // What was let go is of no weight if it cannot beat what was found.
    let cost = found
        .day
        .as_ref()
        .map_or(f64::INFINITY, |(cost, _)| *cost as f64);
    let bound = if found.beats(open) { cost } else { open };
    found.day = found.day.filter(|(_, day)| !day.is_empty());
    let bound = if found.day.is_none() && bound >= cost {
        f64::INFINITY
    } else {
        bound
    };
    Ok(Found { best: found, bound })
}

/// Parts a node by a rule that its day breaks; `None` where it breaks none of those that nodes are for.
fn part(problem: &Problem, node: &Node, day: &[Choice]) -> Option<Vec<Node>> {
    part_by_stretch(problem, node, day).or_else(|| part_by_speed(problem, node, day))
}

fn part_by_stretch(problem: &Problem, node: &Node, day: &[Choice]) -> Option<Vec<Node>> {
    let rules = problem.rules.iter().enumerate();
    let mut stretches = rules.filter_map(|(index, rule)| Some((index, in_one_stretch(rule)?)));
    let (index, task) = stretches.find(|(index, task)| {
        node.settled.begins[*index].is_none() && !lies_in_one_stretch(problem, task, day)
    })?;
    let begins = (0..task.slots.len()).filter(|begins| stretch(problem, task, *begins).is_some());
    let child = |begins| {
        let mut child = node.clone();
        child.settled.begins[index] = Some(begins);
        child
    };
    Some(begins.map(child).collect())
}

fn lies_in_one_stretch(problem: &Problem, task: &TaskRule, day: &[Choice]) -> bool {
    (0..task.slots.len()).any(|begins| {
        stretch(problem, task, begins).is_some_and(|slots| {
            slots.iter().all(|slot| {
                let speed = (day[*slot] as usize).checked_sub(1);
                speed.is_some_and(|speed| task.is_served_by(&problem.speeds[speed]))
            })
        })
    })
}

/// Parts a node whose day uses too many speeds: by the one that it uses longest, which is used in one part and not in the
/// other. Once as many are used as may be, no other is offered.
fn part_by_speed(problem: &Problem, node: &Node, day: &[Choice]) -> Option<Vec<Node>> {
    let most = problem.rules.iter().filter_map(|rule| match rule {
        Rule::Speeds { max } => Some(*max as usize),
        _ => None,
    });
    let most = most.min()?;
    let mut hours = vec![0.0; problem.speeds.len()];
    for (slot, choice) in problem
        .slots
        .iter()
        .zip(day)
        .filter(|(_, choice)| **choice != OFF)
    {
        hours[*choice as usize - 1] += slot.hours;
    }
    if hours.iter().filter(|hours| **hours > 0.0).count() <= most {
        return None;
    }
    let open = (0..hours.len()).filter(|speed| hours[*speed] > 0.0 && !node.used[*speed]);
    let longest = open.max_by(|a, b| hours[*a].total_cmp(&hours[*b]))?;
    let mut without = node.clone();
    without.settled.offered[longest] = false;
    let mut with = node.clone();
    with.used[longest] = true;
    if with.used.iter().filter(|used| **used).count() >= most {
        with.settled.offered.clone_from(&with.used);
    }
    // A rule of no speed at all leaves only the part without.
    Some(if most == 0 {
        vec![without]
    } else {
        vec![without, with]
    })
}
