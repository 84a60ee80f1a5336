//! The calibration held against what does not share its code: differences in place of slopes, the closed form of a linear
//! problem, and draws of the posterior itself.

use super::*;
use crate::analyze;
use metrology::{Observations, fit};
use numerics::elementary::{exp, ln};
use numerics::linear::PositiveFactor;
use numerics::random::Draws;
use records::{Source, TestFiles, read_pad};

fn source(name: &str, text: &str) -> Source {
    Source {
        name: name.to_owned(),
        text: text.to_owned(),
    }
}

/// A pad with a check valve, a filter, two returns and a gauge on each side; invented.
const SITE: &str = r#"
format = 1
name = "made up"
[pump]
speed = { max = "3450 rpm" }
height = "1 ft"
curve_speed = "3450 rpm"
curve = [ { flow = "0 gpm", head = "80 ft" }, { flow = "60 gpm", head = "66 ft" }, { flow = "120 gpm", head = "24 ft" } ]
[[meter]]
id = "F"
measures = "flow"
accuracy = ["2 % of reading"]
[[meter]]
id = "P"
measures = "pressure"
accuracy = ["0.5 psi"]
tap = "filter inlet"
[[meter]]
id = "V"
measures = "vacuum"
accuracy = ["0.5 inHg"]
tap = "suction pipe"
height = "1 ft"
[[line]]
name = "suction"
from = "pool"
to = "pump inlet"
parts = [ { pipe = "2 in", length = { about = "40 ft", factor = 1.5 } }, { k = 4.0 }, { skimmer = "basket" } ]
[[line]]
name = "pad"
from = "pump outlet"
to = "pad outlet"
parts = [ { pipe = "2 in", length = "12 ft" }, { k = 3.0 }, { filter = "sand", clean = { flow = "60 gpm", drop = "4 psi" } }, { heater = "gas", at = { flow = "60 gpm", drop = "2 psi" }, count = 2 }, { check_valve = "spring", cracking = "0.5 psi", kv = "60 m3/h" } ]
[[line]]
name = "return 1"
from = "pad outlet"
to = "pool"
parts = [ { pipe = "1.5 in", length = "50 ft" }, { k = 6.0 } ]
[[line]]
name = "return 2"
from = "pad outlet"
to = "pool"
parts = [ { pipe = "1.5 in", length = "80 ft" }, { outlet = "eyeball", bore = "1 in", count = 2 } ]
"#;

/// Rows that such a pad may give; invented.
const ROWS: &str = "speed [rpm],flow F [gpm],filter pressure P [psi],inlet vacuum V [inHg]
1200,24,1.6,1.9\n1800,38,4.2,2.9\n2400,52,8.1,4.3\n3000,66,13.0,6.2\n3450,76,17.4,7.7\n";

const LINE_UPS: [(&str, &str); 3] = [
    ("both", ""),
    ("one", "closed = [\"return 2\"]\n"),
    ("half", "throttled = [\"return 1\"]\n"),
];

fn problem(site: &str, tests: &[(&str, &str)]) -> Problem {
    let files: Vec<TestFiles> = tests
        .iter()
        .map(|(name, more)| TestFiles {
            test: source(
                &format!("{name}.toml"),
                &format!("format = 1\nreadings = \"{name}.csv\"\n{more}"),
            ),
            readings: Some(source(&format!("{name}.csv"), ROWS)),
        })
        .collect();
    let (site, tests) = read_pad(&source("site.toml", site), &files).unwrap();
    gather(&site, &tests, &analyze(&site, &tests)).unwrap().0
}

#[test]
fn slopes_are_those_of_differences() {
    hold_slopes(&problem(SITE, &LINE_UPS));
}

/// A tee at the end of the equipment, where the flow divides; with one return shut it is a plain fitting.
#[test]
fn slopes_are_those_of_differences_with_a_tee() {
    const TEE: &str =
        "[[tee]]\nat = \"pad outlet\"\nrun = [\"pad\", \"return 1\"]\nbranch = \"return 2\"\n";
    hold_slopes(&problem(&[SITE, TEE].concat(), &LINE_UPS));
}

