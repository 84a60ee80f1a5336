//! The readings of one column as the laws take them: one cell per row, or one per speed where it was read often.

use crate::meters::ColumnMeter;
use metrology::Instrument;
use numerics::elementary::{exp, ln};
use records::{Cell as Typed, Measured, Readings};
use std::collections::BTreeMap;

/// At most this many rows of one speed are judged one by one; more are pooled, so that a long log stays a short test.
const MOST_SINGLE_ROWS: usize = 4;

/// Where a column has more rows than this, all rows of one speed are pooled, so that the search stays short.
const MOST_CELLS: usize = 60;

/// No reading is trusted closer than this share of itself: what a person at a pad can hold still and read off.
const LEAST_OWN_SHARE: f64 = 1e-3;

/// A reading, or the mean of many at one speed, in the logarithm.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Cell<'a> {
    /// Index of the column.
    pub column: usize,
    /// Indices of the rows behind it.
    pub rows: Vec<usize>,
    /// Speed, rpm.
    pub speed_rpm: f64,
    /// Logarithm of the SI value.
    pub ln_value: f64,
    /// The instrument that was read.
    pub instrument: &'a Instrument,
    /// By how much the part that the column shares is widened, because its meter disagrees with another.
    pub widening: f64,
    /// Standard uncertainty of the logarithm that the scatter of repeated readings leaves.
    random_u_ln: f64,
}

impl Cell<'_> {
    /// Returns the standard uncertainty of the logarithm that is the cell's own, as the instrument has it at a
    /// reading of `ln_value`.
    ///
    /// A doubted reading is judged by what the instrument is worth where it should have been: an accuracy of 1 W
    /// makes anything of a reading of 0.2 W, and little of the 226 W that were meant.
    pub(crate) fn own_u_ln_at(&self, ln_value: f64) -> f64 {
        let value = exp(ln_value);
        let own = (self.instrument.independent_u(value) / value).max(LEAST_OWN_SHARE);
        (own * own + self.random_u_ln * self.random_u_ln).sqrt()
    }

    /// Returns the standard uncertainty of the logarithm that is the cell's own.
    pub(crate) fn own_u_ln(&self) -> f64 {
        self.own_u_ln_at(self.ln_value)
    }

    /// Returns the standard uncertainty of the logarithm that all cells of the column share, at a reading of `ln_value`.
    pub(crate) fn common_u_ln_at(&self, ln_value: f64) -> f64 {
        let value = exp(ln_value);
        self.widening * self.instrument.common_u(value) / value
    }

    /// Returns the standard uncertainty of the logarithm that all cells of the column share.
    pub(crate) fn common_u_ln(&self) -> f64 {
        self.common_u_ln_at(self.ln_value)
    }
}

/// A column as the cells and the steps take it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct UsedColumn<'a> {
    /// Index of the column.
    pub index: usize,
    /// What it measures.
    pub measured: Measured,
    /// The instrument behind it.
    pub meter: &'a ColumnMeter,
    /// By how much the instrument's accuracy is widened, because it disagrees with another; 1 where not.
    pub widening: f64,
}

/// A speed as a key: speeds are equal when typed equal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct SpeedKey(u64);

impl SpeedKey {
    /// Makes the key of a speed that is not negative; the order of keys is that of speeds.
    pub(crate) fn new(speed_rpm: f64) -> Self {
        Self((speed_rpm + 0.0).to_bits())
    }
}

/// Returns the value of a typed cell, where it holds one.
pub(crate) fn value(readings: &Readings, row: usize, column: usize) -> Option<f64> {
    match readings.rows.get(row)?.cells.get(column)? {
        Typed::Value { si, .. } => Some(*si),
        Typed::Empty | Typed::Below { .. } => None,
    }
}

/// Groups the rows of a column that are still in use by speed, rising, each group by rising value: the order in
/// which rows were typed does not reach the result.
pub(crate) fn by_speed(
    readings: &Readings,
    column: usize,
    in_use: impl Fn(usize) -> bool,
) -> BTreeMap<SpeedKey, Vec<(f64, usize)>> {
    let mut groups: BTreeMap<SpeedKey, Vec<(f64, usize)>> = BTreeMap::new();
    for (index, row) in readings.rows.iter().enumerate() {
        if row.speed_rpm > 0.0
            && in_use(index)
            && let Some(si) = value(readings, index, column)
        {
            let group = groups.entry(SpeedKey::new(row.speed_rpm)).or_default();
            group.push((si, index));
        }
    }
    for group in groups.values_mut() {
        numerics::order::sort_by(group, |a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    }
    groups
}

/// Makes the cells of a column from the rows in use; a value of zero has no logarithm and makes none.
pub(crate) fn cells<'a>(
    readings: &Readings,
    column: UsedColumn<'a>,
    in_use: impl Fn(usize) -> bool,
) -> Vec<Cell<'a>> {
    let groups = by_speed(readings, column.index, in_use);
    let rows: usize = groups.values().map(Vec::len).sum();
    let most_single = if rows > MOST_CELLS {
        1
    } else {
        MOST_SINGLE_ROWS
    };
    let mut cells = Vec::new();
    for group in groups.values() {
        let positive: Vec<(f64, usize)> =
            group.iter().copied().filter(|(si, _)| *si > 0.0).collect();
        let Some((_, first)) = positive.first() else {
            continue;
        };
        let speed_rpm = readings.rows[*first].speed_rpm;
        if positive.len() <= most_single {
            cells.extend(
                positive
                    .iter()
                    .map(|reading| cell(column, speed_rpm, std::slice::from_ref(reading))),
            );
        } else {
            cells.push(cell(column, speed_rpm, &positive));
        }
    }
    cells
}

/// Makes the cell of one row.
pub(crate) fn single(column: UsedColumn<'_>, speed_rpm: f64, reading: (f64, usize)) -> Cell<'_> {
    cell(column, speed_rpm, &[reading])
}

fn cell<'a>(column: UsedColumn<'a>, speed_rpm: f64, readings: &[(f64, usize)]) -> Cell<'a> {
    let scatter = Scatter::of(readings.iter().map(|(si, _)| *si));
    Cell {
        column: column.index,
        rows: readings.iter().map(|(_, row)| *row).collect(),
        speed_rpm,
        ln_value: ln(scatter.mean),
        instrument: &column.meter.instrument,
        widening: column.widening,
        random_u_ln: scatter.sd_of_mean / scatter.mean,
    }
}

/// Mean and scatter of repeated readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Scatter {
    /// The mean.
    pub mean: f64,
    /// The standard deviation of the mean; 0 for one reading.
    pub sd_of_mean: f64,
    /// How many readings.
    pub count: usize,
}

impl Scatter {
    /// Computes mean and standard deviation of the mean.
    ///
    /// # Source
    /// JCGM 100:2008 (GUM), 4.2.1-4.2.3.
    pub(crate) fn of(values: impl Iterator<Item = f64> + Clone) -> Self {
        let count = values.clone().count();
        let mean = values.clone().sum::<f64>() / count as f64;
        let squares: f64 = values.map(|value| (value - mean) * (value - mean)).sum();
        let sd_of_mean = if count > 1 {
            (squares / ((count - 1) * count) as f64).sqrt()
        } else {
            0.0
        };
        Self {
            mean,
            sd_of_mean,
            count,
        }
    }
}
