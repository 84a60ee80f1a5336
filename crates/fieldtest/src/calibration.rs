//! Which part of the plumbing takes the head, answered from the readings: the stated circuit, calibrated.
//!
//! Every part starts at what the catalogue and the makers say, with how far they may be off; all tests and line-ups of a site
//! move it at once. What the readings cannot tell stays as wide as it was, and is said. Runs only when it is asked for.

mod budget;
mod carry;
pub(crate) mod data;
mod forecast;
pub(crate) mod knobs;
pub(crate) mod line_up;
mod operating;
pub(crate) mod problem;
mod prospects;
#[cfg(test)]
mod real_share;
mod scaling;
pub(crate) mod taps;
#[cfg(test)]
mod tests;
mod verdict;

pub use budget::{Budget, LineBudget, PartBudget, TeeBudget};
pub use carry::{CalibratedCircuit, CarriedFlow, Carrier, ChangedPad, FallBy, FilterThen};
pub use knobs::ParameterOf;
pub use verdict::HeadBy;

use crate::finding::{Finding, Matter, Place, Severity};
use crate::network::NetworkProblem;
use crate::pump_curve::pump_curve;
use crate::result::Analysis;
pub(crate) use budget::Narrowable;
use data::Data;
pub(crate) use forecast::{FlowForecast, Forecaster, HeadForecast};
use knobs::{Knobs, Unstated};
use line_up::LineUp;
use metrology::{Estimate, Fit, FitError, Prior, WeightedObservations, Weights, fit_closely};
use numerics::linear::Matrix;
use problem::{Problem, RowOf};
pub(crate) use prospects::{Asking, free_taps};
use records::{Site, Tap, Test};
use taps::usual_tap;

/// How close to the most probable numbers the search comes, in standard uncertainties: first roughly, then, with the weights of the
/// readings made anew from what the circuit says, as close as any answer is read.
const ROUGH_U: f64 = 1e-1;
const CLOSE_U: f64 = 1e-3;

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
    /// What was read.
    pub on: ReadOn,
    /// Read less computed, m; of a flow in one line, its logarithm.
    pub residual: f64,
    /// The same in standard uncertainties of the reading.
    pub normalized: f64,
}

/// What a calibrated circuit is held against.
#[derive(Clone, Debug, PartialEq)]
pub enum ReadOn {
    /// A gauge, by its tap.
    Gauge(Tap),
    /// A flow meter on one line.
    Branch(String),
    /// The maker's curve: its head against that of the circuit.
    Curve,
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
    Ok(calibrate_openly(site, tests, analysis, speed_rpm)?.calibration)
}

/// A calibration with what is behind it.
pub(crate) struct OpenCalibration {
    /// The calibration.
    pub(crate) calibration: Calibration,
    /// The numbers of its budget that a reading to come may narrow.
    pub(crate) narrowable: Vec<Narrowable>,
    problem: Problem,
    fitted: Fit,
}

impl OpenCalibration {
    /// The covariance of the sought numbers.
    pub(crate) fn covariance(&self) -> &Matrix {
        &self.fitted.covariance
    }
}

/// Calibrates as [`calibrate`] does, and keeps what is behind it.
pub(crate) fn calibrate_openly(
    site: &Site,
    tests: &[Test],
    analysis: &Analysis,
    speed_rpm: f64,
) -> Result<OpenCalibration, NotCalibrated> {
    let (problem, unstated) = gather(site, tests, analysis)?;
    let fitted = fitted(&problem)?;
    let (budget, narrowable) = budget::budget(site, analysis, &problem, &fitted, speed_rpm)?;
    let parameters = parameters(&problem, &fitted);
    let mut calibration = Calibration {
        fits: fits(site, &problem, &fitted),
        chi_squared: fitted.chi_squared,
        dof: problem.rows.len(),
        assumed: unstated.assumed,
        left_out: unstated.left_out,
        findings: Vec::new(),
        parameters,
        budget,
    };
    calibration.findings = verdict::findings(site, &problem, &fitted, &calibration, analysis);
    Ok(OpenCalibration {
        calibration,
        narrowable,
        problem,
        fitted,
    })
}

