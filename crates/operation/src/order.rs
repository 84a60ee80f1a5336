//! Puts a day in order: of days that come to the same, the one with the fewest changes is the easiest to program.
//!
//! Slots of one price and one length may swap what they do. For any two speeds of the day, those of the slots that run at
//! either of them are given first all of the one and then all of the other; what breaks a rule or costs more is not taken.

use crate::problem::{BeforeFirst, Problem, Slot};
use crate::replay::{Replay, replay};
use crate::schedule::Planned;

/// What a slot does.
type Choice = Option<usize>;

/// Rounds over the pairs of speeds: each sees what the one before has made of the others.
const ROUNDS: usize = 4;
/// A day of many speeds has many pairs, and a controller that holds them all needs no order.
const MOST_SPEEDS: usize = 8;
/// What is to be least is a sum in another order: it rounds by less.
const SLACK: f64 = 1e-12;

/// Orders the slots of a day as far as it comes to the same.
pub(crate) fn in_order(problem: &Problem, planned: Planned) -> Planned {
    let is_proven = planned.gap() <= 0.0;
    let mut best = planned;
    for _ in 0..ROUNDS {
        let before = best.replay.changes;
        for [first, then] in pairs(&best.day) {
            for set in interchangeable(problem, &best.day, [first, then]) {
                try_in_order(problem, &mut best, &set, first);
            }
        }
        if best.replay.changes >= before {
            break;
        }
    }
    if is_proven {
        // The same day, summed in another order.
        best.bound = best.replay.least;
    }
    best
}

/// Lists the ordered pairs of choices of a day.
fn pairs(day: &[Choice]) -> Vec<[Choice; 2]> {
    let mut used = day.to_vec();
    used.sort_unstable();
    used.dedup();
    if used.len() > MOST_SPEEDS {
        return Vec::new();
    }
    let with = |first: Choice| used.iter().map(move |then| [first, *then]);
    let all = used.iter().flat_map(|first| with(*first));
    all.filter(|[first, then]| first != then).collect()
}

/// Lists the slots that do either of two things, by length and price.
fn interchangeable(problem: &Problem, day: &[Choice], pair: [Choice; 2]) -> Vec<Vec<usize>> {
    let mut sets: Vec<Vec<usize>> = Vec::new();
    for slot in (0..day.len()).filter(|slot| pair.contains(&day[*slot])) {
        let same = |set: &&mut Vec<usize>| are_alike(&problem.slots[set[0]], &problem.slots[slot]);
        match sets.iter_mut().find(same) {
            Some(set) => set.push(slot),
            None => sets.push(vec![slot]),
        }
    }
    sets
}

fn are_alike(a: &Slot, b: &Slot) -> bool {
    let price = |slot: &Slot| slot.price_per_kwh.unwrap_or(0.0);
    a.hours.total_cmp(&b.hours).is_eq() && price(a).total_cmp(&price(b)).is_eq()
}

/// Gives the slots of a set, from each slot on that follows another than its neighbour, first all of one choice.
fn try_in_order(problem: &Problem, best: &mut Planned, set: &[usize], first: Choice) {
    let is_cyclic = problem.before_first == BeforeFirst::Cyclic;
    let begins = (0..set.len())
        .filter(|place| *place == 0 || is_cyclic && set[*place] != set[*place - 1] + 1);
    for begin in begins {
        let mut day = best.day.clone();
        let order = set[begin..].iter().chain(&set[..begin]);
        let mut choices: Vec<Choice> = order.clone().map(|slot| day[*slot]).collect();
        numerics::order::sort_by_key(&mut choices, |choice| *choice != first);
        order
            .zip(choices)
            .for_each(|(slot, choice)| day[*slot] = choice);
        let replay = replay(problem, &day);
        if is_better(&replay, &best.replay) {
            best.day = day;
            best.replay = replay;
        }
    }
}

fn is_better(new: &Replay, old: &Replay) -> bool {
    let as_cheap = new.least <= old.least + SLACK * old.least.abs();
    new.broken.is_empty() && as_cheap && new.changes < old.changes
}
