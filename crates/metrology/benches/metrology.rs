//! Time per fit of the size that a test at a pad has, twelve points and three parameters, and per Monte Carlo draw.

use core::hint::black_box;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use metrology::{
    Curve, Observations, SlopedCurve, UncertainPoints, WeightedObservations, Weights, fill, fit,
    fit_orthogonal, fit_weighted,
};
use numerics::elementary::{exp, ln, pow_fast};
use numerics::linear::Matrix;
use numerics::random::Draws;

/// The speeds of a test, as shares of the highest.
const RATIOS: [f64; 12] = [
    0.18, 0.25, 0.32, 0.4, 0.47, 0.55, 0.62, 0.7, 0.78, 0.85, 0.93, 1.0,
];

/// y = a + b xⁿ.
struct PowerLaw;

impl Curve for PowerLaw {
    fn evaluate(&self, x: f64, p: &[f64], g: &mut [f64]) -> f64 {
        self.evaluate_sloped(x, p, g).0
    }
}

impl SlopedCurve for PowerLaw {
    fn evaluate_sloped(&self, x: f64, p: &[f64], g: &mut [f64]) -> (f64, f64) {
        let &[a, b, n] = p else {
            return (f64::NAN, f64::NAN);
        };
        let log = ln(x);
        let power = exp(n * log);
        g.copy_from_slice(&[1.0, power, b * power * log]);
        (a + b * power, b * n * power / x)
    }
}

/// Powers with errors of half a per cent up and down.
fn powers() -> Vec<f64> {
    let signs = [1.0, -1.0, -1.0, 1.0, 1.0, -1.0];
    let pairs = RATIOS.iter().zip(signs.iter().cycle());
    pairs
        .map(|(x, sign)| (60.0 + 1500.0 * pow_fast(*x, 2.8)) * (1.0 + 0.005 * sign))
        .collect()
}

fn fits(criterion: &mut Criterion) {
    let y = powers();
    let sds: Vec<f64> = y.iter().map(|y| 0.01 * y).collect();
    let mut group = criterion.benchmark_group("fit, 12 points, 3 parameters");
    group.bench_function("independent", |bencher| {
        bencher.iter(|| {
            let weights = Weights::independent(black_box(&sds));
            let x = black_box(&RATIOS);
            weights.map(|weights| {
                let observations = WeightedObservations { x, y: &y, weights };
                fit_weighted(&PowerLaw, observations, &[50.0, 1400.0, 2.7], &[])
            })
        });
    });
    let x_sd = RATIOS.map(|x| 0.003 * x);
    group.bench_function("orthogonal", |bencher| {
        bencher.iter(|| {
            let points = UncertainPoints {
                x: black_box(&RATIOS),
                y: &y,
                x_sd: &x_sd,
                y_sd: &sds,
            };
            fit_orthogonal(&PowerLaw, points, &[50.0, 1400.0, 2.7], &[])
        });
    });
    let correlated = Matrix::from_fn(12, 12, |i, j| {
        let own = if i == j { sds[i] * sds[i] } else { 0.0 };
        own + 0.5 * sds[i] * sds[j]
    });
    group.bench_function("correlated", |bencher| {
        bencher.iter(|| {
            let observations = Observations {
                x: black_box(&RATIOS),
                y: &y,
                covariance: &correlated,
            };
            fit(&PowerLaw, observations, &[50.0, 1400.0, 2.7], &[])
        });
    });
    group.finish();
}

/// A sum of twelve normal inputs, as a test of twelve steps draws them.
fn draws(criterion: &mut Criterion) {
    const COUNT: u16 = 1000;
    let mut group = criterion.benchmark_group("draws");
    group.throughput(Throughput::Elements(u64::from(COUNT)));
    let seeded = Draws::new(1);
    let mut values = vec![0.0; usize::from(COUNT)];
    group.bench_function("12 normal deviates", |bencher| {
        bencher.iter(|| {
            fill(black_box(&seeded), 0, &mut values, |draw| {
                (0..12).map(|_| draw.normal()).sum()
            });
        });
    });
    let (mut even, mut odd) = (values.clone(), values.clone());
    group.bench_function("12 normal deviates, many draws at once", |bencher| {
        bencher.iter(|| {
            for place in 0..6 {
                black_box(&seeded).fill_normal_pairs(place, 0, &mut even, &mut odd);
            }
        });
    });
    group.finish();
}

criterion_group!(benches, fits, draws);
criterion_main!(benches);
