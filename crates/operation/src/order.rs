//! Puts a day in order: of days that come to the same, the one with the fewest changes is the easiest to program.
//!
//! Slots side by side that nothing tells apart may swap what they do. Each such run is tried in rising and in falling
//! order; what breaks a rule or costs more is not taken.

use crate::problem::{BeforeFirst, Problem, Slot};
use crate::replay::{Replay, replay};
use crate::schedule::Planned;

/// Rounds over the runs of a day: the second sees what the first has made of its neighbours.
const ROUNDS: usize = 3;
/// What is to be least is a sum in another order: it rounds by less.
const SLACK: f64 = 1e-12;

/// Orders the slots of a day that nothing tells apart.
pub(crate) fn in_order(problem: &Problem, planned: Planned) -> Planned {
    let runs = runs(problem);
    let mut best = planned;
    for run in (0..ROUNDS).flat_map(|_| &runs) {
        for is_rising in [true, false] {
            let mut day = best.day.clone();
            let mut swapped: Vec<Option<usize>> = run.iter().map(|slot| day[*slot]).collect();
            swapped.sort_by(|a, b| if is_rising { a.cmp(b) } else { b.cmp(a) });
            run.iter()
                .zip(swapped)
                .for_each(|(slot, speed)| day[*slot] = speed);
            let replay = replay(problem, &day);
            if is_better(&replay, &best.replay) {
                best = Planned {
                    day,
                    replay,
                    ..best
                };
            }
        }
    }
    best
}

fn is_better(new: &Replay, old: &Replay) -> bool {
    let as_cheap = new.least <= old.least + SLACK * old.least.abs();
    new.broken.is_empty() && as_cheap && new.changes < old.changes
}

/// Lists the runs of two or more slots that nothing tells apart; where days are alike, a run may pass midnight.
fn runs(problem: &Problem) -> Vec<Vec<usize>> {
    let count = problem.slots.len();
    let cut = (1..count).find(|slot| !are_alike(problem, slot - 1, *slot));
    let first = match problem.before_first {
        BeforeFirst::Cyclic => cut.unwrap_or(0),
        BeforeFirst::Off | BeforeFirst::On => 0,
    };
    let mut runs: Vec<Vec<usize>> = Vec::new();
    for slot in (first..first + count).map(|slot| slot % count) {
        match runs.last_mut() {
            Some(run) if run.iter().all(|other| are_alike(problem, *other, slot)) => run.push(slot),
            _ => runs.push(vec![slot]),
        }
    }
    runs.retain(|run| run.len() > 1);
    runs
}

fn are_alike(problem: &Problem, a: usize, b: usize) -> bool {
    let same = |of: fn(&Slot) -> f64| {
        of(&problem.slots[a])
            .total_cmp(&of(&problem.slots[b]))
            .is_eq()
    };
    let same_rules = problem.rules.iter().all(|rule| {
        let slots = rule.slots();
        slots.contains(&a) == slots.contains(&b)
    });
    same(|slot| slot.hours) && same(|slot| slot.price_per_kwh.unwrap_or(0.0)) && same_rules
}
