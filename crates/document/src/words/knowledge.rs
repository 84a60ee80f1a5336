//! Words for what these data cannot tell, and which reading would.

use super::{Words, ranges};
use crate::number;
use crate::parts;
use crate::units::Printing;
use fieldtest::{Law, Matter, RULE_SETS, Unknown};
use hydraulics::pipe::PipeSpec;

/// Puts a gap of knowledge into English.
pub(super) fn words(matter: &Matter, printing: Printing) -> Words {
    match matter {
        Matter::TooFewSteps { law, have, need } => Words::new(
            format!(
                "{} a usable reading of {}; its law needs {need} to be checked.",
                match have {
                    0 => "No speed has".to_owned(),
                    1 => "One speed has".to_owned(),
                    n => format!("{n} speeds have"),
                },
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
        Matter::UnknownPart {
            line,
            part,
            problem,
        } => {
            let (why, hint) = parts::problem(problem);
            Words::new(
                format!(
                    "What the {} in {line} takes is not known: {why}.",
                    parts::name(part)
                ),
                hint.map_or_else(
                    || "Correct it in the site file.".to_owned(),
                    |hint| format!("In the site file, {hint}."),
                ),
            )
        }
        Matter::UnusableCurve { error } => Words::new(
            format!("The maker's curve cannot be used: {error}."),
            "Correct its points in the site file: flows rise, and heads fall with them.",
        ),
        Matter::UnknownRules { name } => {
            let names: Vec<&str> = RULE_SETS.iter().map(|set| set.name).collect();
            Words::new(
                format!("The rule set \"{name}\" is not known; the residential one is used."),
                format!(
                    "Name one of: {}; or state each limit in the site file.",
                    names.join(", ")
                ),
            )
        }
        Matter::UnknownCurrency { code, meant } => unknown_currency(code, *meant),
        Matter::OutsideRange(warning) => Words::new(
            ranges::warning(warning, printing),
            "Take the numbers that rest on it as a guide only.",
        ),
        Matter::Refused(error) => Words::new(
            format!(
                "Of the site and its water {}; fresh water at 20 °C at sea level is taken instead.",
                ranges::refusal(error)
            ),
            "Correct it in the site file or in the test file.",
        ),
        Matter::StandbyTooHigh { standby_w, fixed_w } => Words::new(
            format!(
                "At rest {} W were read, and of the running pump no more than {} W do not depend on speed: a stopped pump draws less than its running electronics.",
                number::with_interval(*standby_w),
                number::significant(fixed_w.high, 2),
            ),
            "Stop the pump and read it again; look for what else is in the reading. Until then cost is counted from zero.",
        ),
        Matter::DoesNotRise { measured } => Words::new(
            format!(
                "The {} does not rise with speed, as that of any pump does.",
                measured.word()
            ),
            "Look for a display that stands still, a column typed into the wrong place, or a pump that did not follow its speed.",
        ),
        Matter::AccuracyAssumed { columns } => {
            let listed: Vec<String> = columns
                .iter()
                .map(|(name, of_reading)| {
                    format!("{name} ± {} %", number::significant(100.0 * of_reading, 2))
                })
                .collect();
            Words::new(
                format!("The accuracy of these meters is not stated, and a usual one is taken, of the reading: {}.", listed.join(", ")),
                "State each meter and its accuracy in the site file.",
            )
            .with_source("common practice, no source")
        }
        other => super::unsaid(other),
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

fn unknown_currency(code: &str, meant: Option<&str>) -> Words {
    Words::new(
        format!(
            "The currency \"{code}\" is not among the codes of ISO 4217; sums are written in it all the same."
        ),
        meant.map_or_else(
            || "If it is misspelt, correct it in the site file.".to_owned(),
            |meant| format!("If {meant} was meant, write that in the site file."),
        ),
    )
}
