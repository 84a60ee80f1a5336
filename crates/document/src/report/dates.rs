//! Days in words.

use records::CalendarDay;

/// Writes a day with the month as a word, which no reader takes for another.
pub fn date_words(day: CalendarDay) -> String {
    const MONTHS: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    let month = MONTHS
        .get(usize::from(day.month).wrapping_sub(1))
        .copied()
        .unwrap_or_default();
    match day.year {
        Some(year) => format!("{} {month} {year}", day.day),
        None => format!("{} {month}", day.day),
    }
}
