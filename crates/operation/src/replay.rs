//! Replays a day slot by slot and holds it against every rule.
//!
//! This is written apart from the search on purpose, and shares no arithmetic with it: a mistake of one is seen by the
//! other. The command replays every day before it prints it.

use crate::problem::{
    BeforeFirst, HoursLie, Least, Problem, Rule, SECONDS_PER_HOUR, Slot, TaskRule,
};

/// What is this close to a demand keeps it: sums of a day's slots round by less.
const SLACK: f64 = 1e-9;
/// Watt-hours in a kilowatt-hour, exact.
const WH_PER_KWH: f64 = 1000.0;

/// What a day does: for each slot the number of a speed, or `None` for off.
pub type Day = [Option<usize>];

/// What a day comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Replay {
    /// What was to be least: money, or Wh.
    pub least: f64,
    /// Cost of energy and of the highest draw; `None` without prices.
    pub cost: Option<f64>,
    /// The highest draw of a slot, W; priming, which is shorter than the times that draws are metered over, is none.
    pub top_w: f64,
    /// Energy, kWh.
    pub energy_kwh: f64,
    /// Volume, m³.
    pub volume_m3: f64,
    /// Changes from off to on.
    pub starts: u32,
    /// Changes from one slot to the next.
    pub changes: u32,
    /// Distinct speeds.
    pub speeds: u32,
    /// The rules, by number, that the day breaks.
    pub broken: Vec<usize>,
}

/// Replays a day.
///
/// # Inputs
/// `day`: as many entries as there are slots, each the number of a speed of the problem.
pub fn replay(problem: &Problem, day: &Day) -> Replay {
    let mut energy_wh = 0.0;
    let mut money = 0.0;
    let mut volume_m3 = 0.0;
    let mut least = 0.0;
    let mut top_w = 0.0_f64;
    for (index, slot) in problem.slots.iter().enumerate() {
        let speed = day[index].map(|speed| &problem.speeds[speed]);
        let draw_w = speed.map_or(problem.off_power_w, |speed| speed.power_w);
        top_w = top_w.max(draw_w);
        let mut wh = slot.hours * draw_w;
        volume_m3 += speed.map_or(0.0, |speed| speed.flow_m3s) * slot.hours * SECONDS_PER_HOUR;
        if starts(problem, day, index) {
            wh += problem.start_energy_wh;
            volume_m3 += problem.start_volume_m3;
        }
        energy_wh += wh;
        money += slot.price_per_kwh.unwrap_or(0.0) * wh / WH_PER_KWH;
        least += problem.weight_per_wh(slot) * wh;
    }
    let demand = problem.demand_per_kw * top_w / 1000.0;
    money += demand;
    if problem.least == Least::Cost {
        least += demand;
    }
    let mut used: Vec<usize> = day.iter().flatten().copied().collect();
    used.sort_unstable();
    used.dedup();
    let mut replay = Replay {
        least,
        cost: has_prices(&problem.slots).then_some(money),
        top_w,
        energy_kwh: energy_wh / WH_PER_KWH,
        volume_m3,
        starts: count((0..day.len()).filter(|index| starts(problem, day, *index))),
        changes: count((0..day.len()).filter(|index| changes(problem, day, *index))),
        speeds: count(used.into_iter()),
        broken: Vec::new(),
    };
    let rules = problem.rules.iter().enumerate();
    replay.broken = rules
        .filter(|(_, rule)| !keeps(problem, day, &replay, rule))
        .map(|(index, _)| index)
        .collect();
    replay
}

fn has_prices(slots: &[Slot]) -> bool {
    slots.iter().all(|slot| slot.price_per_kwh.is_some())
}

fn count(items: impl Iterator<Item = usize>) -> u32 {
    items.fold(0, |count, _| count + 1)
}

/// Whether the pump ran before a slot.
fn ran_before(problem: &Problem, day: &Day, slot: usize) -> bool {
    match (slot, problem.before_first) {
        (0, BeforeFirst::Off) => false,
        (0, BeforeFirst::On) => true,
        (0, BeforeFirst::Cyclic) => day[day.len() - 1].is_some(),
        (slot, _) => day[slot - 1].is_some(),
    }
}

