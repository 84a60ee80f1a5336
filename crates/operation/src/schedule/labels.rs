//! The exact search: day by day from the first slot on, all that may still lead to the cheapest day.
//!
//! A label is a beginning of a day. Of two that stand in the same state, the one that has cost more and moved less water is
//! dropped; so is one whose rest, at best, leads to no day cheaper than the best one known. What is left at the end is the
//! optimum, unless more labels had to be held than allowed: then the least bound of those let go says how much is open.

use super::bound::{Bound, KEPT, Place, SLACK};
use super::effort::Effort;
use super::model::{Model, Move, SlotModel};
use super::phase::{Choice, Origins, PhaseId};

/// The best day known so far.
#[derive(Clone, Debug, Default)]
pub(super) struct Best {
    /// Its cost in counts, and what it does.
    pub(super) day: Option<(i64, Vec<Choice>)>,
}

impl Best {
    /// Takes a day if it is cheaper.
    pub(super) fn offer(&mut self, cost: i64, day: impl FnOnce() -> Vec<Choice>) {
        if self.day.as_ref().is_none_or(|(best, _)| cost < *best) {
            self.day = Some((cost, day()));
        }
    }

    /// Whether no day with this bound would be cheaper.
    pub(super) fn beats(&self, bound: f64) -> bool {
        self.cut() <= bound
    }

    fn cut(&self) -> f64 {
        self.day
            .as_ref()
            .map_or(f64::INFINITY, |(cost, _)| *cost as f64 - SLACK)
    }
}

/// The beginning of a day.
#[derive(Clone, Copy, Debug)]
struct Label {
    state: u32,
    origin: u32,
    cost: i64,
    volume: i64,
    /// The label that it follows, in the slot before.
    parent: u32,
    choice: Choice,
    /// No day that begins so costs less.
    bound: f64,
}

/// How many labels are extended before it is asked again whether effort is left.
const AT_ONCE: usize = 1024;

/// What a move adds to a label, a start counted.
#[derive(Clone, Copy)]
struct Way {
    cost: i64,
    volume: i64,
}

impl Way {
    fn of(a: &Move, slot: &SlotModel, started: bool) -> Self {
        let start = i64::from(started);
        Self {
            cost: a.cost + start * slot.start_cost,
            volume: a.volume + start * slot.start_volume,
        }
    }
}

/// What the rest of a day costs at best from one state, by the tables of all prices.
#[derive(Clone, Copy)]
struct Rests {
    /// The rest and the price of volume, for each table; one that is not there says nothing.
    of: [(f64, f64); KEPT],
}

impl Rests {
    /// Returns the highest of the bounds, with so much water missing.
    fn at_best(&self, missing: f64) -> f64 {
        let bounds = self.of.iter().map(|(rest, price)| rest + price * missing);
        bounds.fold(f64::NEG_INFINITY, f64::max)
    }
}

/// A search among the days after one group of origins.
#[derive(Debug)]
pub(super) struct Labels<'a, 'p> {
    pub(super) model: &'a Model<'p>,
    pub(super) origins: &'a Origins,
    pub(super) bound: &'a Bound,
    /// The most labels that are held between two slots.
    pub(super) width: usize,
}

impl Labels<'_, '_> {
    /// Searches, and improves on `best`.
    ///
    /// # Returns
    /// The least bound of what was let go for want of room or effort: infinite where nothing was.
    pub(super) fn search(&self, best: &mut Best, effort: &mut Effort) -> f64 {
        let mut open = f64::INFINITY;
        let mut levels = vec![self.first()];
        for slot in 0..self.model.slots.len() {
            let here = &levels[slot];
            let parents = by_state(here);
            let mut next = Vec::new();
            let mut done = 0;
            for alike in parents.chunk_by(|a, b| here[*a].state == here[*b].state) {
                for some in alike.chunks(AT_ONCE) {
                    if effort.is_spent() {
                        let left = parents[done..].iter();
                        return left.map(|parent| here[*parent].bound).fold(open, f64::min);
                    }
                    self.extend(slot, here, some, best.cut(), &mut next);
                    done += some.len();
                    effort.spend(some.len() * self.model.slots[slot].moves.len());
                }
            }
            effort.spend(4 * next.len());
            let mut next = undominated(&next, self.model.states());
            open = open.min(self.narrow(&mut next));
            levels.push(next);
        }
        self.finish(&levels, best);
        open
    }

