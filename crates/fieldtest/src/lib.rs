//! Judges a step test: steps, laws, trust, limits.
//!
//! [`analyze`] is a pure function from a site and its tests to plain data. It opens no file, reads no clock and
//! holds no sentence: findings are codes and numbers, and their words are the renderer's.

mod agreement;
mod blank;
mod bores;
mod calibration;
mod cells;
mod circuit;
mod column_slip;
mod columns;
mod conditions;
mod currency;
mod division;
mod efficiency;
mod electrical;
mod equipment;
mod examine;
mod expectation;
mod explain;
mod finding;
mod follow_up;
mod gauges;
mod head;
mod joints;
mod laws;
mod least_energy;
mod limits;
mod meters;
mod monte_carlo;
mod network;
mod next_reading;
mod plan;
mod plumbing;
mod pump_curve;
mod repeats;
mod result;
mod rules;
mod run_loss;
mod settling;
pub mod simulation;
mod solved;
mod speed;
mod steps;
mod suction;
mod surroundings;
mod system;
mod trust;
mod why;
mod zero;

pub use calibration::{
    Budget, CalibratedCircuit, Calibration, CarriedFlow, Carrier, ChangedPad, FallBy, FilterThen,
    HeadBy, HeadFit, LineBudget, NotCalibrated, Parameter, ParameterOf, PartBudget, ReadOn,
    TeeBudget, calibrate, not_calibrated, speed_to_calibrate,
};
pub use currency::unknown_currencies;
pub use electrical::StepVoltage;
pub use expectation::{Expectation, ExpectedBy, RoughDoubt, expectations};
pub use finding::{
    Basis, Finding, Law, Matter, Place, Reading, Seen, Severity, Slip, Unknown, Unrest, Voltage,
};
pub use follow_up::{
    Candidate, Change, CleaningRule, FilterRise, FollowUp, Hindrance, NotCompared, NotTracked,
    PRIOR_OF_NOTHING, Pace, Split, Told, Verdict, Visit, follow_up,
};
pub use laws::{Discrepancy, ErrorSource, FittedLaw, FlowLaw, LnPrediction, Part, PowerLaw, Shape};
pub use meters::{UsualLimit, usual_accuracy};
pub use monte_carlo::{
    Drawn, Refit, Simulated, SimulatedAnswer, TestDraws, monte_carlo, monte_carlo_plan,
};
pub use network::NetworkProblem;
pub use next_reading::{
    Answer, Learning, NextReading, NotLearnt, ReadingToCome, calibrate_into, calibrate_to_learn,
    next_readings,
};
pub use plan::{
    Ceiling, ClimbStep, Lesson, NoPlan, Plan, PlanNote, PlanQuestion, PlannedColumn, PlannedStep,
    Stage, StageTime, Why, WouldTell, plan,
};
pub use plumbing::{PartProblem, PlacedPart, fitting_words, place};
pub use result::{
    Analysis, Bound, Edge, HeadFrom, Laws, LeastEnergy, Limit, LimitOf, Passage, ReadingUse, Step,
    TestResult,
};
pub use rules::{FiltrationCeiling, RULE_SETS, Rule, RuleSet, rule_set};
pub use run_loss::{PartLoss, RunLoss, RunQuestion, VelocityLimit, run_loss};
pub use solved::{
    PadQuestion, SolvedLimit, SolvedLine, SolvedPad, SolvedPart, SolvedTee, solve_pad,
};
pub use system::SystemLaw;
pub use why::{BudgetPart, Question, UncertaintyBudget, why};

use records::{Site, Test};

/// Analyses the tests of a site.
///
/// # Inputs
/// `tests`: in the order of time; limits are set against the laws of the last.
///
/// # Returns
/// One result per test, the site's limits, and the findings, most serious first. The order of the rows of a test
/// does not reach the result, but for repeated entries, which are judged against the row beside them.
pub fn analyze(site: &Site, tests: &[Test]) -> Analysis {
    let examined = tests.iter().map(|test| examine::examine(site, test));
    concluded(site, examined)
}

/// Analyses one test and says what is to be expected of each of its cells, from one examination: what a page asks at
/// every keystroke.
///
/// # Returns
/// What [`analyze`] and [`expectations`] say of the same test.
pub fn analyze_with_expectations(site: &Site, test: &Test) -> (Analysis, Vec<Expectation>) {
    let (examined, expectations) = examine::examine_with_expectations(site, test);
    let analysis = concluded(site, std::iter::once(examined));
    (analysis, expectations)
}

/// Concludes from the tests what is said of the whole site.
fn concluded(site: &Site, tests: impl Iterator<Item = examine::Examined>) -> Analysis {
    let mut findings = Vec::new();
    let mut results = Vec::new();
    let mut found = None;
    for (result, of_test, limits) in tests {
        findings.extend(of_test);
        results.push(result);
        found = Some(limits);
    }
    let found = found.unwrap_or_else(|| limits::of_lines(site, None));
    let law = results.last().and_then(|test| test.laws.flow.as_ref());
    findings.extend(
        law.map(|law| limits::program_findings(site, &found, law))
            .into_iter()
            .flatten(),
    );
    findings.extend(found.findings);
    findings.extend(plumbing::unknown_parts(site));
    findings.extend(pump_curve::unusable_curve(site));
    findings.extend(currency::of_site(site));
    // Severity first; within one, the order in which the parts of the analysis speak.
    numerics::order::sort_by_key(&mut findings, |finding| std::cmp::Reverse(finding.severity));
    Analysis {
        tests: results,
        limits: found.limits,
        findings,
    }
}
