//! Days of the year, as typed: `1 Jun` for every year, `2026-11-26` for one.

use crate::told::shows_what_it_tells;
use crate::{CalendarDay, Told, told};
use serde::ser::{Serialize, Serializer};
use std::fmt;

/// The months, by the names that are written, and their days.
const MONTHS: [(&str, &str, u8); 12] = [
    ("Jan", "January", 31),
    ("Feb", "February", 29),
    ("Mar", "March", 31),
    ("Apr", "April", 30),
    ("May", "May", 31),
    ("Jun", "June", 30),
    ("Jul", "July", 31),
    ("Aug", "August", 31),
    ("Sep", "September", 30),
    ("Oct", "October", 31),
    ("Nov", "November", 30),
    ("Dec", "December", 31),
];

/// The text is no day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CalendarDayError;

impl CalendarDayError {
    /// Says what is accepted.
    pub fn told(self) -> Told {
        told!("expected a day of the year, such as 1 Jun, or a date, such as 2026-11-26")
    }
}

shows_what_it_tells!(CalendarDayError);

impl CalendarDay {
    /// Reads `1 Jun`, `Jun 1`, `1 June` or `2026-06-01`.
    pub fn parse(text: &str) -> Result<Self, CalendarDayError> {
        let text = text.trim();
        of_every_year(text)
            .or_else(|| of_one_year(text))
            .filter(CalendarDay::exists)
            .ok_or(CalendarDayError)
    }

    /// Whether the calendar has such a day.
    pub fn exists(&self) -> bool {
        let Some((_, _, days)) = MONTHS.get(usize::from(self.month).wrapping_sub(1)) else {
            return false;
        };
        let is_short = self.month == 2 && self.year.is_some_and(|year| !is_leap(year));
        (1..=days - u8::from(is_short)).contains(&self.day)
    }
}

fn is_leap(year: u16) -> bool {
    year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400))
}

fn of_every_year(text: &str) -> Option<CalendarDay> {
    let (first, second) = text.split_once(char::is_whitespace)?;
    let (day, month) = match digits(first, 2) {
        Some(day) => (day, second),
        None => (digits(second.trim(), 2)?, first),
    };
    let month = month.trim().trim_end_matches('.');
    let named = |(short, long, _): &(&str, &str, u8)| {
        month.eq_ignore_ascii_case(short) || month.eq_ignore_ascii_case(long)
    };
    let month = u8::try_from(MONTHS.iter().position(named)? + 1).ok()?;
    Some(CalendarDay {
        year: None,
        month,
        day: u8::try_from(day).ok()?,
    })
}

fn of_one_year(text: &str) -> Option<CalendarDay> {
    let mut parts = text.splitn(3, '-');
    let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
    (year.len() == 4).then_some(())?;
    Some(CalendarDay {
        year: digits(year, 4),
        month: u8::try_from(digits(month, 2)?).ok()?,
        day: u8::try_from(digits(day, 2)?).ok()?,
    })
    .filter(|day| day.year.is_some())
}

fn digits(text: &str, most: usize) -> Option<u16> {
    let all = text.bytes().all(|byte| byte.is_ascii_digit());
    (all && (1..=most).contains(&text.len())).then(|| text.parse().ok())?
}

impl fmt::Display for CalendarDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(year) = self.year {
            return write!(f, "{year:04}-{:02}-{:02}", self.month, self.day);
        }
        let month = MONTHS.get(usize::from(self.month).wrapping_sub(1));
        write!(f, "{} {}", self.day, month.map_or("?", |month| month.0))
    }
}

impl Serialize for CalendarDay {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_read_and_written() {
        for (text, written) in [
            ("1 Jun", "1 Jun"),
            ("Jun 1", "1 Jun"),
            ("31 december", "31 Dec"),
            ("29 Feb", "29 Feb"),
            ("Oct. 5", "5 Oct"),
            ("2026-11-26", "2026-11-26"),
            ("2024-02-29", "2024-02-29"),
        ] {
            let day = CalendarDay::parse(text).map(|day| day.to_string());
            assert_eq!(day.as_deref(), Ok(written), "{text}");
        }
    }

    #[test]
    fn what_is_no_day_is_refused() {
        for text in [
            "",
            "1",
            "Jun",
            "31 Jun",
            "0 May",
            "1 Juno",
            "06-01",
            "26-06-01",
            "2026-13-01",
            "2025-02-29",
            "2026-6",
            "+1 Jun",
            "1/6",
        ] {
            assert_eq!(CalendarDay::parse(text), Err(CalendarDayError), "{text}");
        }
    }
}
