//! Repeats of one speed against each other: a typing fault among many is no part of their mean.

use crate::cells::{Cell, UsedColumn, by_speed, single};
use crate::laws::LnPrediction;
use crate::trust::Refuted;
use numerics::elementary::ln;
use records::Readings;

/// So many repeats have a middle to be held against.
const LEAST_REPEATS: usize = 3;
/// A repeat that is off by less than this share is scatter.
const LEAST_SHARE: f64 = 0.1;
/// A repeat is off when it is so many times further from the middle than the others typically are, or than its meter errs.
const FAR: f64 = 6.0;

/// Finds the repeats that do not belong with the others of their speed.
pub(crate) fn stray_repeats<'a>(
    readings: &Readings,
    column: UsedColumn<'a>,
    in_use: impl Fn(usize) -> bool,
) -> Vec<Refuted<'a>> {
    let mut strays = Vec::new();
    for group in by_speed(readings, column.index, in_use).values() {
        let positive: Vec<(f64, usize)> =
            group.iter().copied().filter(|(si, _)| *si > 0.0).collect();
        if positive.len() < LEAST_REPEATS {
            continue;
        }
        let middle = ln(positive[positive.len() / 2].0);
        let mut distances: Vec<f64> = positive
            .iter()
            .map(|(si, _)| (ln(*si) - middle).abs())
            .collect();
        numerics::order::sort_values(&mut distances);
        let typical = distances[distances.len() / 2];
        for reading in &positive {
            let cell = single(column, readings.rows[reading.1].speed_rpm, *reading);
            let u_ln = cell.own_u_ln_at(middle).max(typical);
            if is_stray(&cell, middle, u_ln) {
                strays.push(Refuted {
                    expected: LnPrediction {
                        ln_value: middle,
                        u_ln,
                        rectangular_u_ln: 0.0,
                    },
                    cell,
                });
            }
        }
    }
    strays
}

fn is_stray(cell: &Cell<'_>, middle: f64, u_ln: f64) -> bool {
    let distance = (cell.ln_value - middle).abs();
    distance > LEAST_SHARE && distance > FAR * u_ln
}
