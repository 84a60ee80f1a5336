//! Which gauge that was not read would tell most: by how much it would narrow the answer that is widest now.

use super::budget::Widest;
use super::problem::{DISCREPANCY, LEAST_OWN_M, LENGTH, Problem};
use super::taps::{TapPlace, tap_place};
use metrology::Fit;
use numerics::elementary::{exp, ln};
use numerics::linear::{Matrix, PositiveFactor, Vector, quadratic_form};
use records::{Site, Tap};

/// Standard uncertainty of a gauge as one would borrow it, Pa: ±1 psi, rectangular, at a height that is measured. Common
/// practice, no source.
const BORROWED_U_PA: f64 = 6894.757293168361 / 1.732_050_807_568_877_2;
/// The part of that variance that all its readings share.
const SHARE_COMMON: f64 = 0.7;
/// What leaves more than this of the width is not worth the way.
const WORTH_IT: f64 = 0.95;

const TAPS: [Tap; 6] = [
    Tap::PumpPot,
    Tap::SuctionPipe,
    Tap::PumpOutlet,
    Tap::FilterInlet,
    Tap::FilterOutlet,
    Tap::PadOutlet,
];

/// A gauge that was not read.
#[derive(Clone, Debug, PartialEq)]
pub struct NextReading {
    /// Where it would be tapped.
    pub tap: Tap,
    /// The lines whose share of the power it would narrow.
    pub lines: Vec<String>,
    /// What would be left of the standard uncertainty of that share, of 1.
    pub left: f64,
}

/// Lists the gauges that were not read and would narrow the widest share, each read at the steps of the last test; the best first.
///
/// # Equation
/// C' = C − C Jᵀ (J C Jᵀ + V)⁻¹ J C
///
/// # Source
/// D. MacKay, "Information-based objective functions for active data selection", Neural Computation 4 (1992) 590-604 (from
/// memory): for a linear problem the readings to come do not depend on what they will show.
pub(super) fn next_readings(
    site: &Site,
    problem: &Problem,
    fitted: &Fit,
    widest: &Widest,
) -> Vec<NextReading> {
    let before = quadratic_form(&widest.slopes, &fitted.covariance) + widest.own_variance;
    let read = |tap: Tap| problem.data.gauges.iter().any(|gauge| gauge.tap == tap);
    let before_pump = read(Tap::PumpPot) || read(Tap::SuctionPipe);
    let mut readings: Vec<NextReading> = TAPS
        .into_iter()
        .filter(|tap| !read(*tap))
        .filter(|tap| !(before_pump && matches!(tap, Tap::PumpPot | Tap::SuctionPipe)))
        .filter_map(|tap| {
            let place = tap_place(site, &problem.line_ups().borrow().last()?.network, tap)?;
            let gained = gained(problem, fitted, &place, widest)?;
            Some(NextReading {
                tap,
                lines: widest.lines.clone(),
                left: ((before - gained).max(0.0) / before).sqrt(),
            })
        })
        .filter(|reading| reading.left < WORTH_IT)
        .collect();
    readings.sort_by(|a, b| a.left.total_cmp(&b.left));
    readings
}

/// The variance that readings at a tap take off the widest share.
fn gained(problem: &Problem, fitted: &Fit, place: &TapPlace, widest: &Widest) -> Option<f64> {
    let mut line_ups = problem.line_ups().borrow_mut();
    let last = line_ups.len().checked_sub(1)?;
    let line_up = &mut line_ups[last];
    line_up.turn(&fitted.parameters)?;
    let u_m = BORROWED_U_PA / line_up.around.specific_weight();
    let p = fitted.parameters.len();
    // Slopes, head, what the flow adds on its own, and the logarithm of flow, of each step.
    let mut rows: Vec<(Vec<f64>, f64, f64, f64)> = Vec::new();
    for (index, step) in problem.data.steps.iter().enumerate() {
        if step.test != last {
            continue;
        }
        let flow = problem.flow_m3s(index, &fitted.parameters);
        let operating = line_up.at(flow)?;
        let by_flow = operating.tap_moved_m(place, &operating.moved(None, flow), flow);
        let mut slopes = vec![0.0; p];
        for (knob, slope) in slopes.iter_mut().enumerate() {
            if problem.knobs.of[knob].turns(operating.test()) {
                let moved = operating.moved(Some(knob), flow);
                *slope = operating.tap_moved_m(place, &moved, flow);
            }
        }
        slopes[step.meter] -= by_flow * step.common_u_ln;
        let head_m = operating.tap_head_m(place, flow)?;
        rows.push((slopes, head_m, by_flow * step.own_u_ln, ln(flow)));
    }
    let carried: Vec<Vec<f64>> = rows
        .iter()
        .map(|(slopes, ..)| times(&fitted.covariance, slopes))
        .collect();
    let n = rows.len();
    let whole = Matrix::from_fn(n, n, |i, j| {
        let (a, b) = (&rows[i], &rows[j]);
        let known = numerics::linear::dot(&a.0, &carried[j]);
        let distance = (a.3 - b.3) / LENGTH;
        let smooth = DISCREPANCY * DISCREPANCY * a.1 * b.1 * exp(-0.5 * distance * distance);
        let own = if i == j {
            (1.0 - SHARE_COMMON) * u_m * u_m + a.2 * a.2 + LEAST_OWN_M * LEAST_OWN_M
        } else {
            0.0
        };
        known + smooth + SHARE_COMMON * u_m * u_m + own
    });
    let seen = Vector::from_iterator(
        n,
        carried
            .iter()
            .map(|row| numerics::linear::dot(row, &widest.slopes)),
    );
    let solved = PositiveFactor::new(whole).ok()?.solve(&seen);
    Some(numerics::linear::dot(seen.as_slice(), solved.as_slice()))
}

fn times(matrix: &Matrix, column: &[f64]) -> Vec<f64> {
    let row = |i: usize| (0..column.len()).map(|j| matrix[(i, j)] * column[j]).sum();
    (0..column.len()).map(row).collect()
}
