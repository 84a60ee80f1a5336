//! Propagation of distributions by Monte Carlo, which goes on until its own scatter no longer matters.
//!
//! Draw k is a function of the seed and k, so the draws may be computed in any order and by any number of threads.

use numerics::elementary::{log10, pow};
use numerics::random::{Draw, Draws};
use thiserror::Error;

use crate::coverage_interval::{IntervalKind, coverage_interval, sort_ends};
use crate::estimate::{COVERAGE, Estimate};
use crate::propagation::Inputs;

/// What is asked of a Monte Carlo.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MonteCarloPlan {
    /// What the draws are made from.
    pub seed: u64,
    /// The share of the draws that an interval holds, in (0, 1).
    pub coverage: f64,
    /// Digits of the standard uncertainty that are to stand.
    pub digits: u32,
    /// Draws between two looks at the scatter.
    pub block: usize,
    /// The most draws: a model with heavy tails may never settle.
    pub most_draws: usize,
}

impl MonteCarloPlan {
    /// A plan for 95 % intervals with two digits, in blocks of 10 000.
    ///
    /// # Source
    /// JCGM 101:2008, 7.9.4 b: blocks of max(100/(1 − p), 10⁴).
    pub fn new(seed: u64) -> Self {
        Self {
            seed,
            coverage: COVERAGE,
            digits: 2,
            block: 10_000,
            most_draws: 10_000_000,
        }
    }
}

/// Why a Monte Carlo has no result.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum MonteCarloError {
    /// The model has no finite value at a draw.
    #[error("the model has no value at draw {draw}")]
    NoValue {
        /// The number of the draw, from 0.
        draw: usize,
    },
    /// Blocks too short for the coverage, or a coverage outside (0, 1), or room for less than two blocks.
    #[error(
        "a plan needs two blocks, each with more draws than a coverage between 0 and 1 leaves out"
    )]
    BadPlan,
}

/// Why a Monte Carlo ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ending {
    /// Its scatter fell below what the digits asked for.
    Settled,
    /// It reached the most draws that were allowed.
    Cut,
}

/// Four numbers of one distribution.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Characteristics {
    /// The mean.
    pub mean: f64,
    /// The standard deviation.
    pub u: f64,
    /// The lower end of the symmetric interval.
    pub low: f64,
    /// The upper end of it.
    pub high: f64,
}

impl Characteristics {
    fn map2(self, other: Self, combine: impl Fn(f64, f64) -> f64) -> Self {
        Self {
            mean: combine(self.mean, other.mean),
            u: combine(self.u, other.u),
            low: combine(self.low, other.low),
            high: combine(self.high, other.high),
        }
    }

    fn all(&self, holds: impl Fn(f64) -> bool) -> bool {
        [self.mean, self.u, self.low, self.high]
            .into_iter()
            .all(holds)
    }
}

/// The distribution of an output quantity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Distributed {
    /// Mean, standard uncertainty and the symmetric interval, from all draws.
    pub characteristics: Characteristics,
    /// The shortest interval, from all draws.
    pub shortest: (f64, f64),
    /// The standard errors of the characteristics, from the scatter of the blocks.
    pub standard_errors: Characteristics,
    /// How many draws were made.
    pub draws: usize,
    /// Why it ended.
    pub ending: Ending,
    /// Half of the last place of the standard uncertainty that was to stand.
    pub tolerance: f64,
}

impl Distributed {
    /// Returns the result as an estimate with the symmetric interval.
    pub fn estimate(&self) -> Estimate {
        let Characteristics { mean, u, low, high } = self.characteristics;
        Estimate {
            value: mean,
            u,
            low,
            high,
        }
    }

    /// Says whether the interval of `other` has both ends where this one has them, within the tolerance: what makes a
    /// first-order result valid for the purpose.
    ///
    /// # Source
    /// JCGM 101:2008, 8.1.
    pub fn confirms(&self, other: &Estimate) -> bool {
        let Characteristics { low, high, .. } = self.characteristics;
        let within = |a: f64, b: f64| (a - b).abs() <= self.tolerance;
        within(other.low, low) && within(other.high, high)
    }
}

