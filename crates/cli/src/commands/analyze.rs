//! `analyze`: a site and its tests in, the answer out.

use super::figures::Drawing;
use super::printing;
use crate::arguments::{AnalyzeArguments, AnswerArguments, FigureArguments};
use crate::failure::Failure;
use crate::{files, output};
use charts::Circuit;
use document::units::Printing;
use fieldtest::{
    Analysis, Answer, Calibration, Learning, NotLearnt, PadQuestion, Question, Refit,
    calibrate_into, monte_carlo, next_readings, solve_pad, speed_to_calibrate, why,
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
    let asked = asked.or(at.map(|speed| Asked::Budget(Some(speed))));
    let asked = asked.or(arguments.to_learn.is_some().then_some(Asked::Budget(None)));
    let (site, tests) = files::pad(&arguments.site, &arguments.tests)?;
    let wanted = Wanted {
        asked,
        to_learn: arguments.to_learn.as_deref(),
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
    /// The answer that a further reading should narrow.
    pub(crate) to_learn: Option<&'a str>,
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
    /// Where the head is lost at a speed, rpm; without one, at the highest that was tested.
    Budget(Option<f64>),
}

/// Analyses sources, writes the figures and prints the answer.
pub(crate) fn answer(
    site: &Source,
    tests: &[TestFiles],
    wanted: Wanted<'_>,
) -> Result<ExitCode, Failure> {
    let Wanted {
        asked,
        to_learn,
        figures,
        how,
    } = wanted;
    let stem = Path::new(&site.name).file_stem();
    let stem = stem.map_or_else(String::new, |stem| stem.display().to_string());
    let (site, tests) = read_pad(site, tests).map_err(Failure::Input)?;
    let mut analysis = fieldtest::analyze(&site, &tests);
    let to_learn = to_learn
        .map(|text| to_learn_answer(&site, text))
        .transpose()?;
    let budgeted = match asked {
        Some(Asked::Budget(speed_rpm)) => {
            let asked = (speed_rpm, to_learn.as_ref());
            budgeted(&site, &tests, &mut analysis, asked)
        }
        None => speed_to_calibrate(&site, &tests, &analysis)
            .and_then(|top| budgeted(&site, &tests, &mut analysis, (Some(top), None))),
        Some(Asked::Why(_) | Asked::MonteCarlo) => None,
    };
    let printing = printing(how.print, &site);
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
    if let Some(budgeted) = &budgeted {
        return print_budgeted((&site, &tests, &analysis), budgeted, (how.json, printing));
    }
    let text = match (asked, how.json) {
        (None | Some(Asked::Budget(_)), true) => {
            document::json::analysis(&analysis, &site, None, printing)
        }
        (None | Some(Asked::Budget(_)), false) => {
            let blocks = document::content::analysis(&site, &tests, &analysis, printing);
            return output::blocks(&blocks, printing);
        }
        (Some(Asked::Why(question)), json) => {
            let budget = answered(analysis.tests.last().and_then(|test| why(test, question)))?;
            if !json {
                return output::blocks(&document::content::why(&budget, printing), printing);
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
                return output::blocks(&blocks, printing);
            }
            document::json::analysis_with_monte_carlo(&analysis, &site, &drawn, printing)
        }
    };
    output::print(&text)
}

/// What was found beside the analysis.
struct Budgeted {
    calibration: Option<Calibration>,
    learning: Result<Learning, NotLearnt>,
}

/// Calibrates the circuit where it is asked for, and weighs further readings; puts what there is to say of that, or why it cannot
/// be, with the other findings.
fn budgeted(
    site: &Site,
    tests: &[Test],
    analysis: &mut Analysis,
    (speed_rpm, wanted): (Option<f64>, Option<&Answer>),
) -> Option<Budgeted> {
    let steps = analysis.tests.last().and_then(|test| test.steps.last());
    let highest = steps.map_or(site.pump.speed.max.si, |step| step.speed_rpm);
    let at_rpm = speed_rpm.unwrap_or(highest);
    if speed_rpm.is_none()
        && let Some(wanted) = wanted.filter(|wanted| !wanted.is_of_circuit())
    {
        return Some(Budgeted {
            calibration: None,
            learning: next_readings(site, tests, analysis, (at_rpm, wanted)),
        });
    }
    let (calibration, learning) = calibrate_into(analysis, site, tests, (at_rpm, wanted))?;
    Some(Budgeted {
        calibration: Some(calibration),
        learning,
    })
}

fn print_budgeted(
    (site, tests, analysis): (&Site, &[Test], &Analysis),
    budgeted: &Budgeted,
    (json, printing): (bool, Printing),
) -> Result<ExitCode, Failure> {
    let learning = budgeted.learning.as_ref();
    match (&budgeted.calibration, json) {
        (Some(calibration), true) => {
            let found = (calibration, learning.ok());
            output::print(&document::json::analysis_with_budget(
                analysis, site, found, printing,
            ))
        }
        (None, true) => {
            let learning = learning.ok();
            output::print(&document::json::analysis_to_learn(
                analysis, site, learning, printing,
            ))
        }
        (Some(calibration), false) => {
            let found = (analysis, calibration, learning);
            let blocks = document::content::analysis_with_budget(site, tests, found, printing);
            output::blocks(&blocks, printing)
        }
        (None, false) => {
            let blocks =
                document::content::analysis_to_learn(site, tests, (analysis, learning), printing);
            output::blocks(&blocks, printing)
        }
    }
}

/// Reads the answer that `--to-learn` asks for.
fn to_learn_answer(site: &Site, text: &str) -> Result<Answer, Failure> {
    let known = match text {
        "total head" => Some(Answer::TotalHead),
        "suction share" => Some(Answer::Suction),
        "return share" => Some(Answer::Returns),
        "fixed draw" => Some(Answer::FixedDraw),
        "cheapest speed" => Some(Answer::CheapestSpeed),
        _ => None,
    };
    let of_line = || {
        let (name, part) = text.rsplit_once(", part ").unwrap_or((text, ""));
        let line = site.lines.iter().find(|line| line.name == name)?;
        let line_name = line.name.clone();
        if part.is_empty() {
            return Some(Answer::Lines(vec![line_name]));
        }
        let part = part.parse::<usize>().ok()?.checked_sub(1)?;
        (part < line.parts.len()).then_some(Answer::Part {
            line: line_name,
            part: Some(part),
        })
    };
    let lines: Vec<&str> = site.lines.iter().map(|line| line.name.as_str()).collect();
    known.or_else(of_line).ok_or_else(|| {
        Failure::call(
            format!("--to-learn: \"{text}\" is no answer of an analysis"),
            format!(
                "ask for total head, suction share, return share, fixed draw, cheapest speed, or a line: {}",
                lines.join(", ")
            ),
        )
    })
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
