//! How much an observation weighs: its own standard deviation, or a covariance with all the others.

use numerics::linear::{Matrix, NotPositiveDefinite, PositiveFactor, Vector};

/// The covariance of a set of observations in the form that divides by its root.
#[derive(Clone, Debug)]
pub enum Weights {
    /// Independent observations, by their standard deviations.
    Independent(Vec<f64>),
    /// Correlated observations, by the factor of their covariance.
    Correlated(PositiveFactor),
}

impl Weights {
    /// Builds the weights of independent observations from their standard deviations, all above zero.
    pub fn independent(sds: &[f64]) -> Result<Self, NotPositiveDefinite> {
        if sds.iter().all(|sd| *sd > 0.0 && sd.is_finite()) {
            Ok(Self::Independent(sds.to_vec()))
        } else {
            Err(NotPositiveDefinite { order: sds.len() })
        }
    }

    /// Builds the weights of observations from their covariance; a diagonal one costs no factorisation.
    pub fn from_covariance(covariance: &Matrix) -> Result<Self, NotPositiveDefinite> {
        let diagonal = covariance.column_iter().enumerate().all(|(j, column)| {
            let mut below = column.iter().skip(j + 1);
            below.all(|element| *element == 0.0)
        });
        if diagonal {
            let sds: Vec<f64> = covariance.diagonal().iter().map(|v| v.sqrt()).collect();
            return Self::independent(&sds);
        }
        PositiveFactor::new(covariance.clone()).map(Self::Correlated)
    }

    /// Returns how many observations there are.
    pub fn order(&self) -> usize {
        match self {
            Self::Independent(sds) => sds.len(),
            Self::Correlated(factor) => factor.order(),
        }
    }

    /// Replaces `column` by one that has unit covariance where `column` had the covariance of the observations.
    pub fn whiten(&self, column: &mut [f64]) {
        match self {
            Self::Independent(sds) => {
                for (x, sd) in column.iter_mut().zip(sds) {
                    *x /= sd;
                }
            }
            Self::Correlated(factor) => factor.whiten_slice(column),
        }
    }

    /// Computes the logarithm of the determinant of the covariance.
    pub fn ln_determinant(&self) -> f64 {
        match self {
            Self::Independent(sds) => sds
                .iter()
                .map(|sd| 2.0 * numerics::elementary::ln(*sd))
                .sum(),
            Self::Correlated(factor) => factor.ln_determinant(),
        }
    }

    /// Computes V⁻¹ b, V being the covariance.
    pub fn solve(&self, b: &Vector) -> Vector {
        match self {
            Self::Independent(sds) => {
                let quotients = b.iter().zip(sds).map(|(x, sd)| x / (sd * sd));
                Vector::from_iterator(sds.len(), quotients)
            }
            Self::Correlated(factor) => factor.solve(b),
        }
    }

    /// Computes V⁻¹, V being the covariance.
    pub fn inverse(&self) -> Matrix {
        match self {
            Self::Independent(sds) => {
                let n = sds.len();
                Matrix::from_fn(
                    n,
                    n,
                    |i, j| if i == j { 1.0 / (sds[i] * sds[i]) } else { 0.0 },
                )
            }
            Self::Correlated(factor) => factor.inverse(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_forms_of_a_diagonal_covariance_say_the_same() {
        let covariance = Matrix::from_diagonal(&Vector::from_vec(vec![0.04, 9.0, 1.0]));
        let diagonal = Weights::from_covariance(&covariance).unwrap();
        assert!(matches!(diagonal, Weights::Independent(_)));
        let full = Weights::Correlated(PositiveFactor::new(covariance).unwrap());
        let b = Vector::from_vec(vec![1.0, -2.0, 5.0]);
        // A root and a quotient of half a unit in the last place each.
        assert!((diagonal.solve(&b) - full.solve(&b)).abs().max() < 1e-14);
        assert!((diagonal.inverse() - full.inverse()).abs().max() < 1e-14);
        let (mut one, mut other) = (b.clone(), b);
        diagonal.whiten(one.as_mut_slice());
        full.whiten(other.as_mut_slice());
        assert!((one - other).abs().max() < 1e-14);
    }

    #[test]
    fn a_standard_deviation_of_zero_is_refused() {
        assert!(Weights::independent(&[1.0, 0.0]).is_err());
        assert!(Weights::independent(&[1.0, f64::NAN]).is_err());
        assert!(Weights::from_covariance(&Matrix::zeros(2, 2)).is_err());
    }
}
