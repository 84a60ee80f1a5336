//! Large symmetric positive matrices of which most is zero: one structure, factored for many sets of values.
//!
//! L D Lᵀ by fronts (Duff and Reid 1983) in an order of least degree. This is an own routine and not a library's for
//! two reasons: the ones at hand sum in another order on another machine or set of instructions, which the promise of
//! equal bits forbids; and a network hands over its links as they are, so that no matrix need be built between them.
//! No pivot is chosen by its value. Matrices that are not positive definite are refused, not mended.
//!
//! # Source
//! I. S. Duff, J. K. Reid, "The multifrontal solution of indefinite sparse symmetric linear equations", ACM Trans.
//! Math. Softw. 9 (1983) 302-325.

mod assembly;
mod elimination;
mod minimum_degree;

use thiserror::Error;

use crate::linear::NotPositiveDefinite;
use assembly::{Assembly, Front};

/// An entry lies outside of its matrix.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
#[error("entry {index} is in row {row} of a matrix of order {order}")]
pub struct OutsideMatrix {
    /// Which of the pairs.
    pub index: usize,
    /// The row or column that it names.
    pub row: usize,
    /// Rows of the matrix.
    pub order: usize,
}

/// The factors of a sparse symmetric positive definite matrix, with the room to factor and to solve.
///
/// # Example
/// ```
/// // 2 -1  0
/// // -1 2 -1
/// // 0 -1  2
/// let mut factor = numerics::sparse::SparseFactor::new(3, &[(0, 1), (1, 2)]).unwrap();
/// factor.refactor(&[2.0, 2.0, 2.0], &[-1.0, -1.0]).unwrap();
/// let mut x = [1.0, 0.0, 1.0];
/// factor.solve(&mut x);
/// assert!(x.iter().all(|x| (x - 1.0_f64).abs() < 1e-15));
/// ```
#[derive(Clone, Debug)]
pub struct SparseFactor {
    assembly: Assembly,
    /// L of each front, column by column, with 1/D on its diagonal.
    columns: Vec<f64>,
    /// The matrix of the front at work.
    front: Vec<f64>,
    /// What fronts pass on, the newest last.
    waiting: Vec<f64>,
    /// The orders of what waits.
    orders: Vec<(usize, usize)>,
    /// A right-hand side in the order of elimination.
    ordered: Vec<f64>,
}

impl SparseFactor {
    /// Works out the order and the structure of the factors for a matrix with entries at these pairs of rows and
    /// columns and on its whole diagonal. A pair stands for its mirror image too; one named twice adds up.
    ///
    /// # Errors
    /// [`OutsideMatrix`].
    pub fn new(order: usize, pairs: &[(usize, usize)]) -> Result<Self, OutsideMatrix> {
        for (index, &(i, j)) in pairs.iter().enumerate() {
            let row = i.max(j);
            if row >= order {
                return Err(OutsideMatrix { index, row, order });
            }
        }
        let assembly = Assembly::new(order, pairs);
        Ok(Self {
            columns: vec![0.0; assembly.columns],
            front: vec![0.0; assembly.largest],
            waiting: vec![0.0; assembly.waiting],
            orders: Vec::with_capacity(assembly.fronts.len()),
            ordered: vec![0.0; order],
            assembly,
        })
    }

    /// Returns the number of rows.
    pub fn order(&self) -> usize {
        self.ordered.len()
    }

    /// Factors the matrix of these values: its diagonal, and one value for each pair of the structure. A pair on the
    /// diagonal counts for nothing. Nothing is allocated.
    ///
    /// # Errors
    /// [`NotPositiveDefinite`] where a pivot is not above zero, and where there are fewer values than places.
    pub fn refactor(
        &mut self,
        diagonal: &[f64],
        values: &[f64],
    ) -> Result<(), NotPositiveDefinite> {
        let order = self.order();
        let refused = NotPositiveDefinite { order };
        if diagonal.len() < order {
            return Err(refused);
        }
        self.orders.clear();
        let mut top = 0;
        for index in 0..self.assembly.fronts.len() {
            let front = self.assembly.fronts[index].clone();
            let size = front.order();
            self.front[..size * size].fill(0.0);
            self.gather(&front, diagonal, values).ok_or(refused)?;
            for _ in 0..front.children {
                top = self.take(size, top);
            }
            elimination::Front {
                numbers: &mut self.front[..size * size],
                order: size,
                pivots: front.pivots,
            }
            .eliminate()
            .map_err(|_| refused)?;
            let done = front.pivots * size;
            self.columns[front.columns_at..][..done].copy_from_slice(&self.front[..done]);
            top = self.pass_on(&front, top);
        }
        Ok(())
    }

