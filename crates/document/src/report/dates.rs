//! Days in words.

use crate::language::{later, said, say};
use crate::units::Printing;
use records::CalendarDay;

const MONTHS: [&str; 12] = [
    later!("January"),
    later!("February"),
    later!("March"),
    later!("April"),
    later!("May"),
    later!("June"),
    later!("July"),
    later!("August"),
    later!("September"),
    later!("October"),
    later!("November"),
    later!("December"),
];

/// Writes a day with the month as a word, which no reader takes for another.
pub fn date_words(day: CalendarDay, printing: Printing) -> String {
    let month = MONTHS
        .get(usize::from(day.month).wrapping_sub(1))
        .map_or("", |month| said(printing, month));
    match day.year {
        Some(year) => say!(printing, "{day} {month} {year}", day = day.day, month, year),
        None => say!(printing, "{day} {month}", day = day.day, month),
    }
}
