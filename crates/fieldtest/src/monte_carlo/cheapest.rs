//! The cheapest speed of one draw.

use crate::least_energy::Cost;
use numerics::elementary::{exp, ln};

/// Steps from the cheapest speed of the undrawn laws before a bracket is searched.
const MOST_STEPS: usize = 8;
/// A step in the logarithm of speed that ends the search: a hundredth of a turn per minute at most.
const CLOSE_LN: f64 = 1e-6;
/// The draws look for the cheapest speed from this share of the reference speed on.
const LOWEST: f64 = 0.01;
/// And up to this multiple of it.
const HIGHEST: f64 = 2.0;
/// How far above the speed at which flow begins a bracket opens, as a share: energy per volume is infinite there.
const ABOVE_INTERCEPT: f64 = 1e-6;

/// Finds the cheapest speed of drawn laws, rpm, or the end of the search at which it lies.
///
/// # Equation
/// With x the logarithm of speed, M the draw that grows with it and q the square of its ratio to the reference:
/// the slope m M/(F + M) − q/(q − I) is zero; its own slope is m² M F/(F + M)² + 2 q I/(q − I)².
pub(super) fn cheapest_rpm(cost: &Cost, start_rpm: f64) -> f64 {
    newton(cost, ln(start_rpm / cost.reference_rpm)).unwrap_or_else(|| in_bracket(cost))
}

/// Goes from the start by Newton's steps; `None` where they leave what a minimum looks like.
fn newton(cost: &Cost, start: f64) -> Option<f64> {
    let mut x = start;
    for _ in 0..MOST_STEPS {
        let moving = cost.dynamic_w * exp(cost.exponent * x);
        let (square, power) = (exp(2.0 * x), cost.fixed_w + moving);
        let flowing = square - cost.intercept;
        let slope = cost.exponent * moving / power - square / flowing;
        let by_power = cost.exponent / power;
        let curvature = by_power * by_power * moving * cost.fixed_w
            + 2.0 * square * cost.intercept / (flowing * flowing);
        let is_minimum = moving > 0.0 && power > 0.0 && flowing > 0.0 && curvature > 0.0;
        if !is_minimum {
            return None;
        }
        let step = slope / curvature;
        x -= step;
        if step.abs() < CLOSE_LN {
            let ratio = exp(x);
            let found = ratio > LOWEST && ratio < HIGHEST;
            return found.then_some(ratio * cost.reference_rpm);
        }
    }
    None
}

fn in_bracket(cost: &Cost) -> f64 {
    let flowing = cost.intercept.max(0.0).sqrt() * (1.0 + ABOVE_INTERCEPT);
    let low = LOWEST.max(flowing) * cost.reference_rpm;
    let high = HIGHEST * cost.reference_rpm;
    match cost.cheapest(low, high) {
        Ok(speed) => speed,
        Err(crate::result::Edge::Low) => low,
        Err(crate::result::Edge::High) => high,
    }
}
