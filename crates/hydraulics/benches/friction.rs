//! Time per friction factor and per pipe, over inputs that vary as a circuit's do.

use core::hint::black_box;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use hydraulics::friction::{darcy_colebrook, darcy_colebrook_batch};
use hydraulics::loss::{PipeRun, pipe_loss};
use hydraulics::pipe::PVC_ROUGHNESS_M;
use hydraulics::water::Water;
use numerics::elementary::exp;
use numerics::vector::Instructions;

const CASES: u16 = 1024;

/// Reynolds numbers from 4e3 to 1e7 and relative roughness from 1e-6 to 0.05, both even in their logarithm
/// and in no order that a branch predictor could learn.
fn turbulent_cases() -> Vec<(f64, f64)> {
    (0..CASES)
        .map(|i| {
            let along = f64::from(i * 397 % CASES) / f64::from(CASES);
            let across = f64::from(i * 619 % CASES) / f64::from(CASES);
            (4e3 * exp(7.8 * along), 1e-6 * exp(10.8 * across))
        })
        .collect()
}

fn friction(criterion: &mut Criterion) {
    let cases = turbulent_cases();
    let mut group = criterion.benchmark_group("friction");
    group.throughput(Throughput::Elements(u64::from(CASES)));
    group.bench_function("colebrook, scalar", |bencher| {
        bencher.iter(|| -> f64 {
            let cases = black_box(&cases);
            cases
                .iter()
                .map(|&(re, rough)| darcy_colebrook(re, rough))
                .sum()
        });
    });
    let (reynolds, rough): (Vec<f64>, Vec<f64>) = cases.iter().copied().unzip();
    let mut factors = vec![0.0; cases.len()];
    group.bench_function("colebrook, batch", |bencher| {
        bencher.iter(|| darcy_colebrook_batch(black_box(&reynolds), &rough, &mut factors));
    });
    group.bench_function("colebrook, batch without detection", |bencher| {
        let baseline = Instructions::Baseline;
        bencher.iter(|| {
            baseline.map_pairs(darcy_colebrook, black_box(&reynolds), &rough, &mut factors)
        });
    });
    let water = Water {
        temperature_k: 293.15,
        density_kg_m3: 998.2,
        dynamic_viscosity_pa_s: 1.0016e-3,
        vapour_pressure_pa: 2339.0,
    };
    let run = PipeRun {
        bore_m: 0.0525018,
        roughness_m: PVC_ROUGHNESS_M,
        length_m: 30.48,
        minor_loss_k: 2.0,
    };
    group.bench_function("pipe loss", |bencher| {
        bencher.iter(|| -> f64 {
            let cases = black_box(&cases);
            let head = |&(re, _): &(f64, f64)| {
                pipe_loss(&run, 4e-8 * re, &water).map_or(0.0, |loss| loss.head_m)
            };
            cases.iter().map(head).sum()
        });
    });
    group.finish();
}

criterion_group!(benches, friction);
criterion_main!(benches);
