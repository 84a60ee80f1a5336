//! The odds held against what does not share their code: the closed form of a linear problem.

use super::evidence::{Weighed, fitted_at, weighed};
use super::pair::Pair;
use super::{Change, *};
use crate::analyze;
use crate::calibration::problem::Problem;
use numerics::linear::{Matrix, PositiveFactor, Vector, dot};
use records::{Source, TestFiles, read_pad};

/// A pad with one return and a gauge on each side; invented.
const SITE: &str = r#"
format = 1
name = "made up"
[pump]
speed = { max = "3450 rpm" }
height = "1 ft"
[[meter]]
id = "F"
measures = "flow"
accuracy = ["2 % of reading"]
[[meter]]
id = "P"
measures = "pressure"
accuracy = ["0.5 psi"]
tap = "filter inlet"
height = "3 ft"
[[meter]]
id = "V"
measures = "vacuum"
accuracy = ["0.5 inHg"]
height = "1 ft"
[[line]]
name = "suction"
from = "pool"
to = "pump inlet"
parts = [ { pipe = "2 in", length = "40 ft" }, { k = 4.0 } ]
[[line]]
name = "return"
from = "pump outlet"
to = "pool"
parts = [ { filter = "sand", clean = { flow = "60 gpm", drop = "4 psi" } }, { pipe = "2 in", length = "50 ft" }, { k = 6.0 } ]
"#;
const BEFORE: &str = "speed [rpm],flow F [gpm],filter pressure P [psi],inlet vacuum V [inHg]
1200,24,0.9,1.5\n1800,38,2.2,2.1\n2400,52,4.1,2.9\n3000,66,6.6,4.2\n3450,76,8.8,5.3\n";
const AFTER: &str = "speed [rpm],flow F [gpm],filter pressure P [psi],inlet vacuum V [inHg]
1200,23,0.8,1.9\n1800,37,2.1,2.9\n2400,51,4.0,4.3\n3000,65,6.5,6.2\n3450,75,8.6,7.7\n";

fn with_pair<T>(of: impl FnOnce(&Pair<'_>) -> T) -> T {
    let source = |name: &str, text: String| Source {
        name: name.to_owned(),
        text,
    };
    let files = [("before", BEFORE), ("after", AFTER)].map(|(name, rows)| TestFiles {
        test: source(
            &format!("{name}.toml"),
            format!("format = 1\nreadings = \"{name}.csv\"\n"),
        ),
        readings: Some(source(&format!("{name}.csv"), rows.to_owned())),
    });
    let (site, tests) = read_pad(&source("site.toml", SITE.to_owned()), &files).unwrap();
    let analysis = analyze(&site, &tests);
    of(&Pair {
        site: &site,
        tests: [&tests[0], &tests[1]],
        results: [&analysis.tests[0], &analysis.tests[1]],
    })
}

/// So close about their means the heads are linear in all numbers.
fn sharp(mut problem: Problem) -> Problem {
    for prior in &mut problem.knobs.priors {
        prior.sd *= 1e-4;
    }
    problem
}

/// The logarithm of the normal density of what was read, by observations: mean f(μ), covariance V + J S Jᵀ.
///
/// # Source
/// C. Rasmussen, C. Williams, Gaussian Processes for Machine Learning (2006), equations 2.30 and 2.8 (numbers from memory).
fn closed_form(problem: &Problem, covariance: &Matrix) -> f64 {
    let start = problem.start();
    let (n, p) = (problem.rows.len(), start.len());
    let said = problem.said(&start);
    let slope = |row: usize, knob: usize| said.slopes[row * p + knob];
    let whole = Matrix::from_fn(n, n, |i, j| {
        let by_priors: f64 = (0..p)
            .map(|k| {
                slope(i, k) * problem.knobs.priors[k].sd * problem.knobs.priors[k].sd * slope(j, k)
            })
            .sum();
        covariance[(i, j)] + by_priors
    });
    let left = problem.read_m.iter().zip(&said.heads_m).map(|(y, f)| y - f);
    let left = Vector::from_iterator(n, left);
    let factor = PositiveFactor::new(whole).unwrap();
    let solved = factor.solve(&left);
    -0.5 * dot(left.as_slice(), solved.as_slice()) - 0.5 * factor.ln_determinant()
}

#[test]
fn odds_of_a_linear_problem_are_those_of_the_closed_form() {
    with_pair(|pair| {
        let nothing = fitted_at(sharp(pair.problem(&[]).unwrap())).unwrap();
        // The weights are those of the prior means, from which so sharp a fit does not move.
        let covariance = nothing.problem.covariance(&nothing.fitted.parameters);
        let alone = closed_form(&nothing.problem, &covariance);
        for change in [Change::Suction, Change::Returns, Change::Media] {
            let changed = sharp(pair.problem(&[change]).unwrap());
            let expected = closed_form(&changed, &covariance) - alone;
            let found: Weighed = weighed(changed, &nothing).unwrap();
            let odds = found.ln_evidence - nothing.ln_evidence;
            // What the sharp priors leave of the change is 1e-4 of a standard deviation: the odds are near 1, and told to a millionth.
            assert!((odds - expected).abs() < 1e-6, "{odds} for {expected}");
        }
    });
}

#[test]
fn the_suction_is_named_where_only_the_vacuum_rose() {
    with_pair(|pair| {
        let told = told(pair).unwrap();
        assert!(told.names(&Change::Suction), "{told:?}");
        assert!(told.hindered.contains(&Hindrance::NoCurve));
        assert!(
            !told
                .candidates
                .iter()
                .any(|it| it.change == Some(Change::Pump))
        );
    });
}
