//! Total head: what the power drawn allows, and whether a head that is read or stated can be true.

use crate::finding::{Finding, Matter, Place, Severity};
use crate::result::{HeadFrom, Step};
use hydraulics::constants::STANDARD_GRAVITY_M_S2;
use hydraulics::water::Water;
use metrology::Estimate;

/// A head is refuted when it exceeds the bound by so many standard uncertainties of the difference.
const REFUTED_Z: f64 = 2.0;

/// A total head that is offered for a step.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Offer {
    /// The head, m.
    pub head_m: Estimate,
    /// Where it comes from.
    pub from: HeadFrom,
    /// The lines of the file.
    pub rows: Vec<usize>,
    /// The heading of the column.
    pub column: String,
}

/// Computes the highest total head that the electrical power of a step can lift its flow.
///
/// # Equation
/// H = P/(ρ g Q): all of the power in the water.
///
/// # Source
/// Conservation of energy; hydraulic power as in J. Franzini, E. Finnemore, Fluid Mechanics with Engineering
/// Applications (1997), section 5.9 (section from memory).
pub(crate) fn bound_m(power_w: Estimate, flow_m3s: Estimate, water: &Water) -> Option<Estimate> {
    let specific_weight = water.density_kg_m3 * STANDARD_GRAVITY_M_S2;
    let value = power_w.value / (specific_weight * flow_m3s.value);
    let (a, b) = (power_w.relative_u(), flow_m3s.relative_u());
    Estimate::normal(value, value * (a * a + b * b).sqrt())
}

/// Settles the head of a step from what is offered: the first that the power allows is taken, one that it does not is refuted.
pub(crate) fn settle(test: &str, step: &mut Step, offer: &Offer, water: &Water) -> Option<Finding> {
    let measured = (step.head_bound_m, step.flow_m3s, step.power_w);
    if let (Some(bound), Some(flow), Some(power)) = measured
        && exceeds(offer.head_m, bound)
    {
        let specific_weight = water.density_kg_m3 * STANDARD_GRAVITY_M_S2;
        return Some(Finding {
            severity: Severity::Error,
            place: Place {
                test: Some(test.to_owned()),
                steps_rpm: vec![step.speed_rpm],
                rows: offer.rows.clone(),
                column: Some(offer.column.clone()),
            },
            matter: Matter::PowerTooSmallForHead {
                head_m: offer.head_m.value,
                from: offer.from,
                bound_m: bound,
                flow_m3s: flow.value,
                power_w: power.value,
                water_power_w: specific_weight * flow.value * offer.head_m.value,
            },
        });
    }
    if step.head_m.is_none() {
        step.head_m = Some(offer.head_m);
        step.head_from = Some(offer.from);
        step.efficiency = step
            .head_bound_m
            .and_then(|bound| ratio(offer.head_m, bound));
    }
    None
}

fn exceeds(head: Estimate, bound: Estimate) -> bool {
    head.value - bound.value > REFUTED_Z * (head.u * head.u + bound.u * bound.u).sqrt()
}

/// Computes water power over electrical power: the head over the head that the whole power would lift.
fn ratio(head: Estimate, bound: Estimate) -> Option<Estimate> {
    let value = head.value / bound.value;
    let (of_head, of_bound) = (head.u / bound.value, value * bound.relative_u());
    let u = (of_head * of_head + of_bound * of_bound).sqrt();
    Estimate::normal(value, u).map(|efficiency| efficiency.not_below(0.0))
}
