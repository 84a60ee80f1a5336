//! Words for what these data cannot tell, and which reading would.

use super::Words;
use super::trust::noun;
use crate::number;
use crate::units::Printing;
use fieldtest::{Law, Matter, RULE_SETS, Unknown};
use hydraulics::pipe::PipeSpec;

/// Puts a gap of knowledge into English.
pub(super) fn words(matter: &Matter, _printing: Printing) -> Words {
    match matter {
        Matter::TooFewSteps { law, have, need } => Words::new(
            format!(
                "{} speeds have a usable reading of {}; the law of {} needs {need} to be found and checked.",
                number_word(*have),
                law_noun(*law),
                law_noun(*law),
            ),
            "Read more speeds, spread from the lowest that holds prime to the highest that is allowed.",
        ),
        Matter::NoStandbyReading => Words::new(
            "The draw with the pump stopped was not read, so what stays on all day is not known; cost per volume is counted from zero.",
            "Stop the pump, wait for the display to settle, and read the power (speed 0).",
        ),
        Matter::NotIdentifiable(unknown) => unknown_words(*unknown),
        Matter::UnknownPipe {
            line,
            spec,
            size,
            known,
        } => unknown_pipe(line, spec, size, *known),
        Matter::UnknownRules { name } => {
            let names: Vec<&str> = RULE_SETS.iter().map(|set| set.name).collect();
            Words::new(
                format!("The rule set \"{name}\" is not known; the residential one is used."),
                format!("Name one of: {}; or state each limit in the site file.", names.join(", ")),
            )
        }
        Matter::AccuracyAssumed {
            measured,
            of_reading,
        } => Words::new(
            format!(
                "The accuracy of the {} meter is not stated; ± {} % of the reading is taken, as is usual.",
                noun(*measured),
                number::significant(100.0 * of_reading, 2),
            ),
            "State the meter and its accuracy in the site file.",
        )
        .with_source("common practice, no source"),
        _ => Words::new("", ""),
    }
}

fn unknown_words(unknown: Unknown) -> Words {
    match unknown {
        Unknown::SystemLaw => Words::new(
            "How head grows with flow is not known: fewer than three steps have gauges read on both sides of the pump.",
            "Read the filter gauge and a vacuum gauge at the pump inlet at each step; until then the power drawn bounds the head from above.",
        ),
        Unknown::SystemNumbers => Words::new(
            "The gauges are too coarse, or the flows too alike, to tell how steeply head grows with flow from what stands at no flow.",
            "State the heights of both gauges and their accuracy in the site file, read finer gauges, or read flows further apart.",
        ),
        Unknown::LeastEnergyBelow {
            slowest_rpm,
            read_next_rpm,
        } => Words::new(
            format!(
                "Water gets cheaper down to the slowest step, {} rpm: the cheapest speed is there or below, and is not known.",
                number::rpm(slowest_rpm),
            ),
            if read_next_rpm < slowest_rpm {
                format!(
                    "Read a slower step, about {} rpm, if the pump holds prime there.",
                    number::rpm(read_next_rpm)
                )
            } else {
                "The pump runs no slower: this is its cheapest speed.".to_owned()
            },
        ),
        Unknown::LeastEnergyAbove { fastest_rpm } => Words::new(
            format!(
                "Water gets cheaper up to the fastest step, {} rpm, which is unusual: fixed draw outweighs all else.",
                number::rpm(fastest_rpm),
            ),
            "Check the standby reading and what else is in the power reading; then read a faster step.",
        ),
        Unknown::LawDidNotSettle(law) => Words::new(
            format!("No law of {} settles on these readings.", law_noun(law)),
            "Look for a column typed in the wrong unit, and read more speeds.",
        ),
        Unknown::WholeFlow => Words::new(
            "Every flow meter sits on a line that carries part of the flow; the whole flow is not known.",
            "Read a meter on a pipe that all of the water passes.",
        ),
    }
}

fn unknown_pipe(line: &str, spec: &str, size: &str, known: Option<PipeSpec>) -> Words {
    let names: Vec<&str> = PipeSpec::ALL.iter().map(|spec| spec.name()).collect();
    let (says, accepted) = match known {
        Some(known) => {
            let sizes: Vec<&str> = known.sizes().map(|size| size.nominal).collect();
            (
                format!(
                    "{line}: {} has no size {size}; the velocity in it is not known.",
                    known.name()
                ),
                sizes.join(", "),
            )
        }
        None => (
            format!(
                "{line}: the pipe \"{spec}\" is not in the catalogue; the velocity in it is not known."
            ),
            names.join(", "),
        ),
    };
    Words::new(
        says,
        format!("Name one of: {accepted}; or state pipe_bore and roughness."),
    )
}

fn law_noun(law: Law) -> &'static str {
    match law {
        Law::Flow => "flow",
        Law::Power => "power",
    }
}

fn number_word(count: usize) -> String {
    match count {
        0 => "No".to_owned(),
        1 => "One".to_owned(),
        2 => "Two".to_owned(),
        3 => "Three".to_owned(),
        n => n.to_string(),
    }
}