/// Propagates distributions through a model by Monte Carlo.
///
/// # Inputs
/// `model`: draws its inputs from the [`Draw`] it is given and returns the output.
///
/// # Returns
/// The distribution of the output; [`Ending::Cut`] where the digits asked for do not stand after the most draws.
///
/// # Accuracy
/// Twice the standard error of each of the four characteristics is within half of the last digit asked for.
///
/// # Errors
/// [`MonteCarloError`]
///
/// # Source
/// JCGM 101:2008, 7.2-7.9.
///
/// # Checked against
/// `validation/uncertainty/sums`, `validation/uncertainty/quadratic`, `validation/uncertainty/jcgm-101`
///
/// # Example
/// ```
/// use metrology::{MonteCarloPlan, monte_carlo};
/// // Four rectangles of unit variance: JCGM 101, 9.2.3 prints 95 % within 3.88 of 0.
/// let sum = monte_carlo(&MonteCarloPlan::new(1), |draw| {
///     (0..4).map(|_| 3.0_f64.sqrt() * draw.rectangular()).sum()
/// })
/// .unwrap();
/// assert!((sum.characteristics.high - 3.88).abs() < 0.06);
/// ```
pub fn monte_carlo(
    plan: &MonteCarloPlan,
    model: impl Fn(&mut Draw) -> f64,
) -> Result<Distributed, MonteCarloError> {
    let draws = Draws::new(plan.seed);
    monte_carlo_in_blocks(plan, |first, values| fill(&draws, first, values, &model))
}

/// Computes the values of a model at consecutive draws from number `first` on: the work of one thread.
pub fn fill(draws: &Draws, first: u64, values: &mut [f64], model: impl Fn(&mut Draw) -> f64) {
    for (number, value) in (first..).zip(values) {
        *value = model(&mut draws.at(number));
    }
}

/// Propagates as [`monte_carlo`] does, the draws of a block being computed by the caller: on several threads, or for
/// several outputs at once.
///
/// # Inputs
/// `compute`: is given the number of the first draw of a block and the place for its values; see [`fill`].
///
/// # Errors
/// [`MonteCarloError`]
///
/// # Source
/// JCGM 101:2008, 7.9.
///
/// # Checked against
/// That of [`monte_carlo`], which calls it.
pub fn monte_carlo_in_blocks(
    plan: &MonteCarloPlan,
    mut compute: impl FnMut(u64, &mut [f64]),
) -> Result<Distributed, MonteCarloError> {
    let mut values: Vec<f64> = Vec::new();
    let mut scatter = Scatter::default();
    let mut first = 0_u64;
    loop {
        let from = values.len();
        values.resize(from + plan.block, f64::NAN);
        let (earlier, block) = values.split_at_mut(from);
        compute(first, block);
        first += plan.block as u64;
        if let Some(at) = block.iter().position(|value| !value.is_finite()) {
            return Err(MonteCarloError::NoValue {
                draw: earlier.len() + at,
            });
        }
        scatter.add(characteristics(&mut block.to_vec(), plan.coverage)?);
        let tolerance = half_of_last_place(scatter.whole_u(plan.block as f64), plan.digits);
        let settled = scatter.is_below(tolerance);
        if settled || values.len() + plan.block > plan.most_draws {
            if scatter.blocks < 2.0 {
                return Err(MonteCarloError::BadPlan);
            }
            let ending = if settled {
                Ending::Settled
            } else {
                Ending::Cut
            };
            return finish(values, plan, &scatter, (ending, tolerance));
        }
    }
}

