//! Least squares on a tall dense matrix by Householder reflections, in place and without allocation.
//!
//! Written out here rather than taken from a library: the order of every sum is fixed, so that the bits are the same
//! on every machine, and a fit of a dozen points spends its time on numbers rather than on views and dispatch.

use crate::linear::Matrix;

/// Reduces a tall system in place: the upper triangle of `a` becomes R, and `b` becomes Qᵀ b.
///
/// What stands below the diagonal of `a` afterwards is rubbish. The sum of squares of `b` past the first columns of `a`
/// is that of the residuals.
///
/// # Equation
/// A = Q R with Q the product of reflections H = 1 − 2 v vᵀ/vᵀv. A diagonal element of R may be negative or zero.
///
/// # Inputs
/// `a`: at least as many rows as columns, otherwise the last rows are left as they are. `b`: one element per row.
///
/// # Source
/// G. Golub, C. Van Loan, Matrix Computations, 4th edition (2013), algorithms 5.1.1 and 5.2.1.
///
/// # Example
/// ```
/// use numerics::{householder::{reduce, solve_upper}, linear::Matrix};
/// let mut a = Matrix::from_row_slice(3, 2, &[1.0, 0.0, 1.0, 1.0, 1.0, 2.0]);
/// let mut b = [1.0, 3.0, 5.0]; // on the line 1 + 2 x
/// reduce(&mut a, &mut b);
/// solve_upper(&a, &mut b);
/// assert!((b[0] - 1.0).abs() < 1e-14 && (b[1] - 2.0).abs() < 1e-14);
/// ```
pub fn reduce(a: &mut Matrix, b: &mut [f64]) {
    let (rows, columns) = a.shape();
    let elements = a.as_mut_slice();
    for k in 0..columns.min(rows) {
        let (left, right) = elements.split_at_mut((k + 1) * rows);
        let axis = &mut left[k * rows + k..];
        // Zeros at the end take no part: rows of priors, one below another, are mostly that.
        let last = axis.iter().rposition(|x| x.abs().to_bits() > 0);
        let axis = &mut axis[..last.map_or(0, |last| last + 1)];
        let square: f64 = axis.iter().map(|x| x * x).sum();
        if square <= 0.0 || square.is_nan() {
            continue;
        }
        // The sign that adds: v₁ = x₁ + sign(x₁) ‖x‖ loses no digits, and vᵀv = 2 ‖x‖ |v₁|.
        let norm = square.sqrt().copysign(axis[0]);
        axis[0] += norm;
        let scale = 1.0 / (norm * axis[0]);
        let mut fours = right.chunks_exact_mut(4 * rows);
        for four in &mut fours {
            let mut columns = four.chunks_exact_mut(rows).map(|column| &mut column[k..]);
            if let (Some(a), Some(b), Some(c), Some(d)) = (
                columns.next(),
                columns.next(),
                columns.next(),
                columns.next(),
            ) {
                reflect_four(axis, scale, [a, b, c, d]);
            }
        }
        for column in fours.into_remainder().chunks_exact_mut(rows) {
            reflect(axis, scale, &mut column[k..]);
        }
        reflect(axis, scale, &mut b[k..]);
        axis[0] = -norm;
    }
}

/// Replaces x by x − `scale` v (vᵀ x).
fn reflect(axis: &[f64], scale: f64, column: &mut [f64]) {
    let along: f64 = axis.iter().zip(&*column).map(|(v, x)| v * x).sum();
    let amount = scale * along;
    for (x, v) in column.iter_mut().zip(axis) {
        *x -= amount * v;
    }
}

/// Does the same to four columns, each with the same bits: four sums that do not wait for one another.
fn reflect_four(axis: &[f64], scale: f64, [a, b, c, d]: [&mut [f64]; 4]) {
    let mut along = [0.0; 4];
    let pairs = a.iter().zip(&*b).zip(c.iter().zip(&*d));
    for (v, ((a, b), (c, d))) in axis.iter().zip(pairs) {
        along[0] += v * a;
        along[1] += v * b;
        along[2] += v * c;
        along[3] += v * d;
    }
    for (column, along) in [a, b, c, d].into_iter().zip(along) {
        let amount = scale * along;
        for (x, v) in column.iter_mut().zip(axis) {
            *x -= amount * v;
        }
    }
}

/// Solves R x = b for the upper triangle R of `r`; the first elements of `b` become x.
///
/// A zero on the diagonal gives elements that are not finite.
pub fn solve_upper(r: &Matrix, b: &mut [f64]) {
    for k in (0..r.ncols()).rev() {
        let (above, rest) = b.split_at_mut(k);
        let column = r.column(k);
        let Some(x) = rest.first_mut() else { return };
        *x /= column[k];
        for (bi, ri) in above.iter_mut().zip(column.iter()) {
            *bi -= *x * ri;
        }
    }
}

