//! Two meters of one quantity against each other.
//!
//! Each is judged alone for its own misreadings; here their level is compared. Where they are further apart than their
//! accuracies allow, which of the two is wrong cannot be told from the two, so both are widened until they agree.

use crate::cells::Cell;
use crate::finding::Matter;
use metrology::{COVERAGE, Estimate, Expanded, normalized_error};
use numerics::distributions::coverage_factor;
use numerics::elementary::exp;
use records::Measured;

/// Two columns of one quantity at the speeds that both were read at.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Comparison {
    /// Indices of the columns.
    pub columns: [usize; 2],
    /// Logarithm of the second over the first.
    pub ln_ratio: f64,
    /// Its standard uncertainty.
    pub u_ln: f64,
}

/// Meters disagree above this E_n. At 1 one sound pair in twenty would; two rectangular limits of one size are never
/// further apart than √6 standard uncertainties of the difference, an E_n of 1.25.
const DISAGREE_E_N: f64 = 1.4;
/// Meters that are closer than this are not worth a word.
const LEAST_SHARE: f64 = 0.02;

impl Comparison {
    /// Compares two columns over the speeds that both have; `None` where they share none.
    pub(crate) fn of(first: &[Cell<'_>], second: &[Cell<'_>]) -> Option<Self> {
        let mut differences = Vec::new();
        let (mut own, mut common) = (0.0, 0.0);
        for a in first {
            for b in second
                .iter()
                .filter(|b| b.speed_rpm.to_bits() == a.speed_rpm.to_bits())
            {
                differences.push(b.ln_value - a.ln_value);
                own += a.own_u_ln() * a.own_u_ln() + b.own_u_ln() * b.own_u_ln();
                common += a.common_u_ln() * a.common_u_ln() + b.common_u_ln() * b.common_u_ln();
            }
        }
        let count = differences.len() as f64;
        let (a, b) = (first.first()?, second.first()?);
        (count > 0.0).then(|| Self {
            columns: [a.column, b.column],
            ln_ratio: differences.iter().sum::<f64>() / count,
            u_ln: (common / count + own / (count * count)).sqrt(),
        })
    }

    /// Computes the normalised error E_n of one meter against the other, satisfactory up to 1.
    ///
    /// # Source
    /// See [`metrology::normalized_error`].
    pub(crate) fn e_n(&self) -> f64 {
        let expanded_u = coverage_factor(COVERAGE, f64::INFINITY) * self.u_ln;
        let difference = Expanded {
            value: self.ln_ratio,
            expanded_u,
        };
        let none = Expanded {
            value: 0.0,
            expanded_u: 0.0,
        };
        normalized_error(difference, none).abs()
    }

    /// Returns the logarithm of the largest ratio that the accuracies of the two allow.
    fn allowed_ln(&self) -> f64 {
        DISAGREE_E_N * coverage_factor(COVERAGE, f64::INFINITY) * self.u_ln
    }

    /// Says whether the two are further apart than their accuracies allow.
    pub(crate) fn disagrees(&self) -> bool {
        self.e_n() > DISAGREE_E_N && self.ln_ratio.abs() > LEAST_SHARE
    }

    /// Returns the factor by which both uncertainties are widened: the Birge ratio of the two where it is above one.
    ///
    /// # Source
    /// R. T. Birge, "The calculation of errors by the method of least squares", Phys. Rev. 40 (1932) 207-227.
    pub(crate) fn widening(&self) -> f64 {
        if self.disagrees() {
            (self.ln_ratio.abs() / self.u_ln).max(1.0)
        } else {
            1.0
        }
    }

    /// Makes the finding.
    pub(crate) fn matter(&self, measured: Measured, names: [String; 2]) -> Option<Matter> {
        Some(Matter::MetersDisagree {
            measured,
            columns: names,
            ratio: Estimate::log_normal(self.ln_ratio, self.u_ln)?,
            allowed: (exp(-self.allowed_ln()), exp(self.allowed_ln())),
            e_n: self.e_n(),
        })
    }
}
