//! What a calibration has to say: what the readings could not tell, what does not fit, and which heads contradict one another.

use super::problem::{Problem, RowOf};
use super::{Calibration, Parameter, ParameterOf};
use crate::finding::{Finding, Matter, Place, Severity};
use crate::result::Analysis;
use metrology::{Estimate, Fit};
use records::{Part, Site, Tap};

/// A number is told where at most this part of what it was uncertain by before is left.
const TOLD: f64 = 0.7;
/// Two numbers that are alike beyond this, with opposite sign, are told together only.
const TOGETHER: f64 = -0.9;
/// A number further than this from what was expected, in standard deviations of that, is said.
const STRAINED: f64 = 3.0;
/// A sum of squares whose normal equivalent is beyond this does not fit.
const MISFIT_Z: f64 = 3.0;
/// Two heads further apart than this, in standard uncertainties of the difference, disagree.
const DISAGREE: f64 = 2.0;

/// A head by which way it is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeadBy {
    /// Gauges on both sides of the pump.
    Gauges,
    /// The maker's curve at the flow and speed.
    Curve,
    /// The plumbing as it is stated, at the flow.
    Plumbing,
}

/// Lists what there is to say.
pub(super) fn findings(
    site: &Site,
    problem: &Problem,
    fitted: &Fit,
    calibration: &Calibration,
    analysis: &Analysis,
) -> Vec<Finding> {
    let mut matters = Vec::new();
    let gauged = |tap: Tap| problem.data.gauges.iter().any(|gauge| gauge.tap == tap);
    if problem.data.gauges.is_empty() {
        matters.push((Severity::Warning, Matter::NoGauge));
    } else if ![Tap::PumpPot, Tap::SuctionPipe].into_iter().any(gauged) {
        matters.push((Severity::Note, Matter::NoInletGauge));
    }
    matters.extend(misfit(calibration));
    matters.extend(strained(&calibration.parameters));
    matters.extend(untold(fitted, &calibration.parameters));
    if !calibration.assumed.is_empty() || !calibration.left_out.is_empty() {
        let named = |parts: &[(String, usize)]| -> Vec<(String, Part)> {
            let part = |(line, index): &(String, usize)| {
                let mut lines = site.lines.iter();
                let line = lines.find(|stated| stated.name == *line)?;
                Some((line.name.clone(), line.parts.get(*index)?.clone()))
            };
            parts.iter().filter_map(part).collect()
        };
        matters.push((
            Severity::Note,
            Matter::UnstatedDrops {
                assumed: named(&calibration.assumed),
                left_out: named(&calibration.left_out),
            },
        ));
    }
    let mut findings: Vec<Finding> = matters
        .into_iter()
        .map(|(severity, matter)| Finding {
            severity,
            place: Place::default(),
            matter,
        })
        .collect();
    findings.extend(disagreement(problem, analysis));
    findings
}

/// Says that what is left over is more than the stated uncertainties allow.
///
/// # Source
/// E. Wilson, M. Hilferty, "The distribution of chi-square", Proc. Natl. Acad. Sci. 17 (1931) 684-688: the cube root of χ²/ν is
/// nearly normal about 1 − 2/(9ν) with variance 2/(9ν).
fn misfit(calibration: &Calibration) -> Option<(Severity, Matter)> {
    let dof = calibration.dof as f64;
    let spread = 2.0 / (9.0 * dof);
    let root = numerics::elementary::pow(calibration.chi_squared / dof, 1.0 / 3.0);
    let worst = calibration
        .fits
        .iter()
        .max_by(|a, b| a.normalized.abs().total_cmp(&b.normalized.abs()))?;
    ((root - (1.0 - spread)) / spread.sqrt() > MISFIT_Z).then(|| {
        let matter = Matter::HeadsMisfit {
            scatter: (calibration.chi_squared / dof).sqrt(),
            worst: Box::new(worst.clone()),
        };
        (Severity::Warning, matter)
    })
}

/// Says which parts take far more or far less than was stated.
fn strained(parameters: &[Parameter]) -> Option<(Severity, Matter)> {
    let far = |it: &&Parameter| it.of.is_factor() && it.strain.abs() > STRAINED;
    let mut strained: Vec<&Parameter> = parameters.iter().filter(far).collect();
    numerics::order::sort_by(&mut strained, |a, b| {
        b.strain.abs().total_cmp(&a.strain.abs())
    });
    let parts = strained.into_iter().map(|it| (it.of.clone(), it.estimate));
    let parts: Vec<_> = parts.collect();
    (!parts.is_empty()).then_some((Severity::Warning, Matter::UnlikeStated { parts }))
}

