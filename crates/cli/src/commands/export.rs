//! `export`: a site and its tests in one zip file, exactly as typed.

use crate::arguments::ExportArguments;
use crate::failure::Failure;
use crate::{files, output};
use records::{
    Bundle, BundleError, Problem, SITE_FILE, Source, TestFiles, is_change_file, told, write_bundle,
};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Runs the command.
pub(crate) fn run(arguments: &ExportArguments) -> Result<ExitCode, Failure> {
    let (site, tests) = files::pad(&arguments.site, &arguments.tests)?;
    let path = &arguments.output;
    let changes = changes(&arguments.change)?;
    let bytes =
        write_bundle(&bundle(&site, &tests, &changes)).map_err(|error| refused(&error, &site))?;
    files::write_new_file(path, &bytes)?;
    let file = path.display();
    let count = match tests.len() {
        0 => "no test".to_owned(),
        1 => "1 test".to_owned(),
        many => format!("{many} tests"),
    };
    let count = match changes.len() {
        0 => format!("the site and {count}"),
        1 => format!("the site, {count} and 1 change"),
        many => format!("the site, {count} and {many} changes"),
    };
    output::print(&format!(
        "Wrote {file} with {count}. To take it out again:\n  headwright import {file} --into FOLDER\n"
    ))
}

/// Reads the files of changes, or says which are none.
fn changes(paths: &[PathBuf]) -> Result<Vec<Source>, Failure> {
    let (mut changes, mut problems) = (Vec::new(), Vec::new());
    for path in paths {
        match files::source(path) {
            Ok(source) if is_change_file(&source) => changes.push(source),
            Ok(source) => problems.push(Problem {
                file: source.name,
                line: 0,
                column: 0,
                message: told!("is no file of a change; expected one as `compare` takes it"),
                hint: Some(told!(
                    "it has a name, and a [[part]], a filter, a program or a capital"
                )),
            }),
            Err(problem) => problems.push(problem),
        }
    }
    if problems.is_empty() {
        Ok(changes)
    } else {
        Err(Failure::Input(problems))
    }
}

/// The files under the names that they have in a bundle.
fn bundle(site: &Source, tests: &[TestFiles], changes: &[Source]) -> Bundle {
    Bundle {
        site: Source {
            name: SITE_FILE.to_owned(),
            text: site.text.clone(),
        },
        tests: tests
            .iter()
            .map(|files| TestFiles {
                test: bare(&files.test),
                readings: files.readings.as_ref().map(bare),
            })
            .collect(),
        changes: changes.iter().map(bare).collect(),
    }
}

/// A source under its bare name: folders stay behind.
fn bare(source: &Source) -> Source {
    let name = Path::new(&source.name).file_name();
    Source {
        name: name.map_or_else(|| source.name.clone(), |name| name.to_string_lossy().into()),
        text: source.text.clone(),
    }
}

/// Says why there is no bundle. Tests have been read by now, so that problems of a text are the site's.
fn refused(error: &BundleError, site: &Source) -> Failure {
    let BundleError::Texts(problems) = error else {
        return Failure::Call {
            message: error.to_string(),
            hint: error.hint().map(|hint| hint.to_string()),
        };
    };
    let under_its_path = |problem: &Problem| Problem {
        file: if problem.file == SITE_FILE {
            site.name.clone()
        } else {
            problem.file.clone()
        },
        ..problem.clone()
    };
    Failure::Input(problems.iter().map(under_its_path).collect())
}
