//! Words for what the calibrated circuit has to say: which part was not told, which does not fit, which reading would tell.

use super::Words;
use crate::number;
use crate::parts;
use crate::solved;
use crate::units::Printing;
use fieldtest::{HeadBy, HeadFit, Matter, NotCalibrated, ParameterOf, Place, ReadOn};
use records::unit::Dimension;
use records::{Part, Tap};

/// Puts a finding about the calibrated circuit into English.
pub(super) fn words(matter: &Matter, place: &Place, printing: Printing) -> Words {
    match matter {
        Matter::NotCalibrated(problem) => not_calibrated(problem),
        Matter::NoGauge => Words::new(
            "No gauge was read: where the head is lost rests on the stated plumbing alone.",
            "A vacuum gauge at the pump inlet would tell what the suction takes, and one at the filter inlet what stands behind it; read both at each step.",
        ),
        Matter::NoInletGauge => Words::new(
            "No gauge was read before the pump: what the suction takes rests on its stated plumbing.",
            "A vacuum gauge at the pump inlet would tell what the suction takes; read it at each step.",
        ),
        Matter::HeadsMisfit { scatter, worst } => misfit(*scatter, worst, printing),
        Matter::UnlikeStated { parts } => {
            let parts: Vec<String> = parts
                .iter()
                .map(|(of, factor)| format!("{} {}", name(of), number::with_interval(*factor)))
                .collect();
            Words::new(
                format!(
                    "By the readings these are as many times what is stated: {}.",
                    parts.join("; ")
                ),
                "Look there for what the site file does not know: a valve part-open, a clogged basket, dirt, another size of pipe; correct the site file where it is wrong.",
            )
        }
        Matter::PartsNotTold { unknown, together } => not_told(unknown, together),
        Matter::UnstatedDrops { assumed, left_out } => unstated(assumed, left_out),
        Matter::HeadsDisagree { heads: [a, b] } => {
            let head = |(by, head): &(HeadBy, metrology::Estimate)| {
                let head = printing.with_interval(*head, Dimension::Length);
                format!("{} {head}", by_words(*by))
            };
            Words::new(
                format!(
                    "At {} rpm two ways to the head of the pump disagree: {}; {}.",
                    number::rpm(place.steps_rpm.first().copied().unwrap_or_default()),
                    head(a),
                    head(b)
                ),
                "Check the gauges' zero and heights, the curve in the site file against the pump's plate, and whether every valve stands as stated.",
            )
        }
        other => super::unsaid(other),
    }
}

fn by_words(by: HeadBy) -> &'static str {
    match by {
        HeadBy::Gauges => "the gauges say",
        HeadBy::Curve => "the maker's curve says",
        HeadBy::Plumbing => "the plumbing as stated asks for",
    }
}

pub(super) fn not_calibrated(problem: &NotCalibrated) -> Words {
    let say = |why: &str, action: String| {
        Words::new(
            format!("Where the head is lost is not known: {why}."),
            action,
        )
    };
    match problem {
        NotCalibrated::Network(problem) => {
            let (why, hint) = solved::problem(problem);
            say(
                &why,
                hint.map_or_else(
                    || "Correct it in the site file.".to_owned(),
                    |hint| format!("In the site file, {hint}."),
                ),
            )
        }
        NotCalibrated::NoFlow => say(
            "no step has a flow that counts",
            "Read the flow at each step.".to_owned(),
        ),
        NotCalibrated::NoFlowAtSpeed { speed_rpm } => say(
            &format!(
                "the last test says nothing of the flow at {} rpm",
                number::rpm(*speed_rpm)
            ),
            "Ask for a speed near its steps, or read more speeds.".to_owned(),
        ),
        NotCalibrated::Unsettled(error) => say(
            &error.to_string(),
            "Look for a gauge typed in the wrong unit or at the wrong tap.".to_owned(),
        ),
    }
}

fn misfit(scatter: f64, worst: &HeadFit, printing: Printing) -> Words {
    Words::new(
        format!(
            "The heads that were read and the plumbing fit {} times less well than the meters' accuracies allow; furthest off is {} at {} rpm, by {}.",
            number::significant(scatter, 2),
            on_words(&worst.on),
            number::rpm(worst.speed_rpm),
            match worst.on {
                ReadOn::Branch(_) =>
                    format!("{} %", number::significant(100.0 * worst.residual, 2)),
                _ => printing.plain(worst.residual, Dimension::Length),
            }
        ),
        "Check the zero, the height and the tap of that gauge, and whether a valve was moved during the test.",
    )
}

