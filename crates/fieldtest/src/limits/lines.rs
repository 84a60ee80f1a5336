//! The highest velocity in each line, by its narrowest pipe.

use super::of_site;
use crate::bores::{Inside, NotInCatalogue, pipes};
use crate::circuit::{Side, side};
use crate::finding::{Finding, Matter, Severity};
use crate::result::{Bound, Limit, LimitOf, Passage};
use crate::rules::{Rule, RuleSet};
use hydraulics::head::flow_at_velocity_m3s;
use records::{Line, Pipe, Site};

/// Sets the limit of velocity in a line, and lists the pipes that the catalogue does not know.
pub(super) fn velocity_limit(
    site: &Site,
    rules: &RuleSet,
    line: &Line,
) -> (Option<Limit>, Vec<Finding>) {
    let (bore_m, unknown) = smallest_bore_m(line);
    let ruled = bore_m.zip(velocity_rule(site, rules, line));
    let limit = ruled.map(|(bore_m, rule)| Limit {
        code: "velocity-high",
        line: Some(line.name.clone()),
        applies_to: line.name.clone(),
        of: LimitOf::Velocity {
            velocity_m_s: rule.si,
        },
        flow_m3s: flow_at_velocity_m3s(rule.si, bore_m).ok(),
        passage: Passage::Part,
        speed_rpm: None,
        bound: Bound::Max,
        source: rule.source.to_owned(),
        basis: rule.basis,
    });
    (limit, unknown)
}

/// Chooses the rule for a line's velocity: the site's own word before that of the set.
fn velocity_rule(site: &Site, rules: &RuleSet, line: &Line) -> Option<Rule> {
    let (own, of_set) = match side(site, line)? {
        Side::Suction => (&site.limits.suction_velocity, rules.suction_velocity),
        Side::Discharge => (&site.limits.return_velocity, rules.return_velocity),
    };
    Some(of_set.overridden_by(own.as_ref()))
}

/// Finds the smallest bore among the pipes of a line, and the pipes that the catalogue does not know.
fn smallest_bore_m(line: &Line) -> (Option<f64>, Vec<Finding>) {
    let mut smallest: Option<f64> = None;
    let mut unknown = Vec::new();
    for pipe in pipes(&line.parts) {
        match Inside::of(pipe) {
            Ok(Inside { bore_m, .. }) => {
                smallest = Some(smallest.map_or(bore_m, |least| least.min(bore_m)));
            }
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
