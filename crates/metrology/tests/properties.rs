//! What holds for any input: no panic, no number that is not finite, and the symmetries of the methods.

use metrology::{
    Curve, Input, Inputs, IntervalKind, SlopedCurve, UncertainPoints, WeightedObservations,
    Weights, coverage_interval, fit_orthogonal, fit_robust, fit_weighted, propagate,
};
use proptest::prelude::*;

/// y = a + b x.
struct Line;

impl Curve for Line {
    fn evaluate(&self, x: f64, p: &[f64], g: &mut [f64]) -> f64 {
        self.evaluate_sloped(x, p, g).0
    }
}

impl SlopedCurve for Line {
    fn evaluate_sloped(&self, x: f64, p: &[f64], g: &mut [f64]) -> (f64, f64) {
        g.copy_from_slice(&[1.0, x]);
        (p[0] + p[1] * x, p[1])
    }
}

fn observations<'a>(x: &'a [f64], y: &'a [f64], sd: f64) -> Option<WeightedObservations<'a>> {
    let weights = Weights::independent(&vec![sd; y.len()]).ok()?;
    Some(WeightedObservations { x, y, weights })
}

/// Any number at all, or one of a size that is met.
fn number() -> impl Strategy<Value = f64> {
    prop_oneof![any::<f64>(), -1e3..1e3]
}

proptest! {
    #[test]
    fn no_data_make_a_fit_panic_or_leave_a_number_that_is_none(
        points in prop::collection::vec((number(), number()), 0..7),
        sd in number(),
        start in (number(), number()),
    ) {
        let (x, y): (Vec<f64>, Vec<f64>) = points.into_iter().unzip();
        let start = [start.0, start.1];
        let mut found: Vec<f64> = Vec::new();
        if let Some(Ok(fit)) = observations(&x, &y, sd).map(|o| fit_weighted(&Line, o, &start, &[])) {
            found.extend(fit.parameters.iter().chain(fit.covariance.iter()));
            found.push(fit.chi_squared);
        }
        if let Some(Ok(fit)) = observations(&x, &y, sd).map(|o| fit_robust(&Line, o, &start)) {
            found.extend(fit.parameters.iter().chain(fit.covariance.iter()));
        }
        let sds = vec![sd; y.len()];
        let uncertain = UncertainPoints { x: &x, y: &y, x_sd: &sds, y_sd: &sds };
        if let Ok(fit) = fit_orthogonal(&Line, uncertain, &start, &[]) {
            found.extend(fit.parameters.iter().chain(fit.covariance.iter()).chain(&fit.true_x));
            found.push(fit.chi_squared);
        }
        prop_assert!(found.iter().all(|x| x.is_finite()), "{:?}", found);
    }

    #[test]
    fn the_unit_of_y_does_not_matter(
        wiggles in prop::collection::vec(-1.0..1.0_f64, 6..12),
        unit in 1e-6..1e6_f64,
    ) {
        let x: Vec<f64> = (0..).map(f64::from).take(wiggles.len()).collect();
        let y: Vec<f64> = x.iter().zip(&wiggles).map(|(x, w)| 3.0 - 0.5 * x + w).collect();
        let scaled: Vec<f64> = y.iter().map(|y| unit * y).collect();
        let one = fit_weighted(&Line, observations(&x, &y, 0.5).unwrap(), &[0.0, 0.0], &[]).unwrap();
        let other = fit_weighted(&Line, observations(&x, &scaled, 0.5 * unit).unwrap(), &[0.0, 0.0], &[]).unwrap();
        // Sums of a dozen terms, and parameters above 0.1 or so.
        prop_assert!((one.parameters[0] * unit - other.parameters[0]).abs() < 1e-11 * unit);
        prop_assert!((one.chi_squared - other.chi_squared).abs() < 1e-10);
    }

    #[test]
    fn a_linear_function_propagates_exactly(
        values in prop::collection::vec((-10.0..10.0_f64, 0.01..2.0_f64), 3),
        slopes in prop::collection::vec(-5.0..5.0_f64, 3),
    ) {
        let inputs = Inputs::independent(values.iter().map(|(x, u)| Input::new(*x, *u)).collect()).unwrap();
        let line = |x: &[f64]| x.iter().zip(&slopes).map(|(x, c)| x * c).sum();
        let expected: f64 = values.iter().zip(&slopes).map(|((_, u), c)| (u * c) * (u * c)).sum();
        // Rounding of sums to 150 over steps down to 0.001.
        let apart = propagate(line, &inputs).unwrap().u - expected.sqrt();
        prop_assert!(apart.abs() < 1e-9, "{:e}", apart);
    }

    #[test]
    fn the_shortest_interval_is_no_longer_than_the_symmetric(
        mut draws in prop::collection::vec(-1e3..1e3_f64, 40..200),
    ) {
        draws.sort_by(f64::total_cmp);
        let width = |kind| coverage_interval(&draws, 0.9, kind).map(|(low, high)| high - low).unwrap();
        prop_assert!(width(IntervalKind::Shortest) <= width(IntervalKind::Symmetric));
    }
}
