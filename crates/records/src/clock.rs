//! Times of the day and turnovers a day, as typed.

use crate::told::shows_what_it_tells;
use crate::unit::Dimension;
use crate::{ClockTime, Quantity, Turnover};
use crate::{Told, told};
use serde::ser::{Serialize, Serializer};
use std::fmt;

/// Minutes of a whole day.
pub(crate) const DAY_MINUTES: u32 = 1440;
/// Seconds of a whole day.
const DAY_S: f64 = 86_400.0;

/// The text is no time of the day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ClockTimeError;

impl ClockTimeError {
    /// Says what is accepted.
    pub fn told(self) -> Told {
        told!("expected a time of the day from 00:00 to 24:00, such as 08:00")
    }
}

/// The text is no turnover.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TurnoverError;

impl TurnoverError {
    /// Says what is accepted.
    pub fn told(self) -> Told {
        told!("expected turnovers a day above 0, such as 1 per day, or hours for one, such as 8 h")
    }
}

shows_what_it_tells!(ClockTimeError, TurnoverError);

impl ClockTime {
    /// Reads `08:00`, from `00:00` to `24:00`.
    pub fn parse(text: &str) -> Result<Self, ClockTimeError> {
        let (hours, minutes) = text.trim().split_once(':').ok_or(ClockTimeError)?;
        let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
        if !(1..=2).contains(&hours.len())
            || minutes.len() != 2
            || !digits(hours)
            || !digits(minutes)
        {
            return Err(ClockTimeError);
        }
        let hours: u32 = hours.parse().map_err(|_| ClockTimeError)?;
        let minutes: u32 = minutes.parse().map_err(|_| ClockTimeError)?;
        let total = hours * 60 + minutes;
        if minutes < 60 && total <= DAY_MINUTES {
            Ok(Self { minutes: total })
        } else {
            Err(ClockTimeError)
        }
    }
}

impl fmt::Display for ClockTime {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}:{:02}", self.minutes / 60, self.minutes % 60)
    }
}

impl Serialize for ClockTime {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl Turnover {
    /// Reads `2 per day`, `2/day`, or the hours that one takes: `8 h` is three a day.
    pub fn parse(text: &str) -> Result<Self, TurnoverError> {
        let per_day = per_day(text.trim()).ok_or(TurnoverError)?;
        if !per_day.is_finite() || per_day <= 0.0 {
            return Err(TurnoverError);
        }
        Ok(Self {
            text: text.to_owned(),
            per_day,
        })
    }
}

fn per_day(text: &str) -> Option<f64> {
    if let Ok(duration) = Quantity::parse(text, Dimension::Time) {
        return Some(DAY_S / duration.si);
    }
    let number = text.strip_suffix("day")?.trim_end();
    let number = number
        .strip_suffix("per")
        .or_else(|| number.strip_suffix('/'))?;
    Quantity::parse(&format!("{number} h"), Dimension::Time)
        .ok()
        .map(|hours| hours.si / 3600.0)
}

impl Serialize for Turnover {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_of_the_day() {
        for (text, minutes) in [
            ("00:00", 0),
            ("8:05", 485),
            ("08:00", 480),
            ("23:59", 1439),
            ("24:00", 1440),
        ] {
            assert_eq!(ClockTime::parse(text), Ok(ClockTime { minutes }), "{text}");
        }
        for text in [
            "", "8", "25:00", "24:01", "08:60", "08:5", "-1:00", "08:00:00", "+8:00", "8 pm",
            "٨:٠٠",
        ] {
            assert_eq!(ClockTime::parse(text), Err(ClockTimeError), "{text}");
        }
        assert_eq!(ClockTime { minutes: 485 }.to_string(), "08:05");
    }

    #[test]
    fn turnovers() {
        for (text, per_day) in [
            ("1 per day", 1.0),
            ("2 per day", 2.0),
            ("1.5/day", 1.5),
            ("8 h", 3.0),
            ("90 min", 16.0),
        ] {
            let turnover = Turnover::parse(text).unwrap();
            assert!(
                (turnover.per_day - per_day).abs() < 1e-12,
                "{text}: a few roundings"
            );
        }
        for text in [
            "",
            "1",
            "0 per day",
            "-1 per day",
            "0 h",
            "1 per week",
            "daily",
            "1,5 per day",
        ] {
            assert_eq!(Turnover::parse(text), Err(TurnoverError), "{text}");
        }
    }
}
