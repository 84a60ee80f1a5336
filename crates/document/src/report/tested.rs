//! What was tested, in a sentence or two.

use super::{Subject, date_words, heading, listed};
use crate::content::Block;
use crate::number;
use fieldtest::TestResult;
use records::{CalendarDay, Measured, Test};

/// Composes what was tested.
pub(super) fn tested(subject: &Subject<'_>) -> Vec<Block> {
    let Some((test, result)) = subject.last() else {
        return Vec::new();
    };
    let mut text = run(subject, test, result);
    if let Some(left_out) = left_out(result) {
        text = format!("{text} {left_out}");
    }
    vec![heading("What was tested"), Block::Paragraph(text)]
}

/// Returns the day of a test, where it is stated.
pub(super) fn day_of(test: &Test) -> Option<CalendarDay> {
    let date = test.head.date?.date?;
    Some(CalendarDay {
        year: Some(date.year),
        month: date.month,
        day: date.day,
    })
}

/// Names a test by its day, or by its name where the day is not stated.
pub(super) fn called(test: &Test) -> String {
    day_of(test).map_or_else(|| format!("test {}", test.name), date_words)
}

fn run(subject: &Subject<'_>, test: &Test, result: &TestResult) -> String {
    let pump = subject.site.pump.name.as_deref().unwrap_or("the pump");
    let day = day_of(test).map(date_words);
    let read = listed(&quantities(test));
    let speeds = match result.steps.as_slice() {
        [] => return format!("No reading of {pump} could be used."),
        [only] => format!("one speed, {} rpm", number::rpm(only.speed_rpm)),
        [first, .., last] => format!(
            "{} speeds from {} to {} rpm",
            result.steps.len(),
            number::rpm(first.speed_rpm),
            number::rpm(last.speed_rpm)
        ),
    };
    match day {
        Some(day) => format!("On {day} {pump} was run at {speeds}; read at each: {read}."),
        None => format!(
            "In test {} {pump} was run at {speeds}; read at each: {read}.",
            test.name
        ),
    }
}

/// Lists what was read, each once.
fn quantities(test: &Test) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for column in &test.readings.columns {
        let word = match column.measured {
            Measured::Flow => "flow",
            Measured::Power => "electrical power",
            Measured::Current => "current",
            Measured::Voltage => "voltage",
            Measured::FilterPressure => "filter pressure",
            Measured::InletVacuum | Measured::InletPressure => "suction at the pump",
            Measured::Head => "head",
            Measured::Speed | Measured::Time => continue,
        };
        if !words.iter().any(|known| known == word) {
            words.push(word.to_owned());
        }
    }
    words
}

/// Says how many readings are left out.
fn left_out(result: &TestResult) -> Option<String> {
    let all = result.readings.len();
    let out = result
        .readings
        .iter()
        .filter(|reading| !reading.used)
        .count();
    match out {
        0 if result.steps.len() > 2 => Some(format!("All {all} readings fit together.")),
        0 => None,
        1 => Some(format!(
            "1 of {all} readings is left out of the results; the second part says why."
        )),
        out => Some(format!(
            "{out} of {all} readings are left out of the results; the second part says why."
        )),
    }
}
