//! The calibrated numbers of the pad of `validation/calibration/emcee`, with their standard uncertainties: a search and the
//! approximation about where it ends, beside a sampler of the same posterior.

use std::error::Error;
use std::hint::black_box;
use std::path::Path;

use fieldtest::{Parameter, ParameterOf, analyze, calibrate};
use numerics::elementary::ln;
use records::{Source, TestFiles, read_pad};
use serde_json::{Map, json};

use crate::{best_seconds, report};

/// The speed at which shares are asked for; the sampled numbers do not hang on it.
const SPEED_RPM: f64 = 3400.0;

const READINGS: &str = include_str!("../../../validation/calibration/emcee/readings.csv");

pub(crate) fn run(folder: &Path) -> Result<(), Box<dyn Error>> {
    let source = |name: &str, text: &str| Source {
        name: name.to_owned(),
        text: text.to_owned(),
    };
    let site = include_str!("../../../validation/calibration/emcee/site.toml");
    let files = TestFiles {
        test: source("first.toml", "format = 1\nreadings = \"first.csv\"\n"),
        readings: Some(source("first.csv", READINGS)),
    };
    let (site, tests) =
        read_pad(&source("site.toml", site), &[files]).map_err(|_| "the pad is not read")?;
    let analysis = analyze(&site, &tests);
    let found =
        calibrate(&site, &tests, &analysis, SPEED_RPM).map_err(|_| "the pad is not calibrated")?;
    let numbers = found.parameters.iter();
    let numbers: Map<_, _> = numbers
        .filter_map(|it| Some((name(&it.of)?, json!(mean_and_spread(it)))))
        .collect();
    std::fs::write(folder.join("posterior.json"), json!(numbers).to_string())?;
    std::fs::write(folder.join("posterior.csv"), READINGS)?;
    let seconds = best_seconds(|| {
        let _ = black_box(calibrate(black_box(&site), &tests, &analysis, SPEED_RPM));
    });
    report("posterior of a pad", "fieldtest::calibrate", seconds);
    Ok(())
}

/// Mean and standard deviation, of the logarithm where it is a factor.
fn mean_and_spread(it: &Parameter) -> [f64; 2] {
    let value = it.estimate.value;
    let mean = if it.of.is_factor() { ln(value) } else { value };
    [mean, it.left * it.prior.sd]
}

/// Names a number as the other side does.
fn name(of: &ParameterOf) -> Option<String> {
    match of {
        ParameterOf::Pipes { line } => Some(format!("pipes {line}")),
        ParameterOf::Fittings { line } => Some(format!("fittings {line}")),
        ParameterOf::Part { part: 0, .. } => Some("filter".to_owned()),
        ParameterOf::Part { .. } => Some("heater".to_owned()),
        ParameterOf::Media { .. } => Some("media".to_owned()),
        ParameterOf::Meter { column } => Some(column.rsplit(' ').next()?.to_owned()),
        _ => None,
    }
}
