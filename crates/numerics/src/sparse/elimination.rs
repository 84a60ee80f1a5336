//! Elimination of the first columns of a dense symmetric matrix: where the time of a sparse factorisation goes.
//!
//! Plain loops over columns that the compiler vectorises. The order of every sum is written out, so that the bits do
//! not depend on how many numbers a register holds.

#![expect(
    clippy::inline_always,
    reason = "a loop takes on the instructions of the function that it is called from"
)]

/// Columns that are eliminated before the rest of the matrix is touched.
const BLOCK: usize = 4;

/// The lower triangle of a square matrix, column by column, of which some columns are to be eliminated.
pub(super) struct Front<'a> {
    /// Its numbers; what stands above the diagonal is not read.
    pub(super) numbers: &'a mut [f64],
    /// Rows and columns.
    pub(super) order: usize,
    /// How many columns are eliminated.
    pub(super) pivots: usize,
}

impl Front<'_> {
    /// Eliminates the columns. They then hold L without its unit diagonal, in whose place stands 1/D; the rest holds
    /// what remains. Returns the first column whose pivot is not above zero.
    pub(super) fn eliminate(&mut self) -> Result<(), usize> {
        // Below that, there is nothing for a wide register to do.
        const WORTH_ASKING: usize = 12;
        if self.order < WORTH_ASKING {
            return self.run();
        }
        self.with_instructions()
    }

    #[cfg(target_arch = "x86_64")]
    fn with_instructions(&mut self) -> Result<(), usize> {
        struct Task<'a, 'b>(&'a mut Front<'b>);
        // The token of the instruction set is not used: a loop that is inlined where the set is enabled is compiled
        // for it.
        impl pulp::WithSimd for Task<'_, '_> {
            type Output = Result<(), usize>;

            #[inline(always)]
            fn with_simd<S: pulp::Simd>(self, _: S) -> Self::Output {
                self.0.run()
            }
        }
        pulp::Arch::new().dispatch(Task(self))
    }

    #[cfg(not(target_arch = "x86_64"))]
    fn with_instructions(&mut self) -> Result<(), usize> {
        self.run()
    }

    #[inline(always)]
    fn run(&mut self) -> Result<(), usize> {
        let mut done = 0;
        while done < self.pivots {
            let block = BLOCK.min(self.pivots - done);
            for pivot in done..done + block {
                self.eliminate_within(pivot, done + block)?;
            }
            if block == BLOCK {
                self.update_by_block(done);
            } else {
                for pivot in done..done + block {
                    self.update_by_column(pivot, done + block);
                }
            }
            for pivot in done..done + block {
                self.scale(pivot);
            }
            done += block;
        }
        Ok(())
    }

    /// Takes a pivot and changes the other columns of its block.
    #[inline(always)]
    fn eliminate_within(&mut self, pivot: usize, end: usize) -> Result<(), usize> {
        let order = self.order;
        let value = self.numbers[pivot * order + pivot];
        if !(value > 0.0 && value.is_finite()) {
            return Err(pivot);
        }
        self.numbers[pivot * order + pivot] = 1.0 / value;
        let (head, rest) = self.numbers.split_at_mut((pivot + 1) * order);
        let own = &head[pivot * order..];
        for (column, numbers) in (pivot + 1..end).zip(rest.chunks_exact_mut(order)) {
            subtract(
                &mut numbers[column..],
                own[pivot] * own[column],
                &own[column..],
            );
        }
        Ok(())
    }

    /// Changes the columns behind a block by one column of it.
    #[inline(always)]
    fn update_by_column(&mut self, pivot: usize, end: usize) {
        let order = self.order;
        let (head, rest) = self.numbers.split_at_mut(end * order);
        let own = &head[pivot * order..(pivot + 1) * order];
        for (column, numbers) in (end..order).zip(rest.chunks_exact_mut(order)) {
            subtract(
                &mut numbers[column..],
                own[pivot] * own[column],
                &own[column..],
            );
        }
    }

    /// Changes the columns behind a full block by all of it at once, two columns at a time.
    #[inline(always)]
    fn update_by_block(&mut self, first: usize) {
        let order = self.order;
        let end = first + BLOCK;
        let (head, rest) = self.numbers.split_at_mut(end * order);
        let block = &head[first * order..];
        let (a, block) = block.split_at(order);
        let (b, block) = block.split_at(order);
        let (c, d) = block.split_at(order);
        let inverse = [a[first], b[first + 1], c[first + 2], d[first + 3]];
        let factors = |column: usize| {
            let [p, q, r, s] = inverse;
            [p * a[column], q * b[column], r * c[column], s * d[column]]
        };
        let mut column = end;
        let mut pairs = rest.chunks_exact_mut(2 * order);
        for pair in &mut pairs {
            let (left, right) = pair.split_at_mut(order);
            let (f, g) = (factors(column), factors(column + 1));
            left[column] -= product(f, [a[column], b[column], c[column], d[column]]);
            let from = column + 1;
            let (left, right) = (&mut left[from..order], &mut right[from..order]);
            let length = left.len();
            let right = &mut right[..length];
            let sources = [&a[from..], &b[from..], &c[from..], &d[from..]].map(|x| &x[..length]);
            for i in 0..length {
                let x = sources.map(|x| x[i]);
                left[i] -= product(f, x);
                right[i] -= product(g, x);
            }
            column += 2;
        }
        // An odd column is the last one, and only its diagonal is left of it.
        if let Some(last) = pairs.into_remainder().last_mut() {
            let x = [a[column], b[column], c[column], d[column]];
            *last -= product(factors(column), x);
        }
    }

    /// Turns an eliminated column into one of L.
    #[inline(always)]
    fn scale(&mut self, pivot: usize) {
        let column = &mut self.numbers[pivot * self.order..(pivot + 1) * self.order];
        let inverse = column[pivot];
        for number in &mut column[pivot + 1..] {
            *number *= inverse;
        }
    }
}

