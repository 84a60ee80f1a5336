//! Total head: what the power drawn allows, and whether a stated head can be true.

use crate::finding::{Finding, Matter, Place, Severity};
use crate::result::{HeadFrom, Step};
use hydraulics::constants::STANDARD_GRAVITY_M_S2;
use hydraulics::water::Water;
use metrology::Estimate;

/// A claim is refuted when it exceeds the bound by so many standard uncertainties of the bound.
const REFUTED_Z: f64 = 2.0;

/// A total head that somebody states of a step.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Claim {
    /// The head, m.
    pub head_m: f64,
    /// The line of the file.
    pub row: usize,
    /// The heading of the column.
    pub column: String,
}

/// Computes the highest total head that the electrical power of a step can lift its flow.
///
/// # Equation
/// H = P/(ρ g Q): all of the power in the water.
///
/// # Source
/// Conservation of energy; hydraulic power as in J. Franzini, E. Finnemore, Fluid Mechanics with Engineering Applications (1997), section 5.9 (section from memory).
pub(crate) fn bound_m(power_w: Estimate, flow_m3s: Estimate, water: &Water) -> Option<Estimate> {
    let specific_weight = water.density_kg_m3 * STANDARD_GRAVITY_M_S2;
    let value = power_w.value / (specific_weight * flow_m3s.value);
    let (a, b) = (power_w.relative_u(), flow_m3s.relative_u());
    Estimate::normal(value, value * (a * a + b * b).sqrt())
}

/// Settles the head of a step from what was stated: taken where the power allows it, refuted where not.
pub(crate) fn settle(test: &str, step: &mut Step, claim: &Claim, water: &Water) -> Option<Finding> {
    let (Some(bound), Some(flow), Some(power)) = (step.head_bound_m, step.flow_m3s, step.power_w)
    else {
        take(step, claim);
        return None;
    };
    if claim.head_m - bound.value <= REFUTED_Z * bound.u {
        take(step, claim);
        step.efficiency = step.head_m.and_then(|head| ratio(head, bound));
        return None;
    }
    let specific_weight = water.density_kg_m3 * STANDARD_GRAVITY_M_S2;
    Some(Finding {
        severity: Severity::Error,
        place: Place {
            test: Some(test.to_owned()),
            steps_rpm: vec![step.speed_rpm],
            rows: vec![claim.row],
            column: Some(claim.column.clone()),
        },
        matter: Matter::PowerTooSmallForHead {
            head_m: claim.head_m,
            bound_m: bound,
            flow_m3s: flow.value,
            power_w: power.value,
            water_power_w: specific_weight * flow.value * claim.head_m,
        },
    })
}

fn take(step: &mut Step, claim: &Claim) {
    step.head_m = Estimate::normal(claim.head_m, 0.0);
    step.head_from = Some(HeadFrom::Stated);
}

/// Computes water power over electrical power: the head over the head that the whole power would lift.
fn ratio(head: Estimate, bound: Estimate) -> Option<Estimate> {
    let value = head.value / bound.value;
    let (a, b) = (head.relative_u(), bound.relative_u());
    Estimate::normal(value, value * (a * a + b * b).sqrt())
}
