//! Small dense linear algebra: symmetric positive matrices, factored once and used many times.
//!
//! Factorisation and triangular solves are those of `nalgebra`. Products are written out here in a
//! fixed order of summation: the blocked ones of a library may sum in another order on another machine.

use nalgebra::{DMatrix, DVector, Dyn};
use thiserror::Error;

/// A dense matrix.
pub type Matrix = DMatrix<f64>;
/// A dense column.
pub type Vector = DVector<f64>;

/// A matrix that should be symmetric and positive is not.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
#[error("a matrix of order {order} is not positive definite")]
pub struct NotPositiveDefinite {
    /// Rows of the matrix.
    pub order: usize,
}

/// The Cholesky factor L of a symmetric positive definite matrix A = L Lᵀ.
#[derive(Clone, Debug)]
pub struct PositiveFactor {
    factor: nalgebra::Cholesky<f64, Dyn>,
}

impl PositiveFactor {
    /// Factors a symmetric matrix, of which only the lower triangle is read.
    pub fn new(matrix: Matrix) -> Result<Self, NotPositiveDefinite> {
        let order = matrix.nrows();
        nalgebra::Cholesky::new(matrix)
            .map(|factor| Self { factor })
            .ok_or(NotPositiveDefinite { order })
    }

    /// Returns the number of rows.
    pub fn order(&self) -> usize {
        self.factor.l_dirty().nrows()
    }

    /// Returns the least share of a diagonal element that the rows before it do not explain: 1 for a
    /// diagonal matrix, 0 for a singular one.
    pub fn least_own_share(&self) -> f64 {
        let lower = self.factor.l_dirty();
        (0..self.order())
            .map(|i| {
                let whole: f64 = (0..=i).map(|j| lower[(i, j)] * lower[(i, j)]).sum();
                lower[(i, i)] * lower[(i, i)] / whole
            })
            .fold(1.0, f64::min)
    }

    /// Returns L.
    pub fn lower(&self) -> Matrix {
        self.factor.l()
    }

    /// Computes the logarithm of the determinant of A.
    pub fn ln_determinant(&self) -> f64 {
        let lower = self.factor.l_dirty();
        (0..self.order())
            .map(|i| 2.0 * crate::elementary::ln(lower[(i, i)]))
            .sum()
    }

    /// Solves A x = b.
    pub fn solve(&self, b: &Vector) -> Vector {
        self.factor.solve(b)
    }

    /// Computes the inverse of A.
    pub fn inverse(&self) -> Matrix {
        self.factor.inverse()
    }

    /// Replaces `column` by L⁻¹ `column`, which has unit covariance where `column` had A.
    pub fn whiten(&self, column: &mut Vector) {
        self.factor.l_dirty().solve_lower_triangular_mut(column);
    }

    /// Replaces a column held as a slice by L⁻¹ times it, without allocation.
    pub fn whiten_slice(&self, column: &mut [f64]) {
        let lower = self.factor.l_dirty();
        for (j, factors) in lower.column_iter().enumerate() {
            let Some((head, below)) = column.get_mut(j..).and_then(<[f64]>::split_first_mut) else {
                return;
            };
            *head /= factors[j];
            // By a slice, and with the number in hand: the loop is then made of whole registers.
            let first = *head;
            for (x, factor) in below.iter_mut().zip(&factors.as_slice()[j + 1..]) {
                *x -= first * factor;
            }
        }
    }

    /// Replaces each column of `columns` by L⁻¹ times it.
    pub fn whiten_columns(&self, columns: &mut Matrix) {
        self.factor.l_dirty().solve_lower_triangular_mut(columns);
    }
}

/// Computes `a`ᵀ `b` for two matrices with equally many rows.
pub fn transpose_times(a: &Matrix, b: &Matrix) -> Matrix {
    Matrix::from_fn(a.ncols(), b.ncols(), |i, j| {
        dot(a.column(i).as_slice(), b.column(j).as_slice())
    })
}

/// Computes the scalar product of two slices, first element first.
pub fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

/// Computes gᵀ C g, the variance of a quantity with gradient `g` in variables of covariance `c`.
pub fn quadratic_form(g: &[f64], c: &Matrix) -> f64 {
    let mut sum = 0.0;
    for (i, gi) in g.iter().enumerate() {
        for (j, gj) in g.iter().enumerate() {
            sum += gi * c[(i, j)] * gj;
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    fn example() -> Matrix {
        Matrix::from_row_slice(3, 3, &[4.0, 2.0, 0.6, 2.0, 5.0, 1.0, 0.6, 1.0, 3.0])
    }

    #[test]
    fn the_factor_solves_and_inverts() {
        let factor = PositiveFactor::new(example()).unwrap();
        let inverse = factor.inverse();
        let x = factor.solve(&Vector::from_vec(vec![1.0, -2.0, 0.5]));
        let back = transpose_times(&example(), &Matrix::from_columns(&[x]));
        for (value, expected) in back.iter().zip([1.0, -2.0, 0.5]) {
            assert!((value - expected).abs() < 1e-14); // condition number below 5
        }
        let unit = transpose_times(&example(), &inverse);
        assert!((unit - Matrix::identity(3, 3)).abs().max() < 1e-15 * 10.0);
    }

    #[test]
    fn the_determinant_is_that_of_the_matrix() {
        let factor = PositiveFactor::new(example()).unwrap();
        // By cofactors: 4(15 − 1) − 2(6 − 0.6) + 0.6(2 − 3) = 44.6.
        assert!((factor.ln_determinant() - crate::elementary::ln(44.6)).abs() < 1e-14);
    }

    #[test]
    fn whitened_columns_have_the_norm_of_the_inverse() {
        let factor = PositiveFactor::new(example()).unwrap();
        let column = Vector::from_vec(vec![1.0, -2.0, 0.5]);
        let expected = quadratic_form(column.as_slice(), &factor.inverse());
        let mut white = column.clone();
        factor.whiten(&mut white);
        let mut sliced = [1.0, -2.0, 0.5];
        factor.whiten_slice(&mut sliced);
        assert_eq!(white.as_slice(), sliced);
        assert!((dot(white.as_slice(), white.as_slice()) - expected).abs() < 1e-14);
    }

    #[test]
    fn a_matrix_that_is_not_positive_is_refused() {
        let flat = Matrix::from_row_slice(2, 2, &[1.0, 2.0, 2.0, 1.0]);
        assert_eq!(PositiveFactor::new(flat).unwrap_err().order, 2);
    }
}