#[track_caller]
fn hold_slopes(problem: &Problem) {
    const STEP: f64 = 1e-4;
    let mut draw = Draws::new(1).at(0);
    let here: Vec<f64> = problem
        .knobs
        .priors
        .iter()
        .map(|prior| prior.mean + 0.5 * prior.sd * draw.normal())
        .collect();
    let columns = here.len();
    let slopes = problem.said(&here).slopes.clone();
    for knob in 0..columns {
        let at = |step: f64| {
            let mut there = here.clone();
            there[knob] += step;
            problem.said(&there).heads_m.clone()
        };
        for (row, (above, below)) in at(STEP).iter().zip(at(-STEP)).enumerate() {
            let difference = (above - below) / (2.0 * STEP);
            let slope = slopes[row * columns + knob];
            // The solver's heads are within 1e-9 m, so a difference is within 1e-5 m; slopes of friction are given to five
            // digits.
            assert!(
                (difference - slope).abs() < 3e-5 + 2e-4 * slope.abs(),
                "{:?}, row {row}: {slope} for {difference}",
                problem.knobs.of[knob]
            );
        }
    }
}

/// One step leaves one linear answer: the mean and covariance of a normal posterior.
///
/// # Source
/// C. Rasmussen, C. Williams, Gaussian Processes for Machine Learning (2006), equation 2.8; A. Gelman et al., Bayesian Data
/// Analysis, 3rd edition (2013), 14.8 (numbers from memory).
#[test]
fn sharp_priors_give_the_closed_form_of_a_linear_problem() {
    let mut problem = problem(SITE, &LINE_UPS);
    // So close about their means the heads are linear in all numbers.
    for prior in &mut problem.knobs.priors {
        prior.sd *= 1e-4;
    }
    let start = problem.start();
    let covariance = problem.covariance(&start);
    let rows: Vec<f64> = (0_u32..)
        .zip(&problem.rows)
        .map(|(i, _)| f64::from(i))
        .collect();
    let priors: Vec<Option<Prior>> = problem.knobs.priors.iter().copied().map(Some).collect();
    let observations = Observations {
        x: &rows,
        y: &problem.read_m,
        covariance: &covariance,
    };
    let found = fit(&problem, observations, &start, &priors).unwrap();
    // The closed form by observations rather than by parameters: θ = μ + S Jᵀ (J S Jᵀ + V)⁻¹ (y − f).
    let (n, p) = (rows.len(), start.len());
    let said = problem.said(&start);
    let slope = |row: usize, knob: usize| said.slopes[row * p + knob];
    let variance = |knob: usize| problem.knobs.priors[knob].sd * problem.knobs.priors[knob].sd;
    let whole = numerics::linear::Matrix::from_fn(n, n, |i, j| {
        let by_priors: f64 = (0..p)
            .map(|k| slope(i, k) * variance(k) * slope(j, k))
            .sum();
        covariance[(i, j)] + by_priors
    });
    let left = numerics::linear::Vector::from_iterator(
        n,
        problem.read_m.iter().zip(&said.heads_m).map(|(y, f)| y - f),
    );
    let whole = PositiveFactor::new(whole).unwrap();
    let weighed = whole.solve(&left);
    for (knob, mean) in start.iter().enumerate() {
        let sd = variance(knob).sqrt();
        let pull: f64 = (0..n).map(|row| slope(row, knob) * weighed[row]).sum();
        let expected = mean + variance(knob) * pull;
        // What is not linear over 1e-4 of the priors is of second order.
        assert!((found.parameters[knob] - expected).abs() < 1e-3 * sd);
        let column = numerics::linear::Vector::from_iterator(n, (0..n).map(|row| slope(row, knob)));
        let told: f64 = (0..n)
            .map(|row| column[row] * whole.solve(&column)[row])
            .sum();
        let expected = variance(knob) * (1.0 - variance(knob) * told);
        assert!((found.covariance[(knob, knob)] / expected - 1.0).abs() < 1e-3);
    }
}

