//! Robust regression against two packages.

use metrology::{Curve, RobustFit, WeightedObservations, Weights, fit_robust};
use numerics::elementary::{ln, pow};

use crate::harness::{Case, Tally, Tolerance, cases};

const FOLDER: &str = "fits/huber";

/// A plane through regressors; the place is the number of the row.
struct Plane(Vec<[f64; 4]>);

impl Curve for Plane {
    fn evaluate(&self, x: f64, p: &[f64], g: &mut [f64]) -> f64 {
        let (_, row) = (0..)
            .zip(&self.0)
            .find(|(i, _)| f64::from(*i) >= x)
            .unwrap();
        g.copy_from_slice(row);
        row.iter().zip(p).map(|(x, b)| x * b).sum()
    }
}

/// y = a + b xⁿ.
struct Power;

impl Curve for Power {
    fn evaluate(&self, x: f64, p: &[f64], g: &mut [f64]) -> f64 {
        let power = pow(x, p[2]);
        g.copy_from_slice(&[1.0, power, p[1] * power * ln(x)]);
        p[0] + p[1] * power
    }
}

fn column(rows: &[Case], name: &str) -> Vec<f64> {
    rows.iter().map(|row| row.number(name)).collect()
}

fn stack_loss(scale: f64) -> RobustFit {
    let rows = cases(&format!("{FOLDER}/stackloss.csv"));
    let regressors = |row: &Case| {
        let [a, w, c] = ["air_flow", "water_temperature", "acid"].map(|name| row.number(name));
        [1.0, a, w, c]
    };
    let plane = Plane(rows.iter().map(regressors).collect());
    let x: Vec<f64> = (0..).map(f64::from).take(rows.len()).collect();
    let observations = WeightedObservations {
        x: &x,
        y: &column(&rows, "y"),
        weights: Weights::independent(&vec![scale; rows.len()]).unwrap(),
    };
    fit_robust(&plane, observations, &[0.0; 4]).unwrap()
}

fn power_law() -> RobustFit {
    let rows = cases(&format!("{FOLDER}/power.csv"));
    let observations = WeightedObservations {
        x: &column(&rows, "x"),
        y: &column(&rows, "y"),
        weights: Weights::independent(&column(&rows, "sigma")).unwrap(),
    };
    fit_robust(&Power, observations, &[60.0, 1400.0, 2.5]).unwrap()
}

#[test]
fn huber_estimates_are_those_of_the_packages() {
    // The two packages agree with each other within 5e-8; our search ends a millionth of a standard uncertainty away.
    let mut parameters = Tally::new("fits/huber: parameters", Tolerance::Relative(2e-6));
    let mut errors = Tally::new("fits/huber: standard errors", Tolerance::Relative(1e-6));
    let results = cases(&format!("{FOLDER}/results.csv"));
    let of = |set: &str| -> Vec<&Case> {
        results
            .iter()
            .filter(|row| row.text("set") == set)
            .collect()
    };
    let stack = of("stackloss");
    let fit = stack_loss(stack[0].number("scale"));
    let covariance = fit.covariance_by_scatter.unwrap();
    for (j, row) in stack.iter().enumerate() {
        let label = format!("stackloss {}", row.text("parameter"));
        parameters.compare(&label, fit.parameters[j], row.number("value"));
        errors.compare(&label, covariance[(j, j)].sqrt(), row.number("std_error"));
    }
    let fit = power_law();
    for (j, row) in of("power").iter().enumerate() {
        let label = format!("power {}", row.text("parameter"));
        parameters.compare(&label, fit.parameters[j], row.number("value"));
    }
    parameters.finish();
    errors.finish();
}
