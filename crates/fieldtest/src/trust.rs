//! Which readings of a column cannot belong with the others.
//!
//! A search for the smallest set of cells, up to three, whose removal makes the rest consistent with one smooth
//! law. Leaving out one at a time would blame the innocent when a test holds several faults. Thresholds come from
//! the declared accuracies and the discrepancy, not from the scatter of the same few readings.

mod affinity;

pub(crate) use affinity::beyond_affinity;

use crate::cells::{Cell, SpeedKey};
use crate::laws::{FittedLaw, LnPrediction, Shape};
use metrology::Deletion;
use numerics::distributions::chi_squared_upper_tail;
use numerics::elementary::ln;

/// A reading this many standard uncertainties from what the others predict is doubted. With three columns of a
/// dozen readings, a sound test then raises a doubt in fewer than 3 of 1000.
const DOUBT_Z: f64 = 4.0;
/// Once the cells do not belong together, one is blamed when it is this far from what the rest predicts.
const BLAME_Z: f64 = 3.0;
/// A pad may depart from its law by twice as much as is usual before a reading is doubted for it. Where steps stand
/// close this costs nothing, since a smooth departure cannot jump from one to the next.
const DOUBT_DISCREPANCY: f64 = 2.0;
/// A reading that is off by less than this share is never doubted: it would change nothing that the test decides.
const DOUBT_SHARE: f64 = 0.05;
/// The probability of a sum of squares below which the cells do not belong together.
const DOUBT_PROBABILITY: f64 = 1e-4;
/// The most cells of one column that are blamed at once.
const MOST_BLAMED: usize = 3;
/// The cells that the search considers, by how many there are: all sets of up to three of them are tried, and each
/// trial costs the cube of the number of cells.
fn pool_size(cells: usize) -> usize {
    match cells {
        0..=16 => 12,
        17..=40 => 8,
        _ => 5,
    }
}

/// What the search found in one column.
#[derive(Clone, Debug)]
pub(crate) struct Judgement<'a> {
    /// The law that the cells which belong together follow; `None` where they are too few or the fit did not settle.
    pub law: Option<FittedLaw>,
    /// The cells that do not belong, each with what the others predict in its place.
    pub refuted: Vec<Refuted<'a>>,
    /// Where no few cells explain the scatter: the largest distance from the law as a share.
    pub scattered: Option<f64>,
}

/// A cell that does not belong.
#[derive(Clone, Debug)]
pub(crate) struct Refuted<'a> {
    /// The cell.
    pub cell: Cell<'a>,
    /// What the others predict in its place, the cell's own uncertainty included.
    pub expected: LnPrediction,
}

/// Judges the cells of one column; `may_doubt` says of a cell whether a person has not confirmed it.
pub(crate) fn judge<'a>(
    shape: Shape,
    reference_rpm: f64,
    cells: &[Cell<'a>],
    may_doubt: impl Fn(&Cell<'_>) -> bool,
) -> Judgement<'a> {
    let speeds = speeds(cells);
    let all = (speeds >= shape.least_speeds())
        .then(|| law(shape, reference_rpm, cells))
        .flatten();
    // With no more speeds than the law has numbers, no reading can be held against the others.
    let judged = speeds > shape.least_speeds();
    if !judged || all.as_ref().is_some_and(|law| consistent(law, cells)) {
        return Judgement {
            law: all,
            refuted: Vec::new(),
            scattered: None,
        };
    }
    let pool = pool(all.as_ref(), cells, may_doubt);
    for size in 1..=MOST_BLAMED.min(speeds / 3) {
        let best = subsets(&pool, size)
            .filter_map(|blamed| Trial::new(shape, reference_rpm, cells, &blamed))
            .min_by(|a, b| a.chi_squared().total_cmp(&b.chi_squared()));
        if let Some(trial) = best {
            return trial.into_judgement();
        }
    }
    Judgement {
        scattered: all.as_ref().map(largest_distance),
        law: all,
        refuted: Vec::new(),
    }
}

