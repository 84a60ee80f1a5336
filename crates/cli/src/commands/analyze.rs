//! `analyze`: a site and its tests in, the answer out.

use super::printing;
use crate::arguments::{AnalyzeArguments, AnswerArguments};
use crate::failure::Failure;
use crate::{files, output};
use records::{Source, TestFiles, read_pad};
use std::process::ExitCode;

/// Runs the command.
pub(crate) fn run(arguments: &AnalyzeArguments) -> Result<ExitCode, Failure> {
    let (site, tests) = files::pad(&arguments.site, &arguments.tests)?;
    answer(&site, &tests, arguments.answer)
}

/// Analyses sources and prints the answer.
pub(crate) fn answer(
    site: &Source,
    tests: &[TestFiles],
    how: AnswerArguments,
) -> Result<ExitCode, Failure> {
    let (site, tests) = read_pad(site, tests).map_err(Failure::Input)?;
    let analysis = fieldtest::analyze(&site, &tests);
    let printing = printing(how, &site);
    if how.json {
        output::print(&document::json::analysis(&analysis, &site, printing))
    } else {
        output::blocks(&document::content::analysis(
            &site, &tests, &analysis, printing,
        ))
    }
}
