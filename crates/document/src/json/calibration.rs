//! The calibrated circuit under the names of the contract.

use super::E;
use super::MACHINE;
use crate::parts;
use crate::words::calibration::{name, on_words};
use crate::words::learning;
use fieldtest::{Answer, Calibration, Learning, NextReading, ReadOn, ReadingToCome};
use records::{Site, Tap};
use serde::Serialize;

#[derive(Serialize)]
pub(super) struct BudgetJson {
    line: Option<String>,
    part: String,
    head_m: Option<E>,
    share: E,
}

#[derive(Serialize)]
pub(super) struct CalibrationJson {
    at_speed_rpm: f64,
    closed: Vec<String>,
    flow_m3s: E,
    head_m: E,
    sections: Vec<SectionJson>,
    chi_squared: f64,
    degrees_of_freedom: usize,
    parameters: Vec<ParameterJson>,
    heads: Vec<HeadJson>,
    next_readings: Vec<NextJson>,
}

#[derive(Serialize)]
struct NextJson {
    reading: String,
    narrows: Vec<String>,
    left: f64,
}

#[derive(Serialize)]
pub(crate) struct LearningJson {
    answer: String,
    now: E,
    weighed: usize,
    readings: Vec<ToComeJson>,
}

#[derive(Serialize)]
struct ToComeJson {
    reading: String,
    tap: Option<Tap>,
    shut: Option<String>,
    speeds_rpm: Vec<f64>,
    left: f64,
    says: String,
}

/// Puts what readings to come would tell under the names of the contract.
pub(crate) fn learning_of(site: &Site, learning: &Learning) -> LearningJson {
    let reading = |next: &NextReading| {
        let (tap, shut, speeds_rpm) = match &next.reading {
            ReadingToCome::Gauge(tap) => (Some(*tap), None, Vec::new()),
            ReadingToCome::LineUp { shut, steps_rpm } => {
                (None, Some(shut.clone()), steps_rpm.clone())
            }
            ReadingToCome::Speed(speed) | ReadingToCome::Again(speed) => (None, None, vec![*speed]),
            ReadingToCome::Standby => (None, None, vec![0.0]),
        };
        ToComeJson {
            reading: learning::reading(&next.reading, MACHINE),
            tap,
            shut,
            speeds_rpm,
            left: next.left,
            says: learning::says(site, learning, next, MACHINE),
        }
    };
    LearningJson {
        answer: learning::answer(site, &learning.answer, MACHINE),
        now: learning.now.into(),
        weighed: learning.weighed,
        readings: learning.readings.iter().map(reading).collect(),
    }
}

/// The lines of which an answer tells the share.
fn lines_of(site: &Site, answer: &Answer) -> Vec<String> {
    match answer {
        Answer::Lines(lines) => lines.clone(),
        Answer::Part { line, .. } => vec![line.clone()],
        other => vec![learning::answer(site, other, MACHINE)],
    }
}

#[derive(Serialize)]
struct SectionJson {
    lines: Vec<String>,
    share: E,
}

#[derive(Serialize)]
struct ParameterJson {
    of: String,
    is_factor: bool,
    estimate: E,
    prior_mean: f64,
    prior_sd: f64,
    left_of_prior: f64,
}

#[derive(Serialize)]
struct HeadJson {
    test: String,
    speed_rpm: f64,
    on: String,
    /// Of a head, m.
    residual_m: Option<f64>,
    /// Of a flow in one line, as a share.
    residual_share: Option<f64>,
    normalized: f64,
}

/// Lists what each part takes; with the lift, the shares sum to 1.
pub(super) fn budget_of(site: &Site, calibration: &Calibration) -> Vec<BudgetJson> {
    let budget = &calibration.budget;
    let mut rows = Vec::new();
    for (line, stated) in budget.lines.iter().zip(&site.lines) {
        rows.extend(line.parts.iter().map(|part| {
            BudgetJson {
                line: Some(line.line.clone()),
                part: part
                    .part
                    .and_then(|index| stated.parts.get(index))
                    .map_or_else(
                        || "part-open valve".to_owned(),
                        |part| parts::name(part, MACHINE),
                    ),
                head_m: Some(part.head_m.into()),
                share: part.share.into(),
            }
        }));
    }
    for line in &budget.lines {
        rows.extend(line.tees.iter().map(|tee| BudgetJson {
            line: Some(line.line.clone()),
            part: parts::tee_at(&tee.at, MACHINE),
            head_m: Some(tee.head_m.into()),
            share: tee.share.into(),
        }));
    }
    rows.extend(budget.lift_share.map(|share| BudgetJson {
        line: None,
        part: "lift".to_owned(),
        head_m: None,
        share: share.into(),
    }));
    rows
}

pub(super) fn calibration_of(
    site: &Site,
    calibration: &Calibration,
    learning: Option<&Learning>,
) -> CalibrationJson {
    let budget = &calibration.budget;
    let sections = budget.sections.iter().map(|(lines, share)| SectionJson {
        lines: lines.clone(),
        share: (*share).into(),
    });
    let parameters = calibration.parameters.iter().map(|it| ParameterJson {
        of: name(&it.of, MACHINE),
        is_factor: it.of.is_factor(),
        estimate: it.estimate.into(),
        prior_mean: it.prior.mean,
        prior_sd: it.prior.sd,
        left_of_prior: it.left,
    });
    let heads = calibration.fits.iter().map(|fit| {
        let of_flow = matches!(fit.on, ReadOn::Branch(_));
        HeadJson {
            test: fit.test.clone(),
            speed_rpm: fit.speed_rpm,
            on: on_words(&fit.on, MACHINE),
            residual_m: (!of_flow).then_some(fit.residual),
            residual_share: of_flow.then_some(fit.residual),
            normalized: fit.normalized,
        }
    });
    CalibrationJson {
        at_speed_rpm: budget.speed_rpm,
        closed: budget.closed.clone(),
        flow_m3s: budget.flow_m3s.into(),
        head_m: budget.head_m.into(),
        sections: sections.collect(),
        chi_squared: calibration.chi_squared,
        degrees_of_freedom: calibration.dof,
        parameters: parameters.collect(),
        heads: heads.collect(),
        next_readings: learning.map_or_else(Vec::new, |learning| {
            let next = learning.readings.iter().map(|next| NextJson {
                reading: learning::reading(&next.reading, MACHINE),
                narrows: lines_of(site, &learning.answer),
                left: next.left,
            });
            next.collect()
        }),
    }
}
