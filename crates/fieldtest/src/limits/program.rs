//! What the program as found asks of the equipment. A test step may run slower than a heater needs; a day's program may not.

use super::SiteLimits;
use crate::finding::{Finding, Matter, Place, Severity};
use crate::laws::FlowLaw;
use crate::result::{Bound, Limit, Passage};
use records::Site;

/// Finds the blocks of the program as found that give an appliance less than it needs, or filter faster than a rule allows.
pub(crate) fn program_findings(site: &Site, found: &SiteLimits, law: &FlowLaw) -> Vec<Finding> {
    let limits = found.limits.iter();
    limits
        .filter_map(|limit| {
            program_finding(site, limit, |speed_rpm| {
                flow_there_m3s(found, limit, law.flow_at_m3s(speed_rpm))
            })
        })
        .collect()
}

/// The flow where a limit stands when the pump moves `total_m3s`; `None` where the line's part of it is not known.
fn flow_there_m3s(found: &SiteLimits, limit: &Limit, total_m3s: f64) -> Option<f64> {
    match limit.passage {
        Passage::Whole => Some(total_m3s),
        Passage::Divided => {
            let division = found.division.as_ref()?;
            division.of_line_m3s(division.line(limit.line.as_deref()?)?, total_m3s)
        }
        Passage::Part | Passage::Shut => None,
    }
}

fn program_finding(
    site: &Site,
    limit: &Limit,
    flow_at_m3s: impl Fn(f64) -> Option<f64>,
) -> Option<Finding> {
    let of_program = matches!(
        limit.code,
        "below-equipment-minimum" | "above-filtration-ceiling"
    );
    if !of_program {
        return None;
    }
    let limit_flow_m3s = limit.flow_m3s?;
    let beyond = |flow: f64| match limit.bound {
        Bound::Min => flow < limit_flow_m3s,
        Bound::Max => flow > limit_flow_m3s,
    };
    let blocks = site.operation.as_found.iter();
    let flows = blocks.filter_map(|block| Some((block.speed.si, flow_at_m3s(block.speed.si)?)));
    let blocks: Vec<(f64, f64)> = flows.filter(|(_, flow)| beyond(*flow)).collect();
    let (_, flow_m3s) = *blocks.first()?;
    Some(Finding {
        severity: Severity::Warning,
        place: Place {
            steps_rpm: blocks.iter().map(|(speed, _)| *speed).collect(),
            ..Place::default()
        },
        matter: Matter::ProgramBeyond {
            limit: limit.clone(),
            flow_m3s,
        },
    })
}
