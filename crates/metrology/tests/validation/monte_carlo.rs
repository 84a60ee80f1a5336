//! Propagation of distributions against closed forms, quadrature and the examples of its guide.
//!
//! Deviations are in standard errors of our own Monte Carlo, from the scatter of its blocks; the seeds are fixed.

use metrology::{
    Distributed, Input, Inputs, JointNormal, MonteCarloPlan, monte_carlo, propagate, second_order,
};
use numerics::elementary::ln;
use numerics::linear::Matrix;
use numerics::random::Draw;

use crate::harness::{Case, Tally, Tolerance, cases};

/// One in 30 000 deviates by more; with the few hundred blocks of three digits, Student's t is normal.
const STANDARD_ERRORS: Tolerance = Tolerance::Absolute(4.2);

/// Three digits, so that there are blocks enough to know the standard errors.
fn plan(seed: u64, coverage: f64) -> MonteCarloPlan {
    MonteCarloPlan {
        coverage,
        digits: 3,
        most_draws: 2_000_000,
        ..MonteCarloPlan::new(seed)
    }
}

/// A sum of independent inputs as the reference writes it: `rect 10sqrt3; normal 0.5`.
fn sum_of(inputs: &str) -> impl Fn(&mut Draw) -> f64 + use<> {
    let parts: Vec<(String, f64)> = inputs
        .split("; ")
        .map(|part| {
            let (kind, size) = part.split_once(' ').unwrap();
            let size = match size.strip_suffix("sqrt3") {
                Some("") => 3.0_f64.sqrt(),
                Some(factor) => factor.parse::<f64>().unwrap() * 3.0_f64.sqrt(),
                None => size.parse().unwrap(),
            };
            (kind.to_owned(), size)
        })
        .collect();
    move |draw| {
        let one = |(kind, size): &(String, f64)| {
            size * match kind.as_str() {
                "normal" => draw.normal(),
                "rect" => draw.rectangular(),
                "triangular" => draw.triangular(),
                "arcsine" => draw.arcsine(),
                other => panic!("no distribution {other}"),
            }
        };
        parts.iter().map(one).sum()
    }
}

#[test]
fn sums_have_their_exact_intervals() {
    let mut tally = Tally::new("uncertainty/sums: in standard errors", STANDARD_ERRORS);
    // What a million draws leave of a half-width.
    let mut widths = Tally::new("uncertainty/sums: half-width", Tolerance::Relative(5e-3));
    for (seed, row) in (100..).zip(cases("uncertainty/sums/sums.csv")) {
        let drawn = monte_carlo(
            &plan(seed, row.number("probability")),
            sum_of(row.text("inputs")),
        );
        let Distributed {
            characteristics: ours,
            standard_errors: se,
            ..
        } = drawn.unwrap();
        let half = row.number("half_width_exact");
        let label = format!("{} {}", row.text("set"), row.text("probability"));
        tally.compare(&label, ours.mean / se.mean, 0.0);
        tally.compare(&label, ours.u / se.u, row.number("u") / se.u);
        tally.compare(&label, ours.low / se.low, -half / se.low);
        tally.compare(&label, ours.high / se.high, half / se.high);
        widths.compare(&label, 0.5 * (ours.high - ours.low), half);
    }
    tally.finish();
    widths.finish();
}

#[test]
fn squares_have_their_exact_distribution() {
    let mut tally = Tally::new("uncertainty/quadratic: in standard errors", STANDARD_ERRORS);
    // A density that is flat at both ends lets the shortest interval wander: 10e-6, as the sheet of standards allows.
    let mut shortest = Tally::new(
        "uncertainty/quadratic: shortest interval",
        Tolerance::Absolute(1e-5),
    );
    for (seed, row) in (200..).zip(cases("uncertainty/quadratic/quadratic.csv")) {
        let (u, r) = (row.number("u"), row.number("r"));
        let pair = vec![
            Input::new(row.number("x1"), u),
            Input::new(row.number("x2"), u),
        ];
        let correlation = Matrix::from_row_slice(2, 2, &[1.0, r, r, 1.0]);
        let joint = JointNormal::new(&Inputs::correlated(pair, correlation).unwrap());
        let square = |draw: &mut Draw| joint.draw(draw).iter().map(|x| x * x).sum();
        let drawn = monte_carlo(&plan(seed, 0.95), square).unwrap();
        let (ours, se) = (drawn.characteristics, drawn.standard_errors);
        let label = format!("x1 {}, r {r}", row.text("x1"));
        tally.compare(&label, ours.mean / se.mean, row.number("mean") / se.mean);
        tally.compare(&label, ours.u / se.u, row.number("sd") / se.u);
        tally.compare(&label, ours.low / se.low, row.number("p2_5") / se.low);
        tally.compare(&label, ours.high / se.high, row.number("p97_5") / se.high);
        shortest.compare(&label, drawn.shortest.0, row.number("shortest95_lo"));
        shortest.compare(&label, drawn.shortest.1, row.number("shortest95_hi"));
    }
    tally.finish();
    shortest.finish();
}

/// The mass of a weight by comparison, mg.
fn mass(x: &[f64]) -> f64 {
    (x[0] + x[1]) * (1.0 + (x[2] - 1.2) * (1.0 / x[3] - 1.0 / x[4])) - 1e5
}

fn drawn_mass(draw: &mut Draw) -> f64 {
    mass(&[
        1e5 + 0.05 * draw.normal(),
        1.234 + 0.02 * draw.normal(),
        1.2 + 0.1 * draw.rectangular(),
        8000.0 + 1000.0 * draw.rectangular(),
        8000.0 + 50.0 * draw.rectangular(),
    ])
}

