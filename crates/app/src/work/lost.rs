//! Where the head is lost, at any speed: the calibrated budget in words, on the drawn circuit and as shares.

use super::{Answer, Drawn, Given, Known, Lost, Refused, Told};
use crate::parts::{Part, parts};
use charts::Theme;
use document::content::{self, Block};
use fieldtest::{
    Analysis, Calibration, Finding, Learning, NotLearnt, calibrate_to_learn, not_calibrated,
};
use records::Site;
use serde::{Deserialize, Serialize};

/// What a line takes of the power that the pump gives.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Share {
    /// The line.
    pub line: String,
    /// The share in words.
    pub says: String,
    /// The lower end of its interval, the share and the upper end, of 1.
    pub span: (f64, f64, f64),
}

/// Answers at a speed; without one, at the fastest step that was tested.
pub(super) fn lost(given: Given<'_>, speed_rpm: Option<f64>) -> Answer {
    let Known {
        site,
        tests,
        analysis,
    } = given.known;
    let at_rpm = speed_rpm.unwrap_or_else(|| usual_speed(given.known));
    match calibrate_to_learn(site, tests, analysis, (at_rpm, None)) {
        Ok((calibration, learning)) => {
            let learning = learning.as_ref();
            Answer::Lost(Box::new(Lost {
                told: told(given, &calibration, learning),
                shares: shares(given, &calibration),
                speed_rpm: at_rpm,
                range_rpm: range(site),
            }))
        }
        Err(problem) => refused(given, not_calibrated(problem)),
    }
}

fn usual_speed(known: &Known) -> f64 {
    let steps = known
        .analysis
        .tests
        .last()
        .and_then(|test| test.steps.last());
    steps.map_or(known.site.pump.speed.max.si, |step| step.speed_rpm)
}

fn range(site: &Site) -> (f64, f64) {
    let speed = &site.pump.speed;
    (speed.min.as_ref().map_or(0.0, |min| min.si), speed.max.si)
}

fn told(
    given: Given<'_>,
    calibration: &Calibration,
    learning: Result<&Learning, &NotLearnt>,
) -> Told {
    let Known { site, analysis, .. } = given.known;
    let mut blocks = content::lost(site, (calibration, learning), given.printing);
    blocks.extend(findings(given, calibration.findings.clone()));
    let drawing = document::circuit::lost(site, &calibration.budget, given.printing);
    let svg = drawing.and_then(|drawing| drawing.svg(Theme::Light, given.room.into()));
    let mut with_findings = analysis.clone();
    with_findings.add_findings(calibration.findings.clone());
    let found = (calibration, learning.ok());
    Told {
        parts: parts(blocks),
        figures: svg
            .into_iter()
            .map(|svg| Drawn {
                name: "lost".to_owned(),
                svg,
            })
            .collect(),
        json: document::json::analysis_with_budget(&with_findings, site, found, given.printing),
    }
}

/// What the calibration has to say, such as what the readings cannot tell apart.
fn findings(given: Given<'_>, findings: Vec<Finding>) -> Vec<Block> {
    if findings.is_empty() {
        return Vec::new();
    }
    let alone = Analysis {
        findings,
        ..given.known.analysis.clone()
    };
    content::check(&alone, given.printing)
}

fn refused(given: Given<'_>, finding: Finding) -> Answer {
    let blocks = findings(given, vec![finding]);
    let found = parts(blocks).into_iter().find_map(|part| match part {
        Part::Finding(finding) => Some(finding),
        _ => None,
    });
    Answer::Refused(found.map_or_else(Refused::default, |finding| Refused {
        says: finding.says,
        hint: Some(finding.action),
        lies_in_site: false,
    }))
}

/// The share of each line, the greatest first, in the words of the drawing.
fn shares(given: Given<'_>, calibration: &Calibration) -> Vec<Share> {
    let mut lines: Vec<_> = calibration.budget.lines.iter().collect();
    lines.retain(|line| line.share.value.abs() > 0.0);
    numerics::order::sort_by(&mut lines, |a, b| b.share.value.total_cmp(&a.share.value));
    let drawing = document::circuit::lost(&given.known.site, &calibration.budget, given.printing);
    let drawn = drawing.map(|drawing| drawing.lines).unwrap_or_default();
    lines
        .into_iter()
        .map(|line| Share {
            line: line.line.clone(),
            says: drawn
                .iter()
                .find(|drawn| drawn.name == line.line)
                .map(|drawn| drawn.values.clone())
                .unwrap_or_default(),
            span: (
                as_drawn(line.share.low),
                as_drawn(line.share.value),
                as_drawn(line.share.high),
            ),
        })
        .collect()
}

/// A share as fine as a bar can be drawn.
fn as_drawn(share: f64) -> f64 {
    (1e4 * share).round() / 1e4
}
