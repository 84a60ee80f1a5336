//! Stretches of a day by the clock on the wall, which may pass midnight, and days on which the clock is set.

use records::{ClockTime, ProgramBlock};

/// Minutes of a day.
pub(crate) const DAY_MINUTES: u32 = 1440;

/// A stretch of the day; its end is exclusive, and where it is not after the start, the stretch passes midnight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Window {
    pub(crate) from: ClockTime,
    pub(crate) to: ClockTime,
}

impl Window {
    /// The stretch of a block of a program.
    pub(crate) fn of(block: &ProgramBlock) -> Self {
        Self {
            from: block.from,
            to: block.to,
        }
    }

    /// Whether the stretch holds a minute.
    pub(crate) fn holds(self, minute: u32) -> bool {
        let (from, to) = (self.from.minutes, self.to.minutes);
        if from < to {
            (from..to).contains(&minute)
        } else {
            minute >= from || minute < to
        }
    }

    /// Returns its ends as minutes of the day, midnight being 0.
    pub(crate) fn ends(self) -> [u32; 2] {
        [
            self.from.minutes % DAY_MINUTES,
            self.to.minutes % DAY_MINUTES,
        ]
    }
}

/// How the clock on the wall goes in a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Clock {
    /// It goes round once: 24 hours.
    Even,
    /// It is put forward: the stretch from a time on is skipped.
    Forward {
        /// The first minute that is skipped.
        at: ClockTime,
        /// How many minutes.
        minutes: u32,
    },
    /// It is put back: the stretch before a time comes twice.
    Back {
        /// The time at which it is put back.
        at: ClockTime,
        /// By how many minutes.
        minutes: u32,
    },
}

impl Clock {
    /// Lists the minutes of a day as the clock shows them, in order.
    pub(crate) fn minutes(self) -> Vec<u32> {
        match self {
            Self::Even => (0..DAY_MINUTES).collect(),
            Self::Forward { at, minutes } => {
                let skipped = at.minutes..at.minutes.saturating_add(minutes);
                (0..DAY_MINUTES)
                    .filter(|minute| !skipped.contains(minute))
                    .collect()
            }
            Self::Back { at, minutes } => {
                let end = at.minutes.min(DAY_MINUTES);
                let again = end.saturating_sub(minutes)..end;
                (0..end).chain(again).chain(end..DAY_MINUTES).collect()
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_of_23_and_25_hours_have_their_minutes() {
        let at = ClockTime { minutes: 120 };
        let forward = Clock::Forward { at, minutes: 60 }.minutes();
        assert_eq!(forward.len(), 23 * 60);
        assert!(forward.contains(&119) && !forward.contains(&120) && forward.contains(&180));
        let at = ClockTime { minutes: 180 };
        let back = Clock::Back { at, minutes: 60 }.minutes();
        assert_eq!(back.len(), 25 * 60);
        assert_eq!(back.iter().filter(|minute| **minute == 130).count(), 2);
    }
}
