//! Which part of the plumbing takes the head, answered from the readings: the stated circuit, calibrated.
//!
//! Every part starts at what the catalogue and the makers say, with how far they may be off; all tests and line-ups of a site
//! move it at once. What the readings cannot tell stays as wide as it was, and is said. Runs only when it is asked for.

mod budget;
mod carry;
mod data;
mod knobs;
mod line_up;
mod next_reading;
mod problem;
mod scaling;
mod taps;
#[cfg(test)]
mod tests;
mod verdict;

pub use budget::{Budget, LineBudget, PartBudget};
pub use carry::{CarriedFlow, Carrier, ChangedPad, FallBy, FilterThen};
pub use knobs::ParameterOf;
pub use next_reading::NextReading;
pub use verdict::HeadBy;

use crate::finding::{Finding, Matter, Place, Severity};
use crate::network::NetworkProblem;
use crate::pump_curve::pump_curve;
use crate::result::Analysis;
use data::Data;
use knobs::{Knobs, Unstated};
use line_up::LineUp;
use metrology::{Estimate, Fit, FitError, Observations, Prior, fit};
use next_reading::next_readings;
use problem::Problem;
use records::{Site, Tap, Test};

/// How often the weights of the readings are made anew from what the circuit says.
const ROUNDS: usize = 2;

/// A calibrated circuit.
#[derive(Clone, Debug)]
pub struct Calibration {
    /// The sought numbers.
    pub parameters: Vec<Parameter>,
    /// How each head that was read fits.
    pub fits: Vec<HeadFit>,
    /// Sum of squares of what is left over, in units of the stated uncertainties.
    pub chi_squared: f64,
    /// What that is expected to be.
    pub dof: usize,
    /// Line and part whose drop is not stated and a usual one stands in for.
    pub assumed: Vec<(String, usize)>,
    /// Line and part whose drop is not known and that is left out.
    pub left_out: Vec<(String, usize)>,
    /// Where the head is lost at the speed that was asked for.
    pub budget: Budget,
    /// Gauges that were not read and would tell more, the best first.
    pub next_readings: Vec<NextReading>,
    /// What there is to say.
    pub findings: Vec<Finding>,
}

/// A sought number.
#[derive(Clone, Debug, PartialEq)]
pub struct Parameter {
    /// What it is of.
    pub of: ParameterOf,
    /// The number: a factor, or standard uncertainties.
    pub estimate: Estimate,
    /// What was known before, of the logarithm where it is a factor.
    pub prior: Prior,
    /// How much of the prior's standard deviation is left.
    pub left: f64,
    /// How many of the prior's standard deviations it lies from what was expected.
    pub strain: f64,
}

/// How a head that was read fits.
#[derive(Clone, Debug, PartialEq)]
pub struct HeadFit {
    /// The test.
    pub test: String,
    /// The speed, rpm.
    pub speed_rpm: f64,
    /// Where the gauge is tapped; `None` for the head of the maker's curve against that of the circuit.
    pub tap: Option<Tap>,
    /// Read less computed, m.
    pub residual_m: f64,
    /// The same in standard uncertainties of the reading.
    pub normalized: f64,
}

/// Why a circuit is not calibrated.
#[derive(Clone, Debug, PartialEq)]
pub enum NotCalibrated {
    /// The lines make no network.
    Network(NetworkProblem),
    /// No step has a flow.
    NoFlow,
    /// The last test says nothing of the flow at the speed that was asked for.
    NoFlowAtSpeed {
        /// The speed, rpm.
        speed_rpm: f64,
    },
    /// The search did not settle.
    Unsettled(FitError),
}

/// Calibrates the circuit of a site with all its tests, and says where the head is lost at a speed with the valves of the last.
///
/// # Inputs
/// `analysis`: that of the same site and tests; readings that it refutes do not count.
///
/// # Errors
/// What is missing.
///
/// # Source
/// Maximum of the posterior with the Laplace approximation about it: A. Gelman et al., Bayesian Data Analysis, 3rd edition
/// (2013), chapter 4.1 and 13.3 (from memory).
pub fn calibrate(
    site: &Site,
    tests: &[Test],
    analysis: &Analysis,
    speed_rpm: f64,
) -> Result<Calibration, NotCalibrated> {
    let (problem, unstated) = gather(site, tests, analysis)?;
    let fitted = fitted(&problem)?;
    let (budget, widest) = budget::budget(site, analysis, &problem, &fitted, speed_rpm)?;
    let parameters = parameters(&problem, &fitted);
    let next_readings = widest.map(|widest| next_readings(site, &problem, &fitted, &widest));
    let mut calibration = Calibration {
        fits: fits(&problem, &fitted),
        chi_squared: fitted.chi_squared,
        dof: problem.rows.len(),
        assumed: unstated.assumed,
        left_out: unstated.left_out,
        findings: Vec::new(),
        next_readings: next_readings.unwrap_or_default(),
        parameters,
        budget,
    };
    calibration.findings = verdict::findings(&problem, &fitted, &calibration, analysis);
    Ok(calibration)
}

