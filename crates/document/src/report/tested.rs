//! What was tested, in a sentence or two.

use super::{Subject, date_words, heading};
use crate::content::Block;
use crate::language::say;
use crate::number;
use crate::units::Printing;
use crate::words::listed;
use fieldtest::TestResult;
use records::{CalendarDay, Measured, Test};

/// Composes what was tested.
pub(super) fn tested(subject: &Subject<'_>) -> Vec<Block> {
    let Some((test, result)) = subject.last() else {
        return Vec::new();
    };
    let mut text = run(subject, test, result);
    if let Some(left_out) = left_out(result, subject.printing) {
        text = format!("{text} {left_out}");
    }
    vec![
        heading(say!(subject.printing, "What was tested")),
        Block::Paragraph(text),
    ]
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
pub(super) fn called(test: &Test, printing: Printing) -> String {
    day_of(test).map_or_else(
        || say!(printing, "test {test}", test = test.name),
        |day| date_words(day, printing),
    )
}

fn run(subject: &Subject<'_>, test: &Test, result: &TestResult) -> String {
    let pump = subject
        .site
        .pump
        .name
        .as_deref()
        .unwrap_or(say!(subject.printing, "the pump"));
    let day = day_of(test).map(|day| date_words(day, subject.printing));
    let read = listed(&quantities(test, subject.printing), subject.printing);
    let speeds = match result.steps.as_slice() {
        [] => {
            return say!(
                subject.printing,
                "No reading of {pump} could be used.",
                pump
            );
        }
        [only] => say!(
            subject.printing,
            "one speed, {speed} rpm",
            speed = number::rpm(subject.printing, only.speed_rpm)
        ),
        [first, .., last] => say!(
            subject.printing,
            "{count} speeds from {first} to {last} rpm",
            count = result.steps.len(),
            first = number::rpm(subject.printing, first.speed_rpm),
            last = number::rpm(subject.printing, last.speed_rpm)
        ),
    };
    match day {
        Some(day) => say!(
            subject.printing,
            "On {day} {pump} was run at {speeds}; read at each: {read}.",
            day,
            pump,
            speeds,
            read
        ),
        None => say!(
            subject.printing,
            "In test {test} {pump} was run at {speeds}; read at each: {read}.",
            test = test.name,
            pump,
            speeds,
            read
        ),
    }
}

/// Lists what was read, each once.
fn quantities(test: &Test, printing: Printing) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for column in &test.readings.columns {
        let word = match column.measured {
            Measured::Flow => say!(printing, "flow"),
            Measured::Power => say!(printing, "electrical power"),
            Measured::Current => say!(printing, "current"),
            Measured::Voltage => say!(printing, "voltage"),
            Measured::FilterPressure => say!(printing, "filter pressure"),
            Measured::InletVacuum | Measured::InletPressure => {
                say!(printing, "suction at the pump")
            }
            Measured::Head => say!(printing, "head"),
            Measured::Speed | Measured::Time => continue,
        };
        if !words.iter().any(|known| known == word) {
            words.push(word.to_owned());
        }
    }
    words
}

/// Says how many readings are left out.
fn left_out(result: &TestResult, printing: Printing) -> Option<String> {
    let all = result.readings.len();
    let out = result
        .readings
        .iter()
        .filter(|reading| !reading.used)
        .count();
    match out {
        0 if result.steps.len() > 2 => Some(say!(
            printing,
            "All {count} readings fit together.",
            count = all
        )),
        0 => None,
        1 => Some(say!(
            printing,
            "1 of {all} readings is left out of the results; the second part says why.",
            all
        )),
        out => Some(say!(
            printing,
            "{out} of {all} readings are left out of the results; the second part says why.",
            out,
            all
        )),
    }
}