/// Fits the law against which cells are judged.
fn law(shape: Shape, reference_rpm: f64, cells: &[Cell<'_>]) -> Option<FittedLaw> {
    let discrepancy = shape.discrepancy().widened(DOUBT_DISCREPANCY);
    FittedLaw::new(shape, discrepancy, reference_rpm, cells).ok()
}

/// Counts the different speeds of cells that are sorted by speed.
pub(crate) fn speeds(cells: &[Cell<'_>]) -> usize {
    let mut keys: Vec<SpeedKey> = cells
        .iter()
        .map(|cell| SpeedKey::new(cell.speed_rpm))
        .collect();
    keys.dedup();
    keys.len()
}

/// Says whether the cells of a law belong together.
fn consistent(law: &FittedLaw, cells: &[Cell<'_>]) -> bool {
    let fit = law.fit();
    let deletions = fit.deletions();
    let large = |deletion: &Deletion| deletion.distance.abs() > DOUBT_SHARE;
    let probability = chi_squared_upper_tail(fit.chi_squared, fit.dof as f64);
    let improbable = probability < DOUBT_PROBABILITY && deletions.iter().any(large);
    let far = deletions.iter().zip(cells).any(|(deletion, cell)| {
        large(deletion) && deletion.distance.abs() > DOUBT_Z * where_it_should_be(deletion, cell)
    });
    !improbable && !far
}

/// Returns the uncertainty of a deletion with the instrument's part as it is at the value that the others predict.
fn where_it_should_be(deletion: &Deletion, cell: &Cell<'_>) -> f64 {
    let of_instrument = |ln_value: f64| {
        let (own, common) = (cell.own_u_ln_at(ln_value), cell.common_u_ln_at(ln_value));
        own * own + common * common
    };
    let others = deletion.u * deletion.u - of_instrument(cell.ln_value);
    let expected = of_instrument(cell.ln_value - deletion.distance);
    (others.max(0.0) + expected).sqrt()
}

fn largest_distance(law: &FittedLaw) -> f64 {
    law.fit()
        .residuals
        .iter()
        .fold(0.0, |most, r| r.abs().max(most))
}

/// Chooses the cells that may be blamed: those furthest from what the others predict, and those furthest from a line
/// that no fault can bend. A gross fault bends the law so far that the innocent stand out beside it.
fn pool(
    all: Option<&FittedLaw>,
    cells: &[Cell<'_>],
    may_doubt: impl Fn(&Cell<'_>) -> bool,
) -> Vec<usize> {
    let by_law = all.map(|law| {
        let deletions = law.fit().deletions();
        let off = deletions
            .iter()
            .zip(cells)
            .map(|(deletion, cell)| deletion.distance.abs() / where_it_should_be(deletion, cell));
        ranked(&off.collect::<Vec<f64>>())
    });
    let by_line = ranked(&distances_from_median_line(cells));
    let mut pool: Vec<usize> = Vec::new();
    for rank in 0..cells.len() {
        for order in by_law.iter().chain([&by_line]) {
            let index = order[rank];
            if pool.len() < pool_size(cells.len())
                && !pool.contains(&index)
                && may_doubt(&cells[index])
            {
                pool.push(index);
            }
        }
    }
    pool.sort_unstable();
    pool
}

/// Lists the indices of distances, the largest first.
fn ranked(distances: &[f64]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..distances.len()).collect();
    numerics::order::sort_by(&mut order, |a, b| distances[*b].total_cmp(&distances[*a]));
    order
}

/// Computes how far each cell is from the straight line, in logarithms, of the median slope between cells.
///
/// # Source
/// P. K. Sen, "Estimates of the regression coefficient based on Kendall's tau", J. Am. Stat. Assoc. 63 (1968)
/// 1379-1389: the line stands while fewer than 29 % of the cells are at fault.
fn distances_from_median_line(cells: &[Cell<'_>]) -> Vec<f64> {
    let x: Vec<f64> = cells.iter().map(|cell| ln(cell.speed_rpm)).collect();
    let mut slopes = Vec::new();
    for (j, later) in cells.iter().enumerate() {
        for (i, earlier) in cells[..j].iter().enumerate() {
            if x[j] > x[i] {
                slopes.push((later.ln_value - earlier.ln_value) / (x[j] - x[i]));
            }
        }
    }
    let slope = median(&mut slopes);
    let left: Vec<f64> = cells
        .iter()
        .zip(&x)
        .map(|(cell, x)| cell.ln_value - slope * x)
        .collect();
    let middle = median(&mut left.clone());
    left.iter().map(|value| (value - middle).abs()).collect()
}

/// Finds the median, 0 of nothing; the values are sorted on the way.
fn median(values: &mut [f64]) -> f64 {
    numerics::order::sort_values(values);
    values.get(values.len() / 2).copied().unwrap_or(0.0)
}

/// Lists the subsets of `pool` of one to three members.
fn subsets(pool: &[usize], size: usize) -> impl Iterator<Item = Vec<usize>> {
    let n = pool.len();
    let stop = n.pow(u32::try_from(size).unwrap_or(0));
    (0..stop).filter_map(move |code| {
        let digits: Vec<usize> = (0..size)
            .map(|place| code / n.pow(u32::try_from(place).unwrap_or(0)) % n)
            .collect();
        let rising = digits.windows(2).all(|pair| pair[0] < pair[1]);
        rising.then(|| digits.iter().map(|digit| pool[*digit]).collect())
    })
}

/// The column without the blamed cells.
struct Trial<'a> {
    law: FittedLaw,
    refuted: Vec<Refuted<'a>>,
}

impl<'a> Trial<'a> {
    /// Fits the rest; `None` unless the rest is consistent and every blamed cell is far from it.
    fn new(shape: Shape, reference_rpm: f64, cells: &[Cell<'a>], blamed: &[usize]) -> Option<Self> {
        let trial = Self::without(shape, reference_rpm, cells, blamed)?;
        trial.refuted.iter().all(Refuted::is_far).then_some(trial)
    }

    /// Fits the rest; `None` unless it is consistent.
    fn without(
        shape: Shape,
        reference_rpm: f64,
        cells: &[Cell<'a>],
        blamed: &[usize],
    ) -> Option<Self> {
        let (out, kept): (Vec<_>, Vec<_>) = cells
            .iter()
            .cloned()
            .enumerate()
            .partition(|(index, _)| blamed.contains(index));
        let kept: Vec<Cell<'_>> = kept.into_iter().map(|(_, cell)| cell).collect();
        let law = law(shape, reference_rpm, &kept)?;
        if !consistent(&law, &kept) {
            return None;
        }
        let refuted: Vec<Refuted<'a>> = out
            .into_iter()
            .map(|(_, cell)| Refuted {
                expected: expected(&law, &cell),
                cell,
            })
            .collect();
        Some(Self { law, refuted })
    }

    fn chi_squared(&self) -> f64 {
        self.law.fit().chi_squared
    }

    fn into_judgement(self) -> Judgement<'a> {
        Judgement {
            law: Some(self.law),
            refuted: self.refuted,
            scattered: None,
        }
    }
}

/// Predicts what a cell should read, its own uncertainty included.
pub(crate) fn expected(law: &FittedLaw, cell: &Cell<'_>) -> LnPrediction {
    let prediction = law.predict_ln(cell.speed_rpm);
    let own = cell.own_u_ln_at(prediction.ln_value);
    LnPrediction {
        u_ln: (prediction.u_ln * prediction.u_ln + own * own).sqrt(),
        ..prediction
    }
}

impl Refuted<'_> {
    /// Returns the logarithm of read over expected.
    pub(crate) fn distance(&self) -> f64 {
        self.cell.ln_value - self.expected.ln_value
    }

    fn is_far(&self) -> bool {
        let distance = self.distance().abs();
        distance > BLAME_Z * self.expected.u_ln && distance > DOUBT_SHARE
    }
}