/// The product of four numbers with four others, in this order.
#[inline(always)]
fn product([p, q, r, s]: [f64; 4], [a, b, c, d]: [f64; 4]) -> f64 {
    (p * a + q * b) + (r * c + s * d)
}

/// Subtracts a multiple of some numbers from others.
#[inline(always)]
fn subtract(from: &mut [f64], factor: f64, numbers: &[f64]) {
    for (target, number) in from.iter_mut().zip(numbers) {
        *target -= factor * number;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A matrix with a heavy diagonal.
    fn heavy(order: usize) -> Vec<f64> {
        let number = |place: usize| -(place as f64 * 0.618_033_988_749_894_9).fract();
        let on_diagonal = |place: usize| place / order == place % order;
        let value = |place| {
            if on_diagonal(place) {
                2.0 * order as f64
            } else {
                number(place)
            }
        };
        (0..order * order).map(value).collect()
    }

    #[test]
    fn wide_instructions_leave_the_same_bits() {
        for order in 1..40 {
            for pivots in [1, order / 2, order] {
                let (mut wide, mut plain) = (heavy(order), heavy(order));
                let front = |numbers| Front {
                    numbers,
                    order,
                    pivots,
                };
                front(&mut wide[..]).with_instructions().unwrap();
                front(&mut plain[..]).run().unwrap();
                let bits =
                    |numbers: &[f64]| numbers.iter().map(|x| x.to_bits()).collect::<Vec<_>>();
                assert_eq!(bits(&wide), bits(&plain), "{pivots} of {order}");
            }
        }
    }

    #[test]
    fn what_remains_is_the_schur_complement() {
        // [4 2; 2 5]: 5 - 2 2 / 4 = 4, and L is a half.
        let mut numbers = [4.0, 2.0, f64::NAN, 5.0];
        let mut front = Front {
            numbers: &mut numbers,
            order: 2,
            pivots: 1,
        };
        front.eliminate().unwrap();
        // Powers of two: nothing is rounded.
        let left = [numbers[0] - 0.25, numbers[1] - 0.5, numbers[3] - 4.0];
        assert!(left.iter().all(|left| left.abs() < f64::MIN_POSITIVE));
    }
}
