//! The limits that plumbing and equipment set, as flow and as speed, and the steps of a test that went beyond.

use crate::bores::{NotInCatalogue, bore_m, pipes};
use crate::circuit::{Side, passage, side};
use crate::equipment::{max_flow, min_flow, word};
use crate::finding::{Basis, Finding, Matter, Place, Severity};
use crate::laws::FlowLaw;
use crate::result::{Bound, Limit, Passage, Step, TestResult};
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
        let passage = passage(site, line, closed);
        let speed = |flow_m3s: f64| {
            let law = flow_law.filter(|_| passage == Passage::Whole)?;
            Some(law.speed_at_rpm(flow_m3s)).filter(|speed| *speed <= site.pump.speed.max.si)
        };
        let (bore_m, unknown) = smallest_bore_m(line);
        found.findings.extend(unknown);
        if let (Some(bore_m), Some(rule)) = (bore_m, velocity_rule(site, rules, line)) {
            found.limits.push(velocity_limit(line, bore_m, &rule));
        }
        found.limits.extend(equipment_limits(line));
        for limit in found
            .limits
            .iter_mut()
            .filter(|limit| limit.line == line.name)
        {
            limit.passage = passage;
            limit.speed_rpm = speed(limit.flow_m3s);
        }
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

fn velocity_limit(line: &Line, bore_m: f64, rule: &VelocityRule) -> Limit {
    let flow_m3s = rule.velocity_m_s * bore_area_m2(bore_m);
    Limit {
        code: "velocity-high",
        line: line.name.clone(),
        applies_to: line.name.clone(),
        flow_m3s,
        passage: Passage::Part,
        speed_rpm: None,
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
fn equipment_limits(line: &Line) -> Vec<Limit> {
    let mut limits = Vec::new();
    for part in &line.parts {
        let bounds = [
            (above_code(&part.kind), Bound::Max, max_flow(&part.kind)),
            ("below-equipment-minimum", Bound::Min, min_flow(&part.kind)),
        ];
        for (code, bound, flow) in bounds {
            limits.extend(flow.map(|flow| equipment_limit(line, &part.kind, code, bound, flow)));
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
) -> Limit {
    Limit {
        code,
        line: line.name.clone(),
        applies_to: format!("{}, {}", word(kind), line.name),
        flow_m3s: flow.si,
        passage: Passage::Part,
        speed_rpm: None,
        velocity_m_s: None,
        bound,
        source: "stated in the site file".to_owned(),
        basis: Basis::SiteFile,
    }
}

/// Flows that were read on one line by a meter of its own: step speed, rpm, and flow, m³/s.
pub(crate) type BranchFlows<'a> = &'a dyn Fn(&str) -> Vec<(f64, f64)>;

/// Finds the lines in which steps of a test ran faster than the rule allows: by the whole flow where all of it passes,
/// else by a meter on the line itself.
pub(crate) fn velocity_findings(
    test: &TestResult,
    limits: &[Limit],
    branch_flows: BranchFlows<'_>,
) -> Vec<Finding> {
    let check = |limit: &Limit| {
        let velocity_at_limit = limit.velocity_m_s?;
        let flows = match limit.passage {
            Passage::Whole => whole_flows(test),
            Passage::Part => branch_flows(&limit.line),
            Passage::Shut => return None,
        };
        let beyond: Vec<&(f64, f64)> = flows
            .iter()
            .filter(|(_, flow)| *flow > limit.flow_m3s)
            .collect();
        let most = beyond.iter().map(|(_, flow)| *flow).fold(0.0, f64::max);
        (!beyond.is_empty()).then(|| Finding {
            severity: Severity::Warning,
            place: Place {
                test: Some(test.name.clone()),
                steps_rpm: beyond.iter().map(|(speed, _)| *speed).collect(),
                ..Place::default()
            },
            matter: Matter::VelocityHigh {
                line: limit.applies_to.clone(),
                velocity_m_s: velocity_at_limit * most / limit.flow_m3s,
                limit_m_s: velocity_at_limit,
                limit_flow_m3s: limit.flow_m3s,
                limit_speed_rpm: limit.speed_rpm,
                source: limit.source.clone(),
                basis: limit.basis,
            },
        })
    };
    limits.iter().filter_map(check).collect()
}

fn whole_flows(test: &TestResult) -> Vec<(f64, f64)> {
    let steps = test.steps.iter();
    steps
        .filter_map(|step: &Step| Some((step.speed_rpm, step.flow_m3s?.value)))
        .collect()
}
