//! The problem in the form that the search takes: whole numbers, phases, and tables of how tasks proceed.

use super::counts::Counts;
use super::phase::{Choice, OFF, Phases, Stretch};
use crate::problem::{HoursLie, Problem, ProblemError, Rule, TaskRule, seconds};

/// The most states times slots: a bound on memory, of which each takes eight bytes in each of a few tables.
const MOST_CELLS: usize = 6_000_000;

/// What a branch of the search has settled.
#[derive(Clone, Debug)]
pub(super) struct Settled {
    /// For each speed, whether it may be used.
    pub(super) offered: Vec<bool>,
    /// For each rule that is a task in one stretch: the place in its window at which the stretch begins.
    pub(super) begins: Vec<Option<usize>>,
}

impl Settled {
    pub(super) fn nothing(problem: &Problem) -> Self {
        Self {
            offered: vec![true; problem.speeds.len()],
            begins: vec![None; problem.rules.len()],
        }
    }
}

/// A problem, ready for the search.
#[derive(Debug)]
pub(super) struct Model<'p> {
    pub(super) problem: &'p Problem,
    pub(super) phases: Phases,
    pub(super) layout: Layout,
    pub(super) slots: Vec<SlotModel>,
    /// The volume of the day, in counts.
    pub(super) volume: i64,
}

/// How states are numbered: by phase, then starts, then changes, then what is done of the tasks.
#[derive(Clone, Copy, Debug)]
pub(super) struct Layout {
    /// Counts of starts that are told apart.
    pub(super) starts: Counted,
    /// Counts of changes that are told apart.
    pub(super) changes: Counted,
    /// What may be done of the tasks.
    pub(super) tasks: usize,
}

/// Something that may happen so often in a day.
#[derive(Clone, Copy, Debug)]
pub(super) struct Counted {
    most: Option<usize>,
}

impl Counted {
    fn up_to(most: Option<u32>) -> Self {
        Self {
            most: most.map(|most| most as usize),
        }
    }

    /// Returns how many counts are told apart: one where nothing is counted.
    pub(super) fn states(self) -> usize {
        self.most.map_or(1, |most| most + 1)
    }

    /// Returns by how much the count rises.
    pub(super) fn rise(self, happened: bool) -> usize {
        usize::from(self.most.is_some() && happened)
    }
}

impl Layout {
    /// Returns how many states a phase has.
    pub(super) fn block(&self) -> usize {
        self.starts.states() * self.changes.states() * self.tasks
    }
}

/// One slot.
#[derive(Debug)]
pub(super) struct SlotModel {
    pub(super) moves: Vec<Move>,
    /// How the tasks proceed by a move of each kind: the state after each state.
    pub(super) proceeds: Vec<Vec<u32>>,
    pub(super) stretch: Stretch,
    pub(super) start_cost: i64,
    pub(super) start_volume: i64,
}

/// What the pump may do in a slot.
#[derive(Clone, Copy, Debug)]
pub(super) struct Move {
    pub(super) choice: Choice,
    pub(super) cost: i64,
    pub(super) volume: i64,
    /// Which of the tables of [`SlotModel::proceeds`] applies.
    pub(super) kind: usize,
}

impl<'p> Model<'p> {
    pub(super) fn new(problem: &'p Problem, settled: &Settled) -> Result<Self, ProblemError> {
        let counts = Counts::of(problem);
        let phases = phases(problem)?;
        let counters = counters(problem, settled)?;
        let layout = Layout {
            starts: Counted::up_to(most_starts(problem)),
            changes: Counted::up_to(most_changes(problem)),
            tasks: counters
                .iter()
                .map(|task| task.need + 1)
                .try_fold(1, usize::checked_mul)
                .unwrap_or(usize::MAX),
        };
        let cells = layout.block_checked().and_then(|block| {
            block
                .checked_mul(phases.count())?
                .checked_mul(problem.slots.len())
        });
        let cells = cells.unwrap_or(usize::MAX);
        if cells > MOST_CELLS {
            return Err(ProblemError::TooMany {
                what: "combinations of what tasks and counts have come to",
                count: cells,
                most: MOST_CELLS,
            });
        }
        let units = unit_seconds(problem)?;
        let slots = 0..problem.slots.len();
        let slots = slots.map(|slot| {
            slot_model(
                &SlotContext {
                    problem,
                    settled,
                    counts,
                    counters: &counters,
                    layout,
                    units,
                    tells_apart: phases.tells_speeds_apart(),
                },
                slot,
            )
        });
        Ok(Self {
            problem,
            slots: slots.collect::<Result<_, _>>()?,
            phases,
            layout,
            volume: least_volume(problem, counts),
        })
    }

