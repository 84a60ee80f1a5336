//! `import`: the files of a bundle, taken out into a folder.

use crate::arguments::ImportArguments;
use crate::failure::Failure;
use crate::{files, output};
use records::{Bundle, MAX_BUNDLE_BYTES, read_bundle};
use std::collections::BTreeMap;
use std::process::ExitCode;

/// Runs the command.
pub(crate) fn run(arguments: &ImportArguments) -> Result<ExitCode, Failure> {
    let bytes = files::bytes_up_to(&arguments.bundle, MAX_BUNDLE_BYTES)
        .map_err(|problem| Failure::Input(vec![problem]))?;
    let name = arguments.bundle.display().to_string();
    let bundle = read_bundle(&bytes).map_err(|error| Failure::Input(error.problems(&name)))?;
    let files: Vec<(&str, &str)> = sources(&bundle).into_iter().collect();
    files::write_new(&arguments.into, &files)?;
    let folder = arguments.into.display();
    let mut said = format!("Wrote into {folder}:\n");
    for (name, _) in &files {
        said.push_str("  ");
        said.push_str(name);
        said.push('\n');
    }
    let tests: Vec<String> = bundle
        .tests
        .iter()
        .map(|files| format!(" {}", quoted(&format!("{folder}/{}", files.test.name))))
        .collect();
    let site = quoted(&format!("{folder}/{}", bundle.site.name));
    output::print(&format!(
        "{said}Next:\n  headwright check {site}{}\n",
        tests.concat()
    ))
}

/// The texts by their names; readings that two tests share stand there once.
fn sources(bundle: &Bundle) -> BTreeMap<&str, &str> {
    let tests = bundle.tests.iter().flat_map(|files| {
        let readings = files.readings.as_ref();
        std::iter::once(&files.test).chain(readings)
    });
    std::iter::once(&bundle.site)
        .chain(tests)
        .chain(&bundle.changes)
        .map(|source| (source.name.as_str(), source.text.as_str()))
        .collect()
}

/// A path as a shell takes it for one word.
fn quoted(path: &str) -> String {
    if path.contains(' ') {
        format!("\"{path}\"")
    } else {
        path.to_owned()
    }
}