/// Names what the calibrated circuit is held against.
pub(crate) fn on_words(on: &ReadOn) -> String {
    match on {
        ReadOn::Gauge(tap) => tap_words(*tap).to_owned(),
        ReadOn::Branch(line) => format!("the flow meter on {line}"),
        ReadOn::Curve => "the maker's curve".to_owned(),
    }
}

/// Names a gauge by its tap.
pub(crate) fn tap_words(tap: Tap) -> &'static str {
    match tap {
        Tap::PumpPot => "the gauge on the pump pot",
        Tap::SuctionPipe => "the gauge on the suction pipe",
        Tap::PumpOutlet => "the gauge at the pump outlet",
        Tap::FilterInlet => "the gauge at the filter inlet",
        Tap::FilterOutlet => "the gauge at the filter outlet",
        Tap::PadOutlet => "the gauge at the end of the equipment",
    }
}

fn not_told(unknown: &[ParameterOf], together: &[(ParameterOf, ParameterOf)]) -> Words {
    let mut says = Vec::new();
    if !unknown.is_empty() {
        says.push(format!(
            "The readings tell little more than what is stated of: {}.",
            names(unknown)
        ));
    }
    if !together.is_empty() {
        let pairs: Vec<String> = together
            .iter()
            .map(|(a, b)| format!("{} with {}", name(a), name(b)))
            .collect();
        says.push(format!("They tell together only: {}.", pairs.join("; ")));
    }
    Words::new(
        says.join(" "),
        "A gauge on the other side of such a part, or a step with another line shut, would tell them apart.",
    )
}

fn unstated(assumed: &[(String, Part)], left_out: &[(String, Part)]) -> Words {
    let list = |parts: &[(String, Part)]| {
        let names: Vec<String> = parts
            .iter()
            .map(|(line, part)| format!("{} of {line}", parts::name(part)))
            .collect();
        names.join("; ")
    };
    let mut says = Vec::new();
    if !assumed.is_empty() {
        says.push(format!(
            "The drop of these is not stated, and a usual one, good to a factor of 2, is taken: {}.",
            list(assumed)
        ));
    }
    if !left_out.is_empty() {
        says.push(format!(
            "What these take is not stated and is left out: {}.",
            list(left_out)
        ));
    }
    Words::new(
        says.join(" "),
        "State their drop at a flow in the site file, from the maker's sheet.",
    )
    .with_source("common practice, no source")
}

/// Lists sought numbers; pipes and fittings of one line are named together.
fn names(of: &[ParameterOf]) -> String {
    let both = |line: &String| {
        let fittings = ParameterOf::Fittings { line: line.clone() };
        let pipes = ParameterOf::Pipes { line: line.clone() };
        of.contains(&fittings) && of.contains(&pipes)
    };
    let names = of.iter().filter_map(|of| match of {
        ParameterOf::Pipes { line } if both(line) => Some(format!("pipes and fittings of {line}")),
        ParameterOf::Fittings { line } if both(line) => None,
        of => Some(name(of)),
    });
    names.collect::<Vec<_>>().join("; ")
}

/// Names a sought number.
pub(crate) fn name(of: &ParameterOf) -> String {
    match of {
        ParameterOf::Pipes { line } => format!("the pipes of {line}"),
        ParameterOf::Fittings { line } => format!("the fittings of {line}"),
        ParameterOf::Part { line, stated, .. } => format!("{} of {line}", parts::name(stated)),
        ParameterOf::Tee { at } => parts::tee_at(at),
        ParameterOf::Media { test } => format!("the filter's media in test {test}"),
        ParameterOf::Throttled { line, test } => {
            format!("the part-open valve of {line} in test {test}")
        }
        ParameterOf::PumpHead => "the pump's head".to_owned(),
        ParameterOf::Change { of } => crate::track::change_words(of),
        ParameterOf::Meter { column } => format!("the meter of {column}"),
        ParameterOf::GaugeHeight { column } => format!("the height of the gauge of {column}"),
    }
}
