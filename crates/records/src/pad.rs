//! A site with its tests, from text to records in one step: the way in for command, server and page alike.

use crate::told;
use crate::{Problem, Site, Source, Test, check_test, read_site, read_test};

/// The texts of one test.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TestFiles {
    /// The test file.
    pub test: Source,
    /// The file of readings that it names; `None` where the steps stand inline, or there is no such file.
    pub readings: Option<Source>,
}

/// Reads a site and its tests, each test checked against the site.
///
/// # Errors
/// All problems of all files, in the order of the files.
pub fn read_pad(site: &Source, tests: &[TestFiles]) -> Result<(Site, Vec<Test>), Vec<Problem>> {
    let mut problems = Vec::new();
    let site = read_site(site).map_err(|found| problems.extend(found)).ok();
    let mut read = Vec::new();
    for files in tests {
        match read_test(&files.test, files.readings.as_ref()) {
            Err(found) => problems.extend(found),
            Ok(test) => {
                problems.extend(namesake(&test, &read, &files.test));
                if let Some(site) = &site {
                    problems.extend(check_test(
                        site,
                        &files.test,
                        files.readings.as_ref(),
                        &test,
                    ));
                }
                read.push(test);
            }
        }
    }
    match site {
        Some(site) if problems.is_empty() => Ok((site, read)),
        _ => Err(problems),
    }
}

/// Says that an earlier test has the same name: results are told apart by it.
fn namesake(test: &Test, earlier: &[Test], source: &Source) -> Option<Problem> {
    let same = earlier.iter().any(|other| other.name == test.name);
    same.then(|| Problem {
        file: source.name.clone(),
        line: 0,
        column: 0,
        message: told!(
            "another test is called {name} too; expected a name of its own for each",
            name = test.name
        ),
        hint: Some(told!("rename one of the two files")),
    })
}
