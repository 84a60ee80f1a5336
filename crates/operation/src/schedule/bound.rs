//! How cheap the rest of a day can be at best.
//!
//! The rule on volume is taken away and volume paid for instead, at a price per cubic metre (Lagrangian relaxation). What
//! is left is a shortest path through slots and states, computed from the last slot to the first. Every price gives a lower
//! bound; the best price is found by following the corners of the convex hull of cost against volume.
//!
//! # Source
//! M. Fisher, "The Lagrangian relaxation method for solving integer programming problems", Management Science 27 (1981)
//! 1-18; G. Handler, I. Zang, "A dual algorithm for the constrained shortest path problem", Networks 10 (1980) 293-309.

use super::effort::Effort;
use super::model::{Layout, Model, SlotModel};
use super::phase::{Choice, OFF, Origins, PhaseId};

/// The hull has few corners; a search that meets more goes round in roundings.
const MOST_CORNERS: usize = 40;
/// Prices whose tables are kept to judge the rests of days: the best one and its neighbours.
pub(super) const KEPT: usize = 4;
/// A state of the tables has so many moves of its own at most; the rest is shared among states.
const OWN_MOVES: usize = 8;
/// So many cells of a table take as long as one step of the search.
const CELLS_A_STEP: usize = 8;
/// What a sum of a day's slots may be off by rounding, in counts, and less than any difference that matters.
pub(super) const SLACK: f64 = 1024.0;

/// What the rest of a day costs at best, for one price of volume.
#[derive(Debug)]
pub(super) struct Table {
    /// Counts of cost per count of volume.
    pub(super) price: f64,
    /// For each slot, and after the last, the least cost less priced volume of the rest from each state.
    rests: Vec<f64>,
    states: usize,
}

impl Table {
    pub(super) fn rest(&self, slot: usize, state: usize) -> f64 {
        self.rests[slot * self.states + state]
    }
}

/// The bounds of the days that begin after one group of origins.
#[derive(Debug)]
pub(super) struct Bound {
    /// No such day costs less, in counts.
    pub(super) value: f64,
    pub(super) tables: Vec<Table>,
}

/// What cost and volume weigh.
#[derive(Clone, Copy)]
struct Weights {
    cost: f64,
    volume: f64,
}

/// A move that stands for all those of its kind: the best at the weights.
#[derive(Clone, Copy)]
struct Class {
    choice: Choice,
    kind: usize,
    weighed: f64,
    cost: i64,
    volume: i64,
}

/// A path of the relaxed problem.
struct Path {
    cost: i64,
    volume: i64,
}

/// Bounds the days after a group of origins; `None` where there is none that keeps the rules.
pub(super) fn bound(model: &Model<'_>, origins: &Origins, effort: &mut Effort) -> Option<Bound> {
    let mut relaxed = |weights| Relaxed::solve(model, origins, weights, effort);
    let free = relaxed(Weights {
        cost: 1.0,
        volume: 0.0,
    })?;
    let mut low = free.path();
    if low.volume >= model.volume {
        return Some(Bound {
            value: free.least(),
            tables: vec![free.table],
        });
    }
    let mut high = relaxed(Weights {
        cost: 0.0,
        volume: 1.0,
    })?
    .path();
    if high.volume < model.volume {
        return None;
    }
    let mut found: Vec<(f64, Table)> = vec![(free.least(), free.table)];
    for _ in 0..MOST_CORNERS {
        let price = (high.cost - low.cost) as f64 / (high.volume - low.volume) as f64;
        if price <= 0.0 {
            break;
        }
        let solved = relaxed(Weights {
            cost: 1.0,
            volume: price,
        })?;
        let along = low.cost as f64 - price * low.volume as f64;
        let is_edge = solved.least() >= along - SLACK;
        let path = solved.path();
        found.push((solved.least() + price * model.volume as f64, solved.table));
        if is_edge {
            break;
        }
        if path.volume >= model.volume {
            high = path;
        } else {
            low = path;
        }
    }
    Some(keep_best(found))
}

/// Keeps the tables of the best price and of those next to it.
fn keep_best(mut found: Vec<(f64, Table)>) -> Bound {
    numerics::order::sort_by(&mut found, |(a, _), (b, _)| b.total_cmp(a));
    found.truncate(KEPT);
    Bound {
        value: found.first().map_or(f64::NEG_INFINITY, |(value, _)| *value),
        tables: found.into_iter().map(|(_, table)| table).collect(),
    }
}

