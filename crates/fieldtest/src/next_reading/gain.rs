//! What readings to come take off an uncertainty, whatever they will show: the linear-Gaussian arithmetic behind every answer here.

use numerics::linear::{Matrix, PositiveFactor, Vector, dot};

/// Readings to come: their slopes in the sought numbers, a row each, and the covariance of their errors.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct RowsToCome {
    /// Slopes.
    pub(crate) slopes: Matrix,
    /// Covariance of their errors.
    pub(crate) noise: Matrix,
}

/// Readings that were taken, in the same form, with the factor of the covariance of their errors.
#[derive(Clone, Debug)]
pub(crate) struct RowsTaken {
    /// Slopes.
    pub(crate) slopes: Matrix,
    /// The factor of the covariance of their errors.
    pub(crate) factor: PositiveFactor,
}

impl RowsToCome {
    /// Takes off these rows what the errors of readings taken before say of theirs: a meter's common error, the flow of one step,
    /// the smooth distance of the pad from its laws.
    ///
    /// # Inputs
    /// `shared`: covariance of the errors, a row for each reading taken and a column for each to come.
    ///
    /// # Equation
    /// K − Uᵀ V⁻¹ J and W − Uᵀ V⁻¹ U
    ///
    /// # Source
    /// A normal vector given a part of it: C. Rasmussen, C. Williams, Gaussian Processes for Machine Learning (2006), equation A.6.
    #[must_use]
    pub(crate) fn given(self, taken: &RowsTaken, shared: &Matrix) -> Self {
        let solved: Vec<Vector> = shared
            .column_iter()
            .map(|column| taken.factor.solve(&column.into_owned()))
            .collect();
        let known = |row: usize, column: &[f64]| dot(solved[row].as_slice(), column);
        let (m, p) = self.slopes.shape();
        let slopes = Matrix::from_fn(m, p, |i, j| {
            self.slopes[(i, j)] - known(i, taken.slopes.column(j).as_slice())
        });
        let noise = Matrix::from_fn(m, m, |i, j| {
            self.noise[(i, j)] - known(i, shared.column(j).as_slice())
        });
        Self { slopes, noise }
    }