fn starts(problem: &Problem, day: &Day, slot: usize) -> bool {
    day[slot].is_some() && !ran_before(problem, day, slot)
}

/// Whether a slot does otherwise than the one before; of a pump that ran before the first slot, the speed is not known.
fn changes(problem: &Problem, day: &Day, slot: usize) -> bool {
    match (slot, problem.before_first) {
        (0, BeforeFirst::Off) => day[0].is_some(),
        (0, BeforeFirst::On) => day[0].is_none(),
        (0, BeforeFirst::Cyclic) => day[0] != day[day.len() - 1],
        (slot, _) => day[slot] != day[slot - 1],
    }
}

fn keeps(problem: &Problem, day: &Day, replay: &Replay, rule: &Rule) -> bool {
    match rule {
        Rule::Volume { min_m3 } => replay.volume_m3 >= min_m3 * (1.0 - SLACK),
        Rule::Task(task) => keeps_task(problem, day, task),
        Rule::MaxSpeed { slots, speed_rpm } => slots.iter().all(|slot| {
            day[*slot].is_none_or(|speed| problem.speeds[speed].speed_rpm <= *speed_rpm)
        }),
        Rule::NoStart { slots } => slots.iter().all(|slot| !starts(problem, day, *slot)),
        Rule::Starts { max } => replay.starts <= *max,
        Rule::Speeds { max } => replay.speeds <= *max,
        Rule::Changes { max } => replay.changes <= *max,
        Rule::Run { min_hours } => stretches(problem, day, true)
            .iter()
            .all(|hours| *hours >= min_hours - SLACK),
        Rule::Pause { max_hours } => stretches(problem, day, false)
            .iter()
            .all(|hours| *hours <= max_hours + SLACK),
    }
}

fn keeps_task(problem: &Problem, day: &Day, task: &TaskRule) -> bool {
    let (mut all, mut stretch, mut longest) = (0.0, 0.0, 0.0_f64);
    for slot in &task.slots {
        let served = day[*slot].is_some_and(|speed| task.is_served_by(&problem.speeds[speed]));
        if served {
            all += problem.slots[*slot].hours;
            stretch += problem.slots[*slot].hours;
        } else {
            stretch = 0.0;
        }
        longest = longest.max(stretch);
    }
    let done = match task.hours_lie {
        HoursLie::Anywhere => all,
        HoursLie::InOneStretch => longest,
    };
    done >= task.hours - SLACK
}

/// Lists the hours of the stretches in which the pump runs, or is off.
///
/// A day that is never left ends no stretch: a pump that always runs keeps any least time, one that is always off rests
/// without end. Where days are not alike, the runs that the ends of the day cut are not held against their whole time,
/// which is not known; the pauses are held for as long as they are seen.
fn stretches(problem: &Problem, day: &Day, running: bool) -> Vec<f64> {
    let cyclic = problem.before_first == BeforeFirst::Cyclic;
    let is = |index: usize| day[index % day.len()].is_some() == running;
    let Some(other) = (0..day.len()).find(|index| !is(*index)) else {
        let whole = problem.slots.iter().map(|slot| slot.hours).sum();
        return match (running, cyclic) {
            (true, _) => Vec::new(),
            (false, true) => vec![f64::INFINITY],
            (false, false) => vec![whole],
        };
    };
    let order: Vec<usize> = if cyclic {
        (other..other + day.len()).collect()
    } else {
        (0..day.len()).collect()
    };
    let mut found = Vec::new();
    let mut open: Option<f64> = None;
    let mut first_is_cut = !cyclic && running && problem.before_first == BeforeFirst::On;
    for index in order {
        if is(index) {
            open = Some(open.unwrap_or(0.0) + problem.slots[index % day.len()].hours);
        } else {
            found.extend(open.take().filter(|_| !first_is_cut));
            first_is_cut = false;
        }
    }
    let last_is_cut = !cyclic && running;
    found.extend(open.filter(|_| !last_is_cut));
    found
}
