//! Words for readings to come: which would tell most of an answer, and how much it would leave.

use super::Words;
use super::calibration::not_calibrated;
use crate::language::say;
use crate::number;
use crate::parts;
use crate::units::Printing;
use fieldtest::{Answer, Learning, NextReading, NotLearnt, ReadingToCome};
use records::unit::Dimension;
use records::{Site, Tap};

/// Names an answer.
pub fn answer(site: &Site, answer: &Answer, printing: Printing) -> String {
    match answer {
        Answer::TotalHead => say!(printing, "the total head").to_owned(),
        Answer::Suction => say!(printing, "the suction share").to_owned(),
        Answer::Returns => say!(printing, "the return share").to_owned(),
        Answer::Lines(lines) => say!(
            printing,
            "the share of {lines}",
            lines = lines.join(say!(printing, " and "))
        ),
        Answer::Part { line, part } => {
            let stated = site.lines.iter().find(|stated| stated.name == *line);
            let part = part.and_then(|part| stated?.parts.get(part));
            let part = part.map_or_else(
                || say!(printing, "part-open valve").to_owned(),
                |part| parts::name(part, printing),
            );
            say!(printing, "the share of the {part} in {line}", part, line)
        }
        Answer::FixedDraw => say!(printing, "the fixed draw").to_owned(),
        Answer::CheapestSpeed => say!(printing, "the cheapest speed").to_owned(),
    }
}

/// Names a reading to come.
pub fn reading(reading: &ReadingToCome, printing: Printing) -> String {
    match reading {
        ReadingToCome::Gauge(tap) => say!(
            printing,
            "{tap} read at each step",
            tap = gauge(*tap, printing)
        ),
        ReadingToCome::LineUp { shut, steps_rpm } => {
            say!(
                printing,
                "{shut} shut, and the meters read at {speeds}",
                shut,
                speeds = rpm_list(steps_rpm, printing)
            )
        }
        ReadingToCome::Speed(speed) => say!(
            printing,
            "a step at {speed} rpm",
            speed = number::rpm(printing, *speed)
        ),
        ReadingToCome::Again(speed) => say!(
            printing,
            "the step at {speed} rpm once more",
            speed = number::rpm(printing, *speed)
        ),
        ReadingToCome::Standby => {
            say!(printing, "a row with the pump at rest, gauges and draw").to_owned()
        }
    }
}

/// Names a gauge that is not there yet.
fn gauge(tap: Tap, printing: Printing) -> &'static str {
    match tap {
        Tap::PumpPot => say!(printing, "a vacuum gauge at the pump inlet"),
        Tap::SuctionPipe => say!(printing, "a vacuum gauge on the suction pipe"),
        Tap::PumpOutlet => say!(printing, "a gauge at the pump outlet"),
        Tap::FilterInlet => say!(printing, "a gauge at the filter inlet"),
        Tap::FilterOutlet => say!(printing, "a gauge at the filter outlet"),
        Tap::PadOutlet => say!(printing, "a gauge at the end of the equipment"),
    }
}

/// Lists speeds.
pub(crate) fn rpm_list(speeds: &[f64], printing: Printing) -> String {
    let speeds: Vec<String> = speeds
        .iter()
        .map(|speed| number::rpm(printing, *speed))
        .collect();
    match speeds.as_slice() {
        [] => String::new(),
        [one] => say!(printing, "{speed} rpm", speed = one),
        [start @ .., last] => say!(
            printing,
            "{start} and {last} rpm",
            start = start.join(", "),
            last
        ),
    }
}

/// Says what a reading would do to the uncertainty of an answer.
pub fn says(site: &Site, learning: &Learning, next: &NextReading, printing: Printing) -> String {
    let of = answer(site, &learning.answer, printing);
    let reading = reading(&next.reading, printing);
    match next.left {
        left if (0.45..=0.55).contains(&left) => say!(
            printing,
            "{reading} would halve the uncertainty of {of}",
            reading,
            of
        ),
        left => say!(
            printing,
            "{reading} would leave {percent} % of the uncertainty of {of}",
            reading,
            percent = number::significant(printing, 100.0 * left, 2),
            of
        ),
    }
}

/// Says what is known of an answer now.
pub fn now(learning: &Learning, printing: Printing) -> String {
    estimate(&learning.answer, learning.now, printing)
}

/// Writes an estimate of an answer in its unit.
pub(crate) fn estimate(
    answer: &Answer,
    estimate: metrology::Estimate,
    printing: Printing,
) -> String {
    match answer {
        Answer::TotalHead => printing.with_interval(estimate, Dimension::Length),
        Answer::FixedDraw => printing.with_interval(estimate, Dimension::Power),
        Answer::CheapestSpeed => printing.with_interval(estimate, Dimension::Speed),
        _ => format!(
            "{} %",
            number::with_interval(printing, estimate.scaled(100.0))
        ),
    }
}

/// Says why nothing can be said of readings to come.
pub fn not_learnt(problem: &NotLearnt, printing: Printing) -> Words {
    match problem {
        NotLearnt::NotCalibrated(problem) => not_calibrated(problem, printing),
        NotLearnt::NoLaw => Words::new(
            say!(
                printing,
                "The readings give no law to answer from, so that nothing can be said of further ones."
            ),
            say!(printing, "Read flow and power at three speeds or more."),
        ),
        NotLearnt::NotBracketed => Words::new(
            say!(
                printing,
                "The tested speeds do not bracket the cheapest one."
            ),
            say!(printing, "Read a slower step first."),
        ),
        NotLearnt::NoSuchLine => Words::new(
            say!(
                printing,
                "The site has no such line or part, or nothing is known of what it takes."
            ),
            say!(
                printing,
                "Name a line as the site file does, or \"LINE, part 3\"."
            ),
        ),
    }
}
