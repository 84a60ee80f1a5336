//! Orthogonal distance regression against two packages and an elimination that knows neither.

use metrology::{Curve, SlopedCurve, UncertainPoints, fit_orthogonal};
use numerics::elementary::{ln, pow};

use crate::harness::{Case, Tally, Tolerance, cases};

const FOLDER: &str = "fits/odr";

/// y = a + b xⁿ, with the exponent free or fixed at 3.
enum Power {
    Free,
    Cubic,
}

impl Curve for Power {
    fn evaluate(&self, x: f64, p: &[f64], g: &mut [f64]) -> f64 {
        self.evaluate_sloped(x, p, g).0
    }
}

impl SlopedCurve for Power {
    fn evaluate_sloped(&self, x: f64, p: &[f64], g: &mut [f64]) -> (f64, f64) {
        let n = match self {
            Self::Free => p[2],
            Self::Cubic => 3.0,
        };
        let power = pow(x, n);
        let slopes = [1.0, power, p[1] * power * ln(x)];
        g.copy_from_slice(&slopes[..p.len()]);
        (p[0] + p[1] * power, p[1] * n * power / x)
    }
}

#[test]
fn powers_through_uncertain_points() {
    // The reference agrees with both packages within 1e-8 in the parameters and 3.4e-8 in the standard errors.
    let mut parameters = Tally::new("fits/odr: parameters", Tolerance::Relative(1e-6));
    let mut errors = Tally::new("fits/odr: standard errors", Tolerance::Relative(1e-6));
    let mut sums = Tally::new("fits/odr: sums of squares", Tolerance::Relative(1e-6));
    let results = cases(&format!("{FOLDER}/results.csv"));
    for set in ["odr1", "odr2", "odr3", "odr4"] {
        let rows = cases(&format!("{FOLDER}/{set}.csv"));
        let column = |name: &str| -> Vec<f64> { rows.iter().map(|row| row.number(name)).collect() };
        let (x, y, x_sd, y_sd) = (
            column("x"),
            column("y"),
            column("sigma_x"),
            column("sigma_y"),
        );
        let points = UncertainPoints {
            x: &x,
            y: &y,
            x_sd: &x_sd,
            y_sd: &y_sd,
        };
        for (mode, curve, start) in [
            ("n_free", Power::Free, &[60.0, 3.0, 2.5][..]),
            ("n_fixed_3", Power::Cubic, &[60.0, 2.0]),
        ] {
            let fit = fit_orthogonal(&curve, points, start, &[]).unwrap();
            let expected: Vec<&Case> = results
                .iter()
                .filter(|row| row.text("set") == set && row.text("mode") == mode)
                .collect();
            assert_eq!(expected.len(), start.len());
            for (j, row) in expected.iter().enumerate() {
                let label = format!("{set} {mode} {}", row.text("parameter"));
                parameters.compare(&label, fit.parameters[j], row.number("value_own"));
                let error = fit.covariance[(j, j)].sqrt();
                errors.compare(&label, error, row.number("se_absolute_own"));
                sums.compare(&label, fit.chi_squared, row.number("ss_own"));
            }
        }
    }
    parameters.finish();
    errors.finish();
    sums.finish();
}
