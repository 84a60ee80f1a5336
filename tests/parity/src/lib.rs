//! The engine with text in and text out, to hold native and WebAssembly answers against each other.
//!
//! [`answer`] is everything between the files of a pad and the words for a person, in one pure function.
//! `tests/same_bits` calls it natively, and through [`exports`] in Node, and compares the answers byte for byte.

mod circuits;
pub mod exports;

use charts::{Size, Theme};
use document::content;
use document::terminal::{self, Layout, Paint};
use document::units::Printing;
use fieldtest::{
    Analysis, PadQuestion, PlanQuestion, Refit, calibrate_to_learn, follow_up, monte_carlo,
    monte_carlo_plan, not_calibrated, solve_pad,
};
use operation::{Asked, Effort};
use records::{Problem, Site, Source, Test, TestFiles, UnitSystem, read_pad};
use serde::{Deserialize, Serialize};
use std::num::NonZeroUsize;

/// How wide the text of an answer is.
const WIDTH: usize = 100;
/// How often the errors of a test are drawn: two blocks of draws.
const DRAWS: usize = 20_000;

/// How much is tried for each answer about a day: enough for most, and the others say the same of what is left open.
const STEPS: u64 = 1_500_000;

/// The files of a pad.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct Request {
    /// The text of the site file.
    pub site: String,
    /// The tests, in the order of time.
    pub tests: Vec<TestTexts>,
}

/// The files of one test.
#[derive(Clone, Debug, Deserialize, Serialize)]
pub struct TestTexts {
    /// The stem of the file names.
    pub name: String,
    /// The text of the test file.
    pub test: String,
    /// The text of the readings, where they are a file of their own.
    pub readings: Option<String>,
}

/// What the engine is asked.
#[derive(Deserialize)]
#[serde(untagged)]
enum Question {
    /// The analysis of a pad.
    Pad(Request),
    /// The bits of so many solved circuits.
    Circuits { circuits: u32 },
}

/// Answers a request that is written as JSON: a [`Request`], or `{"circuits": 9}` for that many solved circuits.
///
/// # Returns
/// The analysis as JSON and, below it, as text in both systems of units, the last test by Monte Carlo, the calibrated
/// budget, what changed between the tests, the next test, the pad solved at two speeds, the figures, and the cheapest day; or, as
/// JSON, what is wrong in the files.
pub fn answer(request: &str) -> String {
    let request: Request = match serde_json::from_str(request) {
        Ok(Question::Pad(request)) => request,
        Ok(Question::Circuits { circuits }) => return circuits::bits(circuits),
        Err(error) => return format!("the request is not understood: {error}"),
    };
    match pad(&request) {
        Ok((site, tests)) => analysis(&site, &tests),
        Err(problems) => {
            let printing = Printing::english(UnitSystem::default());
            document::problems::json(&problems, printing)
        }
    }
}

fn pad(request: &Request) -> Result<(Site, Vec<Test>), Vec<Problem>> {
    let site = source("site.toml", &request.site)?;
    let tests = request
        .tests
        .iter()
        .map(files)
        .collect::<Result<Vec<_>, _>>()?;
    read_pad(&site, &tests)
}

fn files(texts: &TestTexts) -> Result<TestFiles, Vec<Problem>> {
    let name = &texts.name;
    let readings = texts.readings.as_ref();
    Ok(TestFiles {
        test: source(&format!("{name}.toml"), &texts.test)?,
        readings: readings
            .map(|text| source(&format!("{name}.csv"), text))
            .transpose()?,
    })
}

fn source(name: &str, text: &str) -> Result<Source, Vec<Problem>> {
    Source::from_bytes(name, text.as_bytes()).map_err(|problem| vec![problem])
}

fn analysis(site: &Site, tests: &[Test]) -> String {
    let analysis = fieldtest::analyze(site, tests);
    let us = Printing::english(UnitSystem::Us);
    let si = Printing::english(UnitSystem::Si);
    let text = |printing| {
        let blocks = content::analysis(site, tests, &analysis, printing);
        terminal::text(
            &blocks,
            Layout {
                width: WIDTH,
                paint: Paint::Plain,
                printing,
            },
        )
    };
    [
        document::json::analysis(&analysis, site, None, us),
        text(us),
        text(si),
        drawn(&analysis, site, Refit::FirstOrder, us),
        drawn(&analysis, site, Refit::Exact, us),
        budgets(site, tests, &analysis, us),
        tracked(site, tests, &analysis, us),
        planned(site, tests, us),
        solved(site),
        figures(site, &analysis, us),
        scheduled(&analysis, site, si),
    ]
    .join("\n")
}

