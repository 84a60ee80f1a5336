//! The problem of a day, complete: whoever has it can solve it and needs to know neither pool nor pump.

use records::ClockTime;

/// Seconds in an hour, exact.
pub(crate) const SECONDS_PER_HOUR: f64 = 3600.0;
/// Watts in a kilowatt, exact.
pub(crate) const W_PER_KW: f64 = 1000.0;
/// Times are counted in whole seconds; what is closer to one than this is that one.
const SECOND_SLACK: f64 = 1e-6;
/// The most slots of a day: one a minute, on a day of 25 hours.
const MOST_SLOTS: usize = 1500;
/// The most speeds that are offered.
const MOST_SPEEDS: usize = 2000;

/// A day to be planned: in each slot the pump runs at one of the speeds, or is off.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// The slots of the day, in order.
    pub slots: Vec<Slot>,
    /// What the pump may run at.
    pub speeds: Vec<Speed>,
    /// What the day must keep.
    pub rules: Vec<Rule>,
    /// What the pump does before the first slot.
    pub before_first: BeforeFirst,
    /// What is to be least.
    pub least: Least,
    /// The draw while off, W.
    pub off_power_w: f64,
    /// Energy of one start beyond that of its slot, Wh; it is bought at the price of the slot that starts.
    pub start_energy_wh: f64,
    /// Volume of one start beyond that of its slot, m³.
    pub start_volume_m3: f64,
    /// What a kW of the highest draw costs a day; it counts where cost is to be least.
    pub demand_per_kw: f64,
}

/// A stretch of the day with one price.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slot {
    /// When it starts, by the clock on the wall; on a day of 25 hours an hour comes twice.
    pub start: ClockTime,
    /// How long it lasts, h.
    pub hours: f64,
    /// Price of energy in it; `None` where there is no tariff.
    pub price_per_kwh: Option<f64>,
}

/// A speed on offer, or a speed with a line-up of valves.
#[derive(Clone, Debug, PartialEq)]
pub struct Speed {
    /// Speed, rpm.
    pub speed_rpm: f64,
    /// Flow, m³/s.
    pub flow_m3s: f64,
    /// Electrical power, W.
    pub power_w: f64,
    /// The line-up of valves; `None` for the usual one.
    pub lineup: Option<String>,
}

/// What the pump does before the first slot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BeforeFirst {
    /// What it does in the last one: every day is alike.
    Cyclic,
    /// It is off.
    Off,
    /// It runs.
    On,
}

/// What is to be least.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Least {
    /// The cost of energy.
    Cost,
    /// Energy; and with one carbon intensity for the day, carbon dioxide.
    Energy,
}

/// Something that the day must keep.
#[derive(Clone, Debug, PartialEq)]
pub enum Rule {
    /// The least volume of the day.
    Volume {
        /// m³.
        min_m3: f64,
    },
    /// Hours with a least flow.
    Task(TaskRule),
    /// The highest speed in some slots; 0 keeps the pump off.
    MaxSpeed {
        /// The slots.
        slots: Vec<usize>,
        /// rpm.
        speed_rpm: f64,
    },
    /// Slots in which the pump may run on, but not start: priming is louder than the speed that follows.
    NoStart {
        /// The slots.
        slots: Vec<usize>,
    },
    /// The most changes from off to on.
    Starts {
        /// How many.
        max: u32,
    },
    /// The most distinct speeds, off not counted.
    Speeds {
        /// How many.
        max: u32,
    },
    /// The most changes from one slot to the next, off counted as a speed: what a controller holds as entries.
    Changes {
        /// How many.
        max: u32,
    },
    /// The least time from a start to the next stop.
    Run {
        /// h.
        min_hours: f64,
    },
    /// The longest time from a stop to the next start.
    Pause {
        /// h.
        max_hours: f64,
    },
}

/// Hours with a least flow.
#[derive(Clone, Debug, PartialEq)]
pub struct TaskRule {
    /// Its name.
    pub name: String,
    /// The least flow, m³/s.
    pub min_flow_m3s: f64,
    /// For how many hours, h.
    pub hours: f64,
    /// In which slots, in the order of its window, which may pass midnight.
    pub slots: Vec<usize>,
    /// The line-up that it needs; `None`: any.
    pub lineup: Option<String>,
    /// How its hours may lie.
    pub hours_lie: HoursLie,
}

/// How the hours of a task may lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoursLie {
    /// Anywhere in its window.
    Anywhere,
    /// Side by side.
    InOneStretch,
}

/// A problem that is none.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ProblemError {
    /// A day without a slot.
    #[error("the day has no slot")]
    NoSlot,
    /// More than can be planned.
    #[error("{count} {what}; at most {most} can be planned")]
    TooMany {
        /// What there is too much of.
        what: &'static str,
        /// How many there are.
        count: usize,
        /// How many there may be.
        most: usize,
    },
    /// A number that no such thing has.
    #[error("{what} is {value}")]
    Impossible {
        /// What.
        what: &'static str,
        /// The number.
        value: f64,
    },
    /// A time that is no whole number of seconds.
    #[error("{what} is {hours} h, which is no whole number of seconds")]
    NoWholeSeconds {
        /// What.
        what: &'static str,
        /// The time.
        hours: f64,
    },
    /// A rule names a slot that the day does not have.
    #[error("a rule names slot {slot} of {count}")]
    NoSuchSlot {
        /// The slot, from 0.
        slot: usize,
        /// How many slots there are.
        count: usize,
    },
    /// Least cost without a price.
    #[error("least cost is asked for, and a slot has no price")]
    NoPrice,
}

