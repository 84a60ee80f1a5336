//! The cheapest day, proven: slots by speeds under all rules.
//!
//! Days are searched by dynamic programming over the slots with bounds by Lagrangian relaxation ([`bound`]), and by
//! branching for what a state does not hold. Costs and volumes are whole counts, so that the answer depends on no order of
//! sums and is the same on every machine.
//!
//! # Source
//! S. Irnich, G. Desaulniers, "Shortest path problems with resource constraints", in G. Desaulniers, J. Desrosiers,
//! M. Solomon (editors), Column Generation (2005), chapter 2: labels and their dominance.

mod bound;
mod branch;
mod counts;
mod demand;
mod effort;
mod labels;
mod model;
mod phase;

pub(crate) use demand::{Ceiling, under_ceilings};
pub use effort::Effort;

use crate::problem::{Problem, ProblemError};
use crate::replay::{Replay, replay};
use counts::Counts;

/// What became of a problem.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// A day that keeps every rule.
    Found(Planned),
    /// No day keeps all the rules.
    Impossible,
    /// Neither a day nor the proof that there is none was found with the effort given.
    Unsettled,
}

/// A day that keeps every rule.
#[derive(Clone, Debug, PartialEq)]
pub struct Planned {
    /// What each slot does: the number of a speed, or off.
    pub day: Vec<Option<usize>>,
    /// What the day comes to.
    pub replay: Replay,
    /// No day comes to less of what was to be least.
    pub bound: f64,
}

impl Planned {
    /// Returns how much less, at most, the best day could come to, as a share: 0 where the day is proven the best.
    pub fn gap(&self) -> f64 {
        let open = (self.replay.least - self.bound).max(0.0);
        if open > 0.0 {
            open / self.replay.least.abs()
        } else {
            0.0
        }
    }
}

/// Finds the day that comes to the least.
///
/// # Returns
/// The best day that was found with the effort given, and a bound below which no day lies. A day within 2·10⁻¹² of the
/// most that a day can cost counts as the best one.
///
/// # Errors
/// Numbers that no problem has, or more combinations than can be held.
pub fn schedule(problem: &Problem, effort: &mut Effort) -> Result<Outcome, ProblemError> {
    problem.check()?;
    if problem.demand_per_w() > 0.0 {
        return demand::schedule(problem, effort);
    }
    by_energy(problem, effort)
}

/// Finds the day that comes to the least where the highest draw costs nothing.
fn by_energy(problem: &Problem, effort: &mut Effort) -> Result<Outcome, ProblemError> {
    let counts = Counts::of(problem);
    let found = branch::search(problem, effort)?;
    let Some((cost, choices)) = found.best.day else {
        return Ok(if found.bound < f64::INFINITY {
            Outcome::Unsettled
        } else {
            Outcome::Impossible
        });
    };
    let speed = |choice: &phase::Choice| (*choice as usize).checked_sub(1);
    let day: Vec<Option<usize>> = choices.iter().map(speed).collect();
    let replay = replay(problem, &day);
    let is_proven = found.bound >= cost as f64;
    let bound = if is_proven {
        replay.least
    } else {
        counts.to_weight(found.bound).min(replay.least)
    };
    Ok(Outcome::Found(Planned { day, replay, bound }))
}
