//! From entries to a bundle: which file is the site, which are tests or changes, and whose readings the others are.
//!
//! The texts are read just far enough to know that: their syntax, their format number, and which readings they name.
//! All else that may be wrong in them travels along, to be mended where the bundle arrives.

use super::names::{Ending, ending};
use super::{Bundle, BundleError, Entry, SITE_FILE};
use crate::{Problem, Source, TestFiles, document, is_change_file, readings_file};
use std::collections::BTreeMap;

/// Files by their names.
type Files = BTreeMap<String, Source>;

/// What a test file says of the files around it.
struct Head {
    /// It describes a pump, which every site does and no test.
    is_site: bool,
    readings: Option<String>,
}

/// Puts entries of distinct names together to a bundle, in which no file is missing and none is left over.
pub(super) fn assemble(entries: Vec<Entry>) -> Result<Bundle, BundleError> {
    let (mut records, readings) = sorted_out(entries)?;
    let Some(site) = records.remove(SITE_FILE) else {
        return Err(BundleError::NoSite { near: None });
    };
    let mut problems = is_site(&site).err().unwrap_or_default();
    let mut tests = Vec::new();
    let (changes, records): (Vec<Source>, Vec<Source>) =
        records.into_values().partition(is_change_file);
    for test in records {
        match head(&test) {
            Ok(head) => tests.push((test, head)),
            Err(found) => problems.extend(found),
        }
    }
    if !problems.is_empty() {
        return Err(BundleError::Texts(problems));
    }
    let tests = tests
        .into_iter()
        .map(|(test, head)| with_readings(test, head, &readings))
        .collect::<Result<Vec<_>, _>>()?;
    match readings.into_values().find(|file| !is_named(file, &tests)) {
        Some(Source { name: entry, .. }) => Err(BundleError::Unnamed { entry }),
        None => Ok(Bundle {
            site,
            tests,
            changes,
        }),
    }
}

/// Parts the texts into those of sites and tests, and those of readings.
fn sorted_out(entries: Vec<Entry>) -> Result<(Files, Files), BundleError> {
    let (mut records, mut readings) = (Files::new(), Files::new());
    let mut problems = Vec::new();
    for Entry { name, bytes } in entries {
        match Source::from_bytes(&name, &bytes) {
            Err(problem) => problems.push(problem),
            Ok(source) if ending(&name) == Some(Ending::Csv) => {
                readings.insert(name, source);
            }
            Ok(source) => {
                records.insert(name, source);
            }
        }
    }
    if problems.is_empty() {
        Ok((records, readings))
    } else {
        Err(BundleError::Texts(problems))
    }
}

fn is_site(source: &Source) -> Result<bool, Vec<Problem>> {
    document::read_any(source, |root| Some(root.has("pump")))
}

fn head(test: &Source) -> Result<Head, Vec<Problem>> {
    let is_site = is_site(test)?;
    let readings = if is_site { None } else { readings_file(test)? };
    Ok(Head { is_site, readings })
}

/// A test with the readings that it names.
fn with_readings(test: Source, head: Head, files: &Files) -> Result<TestFiles, BundleError> {
    if head.is_site {
        return Err(BundleError::SecondSite { entry: test.name });
    }
    let readings = match head.readings {
        None => None,
        Some(name) => match files.get(&name) {
            Some(found) => Some(found.clone()),
            None => {
                return Err(BundleError::NoReadings {
                    test: test.name,
                    readings: name,
                });
            }
        },
    };
    Ok(TestFiles { test, readings })
}

fn is_named(file: &Source, tests: &[TestFiles]) -> bool {
    let names_it = |files: &TestFiles| {
        let readings = files.readings.as_ref();
        readings.is_some_and(|readings| readings.name == file.name)
    };
    tests.iter().any(names_it)
}
