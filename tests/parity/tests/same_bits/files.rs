//! The pads that stand in folders of the project: the examples, and the gallery of wrong inputs.

use std::fs;
use std::path::{Path, PathBuf};

use parity::{Request, TestTexts};
use records::{Source, readings_file};

use crate::Case;

/// The site of a folder that holds only tests.
const LEAST_SITE: &str = "format = 1\nname = \"Least\"\n[pump]\nspeed = { max = \"3450 rpm\" }\n";

/// Gives the pads of a folder: each with all its tests and, where it has several, with each alone.
///
/// A folder with a file that is no UTF-8 text is left out: a request is text.
pub(crate) fn cases(folder: &str) -> Vec<Case> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../..")
        .join(folder);
    sorted(&folder)
        .iter()
        .filter(|entry| entry.is_dir())
        .flat_map(|pad| pad_cases(pad).unwrap_or_default())
        .collect()
}

fn pad_cases(pad: &Path) -> Option<Vec<Case>> {
    let site = pad.join("site.toml");
    let site_text = if site.exists() {
        text(&site)?
    } else {
        LEAST_SITE.to_owned()
    };
    let tests = sorted(pad)
        .iter()
        .filter(|file| {
            file.extension()
                .is_some_and(|extension| extension == "toml")
                && **file != site
        })
        .map(|file| test(file))
        .collect::<Option<Vec<_>>>()?;
    let case = |name: String, tests: &[TestTexts]| Case {
        name,
        request: Request {
            site: site_text.clone(),
            tests: tests.to_vec(),
        },
    };
    let pad = pad.file_name()?.to_string_lossy();
    let mut cases = vec![case(pad.to_string(), &tests)];
    if tests.len() > 1 {
        cases.extend(
            tests
                .iter()
                .map(|test| case(format!("{pad}, {}", test.name), std::slice::from_ref(test))),
        );
    }
    Some(cases)
}

/// The files of a test, the readings being where the test file says.
fn test(file: &Path) -> Option<TestTexts> {
    let test = text(file)?;
    let name = file.file_stem()?.to_string_lossy().into_owned();
    let source = Source {
        name: name.clone(),
        text: test.clone(),
    };
    let readings = readings_file(&source)
        .ok()
        .flatten()
        .map(|readings| file.with_file_name(readings));
    let readings = match readings.filter(|readings| readings.exists()) {
        Some(readings) => Some(text(&readings)?),
        None => None,
    };
    Some(TestTexts {
        name,
        test,
        readings,
    })
}

fn text(file: &Path) -> Option<String> {
    String::from_utf8(fs::read(file).unwrap()).ok()
}

fn sorted(folder: &Path) -> Vec<PathBuf> {
    let mut entries: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    entries.sort();
    entries
}
