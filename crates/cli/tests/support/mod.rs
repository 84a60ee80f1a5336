//! The command in one test environment: no colour, a fixed width, a fixed folder.

#![allow(dead_code, reason = "each test binary uses its share")]
#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// The folder of the examples.
pub(crate) fn examples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples")
}

/// The command, ready for its arguments, run in `folder`.
pub(crate) fn headwright(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_headwright"));
    command
        .current_dir(folder)
        .env_clear()
        .env("COLUMNS", "100");
    command
}

/// Runs the command to its end.
pub(crate) fn run(folder: &Path, arguments: &[&str]) -> Output {
    headwright(folder).args(arguments).output().unwrap()
}

/// Runs the command, which must end with `code`, and returns what it printed to standard output and standard error.
pub(crate) fn ends(folder: &Path, arguments: &[&str], code: i32) -> (String, String) {
    let output = run(folder, arguments);
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    let (out, err) = (text(output.stdout), text(output.stderr));
    assert_eq!(
        output.status.code(),
        Some(code),
        "{arguments:?}\n{out}\n{err}"
    );
    assert!(!err.contains("panicked"), "{err}");
    (out, err)
}

/// Lists the names of what is in a folder, in order.
pub(crate) fn names(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).unwrap();
    let mut names: Vec<String> = entries
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}
