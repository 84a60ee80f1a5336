//! From entries to a bundle: which file is the site, which are tests, and whose readings the others are.
//!
//! The texts are read just far enough to know that: their syntax, their format number, and which readings they name.
//! All else that may be wrong in them travels along, to be mended where the bundle arrives.

use super::names::{Ending, ending};
use super::{Bundle, BundleError, Entry, SITE_FILE};
use crate::{Problem, Source, TestFiles, document, readings_file};
use std::collections::{BTreeMap, BTreeSet};

/// Files by their names.
type Files = BTreeMap<String, Source>;

/// Puts entries of distinct names together to a bundle, in which no file is missing and none is left over.
pub(super) fn assemble(entries: Vec<Entry>) -> Result<Bundle, BundleError> {
    let (mut tests, readings) = sorted_out(entries)?;
    let Some(site) = tests.remove(SITE_FILE) else {
        return Err(BundleError::NoSite { near: None });
    };
    let mut problems = Vec::new();
    note(is_site(&site), &mut problems);
    let mut named = BTreeSet::new();
    let mut assembled = Vec::new();
    for test in tests.into_values() {
        match note(is_site(&test), &mut problems) {
            None => continue,
            Some(true) => return Err(BundleError::SecondSite { entry: test.name }),
            Some(false) => {}
        }
        let Some(name) = note(readings_file(&test), &mut problems) else {
            continue;
        };
        let readings = name
            .map(|name| readings_of(&test, name, &readings, &mut named))
            .transpose()?;
        assembled.push(TestFiles { test, readings });
    }
    if !problems.is_empty() {
        return Err(BundleError::Texts(problems));
    }
    match readings.into_keys().find(|name| !named.contains(name)) {
        Some(entry) => Err(BundleError::Unnamed { entry }),
        None => Ok(Bundle {
            site,
            tests: assembled,
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

/// Whether a text describes a pump, which every site does and no test.
fn is_site(source: &Source) -> Result<bool, Vec<Problem>> {
    document::read(source, |root| Some(root.get("pump").is_some()))
}

fn note<T>(read: Result<T, Vec<Problem>>, problems: &mut Vec<Problem>) -> Option<T> {
    read.map_err(|found| problems.extend(found)).ok()
}

fn readings_of(
    test: &Source,
    name: String,
    readings: &Files,
    named: &mut BTreeSet<String>,
) -> Result<Source, BundleError> {
    match readings.get(&name) {
        Some(found) => {
            named.insert(name);
            Ok(found.clone())
        }
        None => Err(BundleError::NoReadings {
            test: test.name.clone(),
            readings: name,
        }),
    }
}