/// Computes (Rᵀ R)⁻¹ for the upper triangle R of `r`: the covariance of least-squares parameters.
///
/// # Equation
/// (Rᵀ R)⁻¹ = R⁻¹ R⁻ᵀ, which loses half as many digits as inverting the product would.
pub fn inverse_of_square(r: &Matrix) -> Matrix {
    let p = r.ncols();
    let mut inverse = Matrix::identity(p, p);
    for column in inverse.as_mut_slice().chunks_exact_mut(p.max(1)) {
        solve_upper(r, column);
    }
    Matrix::from_fn(p, p, |i, j| {
        (i.max(j)..p)
            .map(|k| inverse[(i, k)] * inverse[(j, k)])
            .sum()
    })
}

/// Returns the least share of the length of a column that the columns before it do not explain: 1 where all are at
/// right angles, about 1e-16 where one depends on others.
pub fn least_own_length(r: &Matrix) -> f64 {
    (0..r.ncols().min(r.nrows()))
        .map(|j| {
            let whole: f64 = (0..=j).map(|i| r[(i, j)] * r[(i, j)]).sum();
            if whole > 0.0 {
                r[(j, j)].abs() / whole.sqrt()
            } else {
                0.0
            }
        })
        .fold(1.0, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::linear::{PositiveFactor, transpose_times};

    fn tall() -> Matrix {
        Matrix::from_fn(7, 3, |i, j| 1.0 / (1.0 + i as f64 + 2.0 * j as f64))
    }

    #[test]
    fn the_triangle_has_the_square_of_the_matrix() {
        let mut r = tall();
        reduce(&mut r, &mut [0.0; 7]);
        let square = transpose_times(&tall(), &tall());
        for i in 0..3 {
            for j in 0..3 {
                let product: f64 = (0..=i.min(j)).map(|k| r[(k, i)] * r[(k, j)]).sum();
                assert!((product - square[(i, j)]).abs() < 1e-14); // elements below 2
            }
        }
        let inverse = PositiveFactor::new(square).unwrap().inverse();
        // The square has a condition number of about 1e5.
        let apart = (inverse_of_square(&r) - &inverse).abs().max() / inverse.abs().max();
        assert!(apart < 1e-10, "{apart:e}");
    }

    /// Seven columns, so that four are reflected together and some by themselves, above rows of priors.
    #[test]
    fn columns_side_by_side_have_the_bits_of_one_at_a_time() {
        let wide = Matrix::from_fn(19, 7, |i, j| match i.checked_sub(12) {
            Some(prior) => f64::from(u8::from(prior == j)) * 0.3,
            None => 1.0 / (1.0 + i as f64 + 2.0 * j as f64),
        });
        let right = |i: usize| 0.1 * i as f64 - 0.7;
        let mut whole = wide.clone();
        let mut b: Vec<f64> = (0..19).map(right).collect();
        reduce(&mut whole, &mut b);
        for last in 0..7 {
            let mut one = Matrix::from_fn(19, last + 1, |i, j| wide[(i, j)]);
            reduce(&mut one, &mut [0.0; 19]);
            for i in 0..=last {
                assert_eq!(one[(i, last)].to_bits(), whole[(i, last)].to_bits());
            }
        }
    }

    #[test]
    fn the_residual_is_at_right_angles_to_the_columns() {
        let b = [1.0, -2.0, 0.5, 3.0, 0.0, -1.0, 2.0];
        let (mut a, mut reduced) = (tall(), b);
        reduce(&mut a, &mut reduced);
        let left: f64 = reduced[3..].iter().map(|x| x * x).sum();
        solve_upper(&a, &mut reduced);
        let residual: Vec<f64> = (0..7)
            .map(|i| b[i] - (0..3).map(|j| tall()[(i, j)] * reduced[j]).sum::<f64>())
            .collect();
        assert!((residual.iter().map(|x| x * x).sum::<f64>() - left).abs() < 1e-12);
        for j in 0..3 {
            let product = crate::linear::dot(tall().column(j).as_slice(), &residual);
            // Parameters of about 300 times rounding.
            assert!(product.abs() < 1e-12, "{product:e}");
        }
    }

    #[test]
    fn a_column_that_depends_on_others_is_seen() {
        let mut flat = Matrix::from_fn(5, 2, |i, j| (1.0 + i as f64) * (1.0 + j as f64));
        reduce(&mut flat, &mut [1.0; 5]);
        assert!(least_own_length(&flat) < 1e-15);
        let mut zero = Matrix::zeros(4, 1);
        reduce(&mut zero, &mut [1.0; 4]);
        assert!(least_own_length(&zero) == 0.0);
    }
}
