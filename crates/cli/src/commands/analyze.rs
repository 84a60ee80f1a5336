//! `analyze`: a site and its tests in, the answer out.

use super::printing;
use crate::arguments::{AnalyzeArguments, AnswerArguments};
use crate::failure::Failure;
use crate::{files, output};
use fieldtest::{Question, why};
use records::unit::Dimension;
use records::{Quantity, Source, TestFiles, read_pad};
use std::process::ExitCode;

/// Runs the command.
pub(crate) fn run(arguments: &AnalyzeArguments) -> Result<ExitCode, Failure> {
    let question = arguments.why.as_deref().map(question).transpose()?;
    let (site, tests) = files::pad(&arguments.site, &arguments.tests)?;
    answer(&site, &tests, question, arguments.answer)
}

/// Analyses sources and prints the answer.
pub(crate) fn answer(
    site: &Source,
    tests: &[TestFiles],
    question: Option<Question>,
    how: AnswerArguments,
) -> Result<ExitCode, Failure> {
    let (site, tests) = read_pad(site, tests).map_err(Failure::Input)?;
    let analysis = fieldtest::analyze(&site, &tests);
    let printing = printing(how, &site);
    let budget = question.and_then(|question| why(analysis.tests.last()?, question));
    if question.is_some() && budget.is_none() {
        return Err(Failure::NoAnswer(
            "the last test has no law to answer from; its findings say why".to_owned(),
        ));
    }
    if how.json {
        let text = document::json::analysis(&analysis, &site, budget.as_ref(), printing);
        return output::print(&text);
    }
    match &budget {
        Some(budget) => output::blocks(&document::content::why(budget, printing)),
        None => output::blocks(&document::content::analysis(
            &site, &tests, &analysis, printing,
        )),
    }
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
