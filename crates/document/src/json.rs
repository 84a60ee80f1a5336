//! The answer as JSON: SI numbers under the names of the contract, with the English words.

mod calibration;

use crate::content::source_of_uncertainty;
use crate::units::Printing;
use crate::words;
use calibration::{BudgetJson, CalibrationJson, budget_of, calibration_of};
pub(crate) use calibration::{LearningJson, learning_of};
use fieldtest::{
    Analysis, Basis, Bound, BudgetPart, Calibration, Drawn, Edge, ErrorSource, Finding, HeadFrom,
    Laws, Learning, Limit, LimitOf, Passage, Question, Severity, Simulated, TestResult,
    UncertaintyBudget,
};
use metrology::Estimate;
use records::{Site, UnitSystem};
use serde::Serialize;

/// How the names in JSON are printed, which are the same in every language.
pub(crate) const MACHINE: Printing = Printing::english(UnitSystem::Si);

/// Counts breaking changes of the JSON.
pub const FORMAT: u32 = 1;

/// Writes a value as JSON, indented, with a line end.
pub(crate) fn text(value: &impl Serialize) -> String {
    // The documents of this crate hold strings, finite numbers and sequences, none of which can fail.
    let mut text = serde_json::to_string_pretty(value).unwrap_or_default();
    text.push('\n');
    text
}

/// Writes `analyze --json`; `printing` sets the units of the words, the numbers being SI.
pub fn analysis(
    analysis: &Analysis,
    site: &Site,
    why: Option<&UncertaintyBudget>,
    printing: Printing,
) -> String {
    text(&Document {
        why: why.map(why_of),
        ..Document::of(analysis, site, printing)
    })
}

/// Writes `analyze --at SPEED --json`.
pub fn analysis_with_budget(
    analysis: &Analysis,
    site: &Site,
    (calibration, learning): (&Calibration, Option<&Learning>),
    printing: Printing,
) -> String {
    text(&Document {
        budget: budget_of(site, calibration),
        calibration: Some(calibration_of(site, calibration, learning)),
        to_learn: learning.map(|learning| learning_of(site, learning)),
        ..Document::of(analysis, site, printing)
    })
}

/// Writes `analyze --to-learn ANSWER --json` where the circuit has no part in it.
pub fn analysis_to_learn(
    analysis: &Analysis,
    site: &Site,
    learning: Option<&Learning>,
    printing: Printing,
) -> String {
    text(&Document {
        to_learn: learning.map(|learning| learning_of(site, learning)),
        ..Document::of(analysis, site, printing)
    })
}

/// Writes `analyze --monte-carlo --json`.
pub fn analysis_with_monte_carlo(
    analysis: &Analysis,
    site: &Site,
    simulated: &Simulated,
    printing: Printing,
) -> String {
    text(&Document {
        monte_carlo: Some(monte_carlo_of(simulated)),
        ..Document::of(analysis, site, printing)
    })
}

/// Writes `check --json`: the findings alone.
pub fn findings(analysis: &Analysis, printing: Printing) -> String {
    #[derive(Serialize)]
    struct Check {
        format: u32,
        findings: Vec<FindingJson>,
    }
    text(&Check {
        format: FORMAT,
        findings: findings_of(&analysis.findings, printing),
    })
}

#[derive(Serialize)]
struct Document {
    format: u32,
    site: String,
    steps: Vec<StepJson>,
    laws: Option<LawsJson>,
    least_energy: Option<LeastEnergyJson>,
    tests: Vec<TestJson>,
    budget: Vec<BudgetJson>,
    #[serde(skip_serializing_if = "Option::is_none")]
    calibration: Option<CalibrationJson>,
    #[serde(skip_serializing_if = "Option::is_none")]
    to_learn: Option<LearningJson>,
    readings: Vec<ReadingJson>,
    findings: Vec<FindingJson>,
    limits: Vec<LimitJson>,
    #[serde(skip_serializing_if = "Option::is_none")]
    why: Option<WhyJson>,
    #[serde(skip_serializing_if = "Option::is_none")]
    monte_carlo: Option<MonteCarloJson>,
}

#[derive(Serialize)]
struct MonteCarloJson {
    draws: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    unsettled: Option<usize>,
    answers: Vec<DrawnJson>,
}

