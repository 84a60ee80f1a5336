//! The words of rules, times, money.

use super::Subject;
use crate::{money, number};
use metrology::Estimate;
use operation::{HoursLie, Least, Problem, Programmed, Rule, TariffDay};
use records::unit::Dimension;
use records::{ClockTime, DayKind, Operation};

/// Minutes of a day.
const DAY_MINUTES: u32 = 1440;

/// Writes the end of a slot or of a window: midnight is 24:00.
pub(crate) fn end(time: ClockTime) -> String {
    match time.minutes {
        0 => "24:00".to_owned(),
        _ => time.to_string(),
    }
}

impl Subject<'_> {
    /// Writes what is to be least, with its unit: money with two decimals, or energy.
    pub(crate) fn least(&self, value: f64) -> String {
        match self.plan.problem.least {
            Least::Cost => self.money(value),
            Least::Energy => format!("{} kWh", number::significant(value / 1000.0, 2)),
        }
    }

    /// Writes a sum of money: as many decimals as its currency has, and none from a hundred on.
    pub(crate) fn money(&self, value: f64) -> String {
        money(value, self.currency())
    }

    pub(crate) fn currency(&self) -> &str {
        self.plan.currency.as_deref().unwrap_or("")
    }

    /// Names a rule.
    pub(crate) fn rule(&self, rule: &Rule) -> String {
        let printing = self.printing;
        match rule {
            Rule::Volume { min_m3 } => {
                let volume = printing.plain(*min_m3, Dimension::Volume);
                let more_m3 = min_m3 - self.plan.turnover_m3.unwrap_or(*min_m3);
                let margin = if more_m3 > 0.0 {
                    let more = printing.plain(more_m3, Dimension::Volume);
                    format!(", of which {more} for the chance")
                } else {
                    String::new()
                };
                format!("turnover: {volume} a day{margin}")
            }
            Rule::Task(task) => format!(
                "{}: {} at {} or more{}{}{}",
                task.name,
                hours(task.hours),
                printing.plain(task.min_flow_m3s, Dimension::Flow),
                self.window(&task.slots),
                match task.hours_lie {
                    HoursLie::Anywhere => "",
                    HoursLie::InOneStretch => ", in one go",
                },
                task.lineup
                    .as_ref()
                    .map_or_else(String::new, |lineup| format!(", {lineup}")),
            ),
            Rule::MaxSpeed { slots, speed_rpm } => {
                format!(
                    "quiet: at most {} rpm{}",
                    number::rpm(*speed_rpm),
                    self.window(slots)
                )
            }
            Rule::NoStart { slots } => {
                format!(
                    "quiet: no start{}, since priming is louder",
                    self.window(slots)
                )
            }
            Rule::Starts { max } => format!("at most {}", counted(*max, "start")),
            Rule::Speeds { max } => format!("at most {}", counted(*max, "speed")),
            Rule::Changes { max } => {
                format!("at most {} in the controller", counted(*max, "change"))
            }
            Rule::Run { min_hours } => format!("runs of {} or more", hours(*min_hours)),
            Rule::Pause { max_hours } => format!("pauses of {} or less", hours(*max_hours)),
        }
    }

    /// Names a rule in a word or two.
    pub(crate) fn short_rule(&self, rule: &Rule) -> String {
        match rule {
            Rule::Volume { .. } => "the turnover".to_owned(),
            Rule::Task(task) => task.name.clone(),
            Rule::MaxSpeed { .. } | Rule::NoStart { .. } => "the quiet hours".to_owned(),
            _ => format!("the rule of {}", self.rule(rule)),
        }
    }

    /// Writes the times of a run of slots; nothing where it is the whole day.
    fn window(&self, slots: &[usize]) -> String {
        let all = &self.plan.problem.slots;
        let ends = slots.first().zip(slots.last());
        let Some((first, last)) = ends.filter(|_| slots.len() < all.len()) else {
            return String::new();
        };
        let next = all[(last + 1) % all.len()].start;
        format!(", {} to {}", all[*first].start, end(next))
    }

    /// Writes a program in one line.
    pub(crate) fn in_a_line(&self, program: &Programmed) -> String {
        in_a_line(&self.plan.problem, program)
    }
}

/// Writes a sum of money: as many decimals as its currency has, and none from a hundred on.
pub(crate) fn money(value: f64, currency: &str) -> String {
    format!("{} {currency}", money::amount(value, currency))
}

/// Writes a sum of money with its interval.
pub(crate) fn money_with_interval(sum: Estimate, currency: &str) -> String {
    format!("{} {currency}", money::with_interval(sum, currency))
}

/// Writes the distinct day of a tariff: "a weekday in summer"; `None` where all days are alike.
pub(crate) fn day_words(operation: &Operation, day: &TariffDay) -> Option<String> {
    let by_kind = operation.tariff.iter().any(|block| !block.days.is_empty());
    let kind = by_kind.then_some(match day.kind {
        DayKind::Weekdays => "a weekday",
        DayKind::Weekends => "a weekend",
        DayKind::Holidays => "a holiday",
    });
    match (kind, &day.season) {
        (Some(kind), Some(season)) => Some(format!("{kind} in {season}")),
        (Some(kind), None) => Some(kind.to_owned()),
        (None, Some(season)) => Some(format!("in {season}")),
        (None, None) => None,
    }
}

/// Writes a program in one line.
pub(crate) fn in_a_line(problem: &Problem, program: &Programmed) -> String {
    let entries = program.entries.iter().map(|entry| {
        let what = entry.speed.map_or_else(
            || "off".to_owned(),
            |speed| {
                let speed = &problem.speeds[speed];
                let valves = speed.lineup.as_ref();
                let valves = valves.map_or_else(String::new, |valves| format!(" ({valves})"));
                format!("{} rpm{valves}", number::rpm(speed.speed_rpm))
            },
        );
        if entry.from == entry.to {
            format!("{what} all day")
        } else {
            format!("{what} {}–{}", entry.from, end(entry.to))
        }
    });
    entries.collect::<Vec<_>>().join(", ")
}

/// Writes a time in hours.
pub(crate) fn hours(hours: f64) -> String {
    format!("{} h", number::plain(hours))
}

/// Writes a count of things.
pub(crate) fn counted(count: u32, thing: &str) -> String {
    let plural = if count == 1 { "" } else { "s" };
    format!("{count} {thing}{plural}")
}

/// Returns the minutes from one time to another; a whole day where both are the same.
pub(crate) fn minutes_between(from: ClockTime, to: ClockTime) -> u32 {
    match (to.minutes + DAY_MINUTES - from.minutes) % DAY_MINUTES {
        0 => DAY_MINUTES,
        minutes => minutes,
    }
}
