//! How far a pad departs from its law, learnt from its own readings where they are many.
//!
//! With few steps the usual departure is all there is. From eight on, the readings themselves say whether the pad keeps
//! closer to the law, or strays further.

use super::{FittedLaw, Shape};
use crate::cells::Cell;
use metrology::FitError;
use numerics::elementary::{exp, ln};
use numerics::linear::PositiveFactor;

/// Different speeds from which on the departure is learnt.
pub(crate) const LEAST_SPEEDS: usize = 8;
/// The departures that are weighed, as multiples of the usual one.
const MULTIPLES: [f64; 7] = [0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0];
/// Standard deviation of the logarithm of that multiple from pad to pad. Common practice, no source.
const PRIOR_SD_LN: f64 = 0.6;

impl FittedLaw {
    /// Fits a law with the departure that its own readings make most likely, the usual one being what was expected.
    ///
    /// # Equation
    /// The multiple is the geometric mean of [`MULTIPLES`] weighed by |V|^(-1/2) |C|^(1/2) exp(−χ²/2) and by its
    /// prior, V being the covariance of the readings and C that of the parameters.
    ///
    /// # Errors
    /// Those of the fit at the multiple found.
    ///
    /// # Source
    /// Restricted likelihood: H. Patterson, R. Thompson, "Recovery of inter-block information when block sizes are
    /// unequal", Biometrika 58 (1971) 545-554; the Laplace approximation for the parameters of the curve.
    pub(crate) fn learning(
        shape: Shape,
        reference_rpm: f64,
        cells: &[Cell<'_>],
    ) -> Result<Self, FitError> {
        let usual = shape.discrepancy();
        let at = |multiple: f64| Self::new(shape, usual.widened(multiple), reference_rpm, cells);
        let weighed: Vec<(f64, f64)> = MULTIPLES
            .iter()
            .filter_map(|multiple| Some((ln(*multiple), ln_evidence(&at(*multiple).ok()?)?)))
            .map(|(ln_multiple, evidence)| {
                let distance = ln_multiple / PRIOR_SD_LN;
                (ln_multiple, evidence - 0.5 * distance * distance)
            })
            .collect();
        let most = weighed
            .iter()
            .map(|(_, ln_weight)| *ln_weight)
            .fold(f64::NEG_INFINITY, f64::max);
        let (mut sum, mut weights) = (0.0, 0.0);
        for (ln_multiple, ln_weight) in &weighed {
            let weight = exp(ln_weight - most);
            sum += weight * ln_multiple;
            weights += weight;
        }
        at(if weights > 0.0 {
            exp(sum / weights)
        } else {
            1.0
        })
    }
}

/// Computes the logarithm of the evidence for the covariance behind a fit, up to a constant.
fn ln_evidence(law: &FittedLaw) -> Option<f64> {
    let fit = law.fit();
    let parameters = PositiveFactor::new(fit.covariance.clone()).ok()?;
    Some(0.5 * (parameters.ln_determinant() - fit.weights.ln_determinant() - fit.chi_squared))
}
