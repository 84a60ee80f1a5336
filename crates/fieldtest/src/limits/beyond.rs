//! The steps of a test that ran beyond a limit.

use super::SiteLimits;
use super::pad_rules;
use crate::conditions::Conditions;
use crate::division::Division;
use crate::finding::{Finding, Matter, Place, Severity};
use crate::result::{Bound, Limit, Passage, Step, TestResult};
use crate::rules::Rule;
use records::{Measured, Site};

/// Flows that were read on one line by a meter of its own: step speed, rpm, and flow, m³/s.
pub(crate) type BranchFlows<'a> = &'a dyn Fn(&str) -> Vec<(f64, f64)>;

/// A pressure is said to come near a rating from this many standard uncertainties below it on.
const NEAR_Z: f64 = 2.0;

/// Finds the limits that steps of a test ran beyond.
pub(crate) fn beyond(
    site: &Site,
    test: &TestResult,
    found: &SiteLimits,
    conditions: Option<&Conditions>,
    branch_flows: BranchFlows<'_>,
) -> Vec<Finding> {
    let limits = found.limits.iter();
    let mut findings: Vec<Finding> = limits
        .filter(|limit| is_tightest(limit, &found.limits))
        .filter_map(|limit| flow_beyond(test, limit, found.division.as_ref(), branch_flows))
        .collect();
    if let Some(conditions) = conditions {
        let rules = pad_rules(site, &conditions.around);
        let pressure = rules.vessel_pressure;
        findings.extend(pressure.and_then(|rule| pressure_beyond(test, &rule)));
        findings.extend(vacuum_beyond(test, &rules.inlet_vacuum));
        findings.extend(npsh_beyond(test, &rules.npsh_margin));
    }
    findings
}

/// Finds the steps at which a line or a part of it passed more than its limit: by the whole flow where all of it passes,
/// else by a meter on the line itself. A ceiling of filtration is no matter of a test but of the program.
fn flow_beyond(
    test: &TestResult,
    limit: &Limit,
    division: Option<&Division>,
    branch_flows: BranchFlows<'_>,
) -> Option<Finding> {
    let line = limit.line.as_ref()?;
    let limit_flow = limit.flow_m3s.filter(|_| limit.bound == Bound::Max)?;
    let flows = match limit.passage {
        Passage::Whole => whole_flows(test),
        Passage::Divided => divided_flows(test, line, division, branch_flows),
        Passage::Part => branch_flows(line),
        Passage::Shut => return None,
    };
    let beyond: Vec<(f64, f64)> = flows
        .into_iter()
        .filter(|(_, flow)| *flow > limit_flow)
        .collect();
    let most = beyond.iter().map(|(_, flow)| *flow).fold(0.0, f64::max);
    let matter = Matter::FlowBeyond {
        limit: limit.clone(),
        flow_m3s: most,
    };
    let severity = match limit.code {
        // A cover beyond its rating can hold a person.
        "above-cover-rating" => Severity::Error,
        _ => Severity::Warning,
    };
    let steps_rpm = beyond.iter().map(|(speed, _)| *speed).collect();
    (!beyond.is_empty()).then(|| of_test(test, severity, steps_rpm, None, matter))
}

/// Lists the flows in a line that takes a part: by a meter on it, else as the plumbing divides the flow of each step.
fn divided_flows(
    test: &TestResult,
    line: &str,
    division: Option<&Division>,
    branch_flows: BranchFlows<'_>,
) -> Vec<(f64, f64)> {
    let read = branch_flows(line);
    let place = division.and_then(|division| Some((division, division.line(line)?)));
    let Some((division, line)) = place.filter(|_| read.is_empty()) else {
        return read;
    };
    let of_step = |(speed, total): (f64, f64)| Some((speed, division.of_line_m3s(line, total)?));
    whole_flows(test).into_iter().filter_map(of_step).collect()
}

/// Says whether a limit is the lowest of its kind on its part: one part that runs too much gives one finding.
fn is_tightest(limit: &Limit, limits: &[Limit]) -> bool {
    let tighter = |other: &Limit| {
        (other.code, &other.applies_to) == (limit.code, &limit.applies_to)
            && other.flow_m3s < limit.flow_m3s
    };
    !limits.iter().any(tighter)
}

fn whole_flows(test: &TestResult) -> Vec<(f64, f64)> {
    let steps = test.steps.iter();
    steps
        .filter_map(|step: &Step| Some((step.speed_rpm, step.flow_m3s?.value)))
        .collect()
}

/// Finds the steps at which a vessel stood above its rating, or so near that its gauge cannot tell.
fn pressure_beyond(test: &TestResult, rule: &Rule) -> Option<Finding> {
    let near = |step: &&Step| {
        let read = step.filter_pressure_pa;
        read.is_some_and(|read| read.value + NEAR_Z * read.u > rule.si)
    };
    let steps: Vec<&Step> = test.steps.iter().filter(near).collect();
    let highest = steps
        .iter()
        .filter_map(|step| step.filter_pressure_pa)
        .max_by(|a, b| a.value.total_cmp(&b.value))?;
    let matter = Matter::PressureAboveRating {
        pressure_pa: highest,
        rating_pa: rule.si,
    };
    let severity = if highest.value > rule.si {
        Severity::Error
    } else {
        Severity::Warning
    };
    let steps_rpm = steps.iter().map(|step| step.speed_rpm).collect();
    Some(of_test(
        test,
        severity,
        steps_rpm,
        Some(Measured::FilterPressure),
        matter,
    ))
}

fn vacuum_beyond(test: &TestResult, rule: &Rule) -> Option<Finding> {
    let vacuum_pa = |step: &Step| Some(step.inlet_pressure_pa?.negated());
    let beyond = |step: &&Step| vacuum_pa(step).is_some_and(|vacuum| vacuum.value > rule.si);
    let steps: Vec<&Step> = test.steps.iter().filter(beyond).collect();
    let highest = steps.iter().filter_map(|step| vacuum_pa(step));
    let matter = Matter::InletVacuumHigh {
        vacuum_pa: highest.max_by(|a, b| a.value.total_cmp(&b.value))?,
        limit_pa: rule.si,
        source: rule.source,
        basis: rule.basis,
    };
    let steps_rpm = steps.iter().map(|step| step.speed_rpm).collect();
    Some(of_test(test, Severity::Warning, steps_rpm, None, matter))
}

fn npsh_beyond(test: &TestResult, rule: &Rule) -> Option<Finding> {
    let short = |step: &&Step| step.npsh_margin_m().is_some_and(|margin| margin < rule.si);
    let steps: Vec<&Step> = test.steps.iter().filter(short).collect();
    let least = steps.iter().filter_map(|step| {
        Some((
            step.npsh_margin_m()?,
            step.npsh_available_m?,
            step.npsh_required_m?,
        ))
    });
    let (_, available_m, required_m) = least.min_by(|a, b| a.0.total_cmp(&b.0))?;
    let matter = Matter::NpshShort {
        available_m,
        required_m,
        margin_m: rule.si,
        source: rule.source,
        basis: rule.basis,
    };
    let steps_rpm = steps.iter().map(|step| step.speed_rpm).collect();
    Some(of_test(test, Severity::Warning, steps_rpm, None, matter))
}

fn of_test(
    test: &TestResult,
    severity: Severity,
    steps_rpm: Vec<f64>,
    column: Option<Measured>,
    matter: Matter,
) -> Finding {
    Finding {
        severity,
        place: Place {
            test: Some(test.name.clone()),
            steps_rpm,
            column: column.map(|measured| measured.word().to_owned()),
            ..Place::default()
        },
        matter,
    }
}