    fn first(&self) -> Vec<Label> {
        let block = self.model.layout.block();
        let label = |(origin, phase): (u32, &PhaseId)| Label {
            state: index(phase * block),
            origin,
            cost: 0,
            volume: 0,
            parent: 0,
            choice: 0,
            bound: self.bound.value,
        };
        (0..).zip(&self.origins.before).map(label).collect()
    }

    /// Extends labels of one state by every move; where a move leads, and what the rest then costs at best, is found once for
    /// all of them.
    fn extend(
        &self,
        slot: usize,
        here: &[Label],
        alike: &[usize],
        cut: f64,
        next: &mut Vec<Label>,
    ) {
        let Some(first) = alike.first() else { return };
        let model = self.model;
        let (layout, block) = (model.layout, model.layout.block());
        let of_slot = &model.slots[slot];
        let from = here[*first].state as usize;
        let (phase, place) = (from / block, Place::of(layout, from % block));
        for a in &of_slot.moves {
            let Some(step) = model.phases.step(phase, a.choice, of_slot.stretch) else {
                continue;
            };
            let Some(place) = place.after(layout, step, &of_slot.proceeds[a.kind]) else {
                continue;
            };
            let state = step.phase * block + place.index(layout);
            let way = Way::of(a, of_slot, step.started);
            let rests = self.rests(slot + 1, state);
            next.extend(alike.iter().filter_map(|parent| {
                let label = &here[*parent];
                let cost = label.cost + way.cost;
                // Water beyond what the day needs is worth nothing.
                let volume = (label.volume + way.volume).min(model.volume);
                let bound = cost as f64 + rests.at_best((model.volume - volume) as f64);
                (bound < cut).then(|| Label {
                    state: index(state),
                    origin: label.origin,
                    cost,
                    volume,
                    parent: index(*parent),
                    choice: a.choice,
                    bound,
                })
            }));
        }
    }

    /// Gathers what the tables of all prices say of a state.
    fn rests(&self, slot: usize, state: usize) -> Rests {
        let mut of = [(f64::NEG_INFINITY, 0.0); KEPT];
        for (of, table) in of.iter_mut().zip(&self.bound.tables) {
            *of = (table.rest(slot, state), table.price);
        }
        Rests { of }
    }

    /// Lets the labels of the highest bounds go where there are too many, and returns the least bound of those.
    fn narrow(&self, labels: &mut Vec<Label>) -> f64 {
        if labels.len() <= self.width {
            return f64::INFINITY;
        }
        labels.sort_unstable_by(|a, b| {
            let by_bound = a.bound.total_cmp(&b.bound);
            let by_state = || (a.state, a.origin, a.cost).cmp(&(b.state, b.origin, b.cost));
            by_bound
                .then_with(by_state)
                .then_with(|| ties(a).cmp(&ties(b)))
        });
        let open = labels[self.width].bound;
        labels.truncate(self.width);
        open
    }

    fn finish(&self, levels: &[Vec<Label>], best: &mut Best) {
        let model = self.model;
        let before_first = model.problem.before_first;
        for label in levels.last().into_iter().flatten() {
            let origin = self.origins.before[label.origin as usize];
            let end = label.state as usize / model.layout.block();
            let closes = model.phases.closes(before_first, origin, end);
            if closes && label.volume >= model.volume {
                best.offer(label.cost, || traced(levels, label));
            }
        }
    }
}

/// Follows a label back to the first slot.
fn traced(levels: &[Vec<Label>], last: &Label) -> Vec<Choice> {
    let mut label = *last;
    let mut day = Vec::with_capacity(levels.len() - 1);
    for level in levels[..levels.len() - 1].iter().rev() {
        day.push(label.choice);
        label = level[label.parent as usize];
    }
    day.reverse();
    day
}