/// A solved relaxation.
struct Relaxed<'m, 'p> {
    model: &'m Model<'p>,
    weights: Weights,
    table: Table,
    origin: PhaseId,
}

impl<'m, 'p> Relaxed<'m, 'p> {
    fn solve(
        model: &'m Model<'p>,
        origins: &Origins,
        weights: Weights,
        effort: &mut Effort,
    ) -> Option<Self> {
        let (states, block) = (model.states(), model.layout.block());
        let last = model.slots.len();
        let mut rests = vec![f64::INFINITY; (last + 1) * states];
        for (phase, _) in origins
            .accepts
            .iter()
            .enumerate()
            .filter(|(_, accepts)| **accepts)
        {
            for done in (1..=block / model.layout.tasks).map(|count| count * model.layout.tasks - 1)
            {
                rests[last * states + phase * block + done] = 0.0;
            }
        }
        for slot in (0..last).rev() {
            let (here, after) = rests.split_at_mut((slot + 1) * states);
            let here = &mut here[slot * states..];
            let classes = classes(model, slot, weights);
            effort.spend(states * classes.len().min(OWN_MOVES) / CELLS_A_STEP);
            Sweep {
                model,
                slot: &model.slots[slot],
                weights,
                classes: &classes,
                after,
            }
            .fill(here);
        }
        let table = Table {
            price: weights.volume,
            rests,
            states,
        };
        let at = |phase: &PhaseId| table.rest(0, phase * block);
        let origin = *origins
            .before
            .iter()
            .min_by(|a, b| at(a).total_cmp(&at(b)))?;
        let is_possible = at(&origin) < f64::INFINITY;
        is_possible.then_some(Self {
            model,
            weights,
            table,
            origin,
        })
    }

    fn least(&self) -> f64 {
        self.table.rest(0, self.origin * self.model.layout.block())
    }

    /// Follows the least rests from the first slot on.
    fn path(&self) -> Path {
        let model = self.model;
        let mut path = Path { cost: 0, volume: 0 };
        let (mut phase, mut place) = (self.origin, Place::default());
        for (index, slot) in model.slots.iter().enumerate() {
            let classes = classes(model, index, self.weights);
            let ways = classes.iter().filter_map(|class| {
                let step = model.phases.step(phase, class.choice, slot.stretch)?;
                let next = place.after(model.layout, step, &slot.proceeds[class.kind])?;
                let start = if step.started {
                    start_weight(slot, self.weights)
                } else {
                    0.0
                };
                let state = step.phase * model.layout.block() + next.index(model.layout);
                Some((
                    class.weighed + start + self.table.rest(index + 1, state),
                    class,
                    step,
                    next,
                ))
            });
            let Some((_, class, step, next)) = ways.min_by(|a, b| a.0.total_cmp(&b.0)) else {
                break;
            };
            let start = i64::from(step.started);
            path.cost += class.cost + start * slot.start_cost;
            path.volume += class.volume + start * slot.start_volume;
            (phase, place) = (step.phase, next);
        }
        path
    }
}

/// Where a state stands within its phase.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Place {
    starts: usize,
    changes: usize,
    tasks: usize,
}

impl Place {
    pub(super) fn of(layout: Layout, index: usize) -> Self {
        let counts = index / layout.tasks;
        Self {
            starts: counts / layout.changes.states(),
            changes: counts % layout.changes.states(),
            tasks: index % layout.tasks,
        }
    }

    pub(super) fn index(self, layout: Layout) -> usize {
        (self.starts * layout.changes.states() + self.changes) * layout.tasks + self.tasks
    }

    /// Returns the place after a step; `None` where a count is full.
    pub(super) fn after(
        self,
        layout: Layout,
        step: super::phase::Step,
        proceeds: &[u32],
    ) -> Option<Self> {
        let next = Self {
            starts: self.starts + layout.starts.rise(step.started),
            changes: self.changes + layout.changes.rise(step.changed),
            tasks: proceeds[self.tasks] as usize,
        };
        (next.starts < layout.starts.states() && next.changes < layout.changes.states())
            .then_some(next)
    }
}

fn start_weight(slot: &SlotModel, weights: Weights) -> f64 {
    weights.cost * slot.start_cost as f64 - weights.volume * slot.start_volume as f64
}

