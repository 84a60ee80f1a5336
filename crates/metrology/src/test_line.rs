//! The straight line that unit tests fit.

use crate::{Curve, SlopedCurve};

/// y = a + b x.
pub(crate) struct Line;

impl Curve for Line {
    fn evaluate(&self, x: f64, p: &[f64], g: &mut [f64]) -> f64 {
        self.evaluate_sloped(x, p, g).0
    }
}

impl SlopedCurve for Line {
    fn evaluate_sloped(&self, x: f64, p: &[f64], g: &mut [f64]) -> (f64, f64) {
        g.copy_from_slice(&[1.0, x]);
        (p[0] + p[1] * x, p[1])
    }
}