/// Says what the readings did not tell.
fn untold(fitted: &Fit, parameters: &[Parameter]) -> Option<(Severity, Matter)> {
    let counts = |parameter: &&Parameter| parameter.of.is_factor();
    let unknown: Vec<ParameterOf> = parameters
        .iter()
        .filter(counts)
        .filter(|parameter| parameter.left > TOLD)
        .map(|parameter| parameter.of.clone())
        .collect();
    let c = &fitted.covariance;
    let mut together = Vec::new();
    for (i, a) in parameters.iter().enumerate() {
        for (j, b) in parameters.iter().enumerate().skip(i + 1) {
            let alike = c[(i, j)] / (c[(i, i)] * c[(j, j)]).sqrt();
            if alike < TOGETHER && counts(&a) && counts(&b) {
                together.push((a.of.clone(), b.of.clone()));
            }
        }
    }
    if unknown.is_empty() && together.is_empty() {
        return None;
    }
    Some((Severity::Note, Matter::PartsNotTold { unknown, together }))
}

/// Finds the step at which two of gauges, curve and stated plumbing disagree most.
fn disagreement(problem: &Problem, analysis: &Analysis) -> Option<Finding> {
    let mut worst: Option<(f64, Finding)> = None;
    let start = problem.start();
    for (index, row) in problem.rows.iter().enumerate() {
        if row.of != RowOf::Curve {
            continue;
        }
        let step = &problem.data.steps[row.step];
        let heads = heads(problem, &start, index, analysis);
        for (i, a) in heads.iter().enumerate() {
            for b in &heads[i + 1..] {
                let u = (a.1.u * a.1.u + b.1.u * b.1.u).sqrt();
                let apart = (a.1.value - b.1.value).abs() / u;
                if apart <= DISAGREE || worst.as_ref().is_some_and(|(most, _)| apart <= *most) {
                    continue;
                }
                let finding = Finding {
                    severity: Severity::Warning,
                    place: Place {
                        test: analysis.tests.get(step.test).map(|test| test.name.clone()),
                        steps_rpm: vec![step.speed_rpm],
                        ..Place::default()
                    },
                    matter: Matter::HeadsDisagree { heads: [*a, *b] },
                };
                worst = Some((apart, finding));
            }
        }
    }
    worst.map(|(_, finding)| finding)
}

/// Lists the heads of a step that has a curve, each by its own way.
fn heads(
    problem: &Problem,
    start: &[f64],
    row: usize,
    analysis: &Analysis,
) -> Vec<(HeadBy, Estimate)> {
    let step = &problem.data.steps[problem.rows[row].step];
    let of_step = analysis.tests.get(step.test).and_then(|test| {
        let mut steps = test.steps.iter();
        steps.find(|it| it.speed_rpm.to_bits() == step.speed_rpm.to_bits())
    });
    let mut heads = Vec::new();
    heads.extend(of_step.and_then(|step| Some((HeadBy::Gauges, step.head_m?))));
    let said = problem.said(start);
    let columns = start.len();
    let slopes = &said.slopes[row * columns..(row + 1) * columns];
    let (plumbing_m, curve_m) = (said.lost_m[row], said.lost_m[row] - said.heads_m[row]);
    let flow_u_ln = (step.own_u_ln * step.own_u_ln + step.common_u_ln * step.common_u_ln).sqrt();
    let by_parts: f64 = (0..columns)
        .filter(|knob| problem.knobs.of[*knob].is_resistance())
        .map(|knob| slopes[knob] * problem.knobs.priors[knob].sd)
        .map(|u| u * u)
        .sum();
    let pump = problem
        .knobs
        .of
        .iter()
        .position(|of| *of == ParameterOf::PumpHead);
    let by_pump = pump.map_or(0.0, |knob| slopes[knob] * problem.knobs.priors[knob].sd);
    // The flow moves both; the plumbing far more than a curve, so all of it stands with the plumbing.
    let by_flow = said.flow_slopes[row] * flow_u_ln;
    let plumbing_u = (by_parts + by_flow * by_flow).sqrt();
    heads.extend(Estimate::normal(curve_m, by_pump.abs()).map(|head| (HeadBy::Curve, head)));
    heads.extend(Estimate::normal(plumbing_m, plumbing_u).map(|head| (HeadBy::Plumbing, head)));
    heads
}
