//! A day of the pump as a controller holds it, and what a day comes to minute by minute under any prices.

use crate::clock::{Clock, DAY_MINUTES, Window};
use crate::offer::{Offer, Running};
use crate::problem::Problem;
use records::{ClockTime, ProgramBlock};

/// One entry of a program.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Entry {
    /// When it starts.
    pub from: ClockTime,
    /// When it ends; earlier than the start where it passes midnight, and the same where it never ends.
    pub to: ClockTime,
    /// The number of the speed among those of the problem; `None` is off.
    pub speed: Option<usize>,
    /// For how long, h.
    pub hours: f64,
}

/// Joins slots that do the same, those on either side of midnight too.
pub(crate) fn entries(problem: &Problem, day: &[Option<usize>]) -> Vec<Entry> {
    let mut entries: Vec<Entry> = Vec::new();
    let starts = problem.slots.iter().map(|slot| slot.start);
    let next = starts.clone().skip(1).chain(starts.take(1));
    for ((slot, speed), to) in problem.slots.iter().zip(day).zip(next) {
        match entries.last_mut() {
            Some(last) if last.speed == *speed => {
                last.to = to;
                last.hours += slot.hours;
            }
            _ => entries.push(Entry {
                from: slot.start,
                to,
                speed: *speed,
                hours: slot.hours,
            }),
        }
    }
    if entries.len() > 1 && entries[0].speed == entries[entries.len() - 1].speed {
        let early = entries.remove(0);
        if let Some(late) = entries.last_mut() {
            late.to = early.to;
            late.hours += early.hours;
        }
    }
    entries
}

/// What a pump does in each minute of an even day: a speed, or off.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Minutes(Vec<Option<Running>>);

impl Minutes {
    /// The minutes of a program of blocks in the usual line-up; where two hold at once, the first one does.
    pub(crate) fn of_blocks(blocks: &[ProgramBlock]) -> Self {
        let at = |minute| {
            let holds = |block: &&ProgramBlock| {
                Window {
                    from: block.from,
                    to: block.to,
                }
                .holds(minute)
            };
            let block = blocks.iter().find(holds);
            block.map(|block| Running {
                lineup: 0,
                speed_rpm: block.speed.si,
            })
        };
        Self((0..DAY_MINUTES).map(at).collect())
    }

    /// The minutes of the entries of a program.
    pub(crate) fn of_entries(problem: &Problem, offer: &Offer, entries: &[Entry]) -> Self {
        let at = |minute| {
            let holds = |entry: &&Entry| {
                entry.from == entry.to
                    || Window {
                        from: entry.from,
                        to: entry.to,
                    }
                    .holds(minute)
            };
            let speed = entries.iter().find(holds).and_then(|entry| entry.speed);
            speed.map(|speed| offer.running(&problem.speeds[speed]))
        };
        Self((0..DAY_MINUTES).map(at).collect())
    }

    /// Lists the minutes at which the pump starts, the day being one of many alike.
    fn starts(&self) -> impl Iterator<Item = usize> + '_ {
        let day = &self.0;
        (0..day.len()).filter(|minute| {
            let before = day[(minute + day.len() - 1) % day.len()];
            day[*minute].is_some() && before.is_none()
        })
    }

    /// Adds up what each speed counts for under a weight per hour of each minute.
    pub(crate) fn weighed(&self, weight: impl Fn(u32) -> f64) -> Weighed {
        self.weighed_on(Clock::Even, weight)
    }

    /// The same on a day on which the clock may be set; starts are those of an even day.
    pub(crate) fn weighed_on(&self, clock: Clock, weight: impl Fn(u32) -> f64) -> Weighed {
        /// Minutes in an hour, exact.
        const MINUTES_PER_HOUR: f64 = 60.0;
        let mut weighed = Weighed::default();
        for minute in clock.minutes() {
            let hours = weight(minute) / MINUTES_PER_HOUR;
            match self.0[minute as usize] {
                None => weighed.off += hours,
                Some(speed) => weighed.add(speed, hours),
            }
        }
        weighed.starts = self
            .starts()
            .map(|minute| weight(u32::try_from(minute).unwrap_or(0)))
            .sum();
        weighed
    }
}

/// What a day counts for, speed by speed.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Weighed {
    /// Pairs of a speed and weighed hours.
    pub(crate) running: Vec<(Running, f64)>,
    /// Weighed hours off.
    pub(crate) off: f64,
    /// Weighed starts.
    pub(crate) starts: f64,
}

impl Weighed {
    /// Adds up slots: what each does, and its weighed hours. Starts are not counted.
    pub(crate) fn of_slots(slots: impl Iterator<Item = (Option<Running>, f64)>) -> Self {
        let mut weighed = Self::default();
        for (speed, hours) in slots {
            match speed {
                None => weighed.off += hours,
                Some(speed) => weighed.add(speed, hours),
            }
        }
        weighed
    }

    fn add(&mut self, speed: Running, hours: f64) {
        let same = |(known, _): &&mut (Running, f64)| *known == speed;
        match self.running.iter_mut().find(same) {
            Some((_, sum)) => *sum += hours,
            None => self.running.push((speed, hours)),
        }
    }
}