    /// Returns how many states a day has between two slots.
    pub(super) fn states(&self) -> usize {
        self.phases.count() * self.layout.block()
    }
}

impl Layout {
    fn block_checked(&self) -> Option<usize> {
        self.starts
            .states()
            .checked_mul(self.changes.states())?
            .checked_mul(self.tasks)
    }
}

/// The least volume, less what the rounding of every slot may take.
fn least_volume(problem: &Problem, counts: Counts) -> i64 {
    let asked = problem.rules.iter().filter_map(|rule| match rule {
        Rule::Volume { min_m3 } => Some(*min_m3),
        _ => None,
    });
    let rounding = 2 * i64::try_from(problem.slots.len()).unwrap_or(0);
    (counts.volume(asked.fold(0.0, f64::max)) - rounding).max(0)
}

/// Returns the most starts where the rule can bind: no day has more starts than pairs of slots.
fn most_starts(problem: &Problem) -> Option<u32> {
    let possible = problem.slots.len().div_ceil(2);
    tightest(problem, possible, |rule| match rule {
        Rule::Starts { max } => Some(*max),
        _ => None,
    })
}

/// Returns the most changes where the rule can bind.
fn most_changes(problem: &Problem) -> Option<u32> {
    tightest(problem, problem.slots.len(), |rule| match rule {
        Rule::Changes { max } => Some(*max),
        _ => None,
    })
}

fn tightest(problem: &Problem, possible: usize, of: impl Fn(&Rule) -> Option<u32>) -> Option<u32> {
    let tightest = problem.rules.iter().filter_map(of).min()?;
    ((tightest as usize) < possible).then_some(tightest)
}

/// The greatest length of time of which every slot is a multiple, s.
fn unit_seconds(problem: &Problem) -> Result<u32, ProblemError> {
    let lengths = problem
        .slots
        .iter()
        .map(|slot| seconds("a slot", slot.hours));
    lengths
        .collect::<Result<Vec<_>, _>>()
        .map(|lengths| common_part(lengths.into_iter()).max(1))
}

fn common_part(lengths: impl Iterator<Item = u32>) -> u32 {
    lengths.fold(0, |a, b| {
        let (mut a, mut b) = (a, b);
        while b != 0 {
            (a, b) = (b, a % b);
        }
        a
    })
}

fn phases(problem: &Problem) -> Result<Phases, ProblemError> {
    let unit = unit_seconds(problem)?;
    let mut day_units = 0;
    for slot in &problem.slots {
        day_units += seconds("a slot", slot.hours)? / unit;
    }
    let (mut least_run, mut longest_pause) = (1, None);
    for rule in &problem.rules {
        match rule {
            Rule::Run { min_hours } => {
                let units = seconds("the least time of a run", *min_hours)?.div_ceil(unit);
                least_run = least_run.max(units.min(day_units));
            }
            Rule::Pause { max_hours } => {
                let units = seconds("the longest pause", *max_hours)? / unit;
                let units = units.min(day_units);
                longest_pause = Some(longest_pause.unwrap_or(units).min(units));
            }
            _ => {}
        }
    }
    let speeds_apart = most_changes(problem).map_or(1, |_| problem.speeds.len());
    Ok(Phases::new(longest_pause, least_run, speeds_apart))
}