/// Calibrates the pad at its highest step, or says why it cannot be calibrated.
fn budgets(site: &Site, tests: &[Test], analysis: &Analysis, printing: Printing) -> String {
    let steps = analysis.tests.last().and_then(|test| test.steps.last());
    let Some(step) = steps else {
        return String::new();
    };
    let mut found = analysis.clone();
    match calibrate_to_learn(site, tests, analysis, (step.speed_rpm, None)) {
        Ok((calibration, learning)) => {
            found.add_findings(calibration.findings.clone());
            let learnt = (&calibration, learning.as_ref().ok());
            document::json::analysis_with_budget(&found, site, learnt, printing)
        }
        Err(problem) => {
            found.add_findings(vec![not_calibrated(problem)]);
            document::json::findings(&found, printing)
        }
    }
}

/// Holds later tests against the first, or says why nothing is.
fn tracked(site: &Site, tests: &[Test], analysis: &Analysis, printing: Printing) -> String {
    match follow_up(site, tests, analysis, 0) {
        Ok(found) => document::track::json(site, &found, printing),
        Err(why) => document::track::refusal(&why, printing).0,
    }
}

/// Plans a test with what earlier ones told, and the sheet of it, or says why there is none.
fn planned(site: &Site, tests: &[Test], printing: Printing) -> String {
    let question = PlanQuestion {
        time_s: 5400.0,
        closed: &[],
        throttled: &[],
    };
    match fieldtest::plan(site, tests, &question) {
        Ok(plan) => {
            let subject = document::plan::Subject {
                site,
                question,
                plan: &plan,
                printing,
            };
            document::plan::json(&subject) + &document::plan::sheet(&subject)
        }
        Err(problem) => document::plan::refusal(&problem, printing).says,
    }
}

/// Solves the pad at its top speed and at half of it, or says why it cannot be solved.
fn solved(site: &Site) -> String {
    let top_rpm = site.pump.speed.max.si;
    let at = |speed_rpm: f64| {
        let question = PadQuestion {
            speed_rpm,
            closed: &[],
            temperature_k: None,
        };
        match solve_pad(site, &question) {
            Ok(pad) => document::solved::json(site, &pad),
            Err(problem) => {
                document::solved::problem(&problem, Printing::english(UnitSystem::Si)).0
            }
        }
    };
    [at(top_rpm), at(0.5 * top_rpm)].join("\n")
}

fn figures(site: &Site, analysis: &Analysis, printing: Printing) -> String {
    let figures = document::figures::figures(site, analysis, printing);
    let drawn = figures
        .iter()
        .filter_map(|named| named.figure.svg(Theme::Light, Size::Narrow));
    drawn.collect::<Vec<_>>().join("\n")
}

fn drawn(analysis: &Analysis, site: &Site, refit: Refit, printing: Printing) -> String {
    let mut plan = monte_carlo_plan();
    plan.most_draws = DRAWS;
    let simulated = analysis
        .tests
        .last()
        .and_then(|test| monte_carlo(test, &plan, refit, threads()));
    simulated.map_or_else(String::new, |simulated| {
        document::json::analysis_with_monte_carlo(analysis, site, &simulated, printing)
    })
}

/// The cheapest day as JSON and as text, or why there is none.
fn scheduled(analysis: &Analysis, site: &Site, printing: Printing) -> String {
    let asked = Asked {
        slot_minutes: 60,
        effort: Effort::steps(STEPS),
        ..Asked::default()
    };
    let plan = match operation::plan(site, analysis, &asked) {
        Ok(plan) => plan,
        Err(no_plan) => return document::schedule::refusal(&no_plan, printing).message,
    };
    let blocks = document::schedule::content(site, analysis, &plan, printing);
    let layout = Layout {
        width: WIDTH,
        paint: Paint::Plain,
        printing,
    };
    document::schedule::json(site, analysis, &plan, printing) + &terminal::text(&blocks, layout)
}

/// WebAssembly has one thread; natively two draw, and the bits are to be the same.
fn threads() -> NonZeroUsize {
    NonZeroUsize::MIN.saturating_add(usize::from(!cfg!(target_family = "wasm")))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answered(site: &str) -> String {
        let request = Request {
            site: site.to_owned(),
            tests: Vec::new(),
        };
        answer(&serde_json::to_string(&request).unwrap())
    }

    #[test]
    fn a_site_alone_has_an_analysis() {
        let answer = answered("format = 1\nname = \"A\"\n[pump]\nspeed = { max = \"3450 rpm\" }\n");
        assert!(answer.contains("\"findings\""), "{answer}");
    }

    #[test]
    fn wrong_input_is_answered_by_its_problems() {
        let answer = answered("format = 1\n");
        assert!(
            answer.contains("\"problems\"") && answer.contains("site.toml"),
            "{answer}"
        );
    }

    #[test]
    fn what_is_no_request_is_said() {
        assert!(answer("{").starts_with("the request is not understood"));
    }
}