fn finish(
    mut values: Vec<f64>,
    plan: &MonteCarloPlan,
    scatter: &Scatter,
    (ending, tolerance): (Ending, f64),
) -> Result<Distributed, MonteCarloError> {
    let characteristics = characteristics(&mut values, plan.coverage)?;
    let shortest = coverage_interval(&values, plan.coverage, IntervalKind::Shortest);
    Ok(Distributed {
        characteristics,
        shortest: shortest.ok_or(MonteCarloError::BadPlan)?,
        standard_errors: scatter.standard_errors(),
        draws: values.len(),
        ending,
        tolerance,
    })
}

/// The characteristics of a sample, whose ends are sorted by the way.
fn characteristics(values: &mut [f64], coverage: f64) -> Result<Characteristics, MonteCarloError> {
    let (mean, u) = deviation(values);
    sort_ends(values, coverage);
    let interval = coverage_interval(values, coverage, IntervalKind::Symmetric);
    let (low, high) = interval.ok_or(MonteCarloError::BadPlan)?;
    Ok(Characteristics { mean, u, low, high })
}

/// Mean and standard deviation, in the order of the draws.
fn deviation(values: &[f64]) -> (f64, f64) {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let squares: f64 = values.iter().map(|y| (y - mean) * (y - mean)).sum();
    (mean, (squares / (n - 1.0)).sqrt())
}

/// Half of the last place of `u` rounded to so many digits.
///
/// # Source
/// JCGM 101:2008, 7.9.2.
fn half_of_last_place(u: f64, digits: u32) -> f64 {
    if u <= 0.0 {
        return 0.0;
    }
    let first_place = log10(u).floor();
    let unit = |place: f64| pow(10.0, place - f64::from(digits) + 1.0);
    // Rounding may carry into the next place: 0.0996 to two digits is 0.10.
    let carried = (u / unit(first_place)).round() * unit(first_place);
    0.5 * unit(log10(carried * (1.0 + f64::EPSILON)).floor())
}

/// The scatter of the characteristics from block to block, by running sums.
#[derive(Default)]
struct Scatter {
    blocks: f64,
    mean: Characteristics,
    squares: Characteristics,
}

impl Scatter {
    /// B. Welford, "Note on a method for calculating corrected sums of squares and products", Technometrics 4 (1962) 419-420.
    fn add(&mut self, block: Characteristics) {
        self.blocks += 1.0;
        let before = block.map2(self.mean, |new, mean| new - mean);
        self.mean = self.mean.map2(before, |mean, by| mean + by / self.blocks);
        let after = block.map2(self.mean, |new, mean| new - mean);
        let product = before.map2(after, |a, b| a * b);
        self.squares = self.squares.map2(product, |sum, more| sum + more);
    }

    fn standard_errors(&self) -> Characteristics {
        let pairs = self.blocks * (self.blocks - 1.0);
        self.squares
            .map2(self.squares, |sum, _| (sum / pairs).sqrt())
    }

    /// Returns the standard deviation of all draws, from that within the blocks of `length` draws and that of their means.
    fn whole_u(&self, length: f64) -> f64 {
        let mean_square = self.mean.u * self.mean.u + self.squares.u / self.blocks;
        let within = self.blocks * (length - 1.0) * mean_square;
        let between = length * self.squares.mean;
        ((within + between) / (self.blocks * length - 1.0)).sqrt()
    }

    /// Says whether twice each standard error is within the tolerance.
    fn is_below(&self, tolerance: f64) -> bool {
        self.blocks >= 2.0 && self.standard_errors().all(|s| 2.0 * s <= tolerance)
    }
}

/// Normal input quantities that may be correlated, to be drawn together.
#[derive(Clone, Debug)]
pub struct JointNormal {
    mean: Vec<f64>,
    root: numerics::linear::Matrix,
}

impl JointNormal {
    /// The joint normal distribution of inputs; degrees of freedom are left aside.
    ///
    /// # Source
    /// JCGM 101:2008, 6.4.8 and C.5.
    pub fn new(inputs: &Inputs) -> Self {
        Self {
            mean: inputs.values(),
            root: inputs.root(),
        }
    }

