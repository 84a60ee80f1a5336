//! Words for what the calibrated circuit has to say: which part was not told, which does not fit, which reading would tell.

use super::Words;
use crate::language::say;
use crate::names;
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
        Matter::NotCalibrated(problem) => not_calibrated(problem, printing),
        Matter::NoGauge => Words::new(
            say!(
                printing,
                "No gauge was read: where the head is lost rests on the stated plumbing alone."
            ),
            say!(
                printing,
                "A vacuum gauge at the pump inlet would tell what the suction takes, and one at the filter inlet what stands behind it; read both at each step."
            ),
        ),
        Matter::NoInletGauge => Words::new(
            say!(
                printing,
                "No gauge was read before the pump: what the suction takes rests on its stated plumbing."
            ),
            say!(
                printing,
                "A vacuum gauge at the pump inlet would tell what the suction takes; read it at each step."
            ),
        ),
        Matter::HeadsMisfit { scatter, worst } => misfit(*scatter, worst, printing),
        Matter::UnlikeStated { parts } => {
            let parts: Vec<String> = parts
                .iter()
                .map(|(of, factor)| {
                    format!(
                        "{} {}",
                        name(of, printing),
                        number::with_interval(printing, *factor)
                    )
                })
                .collect();
            Words::new(
                say!(
                    printing,
                    "By the readings these are as many times what is stated: {parts}.",
                    parts = parts.join("; ")
                ),
                say!(
                    printing,
                    "Look there for what the site file does not know: a valve part-open, a clogged basket, dirt, another size of pipe; correct the site file where it is wrong."
                ),
            )
        }
        Matter::PartsNotTold { unknown, together } => not_told(unknown, together, printing),
        Matter::UnstatedDrops { assumed, left_out } => unstated(assumed, left_out, printing),
        Matter::HeadsDisagree { heads: [a, b] } => {
            let head = |(by, head): &(HeadBy, metrology::Estimate)| {
                let head = printing.with_interval(*head, Dimension::Length);
                format!("{} {head}", by_words(*by, printing))
            };
            Words::new(
                say!(
                    printing,
                    "At {speed} rpm two ways to the head of the pump disagree: {a}; {b}.",
                    speed = number::rpm(
                        printing,
                        place.steps_rpm.first().copied().unwrap_or_default()
                    ),
                    a = head(a),
                    b = head(b)
                ),
                say!(
                    printing,
                    "Check the gauges' zero and heights, the curve in the site file against the pump's plate, and whether every valve stands as stated."
                ),
            )
        }
        other => super::unsaid(other, printing),
    }
}

fn by_words(by: HeadBy, printing: Printing) -> &'static str {
    match by {
        HeadBy::Gauges => say!(printing, "the gauges say"),
        HeadBy::Curve => say!(printing, "the maker's curve says"),
        HeadBy::Plumbing => say!(printing, "the plumbing as stated asks for"),
    }
}

pub(super) fn not_calibrated(problem: &NotCalibrated, printing: Printing) -> Words {
    let words = |why: &str, action: String| {
        Words::new(
            say!(printing, "Where the head is lost is not known: {why}.", why),
            action,
        )
    };
    match problem {
        NotCalibrated::Network(problem) => {
            let (why, hint) = solved::problem(problem, printing);
            words(
                &why,
                hint.map_or_else(
                    || say!(printing, "Correct it in the site file.").to_owned(),
                    |hint| say!(printing, "In the site file, {hint}.", hint),
                ),
            )
        }
        NotCalibrated::NoFlow => words(
            say!(printing, "no step has a flow that counts"),
            say!(printing, "Read the flow at each step.").to_owned(),
        ),
        NotCalibrated::NoFlowAtSpeed { speed_rpm } => words(
            &say!(
                printing,
                "the last test says nothing of the flow at {speed} rpm",
                speed = number::rpm(printing, *speed_rpm)
            ),
            say!(
                printing,
                "Ask for a speed near its steps, or read more speeds."
            )
            .to_owned(),
        ),
        NotCalibrated::Unsettled(_) => words(
            unsettled(printing),
            say!(
                printing,
                "Look for a gauge typed in the wrong unit or at the wrong tap."
            )
            .to_owned(),
        ),
    }
}

/// Says that the search for what the pad takes came to no end.
pub(crate) fn unsettled(printing: Printing) -> &'static str {
    say!(
        printing,
        "no resistances of the plumbing were found that the readings agree on"
    )
}

fn misfit(scatter: f64, worst: &HeadFit, printing: Printing) -> Words {
    Words::new(
        say!(
            printing,
            "The heads that were read and the plumbing fit {times} times less well than the meters' accuracies allow; furthest off is {on} at {speed} rpm, by {residual}.",
            times = number::significant(printing, scatter, 2),
            on = on_words(&worst.on, printing),
            speed = number::rpm(printing, worst.speed_rpm),
            residual = match worst.on {
                ReadOn::Branch(_) => format!(
                    "{} %",
                    number::significant(printing, 100.0 * worst.residual, 2)
                ),
                _ => printing.plain(worst.residual, Dimension::Length),
            }
        ),
        say!(
            printing,
            "Check the zero, the height and the tap of that gauge, and whether a valve was moved during the test."
        ),
    )
}

