//! How well the readings of two visits fit with a change let in, and how much that speaks for it.

use super::change::Change;
use crate::calibration::knobs::ParameterOf;
use crate::calibration::problem::Problem;
use crate::calibration::{NotCalibrated, fitted, fitted_with};
use metrology::{Estimate, Fit};
use numerics::elementary::{exp, ln, pow};
use numerics::linear::PositiveFactor;

/// The odds against nothing at which a change is told: 19 to 1.
const TOLD_ODDS: f64 = 19.0;
/// A factor beyond this is none that anybody would call a change.
const LARGEST_FACTOR: f64 = 20.0;

/// A hypothesis with its fit.
pub(super) struct Weighed {
    pub(super) problem: Problem,
    pub(super) fitted: Fit,
    /// Logarithm of the marginal likelihood, but for what all hypotheses share.
    pub(super) ln_evidence: f64,
}

/// Fits a problem to its own weights.
pub(super) fn fitted_at(problem: Problem) -> Result<Weighed, NotCalibrated> {
    let fitted = fitted(&problem)?;
    let ln_evidence = ln_evidence(&problem, &fitted).unwrap_or(f64::NEG_INFINITY);
    Ok(Weighed {
        problem,
        fitted,
        ln_evidence,
    })
}

/// Fits a problem with the weights of another one of the same readings, from where that one ended.
pub(super) fn weighed(problem: Problem, beside: &Weighed) -> Option<Weighed> {
    let known = &beside.problem.knobs.of;
    let start = problem
        .knobs
        .of
        .iter()
        .zip(&problem.knobs.priors)
        .map(|(of, prior)| {
            let same = known.iter().position(|other| other == of);
            same.map_or(prior.mean, |index| beside.fitted.parameters[index])
        });
    let start: Vec<f64> = start.collect();
    let fitted = fitted_with(&problem, beside.fitted.weights.clone(), &start).ok()?;
    Some(Weighed {
        ln_evidence: ln_evidence(&problem, &fitted)?,
        problem,
        fitted,
    })
}

/// # Equation
/// ln Z = −χ²/2 + ln|C|/2 − Σ ln σ, with χ² over readings and priors, C the covariance of the posterior and σ the priors'.
fn ln_evidence(problem: &Problem, fitted: &Fit) -> Option<f64> {
    let spread = PositiveFactor::new(fitted.covariance.clone())
        .ok()?
        .ln_determinant();
    let priors: f64 = problem.knobs.priors.iter().map(|prior| ln(prior.sd)).sum();
    Some(-0.5 * fitted.chi_squared + 0.5 * spread - priors).filter(|ln| ln.is_finite())
}

/// How far beyond what is expected the readings of the later visit are left over, in normal equivalents.
///
/// # Source
/// E. Wilson, M. Hilferty, "The distribution of chi-square", Proc. Natl. Acad. Sci. 17 (1931) 684-688.
pub(super) fn excess_z(of: &Weighed, baseline: &Weighed) -> f64 {
    let rows = of
        .problem
        .rows
        .len()
        .saturating_sub(baseline.problem.rows.len());
    let dof = rows.max(1) as f64;
    let left = (of.fitted.chi_squared - baseline.fitted.chi_squared).max(0.0);
    let spread = 2.0 / (9.0 * dof);
    (pow(left / dof, 1.0 / 3.0) - (1.0 - spread)) / spread.sqrt()
}

impl Weighed {
    /// What changed; `None` for nothing.
    pub(super) fn change(&self) -> Option<&Change> {
        self.problem.knobs.of.iter().find_map(ParameterOf::change)
    }

    /// Whether the maker's curve takes part.
    pub(super) fn has_curve(&self) -> bool {
        self.problem.knobs.of.contains(&ParameterOf::PumpHead)
    }

    /// The place of a change among the sought numbers.
    pub(super) fn knob(&self, change: &Change) -> Option<usize> {
        let mut of = self.problem.knobs.of.iter();
        of.position(|it| it.change() == Some(change))
    }

    /// Each change with its factor.
    pub(super) fn factors(&self) -> Vec<(Change, Estimate)> {
        let numbers = self.problem.knobs.of.iter().enumerate();
        numbers
            .filter_map(|(knob, of)| {
                let sd = self.fitted.covariance[(knob, knob)].sqrt();
                let factor = Estimate::log_normal(self.fitted.parameters[knob], sd)?;
                Some((of.change()?.clone(), factor))
            })
            .collect()
    }

    /// The least factor above 1 that would be told from nothing, given how probable the change was before over nothing.
    ///
    /// # Equation
    /// With I what the readings tell of the change δ and τ its prior's standard deviation, ln B = ½ I δ² τ²I/(1 + τ²I) − ½ ln(1 + τ²I):
    /// the least δ at which B times the prior odds is 19.
    pub(super) fn least_seen(&self, prior_odds: f64) -> Option<f64> {
        let change = self.change()?;
        let knob = self.knob(change)?;
        let prior = change.sd_ln() * change.sd_ln();
        let information = 1.0 / self.fitted.covariance[(knob, knob)] - 1.0 / prior;
        let gain = prior * information;
        if gain <= 0.0 {
            return None;
        }
        let needed = ln(TOLD_ODDS / prior_odds) + 0.5 * ln(1.0 + gain);
        let squared = 2.0 * needed.max(0.0) * (1.0 + gain) / (gain * information);
        Some(exp(squared.sqrt())).filter(|factor| *factor < LARGEST_FACTOR)
    }
}