/// The Laplace approximation against the posterior by importance sampling from it.
///
/// # Source
/// A. Gelman et al., Bayesian Data Analysis, 3rd edition (2013), 10.4 (number from memory).
#[test]
fn the_posterior_is_what_draws_of_it_say() {
    const DRAWS: u64 = 20_000;
    // A part-open valve is known to a factor of five only, and so far from normal that draws from a normal one hardly meet it.
    let mut problem = problem(SITE, &LINE_UPS[..2]);
    // Readings that such a pad may give: of a pad drawn from what is known before.
    let mut draw = Draws::new(2).at(0);
    let priors = problem.knobs.priors.iter();
    let truth: Vec<f64> = priors
        .map(|prior| prior.mean + prior.sd * draw.normal())
        .collect();
    let heads_m = problem.said(&truth).heads_m.clone();
    problem.read_m = heads_m;
    let found = fitted(&problem).unwrap();
    let p = found.parameters.len();
    let lower = PositiveFactor::new(found.covariance.clone())
        .unwrap()
        .lower();
    let ln_density = |parameters: &[f64]| -> f64 {
        let said = problem.said(parameters);
        let pairs = problem.read_m.iter().zip(&said.heads_m);
        let mut left: Vec<f64> = pairs.map(|(y, f)| y - f).collect();
        found.weights.whiten(&mut left);
        let of_readings: f64 = left.iter().map(|x| x * x).sum();
        let priors = problem.knobs.priors.iter().zip(parameters);
        let of_priors: f64 = priors
            .map(|(prior, x)| (x - prior.mean) / prior.sd)
            .map(|z| z * z)
            .sum();
        -0.5 * (of_readings + of_priors)
    };
    let top = ln_density(&found.parameters);
    let mut sums = vec![[0.0; 2]; p];
    let (mut weights, mut squares) = (0.0, 0.0);
    for index in 0..DRAWS {
        let mut draw = Draws::new(9).at(index);
        let z: Vec<f64> = (0..p).map(|_| draw.normal()).collect();
        let moved = |i: usize| -> f64 { (0..=i).map(|j| lower[(i, j)] * z[j]).sum() };
        let there: Vec<f64> = (0..p).map(|i| found.parameters[i] + moved(i)).collect();
        let by_laplace: f64 = -0.5 * z.iter().map(|z| z * z).sum::<f64>();
        let weight = exp(ln_density(&there) - top - by_laplace);
        weights += weight;
        squares += weight * weight;
        for (sum, (x, mode)) in sums.iter_mut().zip(there.iter().zip(&found.parameters)) {
            sum[0] += weight * (x - mode);
            sum[1] += weight * (x - mode) * (x - mode);
        }
    }
    let effective = weights * weights / squares;
    // In some twenty directions at once a little skewness of each takes most of the weight; far from normal would leave a few
    // draws all of it.
    assert!(effective > 500.0, "{effective}");
    for (knob, [sum, square]) in sums.iter().enumerate() {
        let sd = found.covariance[(knob, knob)].sqrt();
        let mean = sum / weights;
        let drawn_sd = (square / weights - mean * mean).sqrt();
        // The mode of a skew posterior is not its mean. Half a standard deviation off, a normal interval of 95 % still holds 92 %:
        // the least that is asked of the intervals over simulated pads.
        assert!(mean.abs() < 0.5 * sd, "{knob}: {mean} of {sd}");
        // A factor that the readings hardly tell is skew, and the approximation is a fifth off in its width, either way. What is
        // answered are shares, in which such factors make up for one another: theirs is held over simulated pads.
        let ratio = ln(drawn_sd / sd);
        assert!(ratio.abs() < 0.25, "{knob}: {drawn_sd} for {sd}");
    }
}
