//! `loss`: head lost in one run of pipe and the parts in it.

use crate::arguments::LossArguments;
use crate::arguments::PrintArguments;
use crate::failure::Failure;
use crate::output;
use document::loss::Asked;
use document::say;
use document::units::Printing;
use fieldtest::{PartProblem, RULE_SETS, RuleSet, RunQuestion, fitting_words, rule_set, run_loss};
use hydraulics::water::Water;
use records::unit::Dimension;
use records::{
    Coefficient, Fitting, MinorLoss, Part, PartKind, Pipe, Quantity, Source, UnitSystem, Valve,
};
use std::process::ExitCode;

/// Runs the command.
pub(crate) fn run(arguments: &LossArguments) -> Result<ExitCode, Failure> {
    let flow = quantity("--flow", &arguments.flow, Dimension::Flow)?;
    if flow.si < 0.0 {
        return Err(Failure::call(
            format!("--flow is {}; expected 0 or more", flow.text),
            "the loss is the same in either direction",
        ));
    }
    let parts = parts(arguments)?;
    let water = water(arguments)?;
    let question = RunQuestion {
        parts: &parts,
        flow_m3s: flow.si,
        water: &water,
        hazen_williams_c: arguments.c,
        rules: rules(&arguments.rules)?,
    };
    let PrintArguments { units, language } = arguments.answer.print;
    let units = units.map(UnitSystem::from);
    let printing = Printing {
        system: units.unwrap_or_else(|| spoken(&flow)),
        language: language.map(Into::into).unwrap_or_default(),
    };
    let loss = run_loss(&question)
        .map_err(|(index, problem)| refused(&parts, index, &problem, printing))?;
    let title = title(arguments, printing);
    let asked = Asked {
        title: &title,
        parts: &parts,
        hazen_williams_c: arguments.c,
    };
    if arguments.answer.json {
        return output::print(&document::loss::json(&asked, &loss));
    }
    output::blocks(&document::loss::content(&asked, &loss, printing), printing)
}

fn quantity(option: &str, text: &str, dimension: Dimension) -> Result<Quantity, Failure> {
    Quantity::parse(text, dimension).map_err(|error| Failure::Call {
        message: format!("{option}: {error}"),
        hint: None,
    })
}

fn water(arguments: &LossArguments) -> Result<Water, Failure> {
    let temperature = quantity(
        "--temperature",
        &arguments.temperature,
        Dimension::Temperature,
    )?;
    let salinity = quantity("--salinity", &arguments.salinity, Dimension::Concentration)?;
    let water = Water::of(temperature.si, salinity.si).map_err(|error| Failure::Call {
        message: error.to_string(),
        hint: None,
    })?;
    Ok(water.value)
}

fn rules(name: &str) -> Result<&'static RuleSet, Failure> {
    rule_set(Some(name)).ok_or_else(|| {
        let names = RULE_SETS.map(|set| set.name);
        Failure::call(
            format!("--rules: the rule set \"{name}\" is not known"),
            format!("name one of: {}", names.join(", ")),
        )
    })
}

/// Gathers the parts of the run: its pipe, what was named, and a sum of K.
fn parts(arguments: &LossArguments) -> Result<Vec<Part>, Failure> {
    let length = |option: &str, text: &Option<String>| {
        let text = text.as_deref();
        text.map(|text| quantity(option, text, Dimension::Length))
            .transpose()
    };
    let pipe = Pipe {
        pipe: length("--pipe", &arguments.pipe)?,
        pipe_bore: length("--bore", &arguments.bore)?,
        spec: arguments.bore.is_none().then(|| arguments.spec.clone()),
        length: length("--length", &Some(arguments.length.clone()))?,
        roughness: length("--roughness", &arguments.roughness)?,
    };
    let mut parts = vec![one(PartKind::Pipe(pipe))];
    for text in &arguments.part {
        parts.push(part(text)?);
    }
    if let Some(value) = arguments.k {
        if !(value.is_finite() && value >= 0.0) {
            return Err(Failure::call(
                format!("--k is {value}; expected 0 or more"),
                "give the sum of the coefficients on the velocity in this pipe",
            ));
        }
        let k = Coefficient { value, guess: None };
        parts.push(one(PartKind::MinorLoss(MinorLoss { k })));
    }
    Ok(parts)
}

fn one(kind: PartKind) -> Part {
    Part { kind, count: 1 }
}

/// Reads a part: in the words of the catalogue, with a count before it ("7 x 90 elbow"), or as a site file states it.
fn part(text: &str) -> Result<Part, Failure> {
    if text.contains('=') {
        let source = Source {
            name: "--part".to_owned(),
            text: text.to_owned(),
        };
        return records::read_part(&source).map_err(Failure::Input);
    }
    let (count, word) = counted(text);
    let valve = word.strip_suffix(" valve");
    let kind = match valve {
        Some(valve) => PartKind::Valve(Valve {
            valve: valve.trim().to_owned(),
            size: None,
            open: None,
            kv: None,
        }),
        None => PartKind::Fitting(Fitting {
            fitting: word.to_owned(),
            size: None,
        }),
    };
    Ok(Part { kind, count })
}

/// Parts a count from a word: "7 x 90 elbow" is seven of "90 elbow".
fn counted(text: &str) -> (u32, &str) {
    let text = text.trim();
    let behind = text.trim_start_matches(|letter: char| letter.is_ascii_digit());
    let count = text[..text.len() - behind.len()].parse();
    let word = behind.trim_start().strip_prefix(['x', '×']);
    match (count, word) {
        (Ok(count), Some(word)) if count > 0 => (count, word.trim()),
        _ => (1, text),
    }
}

fn refused(parts: &[Part], index: usize, problem: &PartProblem, printing: Printing) -> Failure {
    let (message, hint) = document::parts::problem(problem, printing);
    let option = match parts.get(index).map(|part| &part.kind) {
        Some(PartKind::Pipe(pipe)) if pipe.pipe.is_some() => "--pipe",
        Some(PartKind::Pipe(_)) => "--bore",
        Some(PartKind::MinorLoss(_)) => "--k",
        _ => "--part",
    };
    let hint = match problem {
        PartProblem::UnknownWord { .. } => Some(format!(
            "name one of: {}; a valve as \"ball valve\"; or as in a site file: 'k = 1.2'",
            fitting_words().collect::<Vec<_>>().join(", ")
        )),
        _ => hint,
    };
    Failure::Call {
        message: format!("{option}: {message}"),
        hint,
    }
}

/// Chooses the units of print by how the flow was typed.
fn spoken(flow: &Quantity) -> UnitSystem {
    if flow.text.to_lowercase().contains("gpm") {
        UnitSystem::Us
    } else {
        UnitSystem::Si
    }
}

fn title(arguments: &LossArguments, printing: Printing) -> String {
    let pipe = match (&arguments.bore, &arguments.pipe) {
        (Some(bore), _) => say!(printing, "bore {bore}", bore),
        (None, Some(size)) => format!("{size} {}", arguments.spec),
        (None, None) => String::new(),
    };
    say!(
        printing,
        "{flow} through {length} of {pipe}, water at {temperature}",
        flow = arguments.flow,
        length = arguments.length,
        pipe,
        temperature = arguments.temperature
    )
}
