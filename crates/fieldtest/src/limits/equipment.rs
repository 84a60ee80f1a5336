//! The flows that equipment asks for or stands: as printed on it, and by the rate that a rule allows its media.

use super::part_of;
use crate::equipment::{filter, max_flow, min_flow, word};
use crate::finding::Basis;
use crate::result::{Bound, Limit, LimitOf, Passage};
use crate::rules::{Rule, RuleSet};
use hydraulics::codes::{filter_flow_m3s, highest_filtration_flow_m3s};
use hydraulics::equipment::{FilterMedia, highest_flow_with_one_blocked_m3s};
use records::{Line, Part, PartKind, Site};

/// Lists the flows that the equipment of a line asks for or stands.
pub(super) fn equipment_limits(rules: &RuleSet, line: &Line) -> Vec<Limit> {
    let mut limits = Vec::new();
    for part in &line.parts {
        let (code, printed) = (above_code(&part.kind), printed_maximum_m3s(part));
        limits.extend(printed.map(|flow| of_part(line, part, (code, Bound::Max), flow)));
        limits.extend(rate_limit(rules, line, part));
        let least = min_flow(&part.kind).map(|flow| flow.si);
        let below = ("below-equipment-minimum", Bound::Min);
        limits.extend(least.map(|flow| of_part(line, part, below, flow)));
    }
    limits
}

/// Returns the highest flow of a part in its line: of covers side by side, what they may draw with one blocked.
fn printed_maximum_m3s(part: &Part) -> Option<f64> {
    let printed = max_flow(&part.kind)?.si;
    match part.kind {
        PartKind::Cover(_) => highest_flow_with_one_blocked_m3s(printed, part.count).ok(),
        _ => Some(printed),
    }
}

/// Sets the limit that a rule puts on a filter's flow by the area of its media.
fn rate_limit(rules: &RuleSet, line: &Line, part: &Part) -> Option<Limit> {
    let filter = filter(&part.kind)?;
    let rule = rules.filter_rate(FilterMedia::parse(&filter.filter)?);
    let area_m2 = filter.area.as_ref()?.si;
    Some(Limit {
        of: LimitOf::FilterRate { rate_m_s: rule.si },
        source: rule.source.to_owned(),
        basis: rule.basis,
        ..of_part(
            line,
            part,
            ("above-filter-flow", Bound::Max),
            filter_flow_m3s(rule.si, area_m2).ok()?,
        )
    })
}

fn above_code(kind: &PartKind) -> &'static str {
    match kind {
        PartKind::Filter(_) => "above-filter-flow",
        PartKind::Cover(_) => "above-cover-rating",
        _ => "above-equipment-maximum",
    }
}

fn of_part(line: &Line, part: &Part, (code, bound): (&'static str, Bound), flow_m3s: f64) -> Limit {
    let stated = match part.kind {
        PartKind::Cover(_) if part.count > 1 => {
            "the rating stated in the site file, with one cover blocked"
        }
        _ => Rule::SITE_FILE,
    };
    Limit {
        code,
        line: Some(line.name.clone()),
        applies_to: part_of(word(&part.kind), line),
        of: LimitOf::Flow,
        flow_m3s: Some(flow_m3s),
        passage: Passage::Part,
        speed_rpm: None,
        bound,
        source: stated.to_owned(),
        basis: Basis::SiteFile,
    }
}

/// Sets the highest flow while filtering that a rule set allows for the volume of the pool. It is a ceiling, not a need.
pub(super) fn filtration_ceiling(site: &Site, rules: &RuleSet) -> Option<Limit> {
    let ceiling = rules.filtration_ceiling?;
    let volume_m3 = site.water.volume.as_ref()?.si;
    Some(Limit {
        code: "above-filtration-ceiling",
        line: None,
        applies_to: "filtration".to_owned(),
        of: LimitOf::Flow,
        flow_m3s: Some(highest_filtration_flow_m3s(volume_m3).ok()?),
        passage: Passage::Whole,
        speed_rpm: None,
        bound: Bound::Max,
        source: ceiling.source.to_owned(),
        basis: ceiling.basis,
    })
}