/// Says that a circuit is not calibrated, and why.
pub fn not_calibrated(problem: NotCalibrated) -> Finding {
    Finding {
        severity: Severity::Note,
        place: Place::default(),
        matter: Matter::NotCalibrated(Box::new(problem)),
    }
}

/// Gathers line-ups, sought numbers and readings of all tests.
fn gather(
    site: &Site,
    tests: &[Test],
    analysis: &Analysis,
) -> Result<(Problem, Unstated), NotCalibrated> {
    let mut knobs = Knobs::default();
    let mut data = Data::default();
    let mut line_ups = Vec::with_capacity(tests.len());
    let mut unstated = Unstated::default();
    for (index, (test, result)) in tests.iter().zip(&analysis.tests).enumerate() {
        let (line_up, of_test) =
            LineUp::of(site, test, &mut knobs).map_err(NotCalibrated::Network)?;
        data.add(site, (index, test), result, &line_up, &mut knobs);
        line_ups.push(line_up);
        unstated = of_test;
    }
    if data.steps.is_empty() {
        return Err(NotCalibrated::NoFlow);
    }
    let curve = pump_curve(site).and_then(Result::ok);
    Ok((Problem::new(line_ups, knobs, data, curve), unstated))
}

/// Searches for the most probable numbers; the weights of the readings follow them.
fn fitted(problem: &Problem) -> Result<Fit, NotCalibrated> {
    let rows: Vec<f64> = (0_u32..)
        .zip(&problem.rows)
        .map(|(row, _)| f64::from(row))
        .collect();
    let priors: Vec<Option<Prior>> = problem.knobs.priors.iter().copied().map(Some).collect();
    let mut parameters = problem.start();
    let mut found = Err(FitError::BadStart);
    for _ in 0..ROUNDS {
        let covariance = problem.covariance(&parameters);
        let observations = Observations {
            x: &rows,
            y: &problem.read_m,
            covariance: &covariance,
        };
        let round =
            fit(problem, observations, &parameters, &priors).map_err(NotCalibrated::Unsettled)?;
        parameters.clone_from(&round.parameters);
        found = Ok(round);
    }
    found.map_err(NotCalibrated::Unsettled)
}

fn parameters(problem: &Problem, fitted: &Fit) -> Vec<Parameter> {
    let knobs = problem.knobs.of.iter().zip(&problem.knobs.priors);
    let parameter = |(index, (of, prior)): (usize, (&ParameterOf, &Prior))| {
        let (value, sd) = (
            fitted.parameters[index],
            fitted.covariance[(index, index)].sqrt(),
        );
        let estimate = if of.is_factor() {
            Estimate::log_normal(value, sd)
        } else {
            Estimate::normal(value, sd)
        };
        Some(Parameter {
            of: of.clone(),
            estimate: estimate?,
            prior: *prior,
            left: sd / prior.sd,
            strain: (value - prior.mean) / prior.sd,
        })
    };
    knobs.enumerate().filter_map(parameter).collect()
}

fn fits(problem: &Problem, fitted: &Fit) -> Vec<HeadFit> {
    let covariance = problem.covariance(&fitted.parameters);
    let line_ups = problem.line_ups().borrow();
    let fit = |(index, row): (usize, &problem::Row)| {
        let step = &problem.data.steps[row.step];
        let residual_m = fitted.residuals[index];
        HeadFit {
            test: line_ups[step.test].test.clone(),
            speed_rpm: step.speed_rpm,
            tap: match row.of {
                problem::RowOf::Gauge(gauge) => Some(problem.data.gauges[gauge].tap),
                problem::RowOf::Curve => None,
            },
            residual_m,
            normalized: residual_m / covariance[(index, index)].sqrt(),
        }
    };
    problem.rows.iter().enumerate().map(fit).collect()
}