#[test]
fn the_mass_has_the_distribution_that_quadrature_gives() {
    let mut tally = Tally::new(
        "uncertainty/jcgm-101: mass, in standard errors",
        STANDARD_ERRORS,
    );
    let drawn = monte_carlo(&plan(300, 0.95), drawn_mass).unwrap();
    let (ours, se) = (drawn.characteristics, drawn.standard_errors);
    for row in cases("uncertainty/jcgm-101/mass.csv") {
        let (value, own) = match row.text("quantity") {
            "mean" => (ours.mean, se.mean),
            "u" => (ours.u, se.u),
            "low" => (ours.low, se.low),
            _ => (ours.high, se.high),
        };
        // The reference is a Monte Carlo too, or carries a zero where it is none.
        let theirs = row.number("standard_error");
        let both = (own * own + theirs * theirs).sqrt();
        tally.compare(
            row.text("quantity"),
            value / both,
            row.number("value") / both,
        );
    }
    tally.finish();
}

/// The examples of the guide and their like, by name.
fn example(name: &str) -> Distributed {
    let plan = plan(400, 0.95);
    let drawn = match name {
        "9.2.2 normal" => monte_carlo(&plan, sum_of(&["normal 1"; 4].join("; "))),
        "9.2.3 rectangles" => monte_carlo(&plan, sum_of(&["rect sqrt3"; 4].join("; "))),
        "9.2.4 unequal" => monte_carlo(
            &plan,
            sum_of("rect sqrt3; rect sqrt3; rect sqrt3; rect 10sqrt3"),
        ),
        "9.3 mass" => monte_carlo(&plan, drawn_mass),
        "9.4 at 0" => monte_carlo(&plan, |draw| squares(draw, 0.0)),
        "9.4 at 0.010" => monte_carlo(&plan, |draw| squares(draw, 0.01)),
        "9.4 at 0.050" => monte_carlo(&plan, |draw| squares(draw, 0.05)),
        "logarithm" => monte_carlo(&plan, |draw| ln(0.6 + 0.5 * draw.rectangular())),
        "attenuator" => monte_carlo(&plan, attenuator),
        other => panic!("no example {other}"),
    };
    drawn.unwrap()
}

fn squares(draw: &mut Draw, x1: f64) -> f64 {
    let (a, b) = (x1 + 0.005 * draw.normal(), 0.005 * draw.normal());
    a * a + b * b
}

/// Example E11 of NIST TN 1900: estimates and standard uncertainties, dB; the standard's value has three degrees of freedom.
fn attenuator(draw: &mut Draw) -> f64 {
    let (root2, root3) = (2.0_f64.sqrt(), 3.0_f64.sqrt());
    // Student's t with three degrees of freedom has a standard deviation of √3.
    let mut sum = 30.0402 + 0.0091 / root3 * draw.student_t(3);
    sum += 0.003 + 0.0025 * root3 * draw.rectangular();
    sum += root2 * (0.0014 * draw.arcsine() + 0.0200 * draw.arcsine() + 0.0021 * draw.arcsine());
    for _ in 0..2 {
        sum += 0.0003 * root3 * draw.rectangular() + 0.0020 * draw.normal();
    }
    sum
}

fn characteristic(drawn: &Distributed, row: &Case) -> f64 {
    match row.text("quantity") {
        "mean" => drawn.characteristics.mean,
        "u" => drawn.characteristics.u,
        "low" => drawn.characteristics.low,
        "high" => drawn.characteristics.high,
        "shortest low" => drawn.shortest.0,
        "shortest high" => drawn.shortest.1,
        other => panic!("no quantity {other}"),
    }
}

#[test]
fn the_examples_of_the_guide_come_out_as_printed() {
    let mut tally = Tally::new(
        "uncertainty/jcgm-101: as printed, in allowances",
        Tolerance::Absolute(1.0),
    );
    let rows = cases("uncertainty/jcgm-101/published.csv");
    let mut current = (String::new(), None);
    for row in &rows {
        let name = row.text("example");
        if current.0 != name {
            current = (name.to_owned(), Some(example(name)));
        }
        let ours = characteristic(current.1.as_ref().unwrap(), row);
        let allowance = row.number("allowance");
        let label = format!("{name} {}", row.text("quantity"));
        tally.compare(label, ours / allowance, row.number("value") / allowance);
    }
    tally.finish();
}

#[test]
fn the_first_order_fails_where_the_guide_says_so() {
    let mut tally = Tally::new(
        "uncertainty/jcgm-101: first and second order, in halves of the last place",
        Tolerance::Absolute(1.0 + 1e-9),
    );
    let inputs = Inputs::independent(vec![
        Input::new(1e5, 0.05),
        Input::new(1.234, 0.02),
        Input::rectangular(1.2, 0.1),
        Input::rectangular(8000.0, 1000.0),
        Input::rectangular(8000.0, 50.0),
    ])
    .unwrap();
    let first = propagate(mass, &inputs).unwrap();
    let second = second_order(mass, &inputs).unwrap();
    // JCGM 101:2008, 9.3, as the sheet of standards carries it (from memory): 1.2340, 0.0539, 0.0750.
    let printed = [
        ("value", first.value, 1.2340),
        ("u", first.u, 0.0539),
        ("second-order u", second.u, 0.0750),
    ];
    for (name, ours, value) in printed {
        tally.compare(name, ours / 0.5e-4, value / 0.5e-4);
    }
    assert!(second.change() > 0.3);
    let drawn = monte_carlo(&MonteCarloPlan::new(5), drawn_mass).unwrap();
    assert!(!drawn.confirms(&first.estimate().unwrap()));
    tally.finish();
}
