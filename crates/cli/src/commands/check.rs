//! `check`: the findings alone, and exit 1 when an error stands.

use super::printing;
use crate::arguments::PadArguments;
use crate::failure::Failure;
use crate::{files, output};
use fieldtest::Severity;
use records::read_pad;
use std::process::ExitCode;

/// Runs the command.
pub(crate) fn run(arguments: &PadArguments) -> Result<ExitCode, Failure> {
    let (site, tests) = files::pad(&arguments.site, &arguments.tests)?;
    let (site, tests) = read_pad(&site, &tests).map_err(Failure::Input)?;
    let analysis = fieldtest::analyze(&site, &tests);
    let printing = printing(arguments.answer.print, &site);
    if arguments.answer.json {
        output::print(&document::json::findings(&analysis, printing))?;
    } else {
        output::blocks(&document::content::check(&analysis, printing), printing)?;
    }
    let stands = analysis
        .findings
        .iter()
        .any(|finding| finding.severity == Severity::Error);
    Ok(ExitCode::from(u8::from(stands)))
}
