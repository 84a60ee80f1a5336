//! The limits that plumbing and equipment set, as flow and as speed, and the steps of a test that went beyond.

use crate::bores::{NotInCatalogue, bore_m, pipes};
use crate::circuit::{Side, carries_whole_flow, side};
use crate::equipment::{max_flow, min_flow, word};
use crate::finding::{Basis, Finding, Matter, Place, Severity};
use crate::laws::FlowLaw;
use crate::result::{Bound, Limit, Step, TestResult};
use crate::rules::{RuleSet, VelocityRule, rule_set};
use records::{Line, PartKind, Pipe, Quantity, Site};

/// The limits of a site, with what could not be found.
#[derive(Clone, Debug, Default)]
pub(crate) struct SiteLimits {
    /// The limits; speeds are those of `flow_law`.
    pub limits: Vec<Limit>,
    /// What stands in the way of more.
    pub findings: Vec<Finding>,
}

/// Lists the limits of a site's lines and equipment, with the speed at which `flow_law` reaches each.
pub(crate) fn site_limits(
    site: &Site,
    closed: &[String],
    flow_law: Option<&FlowLaw>,
) -> SiteLimits {
    let mut found = SiteLimits::default();
    let named = site.limits.rules.as_deref();
    let rules = rule_set(named).unwrap_or_else(|| {
        found.findings.push(of_site(
            Severity::Warning,
            Matter::UnknownRules {
                name: named.unwrap_or_default().to_owned(),
            },
        ));
        &crate::rules::RULE_SETS[0]
    });
    for line in &site.lines {
        let speed = |flow_m3s: f64| {
            let law = flow_law.filter(|_| carries_whole_flow(site, line, closed))?;
            Some(law.speed_at_rpm(flow_m3s))
        };
        let (bore_m, unknown) = smallest_bore_m(line);
        found.findings.extend(unknown);
        if let (Some(bore_m), Some(rule)) = (bore_m, velocity_rule(site, rules, line)) {
            found
                .limits
                .push(velocity_limit(line, bore_m, &rule, speed));
        }
        found.limits.extend(equipment_limits(line, speed));
    }
    found
}

fn of_site(severity: Severity, matter: Matter) -> Finding {
    Finding {
        severity,
        place: Place::default(),
        matter,
    }
}

/// Chooses the rule for a line's velocity: the site's own word before that of the set.
fn velocity_rule(site: &Site, rules: &RuleSet, line: &Line) -> Option<VelocityRule> {
    let (own, of_set) = match side(site, line)? {
        Side::Suction => (&site.limits.suction_velocity, rules.suction),
        Side::Discharge => (&site.limits.return_velocity, rules.discharge),
    };
    Some(own.as_ref().map_or(of_set, |velocity| VelocityRule {
        velocity_m_s: velocity.si,
        source: "stated in the site file",
        basis: Basis::SiteFile,
    }))
}

fn velocity_limit(
    line: &Line,
    bore_m: f64,
    rule: &VelocityRule,
    speed: impl Fn(f64) -> Option<f64>,
) -> Limit {
    let flow_m3s = rule.velocity_m_s * bore_area_m2(bore_m);
    Limit {
        code: "velocity-high",
        applies_to: line.name.clone(),
        flow_m3s,
        speed_rpm: speed(flow_m3s),
        velocity_m_s: Some(rule.velocity_m_s),
        bound: Bound::Max,
        source: rule.source.to_owned(),
        basis: rule.basis,
    }
}

fn bore_area_m2(bore_m: f64) -> f64 {
    std::f64::consts::FRAC_PI_4 * bore_m * bore_m
}

/// Finds the smallest bore among the pipes of a line, and the pipes that the catalogue does not know.
fn smallest_bore_m(line: &Line) -> (Option<f64>, Vec<Finding>) {
    let mut smallest: Option<f64> = None;
    let mut unknown = Vec::new();
    for pipe in pipes(line) {
        match bore_m(pipe) {
            Ok(bore) => smallest = Some(smallest.map_or(bore, |least| least.min(bore))),
            Err(missing) => unknown.push(of_site(
                Severity::Warning,
                unknown_pipe(line, pipe, missing),
            )),
        }
    }
    (smallest, unknown)
}

fn unknown_pipe(line: &Line, pipe: &Pipe, missing: NotInCatalogue) -> Matter {
    Matter::UnknownPipe {
        line: line.name.clone(),
        spec: pipe.spec.clone().unwrap_or_default(),
        size: pipe
            .pipe
            .as_ref()
            .map(|size| size.text.clone())
            .unwrap_or_default(),
        known: missing.0,
    }
}

/// Lists the flows that the equipment of a line asks for, as stated in the site file.
fn equipment_limits(line: &Line, speed: impl Fn(f64) -> Option<f64>) -> Vec<Limit> {
    let mut limits = Vec::new();
    for part in &line.parts {
        for (code, bound, flow) in [
            (above_code(&part.kind), Bound::Max, max_flow(&part.kind)),
            ("below-equipment-minimum", Bound::Min, min_flow(&part.kind)),
        ] {
            if let Some(flow) = flow {
                limits.push(equipment_limit(line, &part.kind, code, bound, flow, &speed));
            }
        }
    }
    limits
}

fn above_code(kind: &PartKind) -> &'static str {
    match kind {
        PartKind::Filter(_) => "above-filter-flow",
        PartKind::Cover(_) => "above-cover-rating",
        _ => "above-equipment-maximum",
    }
}

fn equipment_limit(
    line: &Line,
    kind: &PartKind,
    code: &'static str,
    bound: Bound,
    flow: &Quantity,
    speed: impl Fn(f64) -> Option<f64>,
) -> Limit {
    Limit {
        code,
        applies_to: format!("{}, {}", word(kind), line.name),
        flow_m3s: flow.si,
        speed_rpm: speed(flow.si),
        velocity_m_s: None,
        bound,
        source: "stated in the site file".to_owned(),
        basis: Basis::SiteFile,
    }
}

/// Finds the lines in which steps of a test ran faster than the rule allows.
pub(crate) fn velocity_findings(test: &TestResult, limits: &[Limit]) -> Vec<Finding> {
    let check = |limit: &Limit| {
        let velocity_at_limit = limit.velocity_m_s?;
        let speed_at_limit = limit.speed_rpm?;
        let beyond: Vec<&Step> = test
            .steps
            .iter()
            .filter(|step| {
                step.flow_m3s
                    .is_some_and(|flow| flow.value > limit.flow_m3s)
            })
            .collect();
        let most = beyond
            .iter()
            .filter_map(|step| step.flow_m3s)
            .map(|flow| flow.value);
        let most = most.fold(0.0, f64::max);
        (!beyond.is_empty()).then(|| Finding {
            severity: Severity::Warning,
            place: Place {
                test: Some(test.name.clone()),
                steps_rpm: beyond.iter().map(|step| step.speed_rpm).collect(),
                ..Place::default()
            },
            matter: Matter::VelocityHigh {
                line: limit.applies_to.clone(),
                velocity_m_s: velocity_at_limit * most / limit.flow_m3s,
                limit_m_s: velocity_at_limit,
                limit_flow_m3s: limit.flow_m3s,
                limit_speed_rpm: Some(speed_at_limit),
                source: limit.source.clone(),
                basis: limit.basis,
            },
        })
    };
    limits.iter().filter_map(check).collect()
}
