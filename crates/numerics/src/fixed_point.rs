//! Numbers that reproduce themselves: the search for x = g(x) where g is dear and its derivatives are not known.
//!
//! Broyden's method on g(x) − x. It begins as plain repetition, which is right where g hardly depends on x, and learns
//! from each answer how g does depend on it.

use crate::linear::dot;

/// How far what is left over may grow in one step before what was learnt is forgotten.
const GROWTH: f64 = 2.0;

/// The search for a fixed point, from step to step.
///
/// # Source
/// C. G. Broyden, "A class of methods for solving nonlinear simultaneous equations", Mathematics of Computation 19
/// (1965) 577-593, his first method, with the inverse kept by the formula of Sherman and Morrison (from memory).
///
/// # Example
/// ```
/// use numerics::fixed_point::FixedPoint;
/// let mut search = FixedPoint::new(1);
/// let mut at = [0.0];
/// for _ in 0..8 {
///     let left = [numerics::elementary::cos(at[0]) - at[0]];
///     search.step(&mut at, &left);
/// }
/// assert!((at[0] - 0.7390851332151607).abs() < 1e-12);
/// ```
#[derive(Clone, Debug)]
pub struct FixedPoint {
    /// The inverse of the derivatives of what is left over, by rows.
    inverse: Vec<f64>,
    last_step: Vec<f64>,
    last_left: Vec<f64>,
    /// Room for products with the inverse.
    changed: Vec<f64>,
    row: Vec<f64>,
    /// How much of a plain repetition is taken.
    share: f64,
    has_last: bool,
}

impl FixedPoint {
    /// Makes room for this many numbers.
    pub fn new(count: usize) -> Self {
        let mut search = Self {
            inverse: vec![0.0; count * count],
            last_step: vec![0.0; count],
            last_left: vec![0.0; count],
            changed: vec![0.0; count],
            row: vec![0.0; count],
            share: 1.0,
            has_last: false,
        };
        search.forget();
        search
    }

    /// Begins afresh, as plain repetition.
    pub fn begin(&mut self) {
        self.share = 1.0;
        self.forget();
    }

    /// Begins again beside where it ended, with what it learnt there.
    pub fn resume(&mut self) {
        self.has_last = false;
    }

    fn forget(&mut self) {
        let count = self.last_step.len();
        self.inverse.fill(0.0);
        for place in 0..count {
            self.inverse[place * count + place] = -self.share;
        }
        self.has_last = false;
    }

    /// Moves to where nothing would be left over of g(x) − x, by all that is known of it.
    pub fn step(&mut self, at: &mut [f64], left: &[f64]) {
        if self.has_last && largest(left) > GROWTH * largest(&self.last_left) {
            self.share *= 0.5;
            self.forget();
        }
        if self.has_last {
            self.learn(left);
        }
        let count = at.len();
        for (place, value) in at.iter_mut().enumerate() {
            let step = -dot(&self.inverse[place * count..][..count], left);
            self.last_step[place] = step;
            *value += step;
        }
        self.last_left.copy_from_slice(left);
        self.has_last = true;
    }

    /// Makes the inverse explain what the last step did.
    fn learn(&mut self, left: &[f64]) {
        let count = left.len();
        for ((change, now), before) in self.row.iter_mut().zip(left).zip(&self.last_left) {
            *change = now - before;
        }
        for (place, changed) in self.changed.iter_mut().enumerate() {
            *changed = dot(&self.inverse[place * count..][..count], &self.row);
        }
        let scale = dot(&self.last_step, &self.changed);
        if scale.abs() <= f64::MIN_POSITIVE {
            return;
        }
        for (column, value) in self.row.iter_mut().enumerate() {
            let by_columns = self.inverse.iter().skip(column).step_by(count);
            *value = self
                .last_step
                .iter()
                .zip(by_columns)
                .map(|(step, it)| step * it)
                .sum();
        }
        for (place, (step, changed)) in self.last_step.iter().zip(&self.changed).enumerate() {
            let apart = (step - changed) / scale;
            for (value, own) in self.inverse[place * count..][..count]
                .iter_mut()
                .zip(&self.row)
            {
                *value += apart * own;
            }
        }
    }
}

fn largest(values: &[f64]) -> f64 {
    values
        .iter()
        .fold(0.0, |largest, value| value.abs().max(largest))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn search(count: usize, steps: u32, g: impl Fn(&[f64]) -> Vec<f64>) -> (Vec<f64>, f64) {
        let mut search = FixedPoint::new(count);
        let mut at = vec![0.0; count];
        let left = |at: &[f64]| -> Vec<f64> { g(at).iter().zip(at).map(|(g, x)| g - x).collect() };
        for _ in 0..steps {
            let now = left(&at);
            search.step(&mut at, &now);
        }
        let over = largest(&left(&at));
        (at, over)
    }

    /// A linear problem of n unknowns ends within 2 n steps (Gay 1979).
    #[test]
    fn a_linear_map_ends_in_twice_as_many_steps_as_it_has_numbers() {
        let (at, over) = search(2, 5, |x| {
            vec![0.5 * x[1] + 1.0, -2.0 * x[0] + 0.3 * x[1] + 2.0]
        });
        // x = 0.5 y + 1, 0.7 y = 2 - 2 x
        assert!((at[0] - 1.0).abs() < 1e-12 && at[1].abs() < 1e-12, "{at:?}");
        assert!(over < 1e-12);
    }

    /// Plain repetition would run away.
    #[test]
    fn a_map_that_repels_is_found_too() {
        let (at, _) = search(1, 12, |x| vec![4.0 - 3.0 * x[0]]);
        assert!((at[0] - 1.0).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn weakly_joined_numbers_are_found(seeds in proptest::collection::vec(-1.0_f64..1.0, 12)) {
            let g = |x: &[f64]| -> Vec<f64> {
                (0..3).map(|row| {
                    let sum: f64 = (0..3).map(|column| 0.25 * seeds[3 * row + column] * x[column]).sum();
                    seeds[9 + row] + sum + 0.05 * sum * sum
                }).collect()
            };
            let (_, over) = search(3, 20, g);
            prop_assert!(over < 1e-10, "{over}");
        }
    }
}
