//! The cheapest speed of each draw.

#![expect(
    clippy::inline_always,
    reason = "a kernel takes on the instructions of the loop that it is called from"
)]

use super::chunk::{CHUNK, Column};
use crate::least_energy::Cost;
use numerics::elementary::ln;
use numerics::vector::{Instructions, Task, exp};

/// Draws that go side by side, as in the exact refit.
const STRIP: usize = 16;
/// One number of each.
type Strip = [f64; STRIP];
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

/// What the cheapest speeds of a chunk of draws follow from; the fields are those of [`Cost`].
pub(super) struct Costs<'a> {
    pub(super) fixed_w: &'a Column,
    pub(super) dynamic_w: &'a Column,
    pub(super) exponent: &'a Column,
    pub(super) intercept: &'a Column,
    pub(super) reference_rpm: f64,
}

impl Costs<'_> {
    fn of(&self, draw: usize) -> Cost {
        Cost {
            fixed_w: self.fixed_w[draw],
            dynamic_w: self.dynamic_w[draw],
            exponent: self.exponent[draw],
            intercept: self.intercept[draw],
            // Where energy per volume is least, whatever its scale.
            slope_m3s: 1.0,
            reference_rpm: self.reference_rpm,
        }
    }

    /// Finds the cheapest speeds of drawn laws, rpm, or the end of the search at which they lie.
    pub(super) fn cheapest_rpm(&self, start_rpm: f64) -> Column {
        let mut found = [f64::NAN; CHUNK];
        Instructions::Detected.run(Newton {
            costs: self,
            start: ln(start_rpm / self.reference_rpm),
            found: &mut found,
        });
        for (draw, speed) in found.iter_mut().enumerate().filter(|(_, rpm)| rpm.is_nan()) {
            *speed = in_bracket(&self.of(draw));
        }
        found
    }
}

/// Goes from the start by Newton's steps.
///
/// # Equation
/// With x the logarithm of speed, M the draw that grows with it and q the square of its ratio to the reference:
/// the slope m M/(F + M) − q/(q − I) is zero; its own slope is m² M F/(F + M)² + 2 q I/(q − I)².
struct Newton<'a> {
    costs: &'a Costs<'a>,
    start: f64,
    /// The speeds, rpm; not a number where the steps leave what a minimum looks like.
    found: &'a mut Column,
}

impl Task for Newton<'_> {
    type Output = ();

    #[inline(always)]
    fn run(self) {
        let Costs {
            fixed_w,
            dynamic_w,
            exponent,
            intercept,
            reference_rpm,
        } = *self.costs;
        for from in (0..CHUNK).step_by(STRIP) {
            let strip = |column: &Column| std::array::from_fn(|lane| column[from + lane]);
            let laws = [fixed_w, dynamic_w, exponent, intercept].map(strip);
            let ln_ratios = descend(self.start, &laws);
            for (found, ln_ratio) in self.found[from..].iter_mut().zip(ln_ratios) {
                let ratio = exp(ln_ratio);
                let is_found = ratio > LOWEST && ratio < HIGHEST;
                *found = if is_found {
                    ratio * reference_rpm
                } else {
                    f64::NAN
                };
            }
        }
    }
}

/// Finds the logarithms of speed; not a number where the steps do not settle.
#[inline(always)]
fn descend(start: f64, laws: &[Strip; 4]) -> Strip {
    let (mut x, mut last) = ([start; STRIP], [f64::INFINITY; STRIP]);
    for _ in 0..MOST_STEPS {
        for lane in 0..STRIP {
            let step = step(x[lane], laws.each_ref().map(|numbers| numbers[lane]));
            // A draw that has arrived stays, whatever its neighbours do.
            let is_there = last[lane].abs() < CLOSE_LN;
            last[lane] = if is_there { 0.0 } else { step };
            x[lane] -= last[lane];
        }
        if last
            .iter()
            .all(|step| step.is_nan() || step.abs() < CLOSE_LN)
        {
            break;
        }
    }
    std::array::from_fn(|lane| {
        if last[lane].abs() < CLOSE_LN {
            x[lane]
        } else {
            f64::NAN
        }
    })
}

/// Computes a step; not a number where there is no minimum in sight.
#[inline(always)]
fn step(x: f64, [fixed_w, dynamic_w, exponent, intercept]: [f64; 4]) -> f64 {
    let moving = dynamic_w * exp(exponent * x);
    let (square, power) = (exp(2.0 * x), fixed_w + moving);
    let flowing = square - intercept;
    let slope = exponent * moving / power - square / flowing;
    let by_power = exponent / power;
    let curvature =
        by_power * by_power * moving * fixed_w + 2.0 * square * intercept / (flowing * flowing);
    let is_minimum = moving > 0.0 && power > 0.0 && flowing > 0.0 && curvature > 0.0;
    if is_minimum {
        slope / curvature
    } else {
        f64::NAN
    }
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