    /// Draws all of them.
    pub fn draw(&self, draw: &mut Draw) -> Vec<f64> {
        let mut drawn = self.mean.clone();
        for j in 0..drawn.len() {
            let z = draw.normal();
            for (x, root) in drawn.iter_mut().zip(self.root.column(j).iter()) {
                *x += root * z;
            }
        }
        drawn
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::propagation::{Input, propagate};

    fn sum(draw: &mut Draw) -> f64 {
        draw.normal() + draw.rectangular()
    }

    #[test]
    fn the_bits_do_not_depend_on_who_computes_a_block() {
        let plan = MonteCarloPlan {
            most_draws: 60_000,
            digits: 3,
            ..MonteCarloPlan::new(5)
        };
        let at_once = monte_carlo(&plan, sum).unwrap();
        let draws = Draws::new(5);
        let in_pieces = monte_carlo_in_blocks(&plan, |first, values| {
            // From the last piece to the first, as threads might.
            let pieces = values.chunks_mut(777).enumerate().collect::<Vec<_>>();
            for (i, piece) in pieces.into_iter().rev() {
                fill(&draws, first + 777 * i as u64, piece, sum);
            }
        })
        .unwrap();
        assert_eq!(at_once, in_pieces);
        assert_eq!((at_once.ending, at_once.draws), (Ending::Cut, 60_000));
    }

    #[test]
    fn the_tolerance_is_half_of_the_last_digit() {
        // JCGM 101:2008, 7.9.2.2 examples: 0.000 35 with two digits, and with one.
        for (u, digits, expected) in [
            (0.00035, 2, 0.5e-5),
            (0.00035, 1, 0.5e-4),
            (2.0, 2, 0.05),
            (0.0996, 2, 0.005),
        ] {
            let found = half_of_last_place(u, digits);
            assert!(
                (found / expected - 1.0).abs() < 1e-12,
                "{u} {digits}: {found}"
            );
        }
    }

    #[test]
    fn a_linear_model_confirms_the_first_order_and_a_bent_one_does_not() {
        let inputs = Inputs::independent(vec![Input::new(1.0, 0.2), Input::new(2.0, 0.1)]).unwrap();
        let joint = JointNormal::new(&inputs);
        let line = |x: &[f64]| 2.0 * x[0] - x[1];
        let plan = MonteCarloPlan::new(3);
        let drawn = monte_carlo(&plan, |draw| line(&joint.draw(draw))).unwrap();
        let first_order = propagate(line, &inputs).unwrap().estimate().unwrap();
        assert!(drawn.confirms(&first_order));
        let bent = |x: &[f64]| x[0] * x[0] * x[0] + x[1];
        let drawn = monte_carlo(&plan, |draw| bent(&joint.draw(draw))).unwrap();
        let first_order = propagate(bent, &inputs).unwrap().estimate().unwrap();
        assert!(!drawn.confirms(&first_order));
    }

    #[test]
    fn bad_models_and_plans_are_said() {
        let plan = MonteCarloPlan::new(1);
        let hole = monte_carlo(&plan, |draw| (draw.uniform() - 0.001).sqrt());
        assert!(matches!(hole, Err(MonteCarloError::NoValue { .. })));
        for bad in [
            MonteCarloPlan { block: 0, ..plan },
            MonteCarloPlan { block: 10, ..plan },
            MonteCarloPlan {
                coverage: 1.0,
                ..plan
            },
            MonteCarloPlan {
                coverage: f64::NAN,
                ..plan
            },
            MonteCarloPlan {
                most_draws: 100,
                ..plan
            },
        ] {
            assert_eq!(
                monte_carlo(&bad, sum),
                Err(MonteCarloError::BadPlan),
                "{bad:?}"
            );
        }
        let certain = monte_carlo(&plan, |_| 4.0).unwrap();
        assert_eq!(certain.ending, Ending::Settled);
        assert!((certain.estimate().high - 4.0).abs() < 1e-12);
    }
}
