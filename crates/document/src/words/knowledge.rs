//! Words for what these data cannot tell, and which reading would.

use super::{Words, ranges};
use crate::language::say;
use crate::names;
use crate::number;
use crate::parts;
use crate::units::Printing;
use fieldtest::{Law, Matter, PartProblem, RULE_SETS, Unknown};
use hydraulics::pipe::PipeSpec;
use records::Part;

/// Puts a gap of knowledge into English.
pub(super) fn words(matter: &Matter, printing: Printing) -> Words {
    match matter {
        Matter::TooFewSteps { law, have, need } => Words::new(
            too_few(law_noun(*law, printing), *have, *need, printing),
            say!(
                printing,
                "Read more speeds, spread from the lowest that holds prime to the highest that is allowed."
            ),
        ),
        Matter::NoStandbyReading => Words::new(
            say!(
                printing,
                "The draw with the pump stopped was not read, so what stays on all day is not known; cost per volume is counted from zero."
            ),
            say!(
                printing,
                "Stop the pump, wait for the display to settle, and read the power (speed 0)."
            ),
        ),
        Matter::NotIdentifiable(unknown) => unknown_words(*unknown, printing),
        Matter::UnknownPipe {
            line,
            spec,
            size,
            known,
        } => unknown_pipe(line, spec, size, *known, printing),
        Matter::UnknownPart {
            line,
            part,
            problem,
        } => unknown_part(line, part, problem, printing),
        Matter::UnusableCurve { error } => Words::new(
            say!(
                printing,
                "The maker's curve cannot be used: {error}.",
                error
            ),
            say!(
                printing,
                "Correct its points in the site file: flows rise, and heads fall with them."
            ),
        ),
        Matter::UnknownRules { name } => {
            let names: Vec<&str> = RULE_SETS.iter().map(|set| set.name).collect();
            Words::new(
                say!(
                    printing,
                    "The rule set \"{name}\" is not known; the residential one is used.",
                    name
                ),
                say!(
                    printing,
                    "Name one of: {names}; or state each limit in the site file.",
                    names = names.join(", ")
                ),
            )
        }
        Matter::UnknownCurrency { .. } => currency(matter, printing),
        Matter::OutsideRange(warning) => Words::new(
            ranges::warning(warning, printing),
            say!(
                printing,
                "Take the numbers that rest on it as a guide only."
            ),
        ),
        Matter::Refused(error) => Words::new(
            say!(
                printing,
                "Of the site and its water {error}; fresh water at 20 °C at sea level is taken instead.",
                error = ranges::refusal(error, printing)
            ),
            say!(printing, "Correct it in the site file or in the test file."),
        ),
        Matter::StandbyTooHigh { standby_w, fixed_w } => Words::new(
            say!(
                printing,
                "At rest {standby} W were read, and of the running pump no more than {high} W do not depend on speed: a stopped pump draws less than its running electronics.",
                standby = number::with_interval(printing, *standby_w),
                high = number::significant(printing, fixed_w.high, 2)
            ),
            say!(
                printing,
                "Stop the pump and read it again; look for what else is in the reading. Until then cost is counted from zero."
            ),
        ),
        Matter::DoesNotRise { measured } => Words::new(
            say!(
                printing,
                "The {quantity} does not rise with speed, as that of any pump does.",
                quantity = names::measured(*measured, printing)
            ),
            say!(
                printing,
                "Look for a display that stands still, a column typed into the wrong place, or a pump that did not follow its speed."
            ),
        ),
        Matter::AccuracyAssumed { columns } => accuracy_assumed(columns, printing),
        other => super::unsaid(other, printing),
    }
}

fn unknown_part(line: &str, part: &Part, problem: &PartProblem, printing: Printing) -> Words {
    let (why, hint) = parts::problem(problem, printing);
    Words::new(
        say!(
            printing,
            "What the {part} in {line} takes is not known: {why}.",
            part = parts::name(part, printing),
            line,
            why
        ),
        hint.map_or_else(
            || say!(printing, "Correct it in the site file.").to_owned(),
            |hint| say!(printing, "In the site file, {hint}.", hint),
        ),
    )
}

fn accuracy_assumed(columns: &[(String, f64)], printing: Printing) -> Words {
    let listed = columns.iter().map(|(name, of_reading)| {
        let name = names::column(name, printing);
        let per_cent = number::significant(printing, 100.0 * of_reading, 2);
        format!("{name} ± {per_cent} %")
    });
    let listed: Vec<String> = listed.collect();
    Words::new(
        say!(printing, "The accuracy of these meters is not stated, and a usual one is taken, of the reading: {meters}.", meters = listed.join(", ")),
        say!(printing, "State each meter and its accuracy in the site file."),
    )
    .with_source(say!(printing, "common practice, no source"))
}

fn too_few(law: &str, have: usize, need: usize, printing: Printing) -> String {
    match have {
        0 => say!(
            printing,
            "No speed has a usable reading of {law}; its law needs {need} to be checked.",
            law,
            need
        ),
        1 => say!(
            printing,
            "One speed has a usable reading of {law}; its law needs {need} to be checked.",
            law,
            need
        ),
        count => say!(
            printing,
            "{count} speeds have a usable reading of {law}; its law needs {need} to be checked.",
            count,
            law,
            need
        ),
    }
}