/// Lists the best move of each kind; every move where speeds are told apart.
fn classes(model: &Model<'_>, slot: usize, weights: Weights) -> Vec<Class> {
    let mut classes: Vec<Class> = Vec::new();
    for a in &model.slots[slot].moves {
        let class = Class {
            choice: a.choice,
            kind: a.kind,
            weighed: weights.cost * a.cost as f64 - weights.volume * a.volume as f64,
            cost: a.cost,
            volume: a.volume,
        };
        let alike = |other: &&mut Class| {
            other.kind == class.kind && (other.choice == OFF) == (class.choice == OFF)
        };
        match classes.iter_mut().find(alike) {
            Some(other) if !model.phases.tells_speeds_apart() => {
                if class.weighed < other.weighed {
                    *other = class;
                }
            }
            _ => classes.push(class),
        }
    }
    classes
}

/// One slot of the sweep from the last to the first.
struct Sweep<'a, 'p> {
    model: &'a Model<'p>,
    slot: &'a SlotModel,
    weights: Weights,
    classes: &'a [Class],
    after: &'a [f64],
}

impl Sweep<'_, '_> {
    fn fill(&self, here: &mut [f64]) {
        let block = self.model.layout.block();
        let phases = &self.model.phases;
        if !phases.tells_speeds_apart() {
            for (phase, out) in here.chunks_exact_mut(block).enumerate() {
                self.classes
                    .iter()
                    .for_each(|class| self.fold(out, phase, class));
            }
            return;
        }
        // Where speeds are told apart, all phases of one length share what they can change to.
        let mut shared: Vec<(u32, Vec<f64>)> = Vec::new();
        for (phase, out) in here.chunks_exact_mut(block).enumerate() {
            let Some((speed, length)) = phases.running(phase) else {
                self.classes
                    .iter()
                    .for_each(|class| self.fold(out, phase, class));
                continue;
            };
            let known = shared.iter().position(|(of, _)| *of == length);
            let known = known.unwrap_or_else(|| {
                shared.push((length, self.by_change(phase, block)));
                shared.len() - 1
            });
            out.copy_from_slice(&shared[known].1);
            let stay = self
                .classes
                .iter()
                .filter(|class| class.choice as usize == speed + 1);
            stay.for_each(|class| self.fold(out, phase, class));
        }
    }

    /// Computes the least rests from a running phase by a change of speed or a stop; to take up the same speed anew and
    /// count it as a change is never better than to stay.
    fn by_change(&self, phase: PhaseId, block: usize) -> Vec<f64> {
        let mut out = vec![f64::INFINITY; block];
        for class in self.classes {
            let Some(step) = self
                .model
                .phases
                .step(phase, class.choice, self.slot.stretch)
            else {
                continue;
            };
            let step = super::phase::Step {
                changed: true,
                ..step
            };
            self.fold_step(&mut out, step, class);
        }
        out
    }

    fn fold(&self, out: &mut [f64], phase: PhaseId, class: &Class) {
        if let Some(step) = self
            .model
            .phases
            .step(phase, class.choice, self.slot.stretch)
        {
            self.fold_step(out, step, class);
        }
    }

    fn fold_step(&self, out: &mut [f64], step: super::phase::Step, class: &Class) {
        let layout = self.model.layout;
        let block = layout.block();
        let start = if step.started {
            start_weight(self.slot, self.weights)
        } else {
            0.0
        };
        let weighed = class.weighed + start;
        let proceeds = &self.slot.proceeds[class.kind];
        let after = &self.after[step.phase * block..(step.phase + 1) * block];
        let (more_starts, more_changes) = (
            layout.starts.rise(step.started),
            layout.changes.rise(step.changed),
        );
        let (all_starts, all_changes) = (layout.starts.states(), layout.changes.states());
        for starts in 0..all_starts.saturating_sub(more_starts) {
            for changes in 0..all_changes.saturating_sub(more_changes) {
                let from = (starts * all_changes + changes) * layout.tasks;
                let to =
                    ((starts + more_starts) * all_changes + changes + more_changes) * layout.tasks;
                let after = &after[to..to + layout.tasks];
                for (out, next) in out[from..from + layout.tasks].iter_mut().zip(proceeds) {
                    *out = out.min(weighed + after[*next as usize]);
                }
            }
        }
    }
}