/// Finds the speed of the fastest step of the last test, where there is something to calibrate by: the site states lines, and a
/// gauge or a meter on one line was read. `None` where there is not.
pub fn speed_to_calibrate(site: &Site, tests: &[Test], analysis: &Analysis) -> Option<f64> {
    let mut columns = tests.iter().flat_map(|test| &test.readings.columns);
    let gauged = columns.any(|column| usual_tap(column.measured).is_some());
    let branched = site.meters.iter().any(|meter| meter.on.is_some());
    if site.lines.is_empty() || !(gauged || branched) {
        return None;
    }
    Some(analysis.tests.last()?.steps.last()?.speed_rpm)
}

/// Says that a circuit is not calibrated, and why.
pub fn not_calibrated(problem: NotCalibrated) -> Finding {
    Finding {
        severity: Severity::Note,
        place: Place::default(),
        matter: Matter::NotCalibrated(Box::new(problem)),
    }
}

/// Finds the test whose filter another one found: the first of the same day and condition, since a filter loads in days and not
/// between two line-ups of one visit.
fn media_of(tests: &[Test], index: usize) -> &Test {
    let test = &tests[index];
    let day = |test: &Test| test.head.date.and_then(|stated| stated.date);
    let same = |other: &&Test| {
        day(other).is_some()
            && day(other) == day(test)
            && other.head.condition.filter == test.head.condition.filter
    };
    tests[..index].iter().find(same).unwrap_or(test)
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
        let media_of = media_of(tests, index);
        let (line_up, of_test) =
            LineUp::of(site, (test, media_of), &mut knobs).map_err(NotCalibrated::Network)?;
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
pub(crate) fn fitted(problem: &Problem) -> Result<Fit, NotCalibrated> {
    let round = |start: &[f64], close_u: f64| {
        let covariance = problem.covariance(start);
        let weights = Weights::from_covariance(&covariance).map_err(FitError::from);
        let weights = weights.map_err(NotCalibrated::Unsettled)?;
        search(problem, weights, (start, close_u))
    };
    let rough = round(&problem.start(), ROUGH_U)?;
    round(&rough.parameters, CLOSE_U)
}

/// Searches for the most probable numbers with given weights of the readings.
pub(crate) fn fitted_with(
    problem: &Problem,
    weights: Weights,
    start: &[f64],
) -> Result<Fit, NotCalibrated> {
    search(problem, weights, (start, CLOSE_U))
}

fn search(problem: &Problem, weights: Weights, start: (&[f64], f64)) -> Result<Fit, NotCalibrated> {
    let rows: Vec<f64> = (0_u32..)
        .zip(&problem.rows)
        .map(|(row, _)| f64::from(row))
        .collect();
    let priors: Vec<Option<Prior>> = problem.knobs.priors.iter().copied().map(Some).collect();
    let observations = WeightedObservations {
        x: &rows,
        y: &problem.read_m,
        weights,
    };
    fit_closely(problem, observations, start, &priors).map_err(NotCalibrated::Unsettled)
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

fn fits(site: &Site, problem: &Problem, fitted: &Fit) -> Vec<HeadFit> {
    let covariance = problem.covariance(&fitted.parameters);
    let line_ups = problem.line_ups().borrow();
    let fit = |(index, row): (usize, &problem::Row)| {
        let step = &problem.data.steps[row.step];
        let residual = fitted.residuals[index];
        HeadFit {
            test: line_ups[step.test].test.clone(),
            speed_rpm: step.speed_rpm,
            on: match row.of {
                RowOf::Gauge(gauge) => ReadOn::Gauge(problem.data.gauges[gauge].tap),
                RowOf::Branch(branch) => {
                    let line = problem.data.branches[branch].line;
                    ReadOn::Branch(site.lines[line].name.clone())
                }
                RowOf::Curve => ReadOn::Curve,
            },
            residual,
            normalized: residual / covariance[(index, index)].sqrt(),
        }
    };
    problem.rows.iter().enumerate().map(fit).collect()
}
