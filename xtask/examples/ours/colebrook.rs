//! A million friction factors: in a batch as detected, in a batch of what every machine has, and one at a time.

use std::error::Error;
use std::hint::black_box;
use std::path::Path;

use hydraulics::friction::{darcy_colebrook, darcy_colebrook_batch};
use numerics::elementary::exp;
use numerics::vector::Instructions;

use crate::{best_seconds, report, write_numbers};

const COUNT: u32 = 1_000_000;

pub(crate) fn run(folder: &Path) -> Result<(), Box<dyn Error>> {
    let (reynolds, roughness) = pipes();
    let mut factors = vec![0.0; reynolds.len()];
    let each = 1.0 / f64::from(COUNT);

    darcy_colebrook_batch(&reynolds, &roughness, &mut factors)?;
    write_numbers(&folder.join("colebrook-reynolds.f64"), &reynolds)?;
    write_numbers(&folder.join("colebrook-roughness.f64"), &roughness)?;
    write_numbers(&folder.join("colebrook-factor.f64"), &factors)?;

    let mut batch = |name: &str, instructions: Instructions| {
        let seconds = best_seconds(|| {
            // The lengths have been found equal above.
            let _ = instructions.map_pairs(
                darcy_colebrook,
                black_box(&reynolds),
                &roughness,
                &mut factors,
            );
        });
        report("colebrook", name, seconds * each);
    };
    batch("batch, as detected", Instructions::Detected);
    batch("batch, baseline", Instructions::Baseline);

    let seconds = best_seconds(|| {
        for (reynolds, roughness) in reynolds.iter().zip(&roughness) {
            black_box(darcy_colebrook(*reynolds, *roughness));
        }
    });
    report("colebrook", "one at a time", seconds * each);
    Ok(())
}

/// Reynolds numbers from 5e3 to 1e7 and relative roughness from 1e-6 to 0.03, both even in their logarithm and in no
/// order that a branch predictor could learn.
fn pipes() -> (Vec<f64>, Vec<f64>) {
    let fraction = |i: u32, step: f64| (f64::from(i) * step).fract();
    (0..COUNT)
        .map(|i| {
            let reynolds = 5e3 * exp(7.6 * fraction(i, 0.618_033_988_749_894_9));
            let roughness = 1e-6 * exp(10.3 * fraction(i, 0.414_213_562_373_095));
            (reynolds, roughness)
        })
        .unzip()
}
