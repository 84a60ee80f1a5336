//! The exact search: day by day from the first slot on, all that may still lead to the cheapest day.
//!
//! A label is a beginning of a day. Of two that stand in the same state, the one that has cost more and moved less water is
//! dropped; so is one whose rest, at best, leads to no day cheaper than the best one known. What is left at the end is the
//! optimum, unless more labels had to be held than allowed: then the least bound of those let go says how much is open.

use super::bound::{Bound, Place, SLACK};
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
            let mut next = Vec::new();
            for (parent, label) in here.iter().enumerate() {
                if effort.is_spent() {
                    open = here[parent..]
                        .iter()
                        .map(|label| label.bound)
                        .fold(open, f64::min);
                    return open;
                }
                self.extend(slot, parent, label, best, &mut next);
                effort.spend(self.model.slots[slot].moves.len());
            }
            effort.spend(4 * next.len());
            keep_undominated(&mut next);
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

    fn extend(
        &self,
        slot: usize,
        parent: usize,
        label: &Label,
        best: &Best,
        next: &mut Vec<Label>,
    ) {
        let model = self.model;
        let (layout, block) = (model.layout, model.layout.block());
        let of_slot = &model.slots[slot];
        let phase = label.state as usize / block;
        let place = Place::of(layout, label.state as usize % block);
        for a in &of_slot.moves {
            let Some(step) = model.phases.step(phase, a.choice, of_slot.stretch) else {
                continue;
            };
            let Some(place) = place.after(layout, step, &of_slot.proceeds[a.kind]) else {
                continue;
            };
            let (cost, volume) = self.counts(label, a, of_slot, step.started);
            let state = step.phase * block + place.index(layout);
            let bound = self.bound_of(slot + 1, state, cost, volume);
            if bound < best.cut() {
                next.push(Label {
                    state: index(state),
                    cost,
                    volume,
                    parent: index(parent),
                    choice: a.choice,
                    bound,
                    ..*label
                });
            }
        }
    }

    /// Adds a move to a label; water beyond what the day needs is worth nothing.
    fn counts(&self, label: &Label, a: &Move, slot: &SlotModel, started: bool) -> (i64, i64) {
        let start = i64::from(started);
        let volume = label.volume + a.volume + start * slot.start_volume;
        (
            label.cost + a.cost + start * slot.start_cost,
            volume.min(self.model.volume),
        )
    }

    fn bound_of(&self, slot: usize, state: usize, cost: i64, volume: i64) -> f64 {
        let missing = (self.model.volume - volume) as f64;
        let rests = self.bound.tables.iter();
        let rest = rests.map(|table| table.rest(slot, state) + table.price * missing);
        cost as f64 + rest.fold(f64::NEG_INFINITY, f64::max)
    }

    /// Lets the labels of the highest bounds go where there are too many, and returns the least bound of those.
    fn narrow(&self, labels: &mut Vec<Label>) -> f64 {
        if labels.len() <= self.width {
            return f64::INFINITY;
        }
        labels.sort_unstable_by(|a, b| {
            let by_bound = a.bound.total_cmp(&b.bound);
            by_bound.then_with(|| order(a).cmp(&order(b)))
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

/// Keeps, in each state, the labels that are not outdone: each costs more than the one before and has moved more water.
fn keep_undominated(labels: &mut Vec<Label>) {
    labels.sort_unstable_by_key(order);
    let mut most: Option<(u32, u32, i64)> = None;
    labels.retain(|label| {
        let outdone = most.is_some_and(|(state, origin, volume)| {
            (state, origin) == (label.state, label.origin) && volume >= label.volume
        });
        if !outdone {
            most = Some((label.state, label.origin, label.volume));
        }
        !outdone
    });
}

/// The order of labels: by state, then the cheapest first, then what has moved most; the rest settles ties, so that the
/// same day is found everywhere.
fn order(label: &Label) -> (u32, u32, i64, i64, u32, Choice) {
    let Label {
        state,
        origin,
        cost,
        volume,
        parent,
        choice,
        ..
    } = *label;
    (state, origin, cost, -volume, parent, choice)
}

/// States and labels of a slot are far fewer than 2^32: the model and the width see to it.
fn index(of: usize) -> u32 {
    u32::try_from(of).unwrap_or(u32::MAX)
}
