//! `track`: what changed between visits.

use super::figures::Drawing;
use super::printing;
use crate::arguments::TrackArguments;
use crate::failure::Failure;
use crate::{files, output};
use records::{Test, read_pad};
use std::path::Path;
use std::process::ExitCode;

/// Runs the command.
pub(crate) fn run(arguments: &TrackArguments) -> Result<ExitCode, Failure> {
    let (source, files) = files::pad(&arguments.site, &arguments.tests)?;
    let (site, tests) = read_pad(&source, &files).map_err(Failure::Input)?;
    let baseline = arguments.baseline.as_deref();
    let baseline = baseline.map_or(Ok(0), |name| place_of(name, &tests))?;
    let analysis = fieldtest::analyze(&site, &tests);
    let printing = printing(arguments.answer.print, &site);
    let found = fieldtest::follow_up(&site, &tests, &analysis, baseline).map_err(|why| {
        let (message, hint) = document::track::refusal(&why, printing);
        Failure::call(message, hint)
    })?;
    // A folder that cannot be written to is better told before a long answer than below it.
    let drawn = || {
        let figure = document::track::figure(&site, &found, printing);
        figure.into_iter().map(Drawing::from).collect()
    };
    let nothing = "There is nothing to draw: no visit is compared.";
    super::figures::write(drawn, &arguments.figures, nothing)?;
    if arguments.answer.json {
        return output::print(&document::track::json(&site, &found, printing));
    }
    output::blocks(&document::track::content(&site, &found, printing), printing)
}

/// Finds a test by its name, or by its file.
fn place_of(name: &str, tests: &[Test]) -> Result<usize, Failure> {
    let stem = Path::new(name)
        .file_stem()
        .map(|stem| stem.to_string_lossy());
    let is_named = |test: &Test| test.name == name || stem.as_deref() == Some(test.name.as_str());
    tests.iter().position(is_named).ok_or_else(|| {
        let known: Vec<&str> = tests.iter().map(|test| test.name.as_str()).collect();
        Failure::call(
            format!("--baseline: \"{name}\" is none of the tests"),
            format!("name one of: {}", known.join(", ")),
        )
    })
}
