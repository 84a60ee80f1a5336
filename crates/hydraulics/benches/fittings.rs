//! Time per loss coefficient, over fittings, bores and flows that vary as a circuit's do.
//!
//! The like calls of the Python package fluids, in `fluids.fittings`: `Hooper2K(Di, Re, K1, Kinfty)`, `Darby3K(NPS, Re, K1, Ki, Kd)`,
//! `30*ft_Crane(D)` (`fluids.friction`), `bend_rounded(Di, angle, bend_diameters, method="Crane")` and
//! `K_branch_converging_Crane(D_run, D_branch, Q_run, Q_branch, angle)`.

use core::hint::black_box;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use hydraulics::fittings::bend::{Bend, crane_bend_k};
use hydraulics::fittings::catalogue::Fitting;
use hydraulics::fittings::tee::{TeeFlow, converging_branch_k};
use hydraulics::fittings::three_k::{ThreeK, three_k};
use hydraulics::fittings::two_k::{TwoK, two_k};
use hydraulics::{Answer, HydraulicsError};
use numerics::elementary::exp;

/// A bore in m, a Reynolds number and a share.
type Case = (f64, f64, f64);

type Method = fn(&Case) -> Result<Answer<f64>, HydraulicsError>;

const CASES: u16 = 10_000;

/// Bores from 0.02 m to 0.15 m, Reynolds numbers from 1e4 to 1e6, and shares from 0 to 1, in no order that a branch
/// predictor could learn.
fn varied() -> Vec<Case> {
    let share = |i: u16, stride: u32| {
        f64::from(u32::from(i) * stride % u32::from(CASES)) / f64::from(CASES)
    };
    (0..CASES)
        .map(|i| {
            (
                0.02 + 0.13 * share(i, 3967),
                1e4 * exp(4.6 * share(i, 6197)),
                share(i, 7919),
            )
        })
        .collect()
}

fn fittings(criterion: &mut Criterion) {
    let cases = varied();
    let mut group = criterion.benchmark_group("fittings");
    group.throughput(Throughput::Elements(u64::from(CASES)));
    let mut each = |name: &str, k: Method| {
        group.bench_function(name, |bencher| {
            bencher.iter(|| -> f64 {
                let cases = black_box(&cases);
                cases
                    .iter()
                    .map(|case| k(case).map_or(0.0, |k| k.value))
                    .sum()
            });
        });
    };
    each("two-K", |&(bore_m, reynolds, _)| {
        two_k(TwoK::new(800.0, 0.4), reynolds, bore_m)
    });
    each("three-K", |&(bore_m, reynolds, _)| {
        three_k(ThreeK::new(800.0, 0.14, 4.0), reynolds, bore_m / 0.0254)
    });
    each("Crane, elbow", |&(bore_m, ..)| Fitting::Elbow90.k(bore_m));
    each("Crane, bend", |&(bore_m, _, share)| {
        crane_bend_k(&Bend {
            bore_m,
            radius_ratio: 1.0 + 5.0 * share,
            angle_deg: 90.0,
        })
    });
    each(
        "Crane, branch of a joining tee",
        |&(bore_m, _, branch_share)| {
            converging_branch_k(&TeeFlow {
                run_bore_m: bore_m,
                branch_bore_m: bore_m,
                branch_share,
                angle_deg: 90.0,
            })
        },
    );
    group.finish();
}

criterion_group!(benches, fittings);
criterion_main!(benches);
