//! Weighted polynomials against exact arithmetic.

use metrology::{WeightedObservations, Weights, fit_weighted};

use crate::harness::{Case, Tally, Tolerance, cases};
use crate::models::Polynomial;

const FOLDER: &str = "fits/exact-polynomials";

#[test]
fn weighted_polynomials_come_out() {
    // Rounding of some 30 points times a condition of the powers of at most 1e4.
    let close = Tolerance::Relative(1e-11);
    let mut parameters = Tally::new("fits/exact-polynomials: parameters", close);
    let mut errors = Tally::new("fits/exact-polynomials: standard errors", close);
    let mut covariances = Tally::new("fits/exact-polynomials: covariances", close);
    let results = cases(&format!("{FOLDER}/results.csv"));
    for set in ["poly1_deg1", "poly2_deg2", "poly3_deg3", "poly4_deg2"] {
        let rows = cases(&format!("{FOLDER}/{set}.csv"));
        let column = |name: &str| -> Vec<f64> { rows.iter().map(|row| row.number(name)).collect() };
        let expected: Vec<&Case> = results
            .iter()
            .filter(|row| row.text("set") == set)
            .collect();
        let observations = WeightedObservations {
            x: &column("x"),
            y: &column("y"),
            weights: Weights::independent(&column("sigma")).unwrap(),
        };
        let start = vec![0.0; expected.len()];
        let fit = fit_weighted(&Polynomial, observations, &start, &[]).unwrap();
        let exact = cases(&format!("{FOLDER}/{set}_cov.csv"));
        for (j, row) in expected.iter().enumerate() {
            let label = format!("{set} {}", row.text("parameter"));
            parameters.compare(&label, fit.parameters[j], row.number("value_exact"));
            errors.compare(
                &label,
                fit.covariance[(j, j)].sqrt(),
                row.number("se_absolute"),
            );
            for (i, line) in exact.iter().enumerate() {
                let element = line.number(row.text("parameter"));
                covariances.compare(&label, fit.covariance[(i, j)], element);
            }
        }
    }
    parameters.finish();
    errors.finish();
    covariances.finish();
}