/// Names what the calibrated circuit is held against.
pub(crate) fn on_words(on: &ReadOn, printing: Printing) -> String {
    match on {
        ReadOn::Gauge(tap) => tap_words(*tap, printing).to_owned(),
        ReadOn::Branch(line) => say!(printing, "the flow meter on {line}", line),
        ReadOn::Curve => say!(printing, "the maker's curve").to_owned(),
    }
}

/// Names a gauge by its tap.
pub(crate) fn tap_words(tap: Tap, printing: Printing) -> &'static str {
    match tap {
        Tap::PumpPot => say!(printing, "the gauge on the pump pot"),
        Tap::SuctionPipe => say!(printing, "the gauge on the suction pipe"),
        Tap::PumpOutlet => say!(printing, "the gauge at the pump outlet"),
        Tap::FilterInlet => say!(printing, "the gauge at the filter inlet"),
        Tap::FilterOutlet => say!(printing, "the gauge at the filter outlet"),
        Tap::PadOutlet => say!(printing, "the gauge at the end of the equipment"),
    }
}

fn not_told(
    unknown: &[ParameterOf],
    together: &[(ParameterOf, ParameterOf)],
    printing: Printing,
) -> Words {
    let mut says = Vec::new();
    if !unknown.is_empty() {
        says.push(say!(
            printing,
            "The readings tell little more than what is stated of: {names}.",
            names = names(unknown, printing)
        ));
    }
    if !together.is_empty() {
        let pairs: Vec<String> = together
            .iter()
            .map(|(a, b)| {
                say!(
                    printing,
                    "{a} with {b}",
                    a = name(a, printing),
                    b = name(b, printing)
                )
            })
            .collect();
        says.push(say!(
            printing,
            "They tell together only: {pairs}.",
            pairs = pairs.join("; ")
        ));
    }
    Words::new(
        says.join(" "),
        say!(
            printing,
            "A gauge on the other side of such a part, or a step with another line shut, would tell them apart."
        ),
    )
}

fn unstated(assumed: &[(String, Part)], left_out: &[(String, Part)], printing: Printing) -> Words {
    let list = |parts: &[(String, Part)]| {
        let names: Vec<String> = parts
            .iter()
            .map(|(line, part)| {
                say!(
                    printing,
                    "{part} of {line}",
                    part = parts::name(part, printing),
                    line
                )
            })
            .collect();
        names.join("; ")
    };
    let mut says = Vec::new();
    if !assumed.is_empty() {
        says.push(say!(printing, "The drop of these is not stated, and a usual one, good to a factor of 2, is taken: {assumed}.", assumed = list(assumed)));
    }
    if !left_out.is_empty() {
        says.push(say!(
            printing,
            "What these take is not stated and is left out: {left_out}.",
            left_out = list(left_out)
        ));
    }
    Words::new(
        says.join(" "),
        say!(
            printing,
            "State their drop at a flow in the site file, from the maker's sheet."
        ),
    )
    .with_source(say!(printing, "common practice, no source"))
}

/// Lists sought numbers; pipes and fittings of one line are named together.
fn names(of: &[ParameterOf], printing: Printing) -> String {
    let both = |line: &String| {
        let fittings = ParameterOf::Fittings { line: line.clone() };
        let pipes = ParameterOf::Pipes { line: line.clone() };
        of.contains(&fittings) && of.contains(&pipes)
    };
    let names = of.iter().filter_map(|of| match of {
        ParameterOf::Pipes { line } if both(line) => {
            Some(say!(printing, "pipes and fittings of {line}", line))
        }
        ParameterOf::Fittings { line } if both(line) => None,
        of => Some(name(of, printing)),
    });
    names.collect::<Vec<_>>().join("; ")
}

/// Names a sought number.
pub(crate) fn name(of: &ParameterOf, printing: Printing) -> String {
    match of {
        ParameterOf::Pipes { line } => say!(printing, "the pipes of {line}", line),
        ParameterOf::Fittings { line } => say!(printing, "the fittings of {line}", line),
        ParameterOf::Part { line, stated, .. } => say!(
            printing,
            "{part} of {line}",
            part = parts::name(stated, printing),
            line
        ),
        ParameterOf::Tee { at } => parts::tee_at(at, printing),
        ParameterOf::Media { test } => say!(printing, "the filter's media in test {test}", test),
        ParameterOf::Throttled { line, test } => {
            say!(
                printing,
                "the part-open valve of {line} in test {test}",
                line,
                test
            )
        }
        ParameterOf::PumpHead => say!(printing, "the pump's head").to_owned(),
        ParameterOf::Change { of } => crate::track::change_words(of, printing),
        ParameterOf::Meter { column } => say!(
            printing,
            "the meter of {column}",
            column = names::column(column, printing)
        ),
        ParameterOf::GaugeHeight { column } => {
            say!(
                printing,
                "the height of the gauge of {column}",
                column = names::column(column, printing)
            )
        }
    }
}
