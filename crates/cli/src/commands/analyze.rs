//! `analyze`: a site and its tests in, the answer out.

use super::figures::Drawing;
use super::printing;
use crate::arguments::{AnalyzeArguments, AnswerArguments, FigureArguments};
use crate::failure::Failure;
use crate::{files, output};
use charts::Circuit;
use document::units::Printing;
use fieldtest::{
    Analysis, Calibration, PadQuestion, Question, Refit, calibrate, monte_carlo, not_calibrated,
    solve_pad, why,
};
use records::unit::Dimension;
use records::{Quantity, Site, Source, Test, TestFiles, read_pad};
use std::num::NonZeroUsize;
use std::path::Path;
use std::process::ExitCode;

/// Runs the command.
pub(crate) fn run(arguments: &AnalyzeArguments) -> Result<ExitCode, Failure> {
    let question = arguments.why.as_deref().map(question).transpose()?;
    let asked = question
        .map(Asked::Why)
        .or(arguments.monte_carlo.then_some(Asked::MonteCarlo));
    let at = arguments.at.as_deref().map(at_speed).transpose()?;
    let asked = asked.or(at.map(Asked::Budget));
    let (site, tests) = files::pad(&arguments.site, &arguments.tests)?;
    let wanted = Wanted {
        asked,
        figures: Some(&arguments.figures),
        how: arguments.answer,
    };
    answer(&site, &tests, wanted)
}

/// What is wanted of an analysis.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Wanted<'a> {
    /// What is asked beside the whole.
    pub(crate) asked: Option<Asked>,
    /// Which figures are written.
    pub(crate) figures: Option<&'a FigureArguments>,
    /// How the answer is given.
    pub(crate) how: AnswerArguments,
}

/// What is asked of the last test beside the analysis.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Asked {
    /// What the uncertainty of an answer is made of.
    Why(Question),
    /// The answers by Monte Carlo.
    MonteCarlo,
    /// Where the head is lost at a speed, rpm.
    Budget(f64),
}

/// Analyses sources, writes the figures and prints the answer.
pub(crate) fn answer(
    site: &Source,
    tests: &[TestFiles],
    wanted: Wanted<'_>,
) -> Result<ExitCode, Failure> {
    let Wanted {
        asked,
        figures,
        how,
    } = wanted;
    let stem = Path::new(&site.name).file_stem();
    let stem = stem.map_or_else(String::new, |stem| stem.display().to_string());
    let (site, tests) = read_pad(site, tests).map_err(Failure::Input)?;
    let mut analysis = fieldtest::analyze(&site, &tests);
    let calibration = match asked {
        Some(Asked::Budget(speed_rpm)) => calibrated(&site, &tests, &mut analysis, speed_rpm),
        _ => None,
    };
    let printing = printing(how.units, &site);
    // A folder that cannot be written to is better told before a long answer than below it.
    if let Some(wanted) = figures {
        let drawn = || {
            let figures = document::figures::figures(&site, &analysis, printing);
            let circuit = circuit(&site, &analysis, printing);
            let circuit =
                circuit.map(|circuit| Drawing::of_circuit(&format!("{stem}-circuit"), circuit));
            figures
                .into_iter()
                .map(Drawing::from)
                .chain(circuit)
                .collect()
        };
        let nothing = "There is nothing to draw: no step has a reading of flow or power, and the site states no line.";
        super::figures::write(drawn, wanted, nothing)?;
    }
    if let Some(calibration) = &calibration {
        if how.json {
            let text =
                document::json::analysis_with_budget(&analysis, &site, calibration, printing);
            return output::print(&text);
        }
        let found = (&analysis, calibration);
        let blocks = document::content::analysis_with_budget(&site, &tests, found, printing);
        return output::blocks(&blocks);
    }
    let text = match (asked, how.json) {
        (None | Some(Asked::Budget(_)), true) => {
            document::json::analysis(&analysis, &site, None, printing)
        }
        (None | Some(Asked::Budget(_)), false) => {
            let blocks = document::content::analysis(&site, &tests, &analysis, printing);
            return output::blocks(&blocks);
        }
        (Some(Asked::Why(question)), json) => {
            let budget = answered(analysis.tests.last().and_then(|test| why(test, question)))?;
            if !json {
                return output::blocks(&document::content::why(&budget, printing));
            }
            document::json::analysis(&analysis, &site, Some(&budget), printing)
        }
        (Some(Asked::MonteCarlo), json) => {
            let test = answered(analysis.tests.last())?;
            let plan = fieldtest::monte_carlo_plan();
            // The answer is the same on any number of threads.
            let threads = std::thread::available_parallelism().unwrap_or(NonZeroUsize::MIN);
            let drawn = answered(monte_carlo(test, &plan, Refit::FirstOrder, threads))?;
            if !json {
                let blocks = document::content::monte_carlo(&test.name, &drawn, printing);
                return output::blocks(&blocks);
            }
            document::json::analysis_with_monte_carlo(&analysis, &site, &drawn, printing)
        }
    };
    output::print(&text)
}

