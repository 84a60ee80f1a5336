//! Words for readings to come: which would tell most of an answer, and how much it would leave.

use super::Words;
use super::calibration::not_calibrated;
use crate::number;
use crate::parts;
use crate::units::Printing;
use fieldtest::{Answer, Learning, NextReading, NotLearnt, ReadingToCome};
use records::unit::Dimension;
use records::{Site, Tap};

/// Names an answer.
pub fn answer(site: &Site, answer: &Answer) -> String {
    match answer {
        Answer::TotalHead => "the total head".to_owned(),
        Answer::Suction => "the suction share".to_owned(),
        Answer::Returns => "the return share".to_owned(),
        Answer::Lines(lines) => format!("the share of {}", lines.join(" and ")),
        Answer::Part { line, part } => {
            let stated = site.lines.iter().find(|stated| stated.name == *line);
            let part = part.and_then(|part| stated?.parts.get(part));
            let part = part.map_or_else(|| "part-open valve".to_owned(), parts::name);
            format!("the share of the {part} in {line}")
        }
        Answer::FixedDraw => "the fixed draw".to_owned(),
        Answer::CheapestSpeed => "the cheapest speed".to_owned(),
    }
}

/// Names a reading to come.
pub fn reading(reading: &ReadingToCome) -> String {
    match reading {
        ReadingToCome::Gauge(tap) => format!("{} read at each step", gauge(*tap)),
        ReadingToCome::LineUp { shut, steps_rpm } => {
            format!(
                "{shut} shut, and the meters read at {}",
                rpm_list(steps_rpm)
            )
        }
        ReadingToCome::Speed(speed) => format!("a step at {} rpm", number::rpm(*speed)),
        ReadingToCome::Again(speed) => format!("the step at {} rpm once more", number::rpm(*speed)),
        ReadingToCome::Standby => "a row with the pump at rest, gauges and draw".to_owned(),
    }
}

/// Names a gauge that is not there yet.
fn gauge(tap: Tap) -> &'static str {
    match tap {
        Tap::PumpPot => "a vacuum gauge at the pump inlet",
        Tap::SuctionPipe => "a vacuum gauge on the suction pipe",
        Tap::PumpOutlet => "a gauge at the pump outlet",
        Tap::FilterInlet => "a gauge at the filter inlet",
        Tap::FilterOutlet => "a gauge at the filter outlet",
        Tap::PadOutlet => "a gauge at the end of the equipment",
    }
}

/// Lists speeds.
pub(crate) fn rpm_list(speeds: &[f64]) -> String {
    let speeds: Vec<String> = speeds.iter().map(|speed| number::rpm(*speed)).collect();
    match speeds.as_slice() {
        [] => String::new(),
        [one] => format!("{one} rpm"),
        [start @ .., last] => format!("{} and {last} rpm", start.join(", ")),
    }
}

/// Says what a reading would do to the uncertainty of an answer.
pub fn says(site: &Site, learning: &Learning, next: &NextReading) -> String {
    let of = answer(site, &learning.answer);
    let does = match next.left {
        left if (0.45..=0.55).contains(&left) => "would halve".to_owned(),
        left => format!("would leave {} % of", number::significant(100.0 * left, 2)),
    };
    format!("{} {does} the uncertainty of {of}", reading(&next.reading))
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
        _ => format!("{} %", number::with_interval(estimate.scaled(100.0))),
    }
}

/// Says why nothing can be said of readings to come.
pub fn not_learnt(problem: &NotLearnt) -> Words {
    match problem {
        NotLearnt::NotCalibrated(problem) => not_calibrated(problem),
        NotLearnt::NoLaw => Words::new(
            "The readings give no law to answer from, so that nothing can be said of further ones.",
            "Read flow and power at three speeds or more.",
        ),
        NotLearnt::NotBracketed => Words::new(
            "The tested speeds do not bracket the cheapest one.",
            "Read a slower step first.",
        ),
        NotLearnt::NoSuchLine => Words::new(
            "The site has no such line or part, or nothing is known of what it takes.",
            "Name a line as the site file does, or \"LINE, part 3\".",
        ),
    }
}