#[derive(Serialize)]
struct DrawnJson {
    of: &'static str,
    at_speed_rpm: Option<f64>,
    draws: usize,
    first_order: E,
    monte_carlo: E,
}

#[derive(Serialize)]
struct WhyJson {
    of: &'static str,
    at_speed_rpm: Option<f64>,
    estimate: E,
    parts: Vec<WhyPartJson>,
}

#[derive(Serialize)]
struct WhyPartJson {
    source: &'static str,
    column: Option<String>,
    share: f64,
    says: String,
}

#[derive(Serialize)]
pub(crate) struct E {
    value: f64,
    u: f64,
    low: f64,
    high: f64,
}

impl From<Estimate> for E {
    fn from(estimate: Estimate) -> Self {
        Self {
            value: estimate.value,
            u: estimate.u,
            low: estimate.low,
            high: estimate.high,
        }
    }
}

fn e(estimate: Option<Estimate>) -> Option<E> {
    estimate.map(E::from)
}

#[derive(Serialize)]
struct StepJson {
    test: String,
    speed_rpm: f64,
    rows: Vec<usize>,
    flow_m3s: Option<E>,
    power_w: Option<E>,
    current_a: Option<E>,
    power_factor: Option<E>,
    head_m: Option<E>,
    head_from: Option<&'static str>,
    head_bound_m: Option<E>,
    efficiency: Option<E>,
    energy_wh_per_m3: Option<E>,
    filter_pressure_pa: Option<E>,
    inlet_pressure_pa: Option<E>,
    npsh_available_m: Option<E>,
    npsh_required_m: Option<f64>,
}

#[derive(Serialize)]
struct LawsJson {
    flow: FlowJson,
    power: PowerJson,
    system: SystemJson,
}

#[derive(Serialize)]
struct FlowJson {
    slope_m3s_per_rpm: Option<E>,
    intercept_speed_rpm: Option<E>,
}

#[derive(Serialize)]
struct PowerJson {
    fixed_w: Option<E>,
    dynamic_w: Option<E>,
    at_speed_rpm: Option<f64>,
    exponent: Option<E>,
    standby_w: Option<E>,
}

#[derive(Serialize)]
struct SystemJson {
    static_m: Option<E>,
    coefficient_m_per_m3s_n: Option<E>,
    exponent: Option<E>,
}

#[derive(Serialize)]
struct LeastEnergyJson {
    speed_rpm: Option<E>,
    flow_m3s: Option<E>,
    energy_wh_per_m3: Option<E>,
    within_3_percent: Option<BandJson>,
    at_edge: Option<&'static str>,
    volume_24h_m3: Option<f64>,
    below: Vec<String>,
}

#[derive(Serialize)]
struct BandJson {
    low_rpm: f64,
    high_rpm: f64,
}

#[derive(Serialize)]
struct TestJson {
    test: String,
    closed: Vec<String>,
    laws: LawsJson,
    least_energy: Option<LeastEnergyJson>,
}

#[derive(Serialize)]
struct ReadingJson {
    test: String,
    row: usize,
    column: String,
    value: f64,
    used: bool,
    why: Option<&'static str>,
}

#[derive(Serialize)]
pub(crate) struct FindingJson {
    code: &'static str,
    severity: &'static str,
    test: Option<String>,
    steps: Vec<f64>,
    rows: Vec<usize>,
    column: Option<String>,
    accept: Option<f64>,
    says: String,
    #[serde(rename = "do")]
    action: String,
    source: Option<String>,
}

#[derive(Serialize)]
pub(crate) struct LimitJson {
    code: &'static str,
    applies_to: String,
    flow_m3s: Option<f64>,
    speed_rpm: Option<f64>,
    passage: &'static str,
    velocity_m_s: Option<f64>,
    pressure_pa: Option<f64>,
    head_m: Option<f64>,
    bound: &'static str,
    basis: &'static str,
    source: String,
}