fn unknown_words(unknown: Unknown, printing: Printing) -> Words {
    match unknown {
        Unknown::SystemLaw => Words::new(
            say!(
                printing,
                "How head grows with flow is not known: fewer than three steps have gauges read on both sides of the pump."
            ),
            say!(
                printing,
                "Read the filter gauge and a vacuum gauge at the pump inlet at each step; until then the power drawn bounds the head from above."
            ),
        ),
        Unknown::SystemNumbers => Words::new(
            say!(
                printing,
                "The gauges are too coarse, or the flows too alike, to tell how steeply head grows with flow from what stands at no flow."
            ),
            say!(
                printing,
                "State the heights of both gauges and their accuracy in the site file, read finer gauges, or read flows further apart."
            ),
        ),
        Unknown::LeastEnergyBelow {
            slowest_rpm,
            read_next_rpm,
        } => Words::new(
            say!(
                printing,
                "Water gets cheaper down to the slowest step, {speed} rpm: the cheapest speed is there or below, and is not known.",
                speed = number::rpm(printing, slowest_rpm)
            ),
            if read_next_rpm < slowest_rpm {
                say!(
                    printing,
                    "Read a slower step, about {speed} rpm, if the pump holds prime there.",
                    speed = number::rpm(printing, read_next_rpm)
                )
            } else {
                say!(
                    printing,
                    "The pump runs no slower: this is its cheapest speed."
                )
                .to_owned()
            },
        ),
        Unknown::LeastEnergyAbove { fastest_rpm } => Words::new(
            say!(
                printing,
                "Water gets cheaper up to the fastest step, {speed} rpm, which is unusual: fixed draw outweighs all else.",
                speed = number::rpm(printing, fastest_rpm)
            ),
            say!(
                printing,
                "Check the standby reading and what else is in the power reading; then read a faster step."
            ),
        ),
        Unknown::LawDidNotSettle(law) => Words::new(
            say!(
                printing,
                "No law of {law} settles on these readings.",
                law = law_noun(law, printing)
            ),
            say!(
                printing,
                "Look for a column typed in the wrong unit, and read more speeds."
            ),
        ),
        Unknown::WholeFlow => Words::new(
            say!(
                printing,
                "Every flow meter sits on a line that carries part of the flow; the whole flow is not known."
            ),
            say!(
                printing,
                "Read a meter on a pipe that all of the water passes."
            ),
        ),
    }
}

fn unknown_pipe(
    line: &str,
    spec: &str,
    size: &str,
    known: Option<PipeSpec>,
    printing: Printing,
) -> Words {
    let names: Vec<&str> = PipeSpec::ALL.iter().map(|spec| spec.name()).collect();
    let (says, accepted) = match known {
        Some(known) => {
            let sizes: Vec<&str> = known.sizes().map(|size| size.nominal).collect();
            (
                say!(
                    printing,
                    "{line}: {spec} has no size {size}; the velocity in it is not known.",
                    line,
                    spec = known.name(),
                    size
                ),
                sizes.join(", "),
            )
        }
        None => (
            say!(
                printing,
                "{line}: the pipe \"{spec}\" is not in the catalogue; the velocity in it is not known.",
                line,
                spec
            ),
            names.join(", "),
        ),
    };
    Words::new(
        says,
        say!(
            printing,
            "Name one of: {accepted}; or state pipe_bore and roughness.",
            accepted
        ),
    )
}

fn law_noun(law: Law, printing: Printing) -> &'static str {
    match law {
        Law::Flow => say!(printing, "flow"),
        Law::Power => say!(printing, "power"),
    }
}

fn currency(matter: &Matter, printing: Printing) -> Words {
    match matter {
        Matter::UnknownCurrency {
            code,
            meant,
            change: None,
        } => unknown_currency(code, *meant, printing),
        Matter::UnknownCurrency {
            code,
            meant,
            change: Some(change),
        } => unknown_currency_of_change(change, code, *meant, printing),
        other => super::unsaid(other, printing),
    }
}

fn unknown_currency(code: &str, meant: Option<&str>, printing: Printing) -> Words {
    Words::new(
        say!(
            printing,
            "The currency \"{code}\" is not among the codes of ISO 4217; sums are written in it all the same.",
            code
        ),
        meant.map_or_else(
            || say!(printing, "If it is misspelt, correct it in the site file.").to_owned(),
            |meant| {
                say!(
                    printing,
                    "If {meant} was meant, write that in the site file.",
                    meant
                )
            },
        ),
    )
}

fn unknown_currency_of_change(
    change: &str,
    code: &str,
    meant: Option<&str>,
    printing: Printing,
) -> Words {
    Words::new(
        say!(
            printing,
            "The currency \"{code}\" of the change \"{change}\" is not among the codes of ISO 4217; sums are written in it all the same.",
            code,
            change
        ),
        meant.map_or_else(
            || {
                say!(
                    printing,
                    "If it is misspelt, correct it in the file of the change."
                )
                .to_owned()
            },
            |meant| {
                say!(
                    printing,
                    "If {meant} was meant, write that in the file of the change.",
                    meant
                )
            },
        ),
    )
}