impl Problem {
    /// Returns what a watt-hour of a slot counts in what is to be least: money, or Wh.
    pub(crate) fn weight_per_wh(&self, slot: &Slot) -> f64 {
        /// Watt-hours in a kilowatt-hour, exact.
        const WH_PER_KWH: f64 = 1000.0;
        match self.least {
            Least::Cost => slot.price_per_kwh.unwrap_or(0.0) / WH_PER_KWH,
            Least::Energy => 1.0,
        }
    }

    /// Returns what a watt of the highest draw counts in what is to be least.
    pub(crate) fn demand_per_w(&self) -> f64 {
        match self.least {
            Least::Cost => self.demand_per_kw / W_PER_KW,
            Least::Energy => 0.0,
        }
    }

    /// Copies the problem without one of its rules.
    pub(crate) fn without(&self, rule: usize) -> Self {
        let mut problem = self.clone();
        problem.rules.remove(rule);
        problem
    }

    /// Copies the problem with one more rule.
    #[must_use]
    pub fn with(&self, rule: Rule) -> Self {
        let mut problem = self.clone();
        problem.rules.push(rule);
        problem
    }

    /// Refuses what no day is.
    pub(crate) fn check(&self) -> Result<(), ProblemError> {
        if self.slots.is_empty() {
            return Err(ProblemError::NoSlot);
        }
        at_most("slots", self.slots.len(), MOST_SLOTS)?;
        at_most("speeds", self.speeds.len(), MOST_SPEEDS)?;
        for slot in &self.slots {
            seconds("a slot", slot.hours)?;
            above_zero("the length of a slot", slot.hours)?;
            let price = slot.price_per_kwh;
            if price.is_none() && self.least == Least::Cost {
                return Err(ProblemError::NoPrice);
            }
            finite("a price", price.unwrap_or(0.0))?;
        }
        for speed in &self.speeds {
            above_zero("a speed", speed.speed_rpm)?;
            zero_or_more("a flow", speed.flow_m3s)?;
            zero_or_more("a power", speed.power_w)?;
        }
        zero_or_more("the draw while off", self.off_power_w)?;
        zero_or_more("the energy of a start", self.start_energy_wh)?;
        zero_or_more("the volume of a start", self.start_volume_m3)?;
        zero_or_more("the charge for the highest draw", self.demand_per_kw)?;
        self.rules.iter().try_for_each(|rule| self.check_rule(rule))
    }

    fn check_rule(&self, rule: &Rule) -> Result<(), ProblemError> {
        let count = self.slots.len();
        let stray = rule.slots().iter().find(|slot| **slot >= count);
        if let Some(slot) = stray {
            return Err(ProblemError::NoSuchSlot { slot: *slot, count });
        }
        match rule {
            Rule::Volume { min_m3 } => zero_or_more("the volume of the day", *min_m3),
            Rule::Task(task) => {
                zero_or_more("the flow of a task", task.min_flow_m3s)?;
                zero_or_more("the time of a task", task.hours)
            }
            Rule::MaxSpeed { speed_rpm, .. } => zero_or_more("a highest speed", *speed_rpm),
            Rule::Run { min_hours } => zero_or_more("the least time of a run", *min_hours),
            Rule::Pause { max_hours } => zero_or_more("the longest pause", *max_hours),
            Rule::NoStart { .. }
            | Rule::Starts { .. }
            | Rule::Speeds { .. }
            | Rule::Changes { .. } => Ok(()),
        }
    }
}

impl Rule {
    /// Returns the slots that the rule names.
    pub(crate) fn slots(&self) -> &[usize] {
        match self {
            Self::Task(task) => &task.slots,
            Self::MaxSpeed { slots, .. } | Self::NoStart { slots } => slots,
            _ => &[],
        }
    }
}

impl TaskRule {
    /// Whether a speed serves the task.
    pub(crate) fn is_served_by(&self, speed: &Speed) -> bool {
        let lineup = self.lineup.is_none() || self.lineup == speed.lineup;
        lineup && speed.flow_m3s >= self.min_flow_m3s
    }
}

/// Returns a time in whole seconds.
pub(crate) fn seconds(what: &'static str, hours: f64) -> Result<u32, ProblemError> {
    let seconds = hours * SECONDS_PER_HOUR;
    let whole = seconds.round();
    if !((seconds - whole).abs() <= SECOND_SLACK && whole <= f64::from(u32::MAX)) {
        return Err(ProblemError::NoWholeSeconds { what, hours });
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number that was held against the largest, and below zero becomes zero"
    )]
    Ok(whole as u32)
}

fn at_most(what: &'static str, count: usize, most: usize) -> Result<(), ProblemError> {
    if count > most {
        return Err(ProblemError::TooMany { what, count, most });
    }
    Ok(())
}

fn held(what: &'static str, value: f64, holds: bool) -> Result<(), ProblemError> {
    if value.is_finite() && holds {
        Ok(())
    } else {
        Err(ProblemError::Impossible { what, value })
    }
}

fn finite(what: &'static str, value: f64) -> Result<(), ProblemError> {
    held(what, value, true)
}

fn zero_or_more(what: &'static str, value: f64) -> Result<(), ProblemError> {
    held(what, value, value >= 0.0)
}

fn above_zero(what: &'static str, value: f64) -> Result<(), ProblemError> {
    held(what, value, value > 0.0)
}
