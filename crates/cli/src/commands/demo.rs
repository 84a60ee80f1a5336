//! `demo`: the main job on a made-up pad, whose files are part of the command.

use super::analyze::{Wanted, answer};
use crate::arguments::DemoArguments;
use crate::failure::Failure;
use crate::files::write_new;
use crate::output;
use fieldtest::simulation::random_test;
use records::{Source, TestFiles};
use std::process::ExitCode;

/// The files of the demo.
const FILES: [(&str, &str); 5] = [
    (
        "site.toml",
        include_str!("../../../../examples/larkspur-lane/site.toml"),
    ),
    (
        "2026-05-16.toml",
        include_str!("../../../../examples/larkspur-lane/2026-05-16.toml"),
    ),
    (
        "2026-05-16.csv",
        include_str!("../../../../examples/larkspur-lane/2026-05-16.csv"),
    ),
    (
        "2026-06-02.toml",
        include_str!("../../../../examples/larkspur-lane/2026-06-02.toml"),
    ),
    (
        "2026-06-02.csv",
        include_str!("../../../../examples/larkspur-lane/2026-06-02.csv"),
    ),
];

/// Runs the command.
pub(crate) fn run(arguments: &DemoArguments) -> Result<ExitCode, Failure> {
    let (site, tests) = match arguments.random {
        None => built_in(),
        Some(seed) => made_up(seed)?,
    };
    let Some(folder) = &arguments.write else {
        let wanted = Wanted {
            asked: None,
            to_learn: None,
            figures: None,
            how: arguments.answer,
        };
        return answer(&site, &tests, wanted);
    };
    let mut files = vec![(site.name.as_str(), site.text.as_str())];
    for source in tests
        .iter()
        .flat_map(|files| [Some(&files.test), files.readings.as_ref()])
        .flatten()
    {
        files.push((&source.name, &source.text));
    }
    write_new(folder, &files)?;
    let last = tests.last().map_or("", |files| &files.test.name);
    let folder = folder.display();
    output::print(&format!(
        "The demo's files are in {folder}. Try:\n  headwright analyze {folder}/site.toml {folder}/{last}\n"
    ))
}

/// Returns the files that are part of the command.
fn built_in() -> (Source, Vec<TestFiles>) {
    let [site, test_1, readings_1, test_2, readings_2] = FILES.map(|(name, text)| Source {
        name: name.to_owned(),
        text: text.to_owned(),
    });
    let tests = [(test_1, readings_1), (test_2, readings_2)].map(|(test, readings)| TestFiles {
        test,
        readings: Some(readings),
    });
    (site, tests.to_vec())
}

/// Makes a pad and a test up.
fn made_up(seed: u64) -> Result<(Source, Vec<TestFiles>), Failure> {
    let made = random_test(seed).map_err(|error| Failure::NoAnswer(error.to_string()))?;
    Ok((made.test.site(), vec![made.test.files()]))
}
