//! Limits of pressure, vacuum and suction, put as speeds by what the gauges read.
//!
//! Without a solved circuit a gauge is carried from the step that read it to another speed by the square of speed. Media
//! that lose less than the square make the true pressure at a higher speed lower than this.

use crate::conditions::Conditions;
use crate::equipment::filter;
use crate::finding::Basis;
use crate::result::{Bound, Limit, LimitOf, Passage, Step, TestResult};
use crate::rules::{Rule, RuleSet};
use crate::surroundings::Surroundings;
use numerics::elementary::ln;
use records::Site;

/// Lists the limits that gauges put as speeds.
pub(super) fn gauge_limits(
    site: &Site,
    rules: &RuleSet,
    test: &TestResult,
    conditions: &Conditions,
) -> Vec<Limit> {
    let pressure = vessel_pressure(site).map(|rule| of_pressure(&rule, test, conditions));
    let vacuum = of_vacuum(
        &vacuum_rule(site, rules, &conditions.around),
        test,
        conditions,
    );
    let npsh = of_npsh(&npsh_rule(site, rules), test, conditions);
    let solar = solar_limit(site, test);
    let found = [pressure.flatten(), vacuum, npsh, solar];
    found
        .into_iter()
        .flatten()
        .map(|limit| within_pump(site, limit))
        .collect()
}

/// Finds the highest pressure of the vessels on the pad: the lowest of those stated.
pub(super) fn vessel_pressure(site: &Site) -> Option<Rule> {
    let parts = site.lines.iter().flat_map(|line| &line.parts);
    let rated = parts.filter_map(|part| filter(&part.kind)?.max_pressure.as_ref());
    let stated = rated.chain(&site.limits.pressure);
    let lowest = stated.map(|pressure| pressure.si).min_by(f64::total_cmp)?;
    Some(Rule::of_site_file(lowest))
}

/// Finds the highest vacuum at the pump's inlet; the usual one falls with the atmosphere.
pub(super) fn vacuum_rule(site: &Site, rules: &RuleSet, around: &Surroundings) -> Rule {
    let usual = Rule {
        si: rules.inlet_vacuum.si * around.of_standard_atmosphere(),
        ..rules.inlet_vacuum
    };
    usual.overridden_by(site.limits.inlet_vacuum.as_ref())
}

/// Finds the least margin of NPSH available over required.
pub(super) fn npsh_rule(site: &Site, rules: &RuleSet) -> Rule {
    rules
        .npsh_margin
        .overridden_by(site.limits.npsh_margin.as_ref())
}

/// A quantity that grows from its value at rest with the square of speed, as steps of a test read it.
struct SquareOfSpeed {
    /// Pairs of speed, rpm, and what the quantity has grown by.
    grown: Vec<(f64, f64)>,
}

impl SquareOfSpeed {
    fn of(test: &TestResult, growth: impl Fn(&Step) -> Option<f64>) -> Self {
        let steps = test.steps.iter();
        let grown = steps.filter_map(|step| Some((step.speed_rpm, growth(step)?)));
        Self {
            grown: grown.filter(|(_, grown)| *grown > 0.0).collect(),
        }
    }

    /// Finds the speed at which the quantity has grown so far, carried from the step that came closest to it.
    fn speed_rpm(&self, growth: f64) -> Option<f64> {
        let distance = |(_, grown): &&(f64, f64)| ln(growth / grown).abs();
        let nearest = self.grown.iter().filter(|_| growth > 0.0);
        let (speed, grown) = nearest.min_by(|a, b| distance(a).total_cmp(&distance(b)))?;
        Some(speed * (growth / grown).sqrt())
    }
}

fn of_pressure(rule: &Rule, test: &TestResult, conditions: &Conditions) -> Option<Limit> {
    let at_rest = conditions.at_rest_pa(conditions.outlet);
    let read = SquareOfSpeed::of(test, |step| Some(step.filter_pressure_pa?.value - at_rest));
    let speed = read.speed_rpm(rule.si - at_rest)?;
    let of = LimitOf::Pressure {
        pressure_pa: rule.si,
    };
    Some(limit(
        "pressure-above-rating",
        "filter vessel",
        of,
        rule,
        test,
        speed,
    ))
}

fn of_vacuum(rule: &Rule, test: &TestResult, conditions: &Conditions) -> Option<Limit> {
    let at_rest = -conditions.at_rest_pa(conditions.inlet);
    let read = SquareOfSpeed::of(test, |step| Some(-step.inlet_pressure_pa?.value - at_rest));
    let speed = read.speed_rpm(rule.si - at_rest)?;
    let of = LimitOf::Vacuum { vacuum_pa: rule.si };
    Some(limit(
        "inlet-vacuum-high",
        "pump inlet",
        of,
        rule,
        test,
        speed,
    ))
}

fn of_npsh(rule: &Rule, test: &TestResult, conditions: &Conditions) -> Option<Limit> {
    let at_rest = conditions.around.npsh_m(0.0)?;
    let read = SquareOfSpeed::of(test, |step| Some(at_rest - step.npsh_margin_m()?));
    let speed = read.speed_rpm(at_rest - rule.si)?;
    let of = LimitOf::NpshMargin { margin_m: rule.si };
    Some(limit("npsh-short", "pump inlet", of, rule, test, speed))
}

/// Sets the least speed that lifts water over the top of a solar loop, by the shutoff head of the maker's curve.
fn solar_limit(site: &Site, test: &TestResult) -> Option<Limit> {
    let parts = site.lines.iter().flat_map(|line| &line.parts);
    let tops = parts.filter_map(|part| match &part.kind {
        records::PartKind::Solar(solar) => solar.height.as_ref(),
        _ => None,
    });
    let top_m = tops.map(|height| height.si).max_by(f64::total_cmp)?;
    let shutoff = site.pump.curve.iter().find(|point| point.flow.si <= 0.0)?;
    let curve_speed = site.pump.curve_speed.as_ref()?.si;
    let speed =
        hydraulics::equipment::speed_to_fill_rpm(top_m, shutoff.head.si, curve_speed).ok()?;
    let rule = Rule {
        si: top_m,
        source: "to lift water over the top of the solar loop: maker's shutoff head by the square of speed",
        basis: Basis::SiteFile,
    };
    let of = LimitOf::Lift { height_m: top_m };
    Some(Limit {
        bound: Bound::Min,
        ..limit("solar-not-filled", "solar loop", of, &rule, test, speed)
    })
}

fn limit(
    code: &'static str,
    applies_to: &str,
    of: LimitOf,
    rule: &Rule,
    test: &TestResult,
    speed_rpm: f64,
) -> Limit {
    Limit {
        code,
        line: None,
        applies_to: applies_to.to_owned(),
        of,
        flow_m3s: test
            .laws
            .flow
            .as_ref()
            .map(|law| law.flow_at_m3s(speed_rpm)),
        passage: Passage::Whole,
        speed_rpm: Some(speed_rpm),
        bound: Bound::Max,
        source: rule.source.to_owned(),
        basis: rule.basis,
    }
}

/// Takes the speed off a limit that the pump does not reach, and the flow that would belong to it.
fn within_pump(site: &Site, limit: Limit) -> Limit {
    if limit
        .speed_rpm
        .is_some_and(|speed| speed > site.pump.speed.max.si)
    {
        Limit {
            speed_rpm: None,
            flow_m3s: None,
            ..limit
        }
    } else {
        limit
    }
}