/// Lists the numbers of labels by state; within a state, as they stand.
fn by_state(labels: &[Label]) -> Vec<usize> {
    let mut numbers: Vec<usize> = (0..labels.len()).collect();
    numbers.sort_by_key(|number| labels[*number].state);
    numbers
}

/// Keeps, in each state, the labels that are not outdone: each costs more than the one before and has moved more water.
///
/// The order is by state, then by what they began after, then the cheapest first, then what has moved most; the rest settles
/// ties, so that the same day is found everywhere.
fn undominated(labels: &[Label], states: usize) -> Vec<Label> {
    let sorted = in_states(labels, states);
    let mut kept: Vec<Label> = Vec::new();
    for alike in sorted.chunk_by(|a, b| (a.state, a.origin) == (b.state, b.origin)) {
        let from = kept.len();
        thin(alike, &mut kept);
        kept[from..].sort_unstable_by(|a, b| {
            let by_cost = a.cost.cmp(&b.cost);
            by_cost.then_with(|| ties(a).cmp(&ties(b)))
        });
    }
    let mut most: Option<(u32, u32, i64)> = None;
    kept.retain(|label| {
        let outdone = most.is_some_and(|(state, origin, volume)| {
            (state, origin) == (label.state, label.origin) && volume >= label.volume
        });
        if !outdone {
            most = Some((label.state, label.origin, label.volume));
        }
        !outdone
    });
    kept
}

/// Keeps those labels that no much cheaper one outdoes: most go so before anything is sorted. The costs are parted into
/// classes, and what has moved no more than the most in a cheaper class is outdone.
fn thin(alike: &[Label], kept: &mut Vec<Label>) {
    /// So many classes are told apart.
    const CLASSES: usize = 512;
    let costs = alike.iter().map(|label| label.cost);
    let (Some(least), Some(most)) = (costs.clone().min(), costs.max()) else {
        return;
    };
    let span = (most - least).unsigned_abs();
    let classes_bits = CLASSES.trailing_zeros();
    let shift = (u64::BITS - span.leading_zeros()).saturating_sub(classes_bits);
    let class = |label: &Label| {
        let above = (label.cost - least).unsigned_abs() >> shift;
        usize::try_from(above).unwrap_or(CLASSES - 1)
    };
    // At first the most volume of each class, then of all classes that are cheaper.
    let mut cheaper = [i64::MIN; CLASSES];
    for label in alike {
        let most = &mut cheaper[class(label)];
        *most = (*most).max(label.volume);
    }
    let mut before = i64::MIN;
    for most in &mut cheaper {
        before = before.max(std::mem::replace(most, before));
    }
    kept.extend(
        alike
            .iter()
            .filter(|label| label.volume > cheaper[class(label)]),
    );
}

/// What settles which of two labels of one state, origin and cost comes first.
fn ties(label: &Label) -> (i64, u32, Choice) {
    (-label.volume, label.parent, label.choice)
}

/// Sorts labels by state, by counting; and within a state by origin, where there are several.
fn in_states(labels: &[Label], states: usize) -> Vec<Label> {
    let mut ends = vec![0_usize; states + 1];
    for label in labels {
        ends[label.state as usize + 1] += 1;
    }
    for state in 1..ends.len() {
        ends[state] += ends[state - 1];
    }
    let mut sorted = labels.to_vec();
    for label in labels {
        let place = &mut ends[label.state as usize];
        sorted[*place] = *label;
        *place += 1;
    }
    let has_several = labels.iter().any(|label| label.origin > 0);
    if has_several {
        for alike in sorted.chunk_by_mut(|a, b| a.state == b.state) {
            alike.sort_by_key(|label| label.origin);
        }
    }
    sorted
}

/// States and labels of a slot are far fewer than 2^32: the model and the width see to it.
fn index(of: usize) -> u32 {
    u32::try_from(of).unwrap_or(u32::MAX)
}
