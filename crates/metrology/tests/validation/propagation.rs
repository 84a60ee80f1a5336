//! Propagation of uncertainty against the examples of the guide, as printed and as recomputed.

use std::collections::BTreeMap;

use metrology::{
    Input, Inputs, Propagated, WeightedObservations, Weights, correlation_between, effective_dof,
    fit_weighted, propagate, second_order,
};
use numerics::distributions::coverage_factor;
use numerics::elementary::{cos, sin};
use numerics::linear::quadratic_form;

use crate::harness::{Case, Tally, Tolerance, cases};
use crate::models::Polynomial;

const FOLDER: &str = "uncertainty/gum-annex-h";

/// What we find for one example, by the name of the quantity.
type Found = BTreeMap<String, f64>;

/// H.1: the length of an end gauge, nm.
fn end_gauge() -> Found {
    let parts = [(5.8, 24.0), (3.9, 5.0), (6.7, 8.0)];
    let u_d = parts.iter().map(|(u, _)| u * u).sum::<f64>().sqrt();
    let rectangular = |half: f64, dof: f64| Input {
        dof,
        ..Input::rectangular(0.0, half)
    };
    let inputs = Inputs::independent(vec![
        Input::with_dof(50_000_623.0, 25.0, 18.0),
        Input::with_dof(215.0, u_d, effective_dof(&parts)),
        Input::rectangular(11.5e-6, 2e-6),
        Input::new(-0.1, 0.41),
        rectangular(1e-6, 50.0),
        rectangular(0.05, 2.0),
    ])
    .unwrap();
    let length = |x: &[f64]| x[0] + x[1] - x[0] * (x[4] * x[3] + x[2] * x[5]);
    let first = propagate(length, &inputs).unwrap();
    let second = second_order(length, &inputs).unwrap();
    [
        ("l nm", first.value),
        ("u nm", first.u),
        ("u with second order nm", second.u),
        ("dof", first.dof.unwrap()),
        ("usable dof", first.usable_dof()),
        ("t99", coverage_factor(0.99, first.usable_dof())),
        ("U99 nm", first.expanded(0.99)),
    ]
    .map(|(name, value)| (name.to_owned(), value))
    .into()
}

/// H.2: resistance, reactance and impedance from simultaneous readings.
fn impedance() -> Found {
    let rows = cases(&format!("{FOLDER}/repeats.csv"));
    let column = |name: &str| -> Vec<f64> { rows.iter().map(|row| row.number(name)).collect() };
    let (v, i_ma, phi) = (column("V_V"), column("I_mA"), column("phi_rad"));
    let inputs = Inputs::from_simultaneous(&[&v, &i_ma, &phi]).unwrap();
    let ohm = |x: &[f64]| 1000.0 * x[0] / x[1];
    let outputs: [(&str, Propagated); 3] = [
        ("R", propagate(|x| ohm(x) * cos(x[2]), &inputs).unwrap()),
        ("X", propagate(|x| ohm(x) * sin(x[2]), &inputs).unwrap()),
        ("Z", propagate(ohm, &inputs).unwrap()),
    ];
    let mut found = Found::new();
    for (i, (name, output)) in outputs.iter().enumerate() {
        assert_eq!(output.dof, None); // correlated inputs: the formula does not hold
        found.insert((*name).to_owned(), output.value);
        found.insert(format!("u {name}"), output.u);
        for (other, second) in &outputs[i + 1..] {
            found.insert(
                format!("r {name} {other}"),
                correlation_between(output, second, &inputs),
            );
        }
    }
    let names = [("V", "V"), ("I mA", "I"), ("phi", "phi")];
    for (i, (name, short)) in names.iter().enumerate() {
        found.insert(format!("mean {name}"), inputs.quantities()[i].value);
        found.insert(format!("u {name}"), inputs.quantities()[i].u);
        for (j, (_, other)) in names.iter().enumerate().skip(i + 1) {
            found.insert(format!("r {short} {other}"), inputs.correlation(i, j));
        }
    }
    found
}

/// H.3: the calibration of a thermometer, believing the scatter as the guide does there.
fn thermometer() -> Found {
    let rows = cases(&format!("{FOLDER}/thermometer.csv"));
    let x: Vec<f64> = rows.iter().map(|row| row.number("t") - 20.0).collect();
    let y: Vec<f64> = rows.iter().map(|row| row.number("b")).collect();
    let weights = Weights::independent(&vec![1.0; y.len()]).unwrap();
    let observations = WeightedObservations {
        x: &x,
        y: &y,
        weights,
    };
    let fit = fit_weighted(&Polynomial, observations, &[0.0, 0.0], &[]).unwrap();
    let covariance = fit.covariance_by_scatter().unwrap();
    let (u1, u2) = (covariance[(0, 0)].sqrt(), covariance[(1, 1)].sqrt());
    [
        ("y1", fit.parameters[0]),
        ("u y1", u1),
        ("y2", fit.parameters[1]),
        ("u y2", u2),
        ("r", covariance[(0, 1)] / (u1 * u2)),
        ("s", fit.scatter().unwrap()),
        ("b 30", fit.parameters[0] + 10.0 * fit.parameters[1]),
        ("u b 30", quadratic_form(&[1.0, 10.0], &covariance).sqrt()),
    ]
    .map(|(name, value)| (name.to_owned(), value))
    .into()
}

