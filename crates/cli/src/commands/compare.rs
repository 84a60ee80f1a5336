//! `compare`: a site, its tests and changes of the pad in, what each would save out.

use super::figures::Drawing;
use super::printing;
use super::schedule::refused;
use super::year::{Progress, asked};
use crate::arguments::CompareArguments;
use crate::failure::Failure;
use crate::{files, output};
use operation::AskedComparison;
use records::{Change, Site, read_changes, read_pad};
use std::path::PathBuf;
use std::process::ExitCode;

/// Runs the command.
pub(crate) fn run(arguments: &CompareArguments) -> Result<ExitCode, Failure> {
    let (source, test_files) = files::pad(&arguments.site, &arguments.tests)?;
    let (site, tests) = read_pad(&source, &test_files).map_err(Failure::Input)?;
    let changes = changes(&arguments.change, &site)?;
    let asked = AskedComparison {
        year: asked(&arguments.of, &tests)?,
        against: against(arguments.against.as_deref(), &changes)?,
    };
    let analysis = fieldtest::analyze(&site, &tests);
    let progress = Progress::new("pads planned");
    let comparison = operation::compare(&site, &tests, &analysis, &changes, &asked, |done, of| {
        progress.show(done, of);
    });
    progress.end();
    let printing = printing(arguments.answer.print, &site);
    let comparison = comparison
        .map_err(|no_year| refused(&source, document::alternatives::no_year(&no_year, printing)))?;
    let drawn = || {
        let figure = document::alternatives::figure(&site, &comparison, printing);
        figure.into_iter().map(Drawing::from).collect()
    };
    let nothing = "There is nothing to draw: nothing is known of any change.";
    super::figures::write(drawn, &arguments.figures, nothing)?;
    if arguments.answer.json {
        return output::print(&document::alternatives::json(&site, &comparison, printing));
    }
    output::blocks(
        &document::alternatives::content(&site, &comparison, printing),
        printing,
    )
}

/// Reads all changes, or all that is wrong in them.
pub(super) fn changes(paths: &[PathBuf], site: &Site) -> Result<Vec<Change>, Failure> {
    let (mut sources, mut problems) = (Vec::new(), Vec::new());
    for path in paths {
        match files::source(path) {
            Ok(source) => sources.push(source),
            Err(problem) => problems.push(problem),
        }
    }
    match read_changes(&sources, site) {
        Ok(changes) if problems.is_empty() => Ok(changes),
        found => {
            problems.extend(found.err().unwrap_or_default());
            Err(Failure::Input(problems))
        }
    }
}

/// Finds the change that savings are against.
fn against(name: Option<&str>, changes: &[Change]) -> Result<Option<usize>, Failure> {
    let Some(name) = name else { return Ok(None) };
    let found = changes.iter().position(|change| change.name == name);
    let names: Vec<String> = changes
        .iter()
        .map(|change| format!("\"{}\"", change.name))
        .collect();
    let index = found.ok_or_else(|| {
        Failure::call(
            format!("--against: no change is called \"{name}\""),
            format!("name one of these: {}", names.join(", ")),
        )
    })?;
    if changes[index].program.is_empty() {
        return Err(Failure::call(
            format!(
                "--against: \"{name}\" states no program, and savings are against a program that is run"
            ),
            "write program = [ { from = \"08:00\", to = \"16:00\", speed = \"2850 rpm\" } ] in it",
        ));
    }
    Ok(Some(index))
}