impl Document {
    fn of(analysis: &Analysis, site: &Site, printing: Printing) -> Self {
        let last = analysis.tests.last();
        Self {
            format: FORMAT,
            site: site.name.clone(),
            steps: analysis.tests.iter().flat_map(steps_of).collect(),
            laws: last.map(|test| laws_of(&test.laws)),
            least_energy: last.and_then(least_energy_of),
            tests: analysis.tests.iter().map(test_of).collect(),
            budget: Vec::new(),
            calibration: None,
            to_learn: None,
            readings: analysis.tests.iter().flat_map(readings_of).collect(),
            findings: findings_of(&analysis.findings, printing),
            limits: analysis.limits.iter().map(limit).collect(),
            why: None,
            monte_carlo: None,
        }
    }
}

fn steps_of(test: &TestResult) -> Vec<StepJson> {
    let step = |step: &fieldtest::Step| StepJson {
        test: test.name.clone(),
        speed_rpm: step.speed_rpm,
        rows: step.rows.clone(),
        flow_m3s: e(step.flow_m3s),
        power_w: e(step.power_w),
        current_a: e(step.current_a),
        power_factor: e(step.power_factor),
        head_m: e(step.head_m),
        head_from: step.head_from.map(|from| match from {
            HeadFrom::Gauges => "gauges",
            HeadFrom::Stated => "stated",
        }),
        head_bound_m: e(step.head_bound_m),
        efficiency: e(step.efficiency),
        energy_wh_per_m3: e(step.energy_wh_per_m3),
        filter_pressure_pa: e(step.filter_pressure_pa),
        inlet_pressure_pa: e(step.inlet_pressure_pa),
        npsh_available_m: e(step.npsh_available_m),
        npsh_required_m: step.npsh_required_m,
    };
    test.steps.iter().map(step).collect()
}

fn laws_of(laws: &Laws) -> LawsJson {
    let (flow, power) = (laws.flow.as_ref(), laws.power.as_ref());
    let system = laws.system.as_ref();
    LawsJson {
        flow: FlowJson {
            slope_m3s_per_rpm: e(flow.map(|law| law.slope_m3s_per_rpm)),
            intercept_speed_rpm: e(flow.map(|law| law.intercept_speed_rpm)),
        },
        power: PowerJson {
            fixed_w: e(power.map(|law| law.fixed_w)),
            dynamic_w: e(power.map(|law| law.dynamic_w)),
            at_speed_rpm: power.map(|law| law.at_speed_rpm),
            exponent: e(power.map(|law| law.exponent)),
            standby_w: e(laws.standby_w),
        },
        system: SystemJson {
            static_m: e(system.and_then(|law| law.static_m)),
            coefficient_m_per_m3s_n: e(system.and_then(|law| law.coefficient_m_per_m3s_n)),
            exponent: e(system.and_then(|law| law.exponent)),
        },
    }
}

fn least_energy_of(test: &TestResult) -> Option<LeastEnergyJson> {
    let least = test.least_energy.as_ref()?;
    Some(LeastEnergyJson {
        speed_rpm: e(least.speed_rpm),
        flow_m3s: e(least.flow_m3s),
        energy_wh_per_m3: e(least.energy_wh_per_m3),
        within_3_percent: least
            .within_3_percent_rpm
            .map(|(low_rpm, high_rpm)| BandJson { low_rpm, high_rpm }),
        at_edge: least.at_edge.map(|edge| match edge {
            Edge::Low => "low",
            Edge::High => "high",
        }),
        volume_24h_m3: least.volume_24h_m3,
        below: least.below.clone(),
    })
}

fn test_of(test: &TestResult) -> TestJson {
    TestJson {
        test: test.name.clone(),
        closed: test.closed.clone(),
        laws: laws_of(&test.laws),
        least_energy: least_energy_of(test),
    }
}

fn readings_of(test: &TestResult) -> Vec<ReadingJson> {
    let reading = |reading: &fieldtest::ReadingUse| ReadingJson {
        test: test.name.clone(),
        row: reading.row,
        column: reading.column.clone(),
        value: reading.si,
        used: reading.used,
        why: reading.why,
    };
    test.readings.iter().map(reading).collect()
}

