//! More flow at the slowest step than any circuit lets through.
//!
//! The slowest step has neighbours on one side only, and flow there may stop for reasons of its own; so a law alone lets much pass.
//! But only downwards: a pump that slows gives head with the square of speed, and a circuit whose head goes with no more than the
//! square of flow, over a lift or none, then passes no more flow per speed than before.

use super::{Judgement, Refuted, Trial, expected, speeds};
use crate::cells::{Cell, SpeedKey};
use crate::laws::{LnPrediction, Shape};
use numerics::elementary::ln;

/// Flow per speed this many standard uncertainties above that of the next step is doubted, as any other reading.
const DOUBT_Z: f64 = 4.0;
/// Steps without the slowest one that it takes to hold that one against.
const LEAST_OTHERS: usize = 4;

/// Judges the slowest step of a column of flow against the others, which belong together; `None` where it may stand.
///
/// # Equation
/// Q₀/N₀ ≤ Q₁/N₁
///
/// # Source
/// The affinity laws: I. Karassik et al., Pump Handbook, 4th edition (2008), 2.3 (from memory); what a circuit takes of the square
/// or less, as in `hydraulics::element`.
pub(crate) fn beyond_affinity<'a>(
    reference_rpm: f64,
    cells: &[Cell<'a>],
    may_doubt: impl Fn(&Cell<'_>) -> bool,
) -> Option<Judgement<'a>> {
    let key = |cell: &Cell<'_>| SpeedKey::new(cell.speed_rpm);
    let slowest = key(cells.first()?);
    let blamed: Vec<usize> = (0..cells.len())
        .filter(|index| key(&cells[*index]) == slowest)
        .collect();
    let next = cells.get(blamed.len())?;
    if speeds(cells) <= LEAST_OTHERS || !blamed.iter().all(|index| may_doubt(&cells[*index])) {
        return None;
    }
    let trial = Trial::without(Shape::Flow, reference_rpm, cells, &blamed)?;
    let beside = expected(&trial.law, next);
    let most = |cell: &Cell<'_>| {
        let ln_value = beside.ln_value + ln(cell.speed_rpm / next.speed_rpm);
        let own = cell.own_u_ln_at(ln_value);
        LnPrediction {
            ln_value,
            u_ln: (beside.u_ln * beside.u_ln + own * own).sqrt(),
            ..beside
        }
    };
    let beyond = |refuted: &Refuted<'_>| {
        let most = most(&refuted.cell);
        let above = refuted.cell.ln_value - most.ln_value;
        above > super::DOUBT_SHARE && above > DOUBT_Z * most.u_ln
    };
    if !trial.refuted.iter().all(beyond) {
        return None;
    }
    let refuted = trial.refuted.into_iter().map(|refuted| {
        let most = most(&refuted.cell);
        let ln_value = refuted.expected.ln_value.min(most.ln_value);
        // An interval whose upper end is the most that can be.
        let reach = 0.5 * (most.ln_value - ln_value);
        Refuted {
            expected: LnPrediction {
                ln_value,
                u_ln: (reach * reach + most.u_ln * most.u_ln).sqrt(),
                ..refuted.expected
            },
            cell: refuted.cell,
        }
    });
    Some(Judgement {
        refuted: refuted.collect(),
        law: Some(trial.law),
        scattered: None,
    })
}
