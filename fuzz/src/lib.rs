//! What must hold for any bytes that are given to the readers of files.
//!
//! Each check reads the bytes, which may not panic. A refusal says at least one thing, at a place in the text.
//! What reads cleanly is written and read again, and must be the same record. The fuzz targets call these checks
//! with random bytes, and `xtask/tests/corpus.rs` with the files of the corpus.

use records::{Problem, Source, Test};
use records::{check_test, read_bundle, read_pad, read_readings, read_site, read_test};
use records::{write_bundle, write_readings, write_site, write_test};

/// The line between the two files of the input of [`test`].
const BETWEEN_FILES: &[u8] = b"\n=== readings ===\n";

/// The site that tests are checked against.
const SITE: &str = "format = 1\nname = \"Fuzz\"\n[pump]\nspeed = { max = \"3450 rpm\" }\n\
    [[meter]]\nid = \"A\"\nmeasures = \"flow\"\n";

/// What became of the bytes; a check that fails panics instead.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// They were refused, and it was said why.
    Refused,
    /// They were read, written and read again.
    Survived,
}

/// Reads the bytes as a site file.
pub fn site(bytes: &[u8]) -> Outcome {
    let Some(source) = source("site.toml", bytes) else {
        return Outcome::Refused;
    };
    match read_site(&source) {
        Err(problems) => refused(&problems, &[&source]),
        Ok(site) => {
            let written = write_site(&site);
            let again = read_site(&named("site.toml", &written));
            assert_eq!(again, Ok(site), "written as:\n{written}");
            Outcome::Survived
        }
    }
}

/// Reads the bytes as a table of readings.
pub fn readings(bytes: &[u8]) -> Outcome {
    let Some(source) = source("readings.csv", bytes) else {
        return Outcome::Refused;
    };
    match read_readings(&source) {
        Err(problems) => refused(&problems, &[&source]),
        Ok(readings) => {
            let written = write_readings(&readings);
            let again = read_readings(&named("readings.csv", &written));
            assert_eq!(again, Ok(readings), "written as:\n{written}");
            Outcome::Survived
        }
    }
}

/// Reads the bytes as a test file, behind the line between files as the readings that it names.
pub fn test(bytes: &[u8]) -> Outcome {
    let (head, table) = split(bytes);
    let Some(head) = source("test.toml", head) else {
        return Outcome::Refused;
    };
    let table = table.map(|bytes| source("readings.csv", bytes));
    if let Some(None) = table {
        return Outcome::Refused;
    }
    let table = table.flatten();
    match read_test(&head, table.as_ref()) {
        Err(problems) => {
            let sources: Vec<&Source> = [&head].into_iter().chain(&table).collect();
            refused(&problems, &sources)
        }
        Ok(test) => {
            if let Ok(site) = read_site(&named("site.toml", SITE)) {
                let problems = check_test(&site, &head, table.as_ref(), &test);
                assert!(
                    problems
                        .iter()
                        .all(|problem| !problem.message.to_string().is_empty())
                );
            }
            // A table that the test does not name is not part of it.
            survives_writing(&test, test.head.readings.is_some());
            Outcome::Survived
        }
    }
}

/// Reads the bytes as a bundle.
pub fn bundle(bytes: &[u8]) -> Outcome {
    match read_bundle(bytes) {
        Err(error) => {
            let problems = error.problems("pad.zip");
            assert!(!problems.is_empty(), "refused without a word");
            for problem in &problems {
                assert!(problem.file.starts_with("pad.zip"), "{problem}");
                assert!(!problem.message.to_string().is_empty(), "{problem}");
            }
            Outcome::Refused
        }
        Ok(bundle) => {
            // Whatever the texts say, they are read or refused.
            let _ = read_pad(&bundle.site, &bundle.tests);
            let again = write_bundle(&bundle).map(|written| read_bundle(&written));
            assert_eq!(again, Ok(Ok(bundle)));
            Outcome::Survived
        }
    }
}

/// Writes a test and reads it again. Lines are not compared: steps typed inline may stand on others afterwards.
fn survives_writing(test: &Test, has_table: bool) {
    let written = write_test(test);
    let table = has_table.then(|| named("readings.csv", &write_readings(&test.readings)));
    let again = read_test(&named("test.toml", &written), table.as_ref());
    let again = again.map(|test| without_lines(&test));
    assert_eq!(again, Ok(without_lines(test)), "written as:\n{written}");
}

/// A test in which rows are numbered from 1, and rulings point at these numbers.
fn without_lines(test: &Test) -> Test {
    let mut test = test.clone();
    for ruling in &mut test.head.rulings {
        let row = test
            .readings
            .rows
            .iter()
            .position(|row| row.line == ruling.row);
        ruling.row = row.map_or(0, |index| index + 1);
    }
    for (index, row) in test.readings.rows.iter_mut().enumerate() {
        row.line = index + 1;
    }
    test
}

/// A refusal has something to say, about one of the files, at a line that it has.
fn refused(problems: &[Problem], sources: &[&Source]) -> Outcome {
    assert!(!problems.is_empty(), "refused without a word");
    for problem in problems {
        assert!(!problem.message.to_string().is_empty(), "{problem}");
        let about = sources.iter().find(|source| source.name == problem.file);
        let text = about.map(|source| source.text.as_str()).unwrap_or_default();
        // A line ends at a line feed, or at a carriage return alone; a text that ends with either has one more.
        let lines = text.replace("\r\n", "\n").split(['\r', '\n']).count();
        assert!(problem.line <= lines, "{problem}");
    }
    Outcome::Refused
}

fn split(bytes: &[u8]) -> (&[u8], Option<&[u8]>) {
    let windows = bytes.windows(BETWEEN_FILES.len());
    match windows
        .enumerate()
        .find(|(_, window)| *window == BETWEEN_FILES)
    {
        Some((at, _)) => (&bytes[..at], Some(&bytes[at + BETWEEN_FILES.len()..])),
        None => (bytes, None),
    }
}

fn source(name: &str, bytes: &[u8]) -> Option<Source> {
    match Source::from_bytes(name, bytes) {
        Ok(source) => Some(source),
        Err(problem) => {
            assert!(!problem.message.to_string().is_empty());
            None
        }
    }
}

fn named(name: &str, text: &str) -> Source {
    Source {
        name: name.to_owned(),
        text: text.to_owned(),
    }
}
