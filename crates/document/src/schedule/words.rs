//! The words of rules, times, money.

use super::Subject;
use crate::language::say;
use crate::units::Printing;
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
            Least::Energy => say!(
                self.printing,
                "{energy} kWh",
                energy = number::significant(self.printing, value / 1000.0, 2)
            ),
        }
    }

    /// Writes a sum of money: as many decimals as its currency has, and none from a hundred on.
    pub(crate) fn money(&self, value: f64) -> String {
        money(value, self.currency(), self.printing)
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
                    say!(self.printing, ", of which {more} for the chance", more)
                } else {
                    String::new()
                };
                say!(
                    self.printing,
                    "turnover: {volume} a day{margin}",
                    volume,
                    margin
                )
            }
            Rule::Task(task) => say!(
                self.printing,
                "{task}: {hours} at {flow} or more{window}{stretch}{lineup}",
                task = task.name,
                hours = hours(task.hours, self.printing),
                flow = printing.plain(task.min_flow_m3s, Dimension::Flow),
                window = self.window(&task.slots),
                stretch = match task.hours_lie {
                    HoursLie::Anywhere => "",
                    HoursLie::InOneStretch => say!(self.printing, ", in one go"),
                },
                lineup = task
                    .lineup
                    .as_ref()
                    .map_or_else(String::new, |lineup| format!(", {lineup}"))
            ),
            Rule::MaxSpeed { slots, speed_rpm } => {
                say!(
                    self.printing,
                    "quiet: at most {speed} rpm{window}",
                    speed = number::rpm(self.printing, *speed_rpm),
                    window = self.window(slots)
                )
            }
            Rule::NoStart { slots } => {
                say!(
                    self.printing,
                    "quiet: no start{window}, since priming is louder",
                    window = self.window(slots)
                )
            }
            Rule::Starts { max } => say!(
                printing,
                "at most {count}",
                count = counted(*max, Thing::Starts, printing)
            ),
            Rule::Speeds { max } => say!(
                printing,
                "at most {count}",
                count = counted(*max, Thing::Speeds, printing)
            ),
            Rule::Changes { max } => {
                say!(
                    printing,
                    "at most {count} in the controller",
                    count = counted(*max, Thing::Changes, printing)
                )
            }
            Rule::Run { min_hours } => say!(
                self.printing,
                "runs of {hours} or more",
                hours = hours(*min_hours, self.printing)
            ),
            Rule::Pause { max_hours } => say!(
                self.printing,
                "pauses of {hours} or less",
                hours = hours(*max_hours, self.printing)
            ),
        }
    }

    /// Names a rule in a word or two.
    pub(crate) fn short_rule(&self, rule: &Rule) -> String {
        match rule {
            Rule::Volume { .. } => say!(self.printing, "the turnover").to_owned(),
            Rule::Task(task) => task.name.clone(),
            Rule::MaxSpeed { .. } | Rule::NoStart { .. } => {
                say!(self.printing, "the quiet hours").to_owned()
            }
            _ => say!(self.printing, "the rule of {rule}", rule = self.rule(rule)),
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
        say!(
            self.printing,
            ", {start} to {end}",
            start = all[*first].start,
            end = end(next)
        )
    }

    /// Writes a program in one line.
    pub(crate) fn in_a_line(&self, program: &Programmed) -> String {
        in_a_line(&self.plan.problem, program, self.printing)
    }
}

/// Writes a sum of money: as many decimals as its currency has, and none from a hundred on.
pub(crate) fn money(value: f64, currency: &str, printing: Printing) -> String {
    format!("{} {currency}", money::amount(value, currency, printing))
}

/// Writes a sum of money with its interval.
pub(crate) fn money_with_interval(sum: Estimate, currency: &str, printing: Printing) -> String {
    format!(
        "{} {currency}",
        money::with_interval(sum, currency, printing)
    )
}

/// Writes the distinct day of a tariff: "a weekday in summer"; `None` where all days are alike.
pub(crate) fn day_words(
    operation: &Operation,
    day: &TariffDay,
    printing: Printing,
) -> Option<String> {
    let by_kind = operation.tariff.iter().any(|block| !block.days.is_empty());
    let kind = by_kind.then_some(match day.kind {
        DayKind::Weekdays => say!(printing, "a weekday"),
        DayKind::Weekends => say!(printing, "a weekend"),
        DayKind::Holidays => say!(printing, "a holiday"),
    });
    match (kind, &day.season) {
        (Some(kind), Some(season)) => Some(say!(printing, "{kind} in {season}", kind, season)),
        (Some(kind), None) => Some(kind.to_owned()),
        (None, Some(season)) => Some(say!(printing, "in {season}", season)),
        (None, None) => None,
    }
}

/// Writes a program in one line.
pub(crate) fn in_a_line(problem: &Problem, program: &Programmed, printing: Printing) -> String {
    let entries = program.entries.iter().map(|entry| {
        let what = entry.speed.map_or_else(
            || say!(printing, "off" as "pump").to_owned(),
            |speed| {
                let speed = &problem.speeds[speed];
                let valves = speed.lineup.as_ref();
                let valves = valves.map_or_else(String::new, |valves| format!(" ({valves})"));
                say!(
                    printing,
                    "{speed} rpm{valves}",
                    speed = number::rpm(printing, speed.speed_rpm),
                    valves
                )
            },
        );
        if entry.from == entry.to {
            say!(printing, "{what} all day", what)
        } else {
            format!("{what} {}–{}", entry.from, end(entry.to))
        }
    });
    entries.collect::<Vec<_>>().join(", ")
}

/// Writes a time in hours.
pub(crate) fn hours(hours: f64, printing: Printing) -> String {
    format!("{} h", number::plain(printing, hours))
}

/// What is counted of a program.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Thing {
    Speeds,
    Starts,
    Changes,
}

/// Writes a count of things.
pub(crate) fn counted(count: u32, thing: Thing, printing: Printing) -> String {
    match (thing, count) {
        (Thing::Speeds, 1) => say!(printing, "1 speed").to_owned(),
        (Thing::Starts, 1) => say!(printing, "1 start").to_owned(),
        (Thing::Changes, 1) => say!(printing, "1 change").to_owned(),
        (Thing::Speeds, count) => say!(printing, "{count} speeds", count),
        (Thing::Starts, count) => say!(printing, "{count} starts", count),
        (Thing::Changes, count) => say!(printing, "{count} changes", count),
    }
}

/// Returns the minutes from one time to another; a whole day where both are the same.
pub(crate) fn minutes_between(from: ClockTime, to: ClockTime) -> u32 {
    match (to.minutes + DAY_MINUTES - from.minutes) % DAY_MINUTES {
        0 => DAY_MINUTES,
        minutes => minutes,
    }
}
