//! A charge for the highest draw, in the optimum.
//!
//! A ceiling on the draw takes speeds away, and no ceiling can make the energy cheaper. So days are sought under lower and
//! lower ceilings: below what the last day drew, and low enough that the charge saved could still pay for the dearer
//! energy. Where that leaves no ceiling, the best day that was seen is the optimum.

use super::{Effort, Outcome, Planned, by_energy};
use crate::problem::{Problem, ProblemError, W_PER_KW};
use crate::replay::replay;

/// A power this much below a ceiling is below it: sums of costs round by less.
const SLACK: f64 = 1e-12;

/// The cheapest days under a ceiling.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Ceiling {
    /// What they cost by their energy.
    pub(crate) energy_cost: f64,
    /// No days under the ceiling cost less by their energy.
    pub(crate) bound: f64,
    /// The highest draw, W.
    pub(crate) top_w: f64,
}

/// What a search under ceilings came to.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct UnderCeilings {
    /// The ceiling of the best days, W, and what they cost, the highest draw included; `None` where none were found.
    pub(crate) best: Option<(f64, f64)>,
    /// No days cost less, the highest draw included.
    pub(crate) bound: f64,
    /// Whether the search ended because days under some ceiling were neither found nor refuted.
    pub(crate) unsettled: bool,
}

/// Searches the ceilings on the draw.
///
/// # Inputs
/// `powers_w`: the draws that days may have. `cost_per_w`: what the highest draw costs. `solve`: the cheapest days under a
/// ceiling; `Ok(None)` where there are none, `Err(None)` where it is not known.
pub(crate) fn under_ceilings<E>(
    powers_w: &[f64],
    cost_per_w: f64,
    mut solve: impl FnMut(f64) -> Result<Option<Ceiling>, Option<E>>,
) -> Result<UnderCeilings, E> {
    let mut ceiling_w = Some(f64::INFINITY);
    let mut found = UnderCeilings {
        best: None,
        bound: f64::INFINITY,
        unsettled: false,
    };
    let mut energy_bound = f64::NEG_INFINITY;
    while let Some(here_w) = ceiling_w {
        let solved = match solve(here_w) {
            Ok(None) => break,
            Ok(Some(solved)) => solved,
            Err(None) => {
                found.unsettled = true;
                found.bound = found.bound.min(energy_bound);
                break;
            }
            Err(Some(error)) => return Err(error),
        };
        energy_bound = energy_bound.max(solved.bound);
        let whole = solved.energy_cost + cost_per_w * solved.top_w;
        if found.best.is_none_or(|(_, best)| whole < best) {
            found.best = Some((here_w, whole));
        }
        let best = found.best.map_or(whole, |(_, best)| best);
        // A ceiling that is not below this saves too little.
        let below_w = ((best - energy_bound) / cost_per_w).min(solved.top_w);
        found.bound = found.bound.min(energy_bound + cost_per_w * below_w);
        let next = powers_w.iter().copied();
        let next = next.filter(|power| *power < below_w * (1.0 - SLACK));
        ceiling_w = next.max_by(f64::total_cmp);
    }
    Ok(found)
}

/// Finds the day that comes to the least, the charge for its highest draw included.
pub(super) fn schedule(problem: &Problem, effort: &mut Effort) -> Result<Outcome, ProblemError> {
    let mut powers: Vec<f64> = problem.speeds.iter().map(|speed| speed.power_w).collect();
    // A pump that is always off draws what it draws at rest.
    powers.push(problem.off_power_w);
    let mut best: Option<Planned> = None;
    let found = under_ceilings(&powers, problem.demand_per_w(), |ceiling_w| {
        let planned = match under(problem, ceiling_w, effort).map_err(Some)? {
            Outcome::Found(planned) => planned,
            Outcome::Impossible => return Ok(None),
            Outcome::Unsettled => return Err(None),
        };
        let ceiling = Ceiling {
            energy_cost: planned.replay.least - problem.demand_per_w() * planned.replay.top_w,
            bound: planned.bound,
            top_w: planned.replay.top_w,
        };
        if best
            .as_ref()
            .is_none_or(|best| planned.replay.least < best.replay.least)
        {
            best = Some(planned);
        }
        Ok(Some(ceiling))
    })?;
    Ok(match best {
        Some(best) => {
            let slack = SLACK * best.replay.least.abs();
            let bound = if found.bound >= best.replay.least - slack {
                best.replay.least
            } else {
                found.bound
            };
            Outcome::Found(Planned { bound, ..best })
        }
        None if found.unsettled => Outcome::Unsettled,
        None => Outcome::Impossible,
    })
}

/// Finds the day of the cheapest energy among those that draw no more than so much; its bound is that of the energy.
pub(crate) fn under(
    problem: &Problem,
    ceiling_w: f64,
    effort: &mut Effort,
) -> Result<Outcome, ProblemError> {
    let numbered = problem.speeds.iter().enumerate();
    let (kept, speeds): (Vec<usize>, Vec<crate::Speed>) = numbered
        .filter(|(_, speed)| speed.power_w <= ceiling_w)
        .map(|(index, speed)| (index, speed.clone()))
        .unzip();
    let capped = Problem {
        speeds,
        demand_per_kw: 0.0,
        ..problem.clone()
    };
    Ok(match by_energy(&capped, effort)? {
        Outcome::Found(planned) => {
            let day: Vec<Option<usize>> = planned
                .day
                .iter()
                .map(|speed| speed.map(|speed| kept[speed]))
                .collect();
            let replay = replay(problem, &day);
            // The energy alone, as the search under this ceiling has it.
            let energy = planned.replay.least;
            let bound = if planned.gap() <= 0.0 {
                replay.least - problem.demand_per_kw * replay.top_w / W_PER_KW
            } else {
                planned.bound.min(energy)
            };
            Outcome::Found(Planned { day, replay, bound })
        }
        other => other,
    })
}