/// Calibrates the circuit, and puts what there is to say of that, or why it cannot be, with the other findings.
pub(super) fn calibrated(
    site: &Site,
    tests: &[Test],
    analysis: &mut Analysis,
    speed_rpm: f64,
) -> Option<Calibration> {
    match calibrate(site, tests, analysis, speed_rpm) {
        Ok(calibration) => {
            analysis.add_findings(calibration.findings.clone());
            Some(calibration)
        }
        Err(problem) => {
            analysis.add_findings(vec![not_calibrated(problem)]);
            None
        }
    }
}

/// Reads the speed that `--at` asks for.
fn at_speed(text: &str) -> Result<f64, Failure> {
    let wrong = |what: String| Failure::call(format!("--at: {what}"), "ask as --at \"2400 rpm\"");
    let speed =
        Quantity::parse(text, Dimension::Speed).map_err(|error| wrong(error.to_string()))?;
    if speed.si > 0.0 {
        Ok(speed.si)
    } else {
        Err(wrong(format!(
            "{} is no speed of a running pump",
            speed.text
        )))
    }
}

/// Draws the pad as the last test found it, at the highest speed that was tested.
fn circuit(site: &Site, analysis: &Analysis, printing: Printing) -> Option<Circuit> {
    let steps = analysis.tests.iter().filter_map(|test| test.steps.last());
    let highest = steps.map(|step| step.speed_rpm).max_by(f64::total_cmp);
    let closed = analysis.tests.last().map(|test| test.closed.as_slice());
    let question = PadQuestion {
        speed_rpm: highest.unwrap_or(site.pump.speed.max.si),
        closed: closed.unwrap_or_default(),
        temperature_k: None,
    };
    document::circuit::circuit(site, solve_pad(site, &question).as_ref(), printing)
}

/// Lets an answer through, or says why there is none.
fn answered<T>(answer: Option<T>) -> Result<T, Failure> {
    answer.ok_or_else(|| {
        Failure::NoAnswer(
            "the last test does not answer this: it has no law for it, or that speed is far from its steps".to_owned(),
        )
    })
}

/// Reads a question such as `flow@1000rpm`.
fn question(text: &str) -> Result<Question, Failure> {
    let wrong = |what: String| {
        Failure::call(
            format!("--why: {what}"),
            "ask for flow@1000rpm, power@1000rpm, energy@1000rpm, fixed-draw or exponent",
        )
    };
    match text.split_once('@') {
        None if text == "fixed-draw" => Ok(Question::FixedDraw),
        None if text == "exponent" => Ok(Question::Exponent),
        None => Err(wrong(format!("\"{text}\" is no answer of an analysis"))),
        Some((word, speed)) => {
            let speed = Quantity::parse(speed, Dimension::Speed)
                .map_err(|error| wrong(error.to_string()))?;
            if speed.si <= 0.0 {
                return Err(wrong(format!(
                    "{} is no speed of a running pump",
                    speed.text
                )));
            }
            match word {
                "flow" => Ok(Question::Flow(speed.si)),
                "power" => Ok(Question::Power(speed.si)),
                "energy" => Ok(Question::Energy(speed.si)),
                _ => Err(wrong(format!("\"{word}\" is no answer of an analysis"))),
            }
        }
    }
}