    /// Puts the values of the matrix that belong to a front into it.
    fn gather(&mut self, front: &Front, diagonal: &[f64], values: &[f64]) -> Option<()> {
        let size = front.order();
        for pivot in 0..front.pivots {
            let row = self.assembly.eliminated[front.first + pivot];
            self.front[pivot * size + pivot] = diagonal[row];
        }
        for entry in &self.assembly.entries[front.entries_at..][..front.entries] {
            self.front[entry.place] += values.get(entry.pair)?;
        }
        Some(())
    }

    /// Adds what the newest waiting front passes on to the front at work, of a given size; returns the new top.
    fn take(&mut self, size: usize, top: usize) -> usize {
        let Some((child, order)) = self.orders.pop() else {
            return top;
        };
        let from = top - order * order;
        let places = &self.assembly.places[child..child + order];
        let passed = &self.waiting[from..top];
        for (column, (&place, numbers)) in places.iter().zip(passed.chunks_exact(order)).enumerate()
        {
            let target = &mut self.front[place * size..(place + 1) * size];
            for (&row, number) in places[column..].iter().zip(&numbers[column..]) {
                target[row] += number;
            }
        }
        from
    }

    /// Sets aside what remains of the front at work; returns the new top.
    fn pass_on(&mut self, front: &Front, top: usize) -> usize {
        let (size, order) = (front.order(), front.boundary);
        self.orders.push((front.boundary_at, order));
        let end = top + order * order;
        if order > 0 {
            let left = self.front[front.pivots * size..size * size].chunks_exact(size);
            for (column, (target, numbers)) in self.waiting[top..end]
                .chunks_exact_mut(order)
                .zip(left)
                .enumerate()
            {
                target[column..].copy_from_slice(&numbers[front.pivots + column..]);
            }
        }
        end
    }

    /// Solves A x = b with the values that were factored last: `right` holds b before and x after. Further numbers
    /// are left alone. Nothing is allocated.
    pub fn solve(&mut self, right: &mut [f64]) {
        let eliminated = &self.assembly.eliminated;
        for (number, &row) in self.ordered.iter_mut().zip(eliminated) {
            *number = right[row];
        }
        self.forward();
        self.backward();
        for (number, &row) in self.ordered.iter().zip(&self.assembly.eliminated) {
            right[row] = *number;
        }
    }

    /// L y = b.
    fn forward(&mut self) {
        for front in &self.assembly.fronts {
            let size = front.order();
            let columns = &self.columns[front.columns_at..][..front.pivots * size];
            let rows = &self.assembly.rows[front.boundary_at..][..front.boundary];
            for (pivot, column) in columns.chunks_exact(size).enumerate() {
                let (head, own) = self.ordered.split_at_mut(front.first + pivot + 1);
                let value = head[front.first + pivot];
                let (within, below) = column[pivot + 1..].split_at(front.pivots - pivot - 1);
                for (target, number) in own.iter_mut().zip(within) {
                    *target -= number * value;
                }
                for (&row, number) in rows.iter().zip(below) {
                    self.ordered[row] -= number * value;
                }
            }
        }
    }

