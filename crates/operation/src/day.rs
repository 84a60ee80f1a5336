//! The slots of a day: a grid, cut wherever a price, a task or quiet hours begin or end.

use crate::clock::{Clock, Window};
use crate::problem::{HoursLie, Rule, Slot, TaskRule};
use crate::tariff::DayPrices;
use records::{ClockTime, Operation, Task};
use std::collections::BTreeSet;

/// Minutes in an hour, exact.
const MINUTES_PER_HOUR: f64 = 60.0;

/// The slots of a day, with the minutes that each holds.
#[derive(Clone, Debug)]
pub(crate) struct DaySlots {
    pub(crate) slots: Vec<Slot>,
    /// The first minute of each by the clock; all minutes of a slot are alike.
    starts: Vec<u32>,
}

impl DaySlots {
    /// Cuts a day into slots of at most so many minutes.
    pub(crate) fn cut(
        operation: &Operation,
        prices: Option<&DayPrices>,
        clock: Clock,
        grid_minutes: u32,
    ) -> Self {
        let mut cuts: BTreeSet<u32> = windows(operation).flat_map(Window::ends).collect();
        cuts.extend(prices.into_iter().flat_map(DayPrices::ends));
        Self::cut_at(&cuts, prices, clock, grid_minutes)
    }

    /// Cuts a day without prices also where other stretches begin or end.
    pub(crate) fn cut_also(
        operation: &Operation,
        also: impl Iterator<Item = Window>,
        clock: Clock,
        grid_minutes: u32,
    ) -> Self {
        let cuts = windows(operation).chain(also).flat_map(Window::ends);
        Self::cut_at(&cuts.collect(), None, clock, grid_minutes)
    }

    fn cut_at(
        cuts: &BTreeSet<u32>,
        prices: Option<&DayPrices>,
        clock: Clock,
        grid_minutes: u32,
    ) -> Self {
        let mut starts: Vec<u32> = Vec::new();
        let mut lengths: Vec<u32> = Vec::new();
        let mut before: Option<u32> = None;
        for minute in clock.minutes() {
            let follows = before.is_some_and(|before| before + 1 == minute);
            let is_cut =
                !follows || minute.is_multiple_of(grid_minutes.max(1)) || cuts.contains(&minute);
            if is_cut {
                starts.push(minute);
                lengths.push(0);
            }
            if let Some(length) = lengths.last_mut() {
                *length += 1;
            }
            before = Some(minute);
        }
        let slot = |(start, length): (&u32, &u32)| Slot {
            start: ClockTime { minutes: *start },
            hours: f64::from(*length) / MINUTES_PER_HOUR,
            price_per_kwh: prices.map(|prices| prices.at(*start)),
        };
        Self {
            slots: starts.iter().zip(&lengths).map(slot).collect(),
            starts,
        }
    }

    /// Lists the slots of a window in its own order: from its start on, past midnight where it passes midnight.
    pub(crate) fn within(&self, window: Window) -> Vec<usize> {
        let of = (0..self.starts.len()).filter(|slot| window.holds(self.starts[*slot]));
        let passes = window.from.minutes >= window.to.minutes;
        let (late, early): (Vec<usize>, Vec<usize>) =
            of.partition(|slot| !passes || self.starts[*slot] >= window.from.minutes);
        [late, early].concat()
    }

    /// Composes the rule of a task.
    pub(crate) fn task(&self, task: &Task) -> Rule {
        let window = task.between.map(|[from, to]| Window { from, to });
        Rule::Task(TaskRule {
            name: task.name.clone(),
            min_flow_m3s: task.min_flow.si,
            hours: task.hours,
            slots: window.map_or_else(
                || (0..self.starts.len()).collect(),
                |window| self.within(window),
            ),
            lineup: lineup(&task.closed),
            hours_lie: if task.in_one_go {
                HoursLie::InOneStretch
            } else {
                HoursLie::Anywhere
            },
        })
    }
}

/// Names a line-up by the lines that are shut; `None` for none.
pub(crate) fn lineup(closed: &[String]) -> Option<String> {
    let mut closed = closed.to_vec();
    closed.sort_unstable();
    (!closed.is_empty()).then(|| format!("shut: {}", closed.join(", ")))
}

fn windows(operation: &Operation) -> impl Iterator<Item = Window> + '_ {
    let quiet = operation.quiet.iter().map(|quiet| Window {
        from: quiet.from,
        to: quiet.to,
    });
    let tasks = operation.tasks.iter().filter_map(|task| task.between);
    quiet.chain(tasks.map(|[from, to]| Window { from, to }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use records::{Source, read_site};

    fn operation() -> Operation {
        let text = "format = 1\nname = \"pad\"\n[pump]\nspeed = { max = \"3450 rpm\" }\n[operation]\n\
            tariff = [ { from = \"06:20\", to = \"21:00\", price = \"0.3 EUR/kWh\" }, \
            { from = \"21:00\", to = \"06:20\", price = \"0.2 EUR/kWh\" } ]\n\
            quiet = [ { from = \"22:00\", to = \"07:00\", max_speed = \"1800 rpm\" } ]\n";
        let source = Source {
            name: "site.toml".to_owned(),
            text: text.to_owned(),
        };
        read_site(&source).unwrap().operation
    }

    fn cut(clock: Clock) -> DaySlots {
        let operation = operation();
        let prices = DayPrices::of(&operation, &crate::TariffDay::usual(&operation));
        DaySlots::cut(&operation, prices.as_ref(), clock, 60)
    }

    fn hours(day: &DaySlots) -> f64 {
        day.slots.iter().map(|slot| slot.hours).sum()
    }

    #[test]
    fn a_day_is_cut_where_prices_change() {
        let day = cut(Clock::Even);
        assert_eq!(day.slots.len(), 25);
        let starts: Vec<String> = day
            .slots
            .iter()
            .map(|slot| slot.start.to_string())
            .collect();
        assert_eq!(&starts[5..9], ["05:00", "06:00", "06:20", "07:00"]);
        assert!((hours(&day) - 24.0).abs() < 1e-12);
        let quiet = Window {
            from: ClockTime { minutes: 1320 },
            to: ClockTime { minutes: 420 },
        };
        assert_eq!(day.within(quiet), [23, 24, 0, 1, 2, 3, 4, 5, 6, 7]);
    }

    #[test]
    fn days_on_which_the_clock_is_set_have_their_hours() {
        let at = ClockTime { minutes: 120 };
        let forward = cut(Clock::Forward { at, minutes: 60 });
        assert!((hours(&forward) - 23.0).abs() < 1e-12);
        let at = ClockTime { minutes: 180 };
        let back = cut(Clock::Back { at, minutes: 60 });
        assert!((hours(&back) - 25.0).abs() < 1e-12);
        let twice = back.slots.iter().filter(|slot| slot.start.minutes == 120);
        assert_eq!(twice.count(), 2);
    }
}