pub(crate) fn findings_of(findings: &[Finding], printing: Printing) -> Vec<FindingJson> {
    let finding = |finding: &Finding| {
        let words = words::finding(finding, printing);
        FindingJson {
            code: finding.matter.code(),
            severity: severity(finding.severity),
            test: finding.place.test.clone(),
            steps: finding.place.steps_rpm.clone(),
            rows: finding.place.rows.clone(),
            column: finding.place.column.clone(),
            accept: finding.matter.accept_si(),
            says: words.says,
            action: words.action,
            source: words.source,
        }
    };
    findings.iter().map(finding).collect()
}

fn why_of(budget: &UncertaintyBudget) -> WhyJson {
    let (of, at_speed_rpm) = match budget.question {
        Question::Flow(speed) => ("flow_m3s", Some(speed)),
        Question::Power(speed) => ("power_w", Some(speed)),
        Question::Energy(speed) => ("energy_wh_per_m3", Some(speed)),
        Question::FixedDraw => ("fixed_w", None),
        Question::Exponent => ("exponent", None),
    };
    let part = |part: &BudgetPart| WhyPartJson {
        source: match part.source {
            ErrorSource::MeterCommon { .. } => "meter-common",
            ErrorSource::MeterOwn { .. } => "meter-own",
            ErrorSource::Discrepancy => "discrepancy",
            ErrorSource::Prior => "prior",
        },
        column: part.column.clone(),
        share: part.share,
        says: source_of_uncertainty(part, MACHINE),
    };
    WhyJson {
        of,
        at_speed_rpm,
        estimate: budget.estimate.into(),
        parts: budget.parts.iter().map(part).collect(),
    }
}

fn monte_carlo_of(simulated: &Simulated) -> MonteCarloJson {
    let answers = simulated.answers.iter().map(|answer| {
        let (of, at_speed_rpm) = match answer.of {
            Drawn::FlowSlope => ("slope_m3s_per_rpm", None),
            Drawn::InterceptSpeed => ("intercept_speed_rpm", None),
            Drawn::FixedDraw => ("fixed_w", None),
            Drawn::DynamicDraw => ("dynamic_w", None),
            Drawn::Exponent => ("exponent", None),
            Drawn::CheapestSpeed => ("least_energy_speed_rpm", None),
            Drawn::Flow(speed) => ("flow_m3s", Some(speed)),
            Drawn::Power(speed) => ("power_w", Some(speed)),
            Drawn::Energy(speed) => ("energy_wh_per_m3", Some(speed)),
        };
        DrawnJson {
            of,
            at_speed_rpm,
            draws: answer.distributed.draws,
            first_order: answer.first_order.into(),
            monte_carlo: answer.estimate().into(),
        }
    });
    MonteCarloJson {
        draws: simulated.draws,
        unsettled: (simulated.unsettled > 0).then_some(simulated.unsettled),
        answers: answers.collect(),
    }
}

/// Writes a limit under the names of the contract.
pub(crate) fn limit(limit: &Limit) -> LimitJson {
    LimitJson {
        code: limit.code,
        applies_to: limit.applies_to.clone(),
        flow_m3s: limit.flow_m3s,
        speed_rpm: limit.speed_rpm,
        passage: match limit.passage {
            Passage::Whole => "whole",
            Passage::Divided => "divided",
            Passage::Part => "part",
            Passage::Shut => "shut",
        },
        velocity_m_s: match limit.of {
            LimitOf::Velocity { velocity_m_s } => Some(velocity_m_s),
            _ => None,
        },
        pressure_pa: match limit.of {
            LimitOf::Pressure { pressure_pa } => Some(pressure_pa),
            LimitOf::Vacuum { vacuum_pa } => Some(-vacuum_pa),
            _ => None,
        },
        head_m: match limit.of {
            LimitOf::NpshMargin { margin_m } => Some(margin_m),
            LimitOf::Lift { height_m } => Some(height_m),
            _ => None,
        },
        bound: match limit.bound {
            Bound::Max => "max",
            Bound::Min => "min",
        },
        basis: basis(limit.basis),
        source: limit.source.clone(),
    }
}

/// Returns the word of the contract for a severity.
pub fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Note => "note",
        Severity::Warning => "warning",
        Severity::Error => "error",
    }
}

pub(crate) fn basis(basis: Basis) -> &'static str {
    match basis {
        Basis::Printed => "printed",
        Basis::UsualPractice => "usual practice",
        Basis::SiteFile => "site file",
    }
}
