//! Which day it is, as a tariff tells days apart.

use records::{CalendarDay, DayKind, Operation, Season};

/// A date.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    /// The year.
    pub year: u16,
    /// The month, 1 to 12.
    pub month: u8,
    /// The day of the month, from 1.
    pub day: u8,
}

/// A day of a tariff: its season, where there are seasons, and its kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TariffDay {
    /// The name of the season.
    pub season: Option<String>,
    /// The kind of day.
    pub kind: DayKind,
}

/// Saturday, Monday being 0.
const SATURDAY: u32 = 5;
/// Days of each month, and what February has in a leap year.
const DAYS: [u8; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const LEAP_FEBRUARY: u8 = 29;

impl Date {
    /// Returns the day of the week, Monday being 0.
    ///
    /// # Source
    /// C. Zeller, "Kalender-Formeln", Acta Mathematica 9 (1887) 131-136, as a running count of days; from memory.
    pub fn weekday(self) -> u32 {
        /// For each month, the weekday of its first day less that of January, in a common year, from March on less one.
        const MONTHS: [u32; 12] = [0, 3, 2, 5, 0, 3, 5, 1, 4, 6, 2, 4];
        let year = u32::from(self.year) - u32::from(self.month < 3).min(u32::from(self.year));
        let leaps = year / 4 - year / 100 + year / 400;
        let month = usize::from(self.month.clamp(1, 12)) - 1;
        // The sum counts from Sunday.
        (year + leaps + MONTHS[month] + u32::from(self.day) + 6) % 7
    }

    /// Lists the days of a year.
    pub fn days_of(year: u16) -> impl Iterator<Item = Self> {
        let is_leap =
            year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
        (1..=12_u8).flat_map(move |month| {
            let usual = DAYS[usize::from(month) - 1];
            let days = if month == 2 && is_leap {
                LEAP_FEBRUARY
            } else {
                usual
            };
            (1..=days).map(move |day| Self { year, month, day })
        })
    }

    fn is(self, day: CalendarDay) -> bool {
        let same_year = day.year.is_none_or(|year| year == self.year);
        same_year && (day.month, day.day) == (self.month, self.day)
    }

    /// Whether a season holds the date; its last day belongs to it, and it may pass New Year.
    fn is_in(self, season: &Season) -> bool {
        let own = (self.month, self.day);
        let first = (season.first_day.month, season.first_day.day);
        let last = (season.last_day.month, season.last_day.day);
        if first <= last {
            first <= own && own <= last
        } else {
            first <= own || own <= last
        }
    }

    /// Returns the day of the tariff.
    pub fn of_tariff(self, operation: &Operation) -> TariffDay {
        let names_holidays = operation
            .tariff
            .iter()
            .any(|block| block.days.contains(&DayKind::Holidays));
        let is_holiday = operation.holidays.iter().any(|day| self.is(*day));
        let kind = if names_holidays && is_holiday {
            DayKind::Holidays
        } else if self.weekday() >= SATURDAY {
            DayKind::Weekends
        } else {
            DayKind::Weekdays
        };
        let season = operation.seasons.iter().find(|season| self.is_in(season));
        TariffDay {
            season: season.map(|season| season.name.clone()),
            kind,
        }
    }
}

impl Date {
    /// Whether the calendar has such a day.
    pub fn is_real(self) -> bool {
        Self::days_of(self.year).any(|date| date == self)
    }
}

impl TariffDay {
    /// Returns the day that is planned for where no date is known: a weekday of the first season.
    pub fn usual(operation: &Operation) -> Self {
        Self {
            season: operation.seasons.first().map(|season| season.name.clone()),
            kind: DayKind::Weekdays,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(year: u16, month: u8, day: u8) -> Date {
        Date { year, month, day }
    }

    /// Printed calendars, from memory: 1 January 2000 was a Saturday, 4 July 1776 a Thursday, 29 February 2024 a Thursday.
    #[test]
    fn weekdays_are_those_of_the_calendar() {
        for (date, weekday) in [
            (date(2000, 1, 1), 5),
            (date(1776, 7, 4), 3),
            (date(2024, 2, 29), 3),
            (date(2024, 3, 1), 4),
            (date(2026, 5, 16), 5),
        ] {
            assert_eq!(date.weekday(), weekday, "{date:?}");
        }
    }

    #[test]
    fn weekdays_follow_one_another_through_a_leap_year() {
        let days: Vec<Date> = Date::days_of(2024).chain(Date::days_of(2025)).collect();
        assert_eq!(days.len(), 366 + 365);
        for pair in days.windows(2) {
            assert_eq!((pair[0].weekday() + 1) % 7, pair[1].weekday(), "{pair:?}");
        }
    }
}
