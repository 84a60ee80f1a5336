//! `demo`: the main job on a made-up pad, whose files are part of the command.

use super::analyze::answer;
use crate::arguments::DemoArguments;
use crate::failure::Failure;
use crate::files::write_new;
use crate::output;
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
    if let Some(folder) = &arguments.write {
        write_new(folder, &FILES)?;
        let folder = folder.display();
        return output::print(&format!(
            "The demo's files are in {folder}. Try:\n  headwright analyze {folder}/site.toml {folder}/2026-06-02.toml\n"
        ));
    }
    let [site, tests @ ..] = FILES.map(|(name, text)| Source {
        name: name.to_owned(),
        text: text.to_owned(),
    });
    let [test_1, readings_1, test_2, readings_2] = tests;
    let tests = [(test_1, readings_1), (test_2, readings_2)].map(|(test, readings)| TestFiles {
        test,
        readings: Some(readings),
    });
    answer(&site, &tests, None, arguments.answer)
}