    /// Computes the variance that these readings take off each answer, whose slopes in the sought numbers are given; `None` where
    /// the readings have no sound covariance.
    ///
    /// # Equation
    /// g C Kᵀ (K C Kᵀ + W)⁻¹ K C g
    ///
    /// # Source
    /// D. MacKay, "Information-based objective functions for active data selection", Neural Computation 4 (1992) 590-604 (from
    /// memory): for a linear problem it does not depend on what the readings will show.
    pub(crate) fn taken_off(&self, covariance: &Matrix, answers: &[&[f64]]) -> Option<Vec<f64>> {
        let (m, p) = self.slopes.shape();
        let row = |i: usize| (0..p).map(move |j| self.slopes[(i, j)]);
        let carried: Vec<Vec<f64>> = (0..m)
            .map(|i| {
                let weighted =
                    |j: usize| row(i).enumerate().map(move |(k, s)| s * covariance[(k, j)]);
                (0..p).map(|j| weighted(j).sum()).collect()
            })
            .collect();
        let whole = Matrix::from_fn(m, m, |i, j| {
            let known: f64 = carried[i].iter().zip(row(j)).map(|(a, b)| a * b).sum();
            known + self.noise[(i, j)]
        });
        let factor = PositiveFactor::new(whole).ok()?;
        let taken_off = |answer: &&[f64]| {
            let seen = Vector::from_iterator(m, carried.iter().map(|carried| dot(carried, answer)));
            dot(seen.as_slice(), factor.solve(&seen).as_slice())
        };
        Some(answers.iter().map(taken_off).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(slopes: &[f64], noise: &[f64]) -> RowsToCome {
        RowsToCome {
            slopes: Matrix::from_row_slice(slopes.len(), 1, slopes),
            noise: Matrix::from_row_slice(slopes.len(), slopes.len(), noise),
        }
    }

    /// A. Gelman et al., Bayesian Data Analysis, 3rd edition (2013), equation 2.12: 1/τₙ² = 1/τ₀² + n/σ² for the mean of a normal
    /// distribution of known variance (from memory).
    #[test]
    fn a_normal_mean_narrows_as_the_textbook_says() {
        let (prior, own, n) = (4.0, 9.0, 5);
        let noise = Matrix::identity(n, n) * own;
        let rows = RowsToCome {
            slopes: Matrix::from_element(n, 1, 1.0),
            noise,
        };
        let taken = rows
            .taken_off(&Matrix::from_element(1, 1, prior), &[&[1.0]])
            .unwrap()[0];
        let textbook: f64 = 1.0 / (1.0 / prior + 5.0 / own);
        // Some ten roundings.
        assert!((prior - taken - textbook).abs() < 1e-13, "{taken}");
    }

    /// What all readings share does not average out: JCGM 100:2008 (GUM), 5.2.2, of a mean of n readings with covariance c each
    /// and own variance o: c + o/n; then as before.
    #[test]
    fn a_common_error_is_carried() {
        let (prior, common, own) = (4.0, 2.0, 3.0);
        let noise = Matrix::from_fn(4, 4, |i, j| common + if i == j { own } else { 0.0 });
        let rows = RowsToCome {
            slopes: Matrix::from_element(4, 1, 1.0),
            noise,
        };
        let taken = rows
            .taken_off(&Matrix::from_element(1, 1, prior), &[&[1.0]])
            .unwrap()[0];
        let textbook: f64 = 1.0 / (1.0 / prior + 1.0 / (common + own / 4.0));
        assert!((prior - taken - textbook).abs() < 1e-13, "{taken}");
    }

    /// A line through the origin and an intercept, three readings taken and a fourth to come: the same as all four at once by
    /// Cᵖᵒˢᵗ = (Jᵀ V⁻¹ J + P⁻¹)⁻¹, Bayesian Data Analysis, equation 14.14-14.16 (from memory).
    #[test]
    fn one_after_the_other_is_all_at_once() {
        let x: [f64; 4] = [1.0, 2.0, 4.0, 7.0];
        let slopes = Matrix::from_fn(4, 2, |i, j| if j == 0 { 1.0 } else { x[i] });
        let noise = Matrix::from_fn(4, 4, |i, j| 0.4 + if i == j { 0.5 } else { 0.0 });
        let posterior = |n: usize| {
            let factor = PositiveFactor::new(noise.view((0, 0), (n, n)).into_owned()).unwrap();
            let mut whitened = slopes.view((0, 0), (n, 2)).into_owned();
            factor.whiten_columns(&mut whitened);
            let precision = numerics::linear::transpose_times(&whitened, &whitened)
                + Matrix::from_diagonal(&Vector::from_vec(vec![0.1, 0.2]));
            PositiveFactor::new(precision).unwrap().inverse()
        };
        let before = posterior(3);
        let taken = RowsTaken {
            slopes: slopes.view((0, 0), (3, 2)).into_owned(),
            factor: PositiveFactor::new(noise.view((0, 0), (3, 3)).into_owned()).unwrap(),
        };
        let to_come = RowsToCome {
            slopes: slopes.view((3, 0), (1, 2)).into_owned(),
            noise: noise.view((3, 3), (1, 1)).into_owned(),
        };
        let shared = noise.view((0, 3), (3, 1)).into_owned();
        let answers: [&[f64]; 2] = [&[1.0, 0.0], &[1.0, 5.0]];
        let off = to_come
            .given(&taken, &shared)
            .taken_off(&before, &answers)
            .unwrap();
        let after = posterior(4);
        for (answer, off) in answers.iter().zip(off) {
            let variance = |c: &Matrix| numerics::linear::quadratic_form(answer, c);
            assert!((variance(&before) - off - variance(&after)).abs() < 1e-12);
        }
    }

    #[test]
    fn a_reading_that_tells_nothing_takes_nothing() {
        let prior = Matrix::from_element(1, 1, 4.0);
        assert_eq!(
            rows(&[0.0], &[1.0]).taken_off(&prior, &[&[1.0]]),
            Some(vec![0.0])
        );
    }
}
