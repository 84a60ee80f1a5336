//! Loss coefficients by the hundred thousand: Crane's friction factor of complete turbulence, two-K elbows, joining tees.

use std::error::Error;
use std::hint::black_box;
use std::path::Path;

use hydraulics::HydraulicsError;
use hydraulics::fittings::crane::turbulent_friction_factor;
use hydraulics::fittings::tee::{TeeFlow, converging_branch_k};
use hydraulics::fittings::two_k::{TwoK, two_k};
use numerics::elementary::exp;

use crate::{best_seconds, report, write_numbers};

const COUNT: u32 = 100_000;

/// A flanged standard elbow after Hooper.
const ELBOW: TwoK = TwoK::new(800.0, 0.25);

pub(crate) fn run(folder: &Path) -> Result<(), Box<dyn Error>> {
    let fraction = |i: u32, step: f64| (f64::from(i) * step).fract();
    let bores: Vec<f64> = (0..COUNT)
        .map(|i| 0.02 + 0.18 * fraction(i, 0.618_033_988_749_894_9))
        .collect();
    let reynolds: Vec<f64> = (0..COUNT)
        .map(|i| 1e4 * exp(4.6 * fraction(i, 0.414_213_562_373_095)))
        .collect();
    let shares: Vec<f64> = (0..COUNT)
        .map(|i| 0.05 + 0.9 * fraction(i, 0.732_050_807_568_877_2))
        .collect();
    for (name, numbers) in [
        ("bore", &bores),
        ("reynolds", &reynolds),
        ("share", &shares),
    ] {
        write_numbers(&folder.join(format!("fittings-{name}.f64")), numbers)?;
    }
    timed(folder, "crane f_T", |i| {
        turbulent_friction_factor(bores[i]).map(|answer| answer.value)
    })?;
    timed(folder, "two-K elbow", |i| {
        two_k(ELBOW, reynolds[i], bores[i]).map(|answer| answer.value)
    })?;
    timed(folder, "joining tee", |i| {
        let tee = TeeFlow {
            run_bore_m: bores[i],
            branch_bore_m: bores[i],
            branch_share: shares[i],
            angle_deg: 90.0,
        };
        converging_branch_k(&tee).map(|answer| answer.value)
    })
}

fn timed(
    folder: &Path,
    work: &str,
    k: impl Fn(usize) -> Result<f64, HydraulicsError>,
) -> Result<(), Box<dyn Error>> {
    let all = 0..COUNT as usize;
    let numbers: Result<Vec<f64>, HydraulicsError> = all.clone().map(&k).collect();
    write_numbers(
        &folder.join(format!("fittings-{}.f64", work.replace(' ', "-"))),
        &numbers?,
    )?;
    let seconds = best_seconds(|| {
        for i in all.clone() {
            // Found to have a value above.
            let _ = black_box(k(black_box(i)));
        }
    });
    report(work, "one at a time", seconds / f64::from(COUNT));
    Ok(())
}
