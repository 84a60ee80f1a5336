//! `solve`: the whole pad at one speed, by the plumbing of the site file and the maker's curve.

use super::figures::Drawing;
use super::printing;
use crate::arguments::SolveArguments;
use crate::failure::Failure;
use crate::{files, output};
use document::units::Printing;
use fieldtest::{NetworkProblem, PadQuestion, solve_pad};
use hydraulics::circuit::CircuitError;
use records::unit::Dimension;
use records::{Quantity, Site, TestFiles, read_pad};
use std::process::ExitCode;

/// Runs the command.
pub(crate) fn run(arguments: &SolveArguments) -> Result<ExitCode, Failure> {
    let (source, _) = files::pad(&arguments.site, &[] as &[&str])?;
    let (site, _) = read_pad(&source, &[] as &[TestFiles]).map_err(Failure::Input)?;
    check_lines(&site, &arguments.closed)?;
    let speed = quantity("--speed", &arguments.speed, Dimension::Speed)?;
    let top = &site.pump.speed.max;
    if !(speed.si > 0.0 && speed.si <= top.si) {
        return Err(Failure::call(
            format!(
                "--speed is {}; expected above 0 rpm, up to {}",
                speed.text, top.text
            ),
            "name a speed that the pump runs at",
        ));
    }
    let temperature = arguments
        .temperature
        .as_deref()
        .map(|text| quantity("--temperature", text, Dimension::Temperature));
    let question = PadQuestion {
        speed_rpm: speed.si,
        closed: &arguments.closed,
        temperature_k: temperature.transpose()?.map(|temperature| temperature.si),
    };
    let printing = printing(arguments.answer.print, &site);
    let pad =
        solve_pad(&site, &question).map_err(|problem| failure(arguments, &problem, printing))?;
    let drawn = || {
        let circuit = document::circuit::circuit(&site, Ok(&pad), printing);
        let circuit = circuit.map(|circuit| Drawing::of_circuit("circuit", circuit));
        circuit.into_iter().collect()
    };
    let nothing = "There is nothing to draw: the site states no line.";
    super::figures::write(drawn, &arguments.figures, nothing)?;
    if arguments.answer.json {
        return output::print(&document::solved::json(&site, &pad));
    }
    output::blocks(&document::solved::content(&site, &pad, printing), printing)
}

fn quantity(option: &str, text: &str, dimension: Dimension) -> Result<Quantity, Failure> {
    Quantity::parse(text, dimension).map_err(|error| Failure::Call {
        message: format!("{option}: {error}"),
        hint: None,
    })
}

fn check_lines(site: &Site, closed: &[String]) -> Result<(), Failure> {
    let names: Vec<&str> = site.lines.iter().map(|line| line.name.as_str()).collect();
    let unknown = closed.iter().find(|name| !names.contains(&name.as_str()));
    unknown.map_or(Ok(()), |name| {
        Err(Failure::call(
            format!("--closed: the site has no line \"{name}\""),
            format!("name one of: {}", names.join(", ")),
        ))
    })
}

/// A search that was given up is no fault of the input; everything else is.
fn failure(arguments: &SolveArguments, problem: &NetworkProblem, printing: Printing) -> Failure {
    let (message, hint) = document::solved::problem(problem, printing);
    let message = format!("{}: {message}", arguments.site.display());
    match problem {
        NetworkProblem::Unsolved {
            error: CircuitError::DidNotConverge { .. },
            ..
        } => Failure::NoAnswer(message),
        _ => Failure::Call { message, hint },
    }
}
