//! The limits that plumbing, equipment and rules set, as flow and as speed, and what of a test or a program lies beyond.

mod beyond;
mod equipment;
mod gauges;
mod lines;
mod program;

pub(crate) use beyond::beyond;
pub(crate) use program::program_findings;

use crate::circuit::passage;
use crate::conditions::Conditions;
use crate::division::Division;
use crate::finding::{Finding, Matter, Place, Severity};
use crate::result::{Bound, Limit, LimitOf, Passage, TestResult};
use crate::rules::{Rule, RuleSet, rule_set, usual_rules};
use crate::surroundings::Surroundings;
use records::{Line, Site};

/// The limits of a site, with what could not be found.
#[derive(Default)]
pub(crate) struct SiteLimits {
    /// The limits; speeds are those of the test that they were set against.
    pub limits: Vec<Limit>,
    /// What stands in the way of more.
    pub findings: Vec<Finding>,
    /// How lines beside one another share the flow, where there are such and their plumbing is stated.
    pub division: Option<Division>,
}

/// Lists the limits of a site, with the speed at which `test` reaches each; those that gauges put included.
pub(crate) fn of_test(
    site: &Site,
    test: &TestResult,
    conditions: Option<&Conditions>,
) -> SiteLimits {
    let mut found = of_lines(site, Some(test));
    found.division = conditions.and_then(|conditions| division(site, test, conditions));
    if let Some(division) = &found.division {
        divide(site, test, division, &mut found.limits);
    }
    let rules = rules_of(site, &mut Vec::new());
    let by_gauges =
        conditions.map(|conditions| gauges::gauge_limits(site, rules, test, conditions));
    found.limits.extend(by_gauges.into_iter().flatten());
    found
}

/// Lists the limits that lines, equipment and rules put as flows.
pub(crate) fn of_lines(site: &Site, test: Option<&TestResult>) -> SiteLimits {
    let mut found = SiteLimits::default();
    let rules = rules_of(site, &mut found.findings);
    let closed = test.map_or(&[][..], |test| &test.closed);
    for line in &site.lines {
        let passage = passage(site, line, closed);
        let (velocity, unknown) = lines::velocity_limit(site, rules, line);
        found.findings.extend(unknown);
        let mut limits: Vec<Limit> = velocity.into_iter().collect();
        limits.extend(equipment::equipment_limits(rules, line));
        for mut limit in limits {
            limit.passage = passage;
            limit.speed_rpm = speed_rpm(site, test, &limit);
            found.limits.push(limit);
        }
    }
    if let Some(mut ceiling) = equipment::filtration_ceiling(site, rules) {
        ceiling.speed_rpm = speed_rpm(site, test, &ceiling);
        found.limits.push(ceiling);
    }
    found
}

/// Gives limits of lines that pass a part of the flow the speed at which the stated plumbing brings them there.
fn divide(site: &Site, test: &TestResult, division: &Division, limits: &mut [Limit]) {
    let Some(law) = &test.laws.flow else {
        return;
    };
    let most_m3s = law.flow_at_m3s(site.pump.speed.max.si);
    for limit in limits
        .iter_mut()
        .filter(|limit| limit.passage == Passage::Part)
    {
        let line = limit.line.as_deref().and_then(|name| division.line(name));
        if let (Some(line), Some(flow_m3s)) = (line, limit.flow_m3s)
            && division.of_line_m3s(line, most_m3s).is_some()
        {
            limit.passage = Passage::Divided;
            let total = division.total_m3s(line, flow_m3s, most_m3s);
            limit.speed_rpm = total.map(|total| law.speed_at_rpm(total));
        }
    }
}

/// Makes the division of the flow where some line passes a part of it.
fn division(site: &Site, test: &TestResult, conditions: &Conditions) -> Option<Division> {
    let parts = |line: &Line| passage(site, line, &test.closed) == Passage::Part;
    site.lines.iter().any(parts).then_some(())?;
    Division::of(site, &test.closed, &conditions.around.water).ok()
}

/// The rules for the pad as a whole.
pub(crate) struct PadRules {
    /// The highest gauge pressure of the vessels, Pa, where one is stated.
    pub vessel_pressure: Option<Rule>,
    /// The highest vacuum at the pump's inlet, Pa.
    pub inlet_vacuum: Rule,
    /// The least margin of NPSH available over required, m.
    pub npsh_margin: Rule,
}

/// Finds the rules for the pad as a whole: the site's own word before that of its rule set.
pub(crate) fn pad_rules(site: &Site, around: &Surroundings) -> PadRules {
    let rules = rules_of(site, &mut Vec::new());
    PadRules {
        vessel_pressure: gauges::vessel_pressure(site),
        inlet_vacuum: gauges::vacuum_rule(site, rules, around),
        npsh_margin: gauges::npsh_rule(site, rules),
    }
}

/// Makes the limit of a rule for the pad as a whole; the speed at which it is reached is not known yet.
pub(crate) fn of_rule(code: &'static str, applies_to: &str, of: LimitOf, rule: &Rule) -> Limit {
    Limit {
        code,
        line: None,
        applies_to: applies_to.to_owned(),
        of,
        flow_m3s: None,
        passage: Passage::Whole,
        speed_rpm: None,
        bound: Bound::Max,
        source: rule.source.to_owned(),
        basis: rule.basis,
    }
}

/// Finds the rule set that the site names; an unknown name is said, and the usual set stands in.
fn rules_of(site: &Site, findings: &mut Vec<Finding>) -> &'static RuleSet {
    let named = site.limits.rules.as_deref();
    rule_set(named).unwrap_or_else(|| {
        findings.push(of_site(
            Severity::Warning,
            Matter::UnknownRules {
                name: named.unwrap_or_default().to_owned(),
            },
        ));
        usual_rules()
    })
}

/// Finds the speed of a limit of flow, where all of the flow passes there and the pump reaches it.
fn speed_rpm(site: &Site, test: Option<&TestResult>, limit: &Limit) -> Option<f64> {
    if limit.passage != Passage::Whole {
        return None;
    }
    let law = test?.laws.flow.as_ref()?;
    Some(law.speed_at_rpm(limit.flow_m3s?)).filter(|speed| *speed <= site.pump.speed.max.si)
}

fn of_site(severity: Severity, matter: Matter) -> Finding {
    Finding {
        severity,
        place: Place::default(),
        matter,
    }
}

/// Names a part and its line, for a limit.
fn part_of(word: &str, line: &Line) -> String {
    format!("{word} in {}", line.name)
}