    /// D Lᵀ x = y.
    fn backward(&mut self) {
        for front in self.assembly.fronts.iter().rev() {
            let size = front.order();
            let columns = &self.columns[front.columns_at..][..front.pivots * size];
            let rows = &self.assembly.rows[front.boundary_at..][..front.boundary];
            for (pivot, column) in columns.chunks_exact(size).enumerate().rev() {
                let place = front.first + pivot;
                let (within, below) = column[pivot + 1..].split_at(front.pivots - pivot - 1);
                let mut value = self.ordered[place] * column[pivot];
                for (number, x) in within.iter().zip(&self.ordered[place + 1..]) {
                    value -= number * x;
                }
                for (&row, number) in rows.iter().zip(below) {
                    value -= number * self.ordered[row];
                }
                self.ordered[place] = value;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::linear::{Matrix, PositiveFactor, Vector};

    /// A grid of so many rows and columns, as pairs of neighbours.
    fn grid(side: usize) -> Vec<(usize, usize)> {
        let right = (0..side * side)
            .filter(|at| at % side + 1 < side)
            .map(|at| (at, at + 1));
        let down = (0..side * (side - 1)).map(|at| (at, at + side));
        right.chain(down).collect()
    }

    /// Numbers between 0 and 1 in no order.
    fn numbers(count: usize, step: f64) -> Vec<f64> {
        (1..=count).map(|i| (i as f64 * step).fract()).collect()
    }

    /// The matrix of a network whose links have these conductances, and its product with a vector.
    fn product(diagonal: &[f64], pairs: &[(usize, usize)], values: &[f64], x: &[f64]) -> Vec<f64> {
        let mut out: Vec<f64> = diagonal.iter().zip(x).map(|(d, x)| d * x).collect();
        for (&(i, j), value) in pairs.iter().zip(values).filter(|((i, j), _)| i != j) {
            out[i] += value * x[j];
            out[j] += value * x[i];
        }
        out
    }

    fn network(
        order: usize,
        pairs: &[(usize, usize)],
        conductance: &[f64],
    ) -> (Vec<f64>, Vec<f64>) {
        let mut diagonal = vec![0.1; order];
        for (&(i, j), c) in pairs.iter().zip(conductance).filter(|((i, j), _)| i != j) {
            diagonal[i] += c;
            diagonal[j] += c;
        }
        (diagonal, conductance.iter().map(|c| -c).collect())
    }

    #[test]
    fn a_large_grid_is_solved_again_and_again() {
        let pairs = grid(60);
        let mut factor = SparseFactor::new(3600, &pairs).unwrap();
        for step in [0.618_033_988, 0.414_213_562] {
            let (diagonal, values) = network(3600, &pairs, &numbers(pairs.len(), step));
            factor.refactor(&diagonal, &values).unwrap();
            let expected = numbers(3600, 0.732_050_808);
            let mut x = product(&diagonal, &pairs, &values, &expected);
            factor.solve(&mut x);
            let worst = x
                .iter()
                .zip(&expected)
                .map(|(a, b)| (a - b).abs())
                .fold(0.0, f64::max);
            // The condition number is about 100, and a row has some hundred terms.
            assert!(worst < 1e-12, "{worst}");
        }
    }

    #[test]
    fn an_indefinite_matrix_and_a_wrong_structure_are_refused() {
        let mut factor = SparseFactor::new(2, &[(0, 1)]).unwrap();
        for (diagonal, values) in [
            ([1.0, 1.0], [-2.0]),
            ([0.0, 1.0], [0.0]),
            ([f64::NAN, 1.0], [0.0]),
        ] {
            assert!(factor.refactor(&diagonal, &values).is_err());
        }
        assert!(factor.refactor(&[1.0], &[0.0]).is_err());
        assert!(factor.refactor(&[1.0, 1.0], &[]).is_err());
        // After a refusal it serves again.
        factor.refactor(&[2.0, 2.0], &[-1.0]).unwrap();
        let mut x = [1.0, 1.0];
        factor.solve(&mut x);
        assert!((x[0] - 1.0).abs() < 1e-15 && (x[1] - 1.0).abs() < 1e-15);
        let error = SparseFactor::new(2, &[(0, 1), (1, 2)]).unwrap_err();
        assert_eq!(
            error.to_string(),
            "entry 1 is in row 2 of a matrix of order 2"
        );
        SparseFactor::new(0, &[])
            .unwrap()
            .refactor(&[], &[])
            .unwrap();
    }

    proptest! {
        #[test]
        fn it_agrees_with_the_dense_factor(
            order in 1_usize..30, picks in prop::collection::vec((0_usize..30, 0_usize..30), 0..200),
            step in 0.1_f64..0.9,
        ) {
            let pairs: Vec<_> = picks.iter().map(|(i, j)| (i % order, j % order)).collect();
            let (diagonal, values) = network(order, &pairs, &numbers(pairs.len(), step));
            let mut dense = Matrix::from_diagonal(&Vector::from_column_slice(&diagonal));
            for (&(i, j), value) in pairs.iter().zip(&values).filter(|((i, j), _)| i != j) {
                dense[(i, j)] += value;
                dense[(j, i)] += value;
            }
            let right = numbers(order, 0.618_033_988);
            let expected = PositiveFactor::new(dense).unwrap().solve(&Vector::from_column_slice(&right));
            let mut factor = SparseFactor::new(order, &pairs).unwrap();
            factor.refactor(&diagonal, &values).unwrap();
            let mut x = right;
            factor.solve(&mut x);
            for (ours, theirs) in x.iter().zip(&expected) {
                // The condition number is below 1e3.
                prop_assert!((ours - theirs).abs() < 1e-11);
            }
        }
    }
}
