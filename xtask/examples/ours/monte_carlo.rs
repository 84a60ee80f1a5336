//! A million draws of twelve readings with errors in speed and power, the law P = P₀ + c Nᵐ refitted to each to first
//! order, with the 95 % intervals of its three numbers; on one thread and on two.
//!
//! The errors in power reach the three numbers in a straight line, so that three deviates carry what twelve would: the
//! distribution is that of the library's draws, with sixteen deviates a draw instead of twenty-four.

use std::error::Error;
use std::hint::black_box;
use std::path::Path;

use metrology::Fit;
use numerics::linear::{Matrix, PositiveFactor, Vector};
use numerics::random::Draws;
use numerics::vector::{exp, ln_absolute, map};
use serde_json::json;

use crate::fit::Readings;
use crate::{best_seconds, report};

const DRAWS: usize = 1_000_000;
/// Draws whose deviates are made at a time: they stay in the nearest memory.
const CHUNK: usize = 100;
const STEPS: usize = 12;

pub(crate) fn run(folder: &Path) -> Result<(), Box<dyn Error>> {
    let readings = Readings::invented();
    let refit = Refit::new(&readings, &readings.fit()?)?;
    let given = json!({
        "x": readings.x, "y": readings.y, "sx": readings.sx, "sy": readings.sy,
        "parameters": refit.parameters, "gain": refit.gain, "draws": DRAWS,
        "ends": refit.intervals(2),
    });
    std::fs::write(folder.join("monte-carlo.json"), given.to_string())?;
    for (path, threads) in [("two threads", 2), ("one thread", 1)] {
        let seconds = best_seconds(|| {
            black_box(black_box(&refit).intervals(threads));
        });
        report("a million draws", path, seconds);
    }
    Ok(())
}

/// The readings and the slopes of the fit's parameters in them.
struct Refit<'a> {
    readings: &'a Readings,
    parameters: [f64; 3],
    gain: [[f64; STEPS]; 3],
    /// Root of the covariance that the errors in power give the parameters.
    root: [[f64; 3]; 3],
}

impl<'a> Refit<'a> {
    /// The gain is C Jᵀ V⁻¹.
    fn new(readings: &'a Readings, fit: &Fit) -> Result<Self, Box<dyn Error>> {
        let mut gain = [[0.0; STEPS]; 3];
        for k in 0..3 {
            let weighted: Vector = fit.weights.solve(&fit.jacobian.column(k).into_owned());
            for (j, row) in gain.iter_mut().enumerate() {
                for (own, weight) in row.iter_mut().zip(&weighted) {
                    *own += fit.covariance[(j, k)] * weight;
                }
            }
        }
        let moved = Matrix::from_fn(3, STEPS, |j, i| gain[j][i] * readings.sy[i]);
        let root = PositiveFactor::new(&moved * moved.transpose())?.lower();
        Ok(Self {
            readings,
            parameters: [0, 1, 2].map(|j| fit.parameters[j]),
            gain,
            root: [0, 1, 2].map(|j| [0, 1, 2].map(|k| root[(j, k)])),
        })
    }

    /// Draws, and finds the ends of the intervals; the numbers do not depend on the threads.
    fn intervals(&self, threads: usize) -> [[f64; 2]; 3] {
        let mut columns = [(); 3].map(|()| vec![0.0; DRAWS]);
        let share = DRAWS / threads;
        std::thread::scope(|scope| {
            let [a, b, c] = &mut columns;
            let pieces = a.chunks_mut(share).zip(b.chunks_mut(share));
            let pieces = pieces.zip(c.chunks_mut(share)).enumerate();
            for (piece, ((a, b), c)) in pieces {
                scope.spawn(move || self.fill((piece * share) as u64, [a, b, c]));
            }
        });
        let mut ends = [[0.0; 2]; 3];
        std::thread::scope(|scope| {
            let works = columns.iter_mut().zip(&mut ends);
            if threads == 1 {
                works.for_each(|(column, ends)| *ends = interval(column));
            } else {
                for (column, ends) in works {
                    scope.spawn(|| *ends = interval(column));
                }
            }
        });
        ends
    }

    fn fill(&self, first: u64, [a, b, c]: [&mut [f64]; 3]) {
        let draws = Draws::new(11);
        let chunks = a.chunks_mut(CHUNK).zip(b.chunks_mut(CHUNK));
        for (i, ((a, b), c)) in chunks.zip(c.chunks_mut(CHUNK)).enumerate() {
            self.chunk(&draws, first + (i * CHUNK) as u64, [a, b, c]);
        }
    }

    /// Refits consecutive draws: each moves the parameters by the gain times its distances from the law.
    fn chunk(&self, draws: &Draws, first: u64, mut columns: [&mut [f64]; 3]) {
        let mut deviates = [[0.0; CHUNK]; STEPS + 4];
        for (place, pair) in (0_u64..).zip(deviates.chunks_exact_mut(2)) {
            if let [even, odd] = pair {
                draws.fill_normal_pairs(place, first, even, odd);
            }
        }
        for (j, column) in columns.iter_mut().enumerate() {
            column.fill(self.parameters[j]);
            for (root, deviates) in self.root[j].iter().zip(&deviates[STEPS..]) {
                add(column, *root, deviates);
            }
        }
        let [fixed, dynamic, exponent] = self.parameters;
        let mut apart = [0.0; CHUNK];
        for (step, deviates) in deviates[..STEPS].iter().enumerate() {
            let Readings { x, y, sx, .. } = self.readings;
            let (x, y, sx) = (x[step], y[step], sx[step]);
            let distance = |deviate: f64| {
                y - (fixed + dynamic * exp(exponent * ln_absolute(x + sx * deviate)))
            };
            // Both have one length.
            let _ = map(distance, deviates, &mut apart);
            for (column, gain) in columns.iter_mut().zip(&self.gain) {
                add(column, gain[step], &apart);
            }
        }
    }
}

/// Adds a multiple of some numbers to others.
fn add(sums: &mut [f64], factor: f64, numbers: &[f64]) {
    for (sum, number) in sums.iter_mut().zip(numbers) {
        *sum += factor * number;
    }
}

/// Finds the ends of the symmetric 95 % interval, without sorting more than the ends need.
fn interval(column: &mut [f64]) -> [f64; 2] {
    let below = column.len() / 40;
    let (_, low, above) = column.select_nth_unstable_by(below, f64::total_cmp);
    let place = above.len() - below - 1;
    let (_, high, _) = above.select_nth_unstable_by(place, f64::total_cmp);
    [*low, *high]
}