/// A task whose hours are counted.
struct Counter<'p> {
    task: &'p TaskRule,
    /// The unit of its time, s.
    unit: u32,
    /// Its hours in units.
    need: usize,
}

/// Lists the tasks whose hours are counted: those that may lie anywhere, and those in one stretch of which the place is
/// not settled, whose hours must be there in any case.
fn counters<'p>(problem: &'p Problem, settled: &Settled) -> Result<Vec<Counter<'p>>, ProblemError> {
    let mut counters = Vec::new();
    for (index, rule) in problem.rules.iter().enumerate() {
        let Rule::Task(task) = rule else { continue };
        if settled.begins[index].is_some() {
            continue;
        }
        let lengths = task
            .slots
            .iter()
            .map(|slot| seconds("a slot", problem.slots[*slot].hours));
        let lengths = lengths.collect::<Result<Vec<_>, _>>()?;
        let unit = common_part(lengths.into_iter()).max(1);
        let need = seconds("the time of a task", task.hours)?.div_ceil(unit) as usize;
        if need > 0 {
            counters.push(Counter { task, unit, need });
        }
    }
    Ok(counters)
}

/// What the model of a slot is made from.
struct SlotContext<'a> {
    problem: &'a Problem,
    settled: &'a Settled,
    counts: Counts,
    counters: &'a [Counter<'a>],
    layout: Layout,
    units: u32,
    tells_apart: bool,
}

fn slot_model(context: &SlotContext<'_>, slot: usize) -> Result<SlotModel, ProblemError> {
    let problem = context.problem;
    let length = seconds("a slot", problem.slots[slot].hours)?;
    let weight = problem.weight_per_wh(&problem.slots[slot]);
    let mut made = SlotModel {
        moves: Vec::new(),
        proceeds: Vec::new(),
        stretch: Stretch {
            units: length / context.units,
            may_start: !problem
                .rules
                .iter()
                .any(|rule| matches!(rule, Rule::NoStart { slots } if slots.contains(&slot))),
        },
        start_cost: context.counts.weight(weight * problem.start_energy_wh),
        start_volume: context.counts.volume(problem.start_volume_m3),
    };
    let mut kinds: Vec<Vec<bool>> = Vec::new();
    for choice in choices(context, slot) {
        let serves = served(context, slot, choice);
        let known = kinds.iter().position(|kind| *kind == serves);
        let kind = known.unwrap_or(kinds.len());
        if known.is_none() {
            made.proceeds.push(proceeding(context, &serves, length));
            kinds.push(serves);
        }
        made.moves.push(a_move(context, slot, choice, kind));
    }
    if !context.tells_apart {
        drop_dominated(&mut made.moves);
    }
    Ok(made)
}

/// Lists what the pump may do in a slot: off, and the speeds that neither a rule nor what is settled forbids.
fn choices(context: &SlotContext<'_>, slot: usize) -> Vec<Choice> {
    let problem = context.problem;
    let limits = problem.rules.iter().filter_map(|rule| match rule {
        Rule::MaxSpeed { slots, speed_rpm } if slots.contains(&slot) => Some(*speed_rpm),
        _ => None,
    });
    let limit = limits.fold(f64::INFINITY, f64::min);
    let held: Vec<&TaskRule> = held_tasks(problem, context.settled, slot);
    let mut choices: Vec<Choice> = if held.is_empty() {
        vec![OFF]
    } else {
        Vec::new()
    };
    let numbered = (1..).zip(&problem.speeds).zip(&context.settled.offered);
    choices.extend(numbered.filter_map(|((choice, speed), offered)| {
        let serves = held.iter().all(|task| task.is_served_by(speed));
        (*offered && serves && speed.speed_rpm <= limit).then_some(choice)
    }));
    choices
}

