//! The law P = P₀ + c Nᵐ through twelve readings, with errors in P alone and in both.

use std::error::Error;
use std::hint::black_box;
use std::path::Path;

use metrology::{
    Curve, Fit, FitError, OrthogonalFit, SlopedCurve, UncertainPoints, WeightedObservations,
    Weights, fit_orthogonal, fit_weighted,
};
use numerics::elementary::{ln, pow_fast};
use serde_json::json;

use crate::{best_seconds, report};

/// Fits per timing, so that the clock's own time does not count.
const EACH: u32 = 50;

/// P₀, c and m that the search starts from.
const START: [f64; 3] = [50.0, 0.3, 2.5];

/// Twelve deviates, of mean 0 and standard deviation 1 as nearly as so few can be; invented.
const SCATTER: [f64; 12] = [
    0.3, -1.1, 0.8, -0.2, 1.6, -0.7, 0.1, 1.2, -1.5, 0.5, -0.4, -0.6,
];

pub(crate) fn run(folder: &Path) -> Result<(), Box<dyn Error>> {
    let readings = Readings::invented();
    let given = json!({
        "x": readings.x, "y": readings.y, "sx": readings.sx, "sy": readings.sy,
        "start": START,
        "fit": readings.fit()?.parameters,
        "orthogonal": readings.orthogonal_fit()?.parameters,
    });
    std::fs::write(folder.join("fit.json"), given.to_string())?;
    let each = 1.0 / f64::from(EACH);
    let seconds = best_seconds(|| {
        for _ in 0..EACH {
            let _ = black_box(black_box(&readings).fit());
        }
    });
    report("fit", "metrology::fit_weighted", seconds * each);
    let seconds = best_seconds(|| {
        for _ in 0..EACH {
            let _ = black_box(black_box(&readings).orthogonal_fit());
        }
    });
    report(
        "orthogonal fit",
        "metrology::fit_orthogonal",
        seconds * each,
    );
    Ok(())
}

pub(crate) struct Readings {
    pub(crate) x: Vec<f64>,
    pub(crate) y: Vec<f64>,
    pub(crate) sx: Vec<f64>,
    pub(crate) sy: Vec<f64>,
}

impl Readings {
    /// Twelve readings 1 % off in either variable.
    pub(crate) fn invented() -> Self {
        let exact: Vec<f64> = (0..12_u32)
            .map(|i| 2.0 + 18.0 * f64::from(i) / 11.0)
            .collect();
        let law: Vec<f64> = exact
            .iter()
            .map(|x| 60.0 + 0.22 * pow_fast(*x, 2.8))
            .collect();
        let of = |values: &[f64]| values.iter().map(|value| 0.01 * value).collect();
        let (sx, sy): (Vec<f64>, Vec<f64>) = (of(&exact), of(&law));
        let shifted = |values: &[f64], sd: &[f64], deviates: &mut dyn Iterator<Item = f64>| {
            let pairs = values.iter().zip(sd).zip(deviates);
            pairs.map(|((value, sd), z)| value + sd * z).collect()
        };
        Self {
            x: shifted(&exact, &sx, &mut SCATTER.into_iter()),
            y: shifted(&law, &sy, &mut SCATTER.into_iter().rev()),
            sx,
            sy,
        }
    }

    pub(crate) fn fit(&self) -> Result<Fit, FitError> {
        let observations = WeightedObservations {
            x: &self.x,
            y: &self.y,
            weights: Weights::independent(&self.sy)?,
        };
        fit_weighted(&PowerLaw, observations, &START, &[None; 3])
    }

    fn orthogonal_fit(&self) -> Result<OrthogonalFit, FitError> {
        let points = UncertainPoints {
            x: &self.x,
            y: &self.y,
            x_sd: &self.sx,
            y_sd: &self.sy,
        };
        fit_orthogonal(&PowerLaw, points, &START, &[None; 3])
    }
}

/// y = a + b xᵐ.
struct PowerLaw;

impl Curve for PowerLaw {
    fn evaluate(&self, x: f64, parameters: &[f64], gradient: &mut [f64]) -> f64 {
        self.evaluate_sloped(x, parameters, gradient).0
    }
}

impl SlopedCurve for PowerLaw {
    fn evaluate_sloped(&self, x: f64, parameters: &[f64], gradient: &mut [f64]) -> (f64, f64) {
        let (&[a, b, m], [by_a, by_b, by_m]) = (parameters, gradient) else {
            return (f64::NAN, f64::NAN);
        };
        let power = pow_fast(x, m);
        (*by_a, *by_b, *by_m) = (1.0, power, b * power * ln(x));
        (a + b * power, b * m * power / x)
    }
}