fn found(row: &Case) -> f64 {
    let all = match row.text("example") {
        "H.1" => end_gauge(),
        "H.2" => impedance(),
        _ => thermometer(),
    };
    let quantity = row.text("quantity");
    *all.get(quantity)
        .unwrap_or_else(|| panic!("no quantity {quantity}"))
}

#[test]
fn the_examples_of_the_guide_round_to_what_it_prints() {
    // In halves of the last printed place; where the guide rounded on the way, SOURCE.md says by how much more.
    let mut tally = Tally::new(
        "uncertainty/gum-annex-h: as printed, in halves of the last place",
        Tolerance::Absolute(1.0 + 1e-9),
    );
    for row in cases(&format!("{FOLDER}/published.csv")) {
        let label = format!("{} {}", row.text("example"), row.text("quantity"));
        let half_step = row.number("half_step").max(1e-9);
        tally.compare(
            label,
            found(&row) / half_step,
            row.number("value") / half_step,
        );
    }
    tally.finish();
}

#[test]
fn the_examples_of_the_guide_are_met_in_full_precision() {
    // Differences leave about 1e-9 of a slope.
    let mut tally = Tally::new(
        "uncertainty/gum-annex-h: recomputed in full precision",
        Tolerance::Relative(1e-7),
    );
    for row in cases(&format!("{FOLDER}/computed.csv")) {
        let label = format!("{} {}", row.text("example"), row.text("quantity"));
        tally.compare(label, found(&row), row.number("value"));
    }
    tally.finish();
}

#[test]
fn efficiencies_are_those_of_another_package() {
    // Slopes by differences: the fourth power of a tenth of 2 %, and rounding.
    let mut tally = Tally::new("uncertainty/ufloat: efficiency", Tolerance::Relative(1e-10));
    // The mean carries second and higher orders there, only the second here: the cube of 1 % at most.
    let mut means = Tally::new(
        "uncertainty/ufloat: expected efficiency",
        Tolerance::Relative(1e-6),
    );
    for row in cases("uncertainty/ufloat/efficiency.csv") {
        let input = |value: &str, u: &str| Input::new(row.number(value), row.number(u));
        let inputs = Inputs::independent(vec![
            input("Q_m3_s", "u_Q"),
            input("H_m", "u_H"),
            input("P_W", "u_P"),
        ])
        .unwrap();
        let efficiency = |x: &[f64]| 9806.65 * x[0] * x[1] / x[2];
        let ours = propagate(efficiency, &inputs).unwrap();
        let label = format!("{} m3/s", row.text("Q_m3_s"));
        tally.compare(&label, ours.value, row.number("eta"));
        tally.compare(&label, ours.u, row.number("u_eta"));
        let shift = second_order(efficiency, &inputs).unwrap().shift;
        means.compare(
            &label,
            ours.value + shift,
            row.number("eta_second_order_mean"),
        );
    }
    tally.finish();
    means.finish();
}

#[test]
fn the_efficiency_of_a_pump_test_has_the_uncertainty_that_the_grades_print() {
    // Half a unit of the printed decimal.
    let mut tally = Tally::new(
        "uncertainty/pump-test-grades: efficiency, per cent",
        Tolerance::Absolute(0.05),
    );
    for row in cases("uncertainty/pump-test-grades/grades.csv") {
        let of = |quantity: &str| Input::new(1.0, row.number(quantity) / 100.0);
        let inputs = Inputs::independent(vec![of("flow"), of("head"), of("power")]).unwrap();
        let ours = propagate(|x| x[0] * x[1] / x[2], &inputs).unwrap();
        let label = format!(
            "grade {}, power of the {}",
            row.text("grade"),
            row.text("of")
        );
        tally.compare(label, 100.0 * ours.u, row.number("efficiency"));
    }
    tally.finish();
}

#[test]
fn the_second_order_is_exact_for_a_quadratic() {
    // Closed forms; the differences of a quadratic have rounding only.
    let mut tally = Tally::new(
        "uncertainty/quadratic: second-order mean and standard deviation",
        Tolerance::Relative(1e-8),
    );
    for row in cases("uncertainty/quadratic/quadratic.csv") {
        let (u, r) = (row.number("u"), row.number("r"));
        let pair = vec![
            Input::new(row.number("x1"), u),
            Input::new(row.number("x2"), u),
        ];
        let correlation = numerics::linear::Matrix::from_row_slice(2, 2, &[1.0, r, r, 1.0]);
        let inputs = Inputs::correlated(pair, correlation).unwrap();
        let square = |x: &[f64]| x[0] * x[0] + x[1] * x[1];
        let ours = second_order(square, &inputs).unwrap();
        let label = format!("x1 {}, r {r}", row.text("x1"));
        tally.compare(&label, ours.u, row.number("sd"));
        tally.compare(
            &label,
            square(&inputs.values()) + ours.shift,
            row.number("mean"),
        );
    }
    tally.finish();
}