/// Lists the tasks whose settled stretch covers a slot.
fn held_tasks<'p>(problem: &'p Problem, settled: &Settled, slot: usize) -> Vec<&'p TaskRule> {
    let begins = problem.rules.iter().zip(&settled.begins);
    begins
        .filter_map(|(rule, begins)| match (rule, begins) {
            (Rule::Task(task), Some(begins)) => {
                let stretch = stretch(problem, task, *begins)?;
                stretch.contains(&slot).then_some(task)
            }
            _ => None,
        })
        .collect()
}

/// Returns the slots of the stretch of a task that begins at a place of its window; `None` where it does not fit.
pub(super) fn stretch<'p>(
    problem: &Problem,
    task: &'p TaskRule,
    begins: usize,
) -> Option<&'p [usize]> {
    /// Hours are whole seconds: this is far less than one.
    const SLACK: f64 = 1e-6;
    let left = task.slots.get(begins..)?;
    let mut hours = 0.0;
    for (index, slot) in left.iter().enumerate() {
        hours += problem.slots[*slot].hours;
        if hours >= task.hours - SLACK {
            return left.get(..=index);
        }
    }
    None
}

/// Says of each counted task whether a choice serves it in a slot.
fn served(context: &SlotContext<'_>, slot: usize, choice: Choice) -> Vec<bool> {
    let speed = (choice as usize)
        .checked_sub(1)
        .map(|index| &context.problem.speeds[index]);
    let serves = |counter: &Counter<'_>| {
        counter.task.slots.contains(&slot)
            && speed.is_some_and(|speed| counter.task.is_served_by(speed))
    };
    context.counters.iter().map(serves).collect()
}

/// Tabulates what is done of the tasks after a slot, for all that may be done before it.
fn proceeding(context: &SlotContext<'_>, serves: &[bool], length: u32) -> Vec<u32> {
    (0..context.layout.tasks)
        .map(|before| {
            let (mut rest, mut after, mut place) = (before, 0, 1);
            for (counter, serves) in context.counters.iter().zip(serves) {
                let radix = counter.need + 1;
                let done = rest % radix;
                let more = if *serves {
                    (length / counter.unit) as usize
                } else {
                    0
                };
                after += place * (done + more).min(counter.need);
                place *= radix;
                rest /= radix;
            }
            u32::try_from(after).unwrap_or(u32::MAX)
        })
        .collect()
}

fn a_move(context: &SlotContext<'_>, slot: usize, choice: Choice, kind: usize) -> Move {
    /// Seconds in an hour, exact.
    const SECONDS_PER_HOUR: f64 = crate::problem::SECONDS_PER_HOUR;
    let problem = context.problem;
    let speed = (choice as usize)
        .checked_sub(1)
        .map(|index| &problem.speeds[index]);
    let power_w = speed.map_or(problem.off_power_w, |speed| speed.power_w);
    let flow_m3s = speed.map_or(0.0, |speed| speed.flow_m3s);
    let hours = problem.slots[slot].hours;
    let weight = problem.weight_per_wh(&problem.slots[slot]);
    Move {
        choice,
        cost: context.counts.weight(weight * hours * power_w),
        volume: context.counts.volume(hours * SECONDS_PER_HOUR * flow_m3s),
        kind,
    }
}

/// Drops each running move that another of its kind outdoes: at most its cost, at least its volume.
fn drop_dominated(moves: &mut Vec<Move>) {
    numerics::order::sort_by_key(moves, |a| (a.choice != OFF, a.kind, a.cost, -a.volume));
    let mut most = None;
    moves.retain(|a| {
        let group = (a.choice != OFF, a.kind);
        let outdone = most.is_some_and(|(of, volume)| of == group && volume >= a.volume);
        if !outdone {
            most = Some((group, a.volume));
        }
        !outdone
    });
}

/// Whether a rule is a task in one stretch.
pub(super) fn in_one_stretch(rule: &Rule) -> Option<&TaskRule> {
    match rule {
        Rule::Task(task) if task.hours_lie == HoursLie::InOneStretch => Some(task),
        _ => None,
    }
}
