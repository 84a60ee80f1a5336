//! Which hypotheses the readings do not tell apart, and which reading would.

use super::evidence::Weighed;
use super::pair::Pair;
use crate::calibration::taps::tap_place;
use crate::next_reading::{BORROWED_PA, TAPS};
use records::Tap;

/// Predictions closer than this, in standard uncertainties of each reading, are one.
const APART_U: f64 = 2.0;
/// Standard uncertainty of a gauge as one would borrow it, Pa: rectangular, read at both visits.
const BORROWED_U_PA: f64 = BORROWED_PA / 1.732_050_807_568_877_2;
/// Standard uncertainty of a flow in one line by a clamp-on meter. Common practice, no source.
const BRANCH_U: f64 = 0.02;

/// A reading that would tell two hypotheses apart, at the fastest step.
#[derive(Clone, Debug, PartialEq)]
pub enum Split {
    /// A gauge that was not read.
    Gauge {
        /// Where it is tapped.
        tap: Tap,
        /// How far apart it would be, Pa.
        apart_pa: f64,
    },
    /// The flow in one line.
    Flow {
        /// The line.
        line: String,
        /// How far apart it would be, of that flow.
        apart: f64,
    },
}

/// Whether two hypotheses say the same of every reading of the later visit.
pub(super) fn alike(one: &Weighed, other: &Weighed) -> bool {
    let heads = [one, other].map(|it| it.problem.said(&it.fitted.parameters).heads_m.clone());
    let covariance = one.problem.covariance(&one.fitted.parameters);
    let mut rows = one.problem.rows.iter().enumerate();
    rows.all(|(row, it)| {
        let apart = (heads[0][row] - heads[1][row]).abs();
        one.problem.data.steps[it.step].test == 0 || apart < APART_U * covariance[(row, row)].sqrt()
    })
}

/// Finds the reading that would tell two hypotheses furthest apart.
pub(super) fn split(pair: &Pair<'_>, one: &Weighed, other: &Weighed) -> Option<Split> {
    let read = |tap: Tap| {
        let data = &one.problem.data;
        let mut gauges = data.gauges.iter();
        gauges.any(|gauge| gauge.tap == tap && data.steps[gauge.step].test == 1)
    };
    let mut best: Option<(f64, Split)> = None;
    let mut consider = |apart_u: f64, split: Split| {
        let better = best.as_ref().is_none_or(|(most, _)| apart_u > *most);
        if apart_u > APART_U && better {
            best = Some((apart_u, split));
        }
    };
    for tap in TAPS.into_iter().filter(|tap| !read(*tap)) {
        let heads = [one, other].map(|it| tap_pressure_pa(pair, it, tap));
        if let [Some(a), Some(b)] = heads {
            let apart_pa = (a - b).abs();
            consider(apart_pa / BORROWED_U_PA, Split::Gauge { tap, apart_pa });
        }
    }
    for (line, stated) in pair.site.lines.iter().enumerate() {
        let flows = [one, other].map(|it| line_flow_m3s(it, line));
        if let [Some(a), Some(b)] = flows
            && a.min(b) > 0.0
        {
            let apart = (a / b - 1.0).abs();
            let line = stated.name.clone();
            consider(apart / BRANCH_U, Split::Flow { line, apart });
        }
    }
    best.map(|(_, split)| split)
}

/// What a gauge would show at the fastest step of the later visit, as a pressure, Pa.
fn tap_pressure_pa(pair: &Pair<'_>, of: &Weighed, tap: Tap) -> Option<f64> {
    let parameters = &of.fitted.parameters;
    let step = last_step(of)?;
    let flow = of.problem.flow_m3s(step, parameters);
    let mut line_ups = of.problem.line_ups().borrow_mut();
    let line_up = line_ups.last_mut()?;
    line_up.turn(parameters)?;
    let place = tap_place(pair.site, &line_up.network, tap)?;
    let weight = line_up.around.specific_weight();
    let operating = line_up.at(flow)?;
    Some(weight * operating.tap_head_m(&place, flow)?)
}

fn line_flow_m3s(of: &Weighed, line: usize) -> Option<f64> {
    let parameters = &of.fitted.parameters;
    let flow = of.problem.flow_m3s(last_step(of)?, parameters);
    let mut line_ups = of.problem.line_ups().borrow_mut();
    let line_up = line_ups.last_mut()?;
    line_up.turn(parameters)?;
    Some(line_up.at(flow)?.line_flow_m3s(line))
}

/// The fastest step of the later visit.
pub(super) fn last_step(of: &Weighed) -> Option<usize> {
    let steps = of.problem.data.steps.iter().enumerate();
    let later = steps.filter(|(_, step)| step.test == 1);
    let fastest = later.max_by(|(_, a), (_, b)| a.speed_rpm.total_cmp(&b.speed_rpm))?;
    Some(fastest.0)
}
