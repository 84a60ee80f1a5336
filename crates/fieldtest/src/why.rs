//! Where the uncertainty of an answer comes from: which meter and which assumption contribute how much.

use crate::laws::{ErrorSource, Part};
use crate::result::TestResult;
use metrology::Estimate;

/// An answer whose uncertainty is asked about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Question {
    /// Flow at a speed, rpm.
    Flow(f64),
    /// Power at a speed, rpm.
    Power(f64),
    /// Electrical energy per volume at a speed, rpm.
    Energy(f64),
    /// The draw that does not depend on speed.
    FixedDraw,
    /// The exponent of the draw that does.
    Exponent,
}

/// The budget of an answer.
#[derive(Clone, Debug, PartialEq)]
pub struct UncertaintyBudget {
    /// What was asked.
    pub question: Question,
    /// The answer, SI; energy in W h/m³.
    pub estimate: Estimate,
    /// The parts, the largest first; their shares add up to 1.
    pub parts: Vec<BudgetPart>,
}

/// A part of a budget.
#[derive(Clone, Debug, PartialEq)]
pub struct BudgetPart {
    /// Where it comes from.
    pub source: ErrorSource,
    /// The heading of the column, where a meter contributes.
    pub column: Option<String>,
    /// Its share of the variance.
    pub share: f64,
}

/// Answers a question about a test; `None` where the test has no law to answer from.
pub fn why(test: &TestResult, question: Question) -> Option<UncertaintyBudget> {
    if !is_near_the_steps(test, question) {
        return None;
    }
    let laws = &test.laws;
    let flow = || laws.flow.as_ref().map(|law| &law.law);
    let power = || laws.power.as_ref().map(|law| &law.law);
    let (estimate, parts) = match question {
        Question::Flow(speed) => (flow()?.predict(speed)?, flow()?.parts_of_prediction(speed)),
        Question::Power(speed) => (
            power()?.predict(speed)?,
            power()?.parts_of_prediction(speed),
        ),
        Question::Energy(speed) => {
            // Power over flow: in the logarithm the variances of both add up.
            let mut parts = power()?.parts_of_prediction(speed);
            parts.extend(flow()?.parts_of_prediction(speed));
            (laws.energy_wh_per_m3(speed)?, parts)
        }
        Question::FixedDraw => (laws.power.as_ref()?.fixed_w, power()?.parts_of_parameter(0)),
        Question::Exponent => (
            laws.power.as_ref()?.exponent,
            power()?.parts_of_parameter(2),
        ),
    };
    Some(UncertaintyBudget {
        question,
        estimate,
        parts: shares(&merged(parts), &test.columns),
    })
}

/// Says whether a question is about a speed that the steps have something to say of: half the slowest to a tenth above the fastest.
fn is_near_the_steps(test: &TestResult, question: Question) -> bool {
    let (Question::Flow(speed) | Question::Power(speed) | Question::Energy(speed)) = question
    else {
        return true;
    };
    let (Some(slowest), Some(fastest)) = (test.steps.first(), test.steps.last()) else {
        return false;
    };
    (0.5 * slowest.speed_rpm..=1.1 * fastest.speed_rpm).contains(&speed)
}

/// Adds up the parts of one source: two laws have a discrepancy and priors each.
fn merged(mut parts: Vec<Part>) -> Vec<Part> {
    numerics::order::sort_by_key(&mut parts, |part| part.source);
    let mut sums: Vec<Part> = Vec::new();
    for part in parts {
        match sums.last_mut() {
            Some(last) if last.source == part.source => last.variance += part.variance,
            _ => sums.push(part),
        }
    }
    sums
}

fn shares(parts: &[Part], columns: &[String]) -> Vec<BudgetPart> {
    let whole: f64 = parts.iter().map(|part| part.variance).sum();
    let mut shares: Vec<BudgetPart> = parts
        .iter()
        .map(|part| BudgetPart {
            source: part.source,
            column: match part.source {
                ErrorSource::MeterCommon { column } | ErrorSource::MeterOwn { column } => {
                    columns.get(column).cloned()
                }
                ErrorSource::Discrepancy | ErrorSource::Prior => None,
            },
            share: if whole > 0.0 {
                part.variance / whole
            } else {
                0.0
            },
        })
        .collect();
    numerics::order::sort_by(&mut shares, |a, b| b.share.total_cmp(&a.share));
    shares
}
