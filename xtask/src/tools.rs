//! The tools that a command needs beside the toolchain: which are missing, and the line that installs each.

use std::path::Path;
use std::process::Command;

use crate::error::Error;
use crate::step;

/// A tool, and how it is had.
pub(crate) struct Tool {
    /// What it is called.
    pub(crate) name: &'static str,
    /// What it is for.
    pub(crate) purpose: &'static str,
    /// The one line that installs it.
    pub(crate) install: &'static str,
    /// Whether it is there, and new enough.
    pub(crate) is_present: fn() -> bool,
}

/// The target of the page and of the parity test.
pub(crate) const WASM: &str = "wasm32-unknown-unknown";

/// Needed by whatever is compiled for a browser.
pub(crate) const WASM_TARGET: Tool = Tool {
    name: "the WebAssembly target",
    purpose: "the engine also runs in a browser",
    install: "rustup target add wasm32-unknown-unknown",
    is_present: || has_target(WASM),
};

/// What is done about a missing tool.
#[derive(Clone, Copy)]
enum Remedy {
    /// The person installs it.
    Tell,
    /// This program installs it.
    Install,
}

/// Makes sure that all the tools are there; tells of every missing one at once.
///
/// On a machine that says `CI=true` and runs this as root, they are installed.
pub(crate) fn require(tools: &[Tool]) -> Result<(), Error> {
    let missing: Vec<&Tool> = tools.iter().filter(|tool| !(tool.is_present)()).collect();
    for tool in &missing {
        eprintln!(
            "missing: {} ({})\n    {}",
            tool.name, tool.purpose, tool.install
        );
    }
    if missing.is_empty() {
        return Ok(());
    }
    if let Remedy::Tell = remedy() {
        return Err(Error::Missing {
            count: missing.len(),
        });
    }
    for tool in missing {
        step::run(tool.install, Command::new("sh").args(["-c", tool.install]))?;
        if !(tool.is_present)() {
            return Err(Error::Failed {
                step: tool.install.to_owned(),
                status: format!("{} is still missing", tool.name),
            });
        }
    }
    Ok(())
}

fn remedy() -> Remedy {
    let automatic = std::env::var("CI").is_ok_and(|value| value == "true");
    if automatic && first_line("id", &["-u"]).as_deref() == Some("0") {
        Remedy::Install
    } else {
        Remedy::Tell
    }
}

/// Gives the first line that a program writes, or nothing where it is not there or fails.
pub(crate) fn first_line(program: &str, arguments: &[&str]) -> Option<String> {
    let written = step::output(Command::new(program).args(arguments)).ok()?;
    written.lines().next().map(str::to_owned)
}

/// Whether a program is there and ends well, wherever it writes what it says.
pub(crate) fn runs(program: &str, arguments: &[&str]) -> bool {
    step::output(Command::new(program).args(arguments)).is_ok()
}

/// Whether the toolchain in use can build for a target.
pub(crate) fn has_target(target: &str) -> bool {
    first_line("rustc", &["--print", "target-libdir", "--target", target])
        .is_some_and(|folder| Path::new(&folder).is_dir())
}

/// Whether the version in a line such as `name 1.2.3` is at least the one given.
pub(crate) fn is_at_least(line: &str, least: (u64, u64)) -> bool {
    let version = line.split_whitespace().nth(1).unwrap_or_default();
    let mut numbers = version.split('.').map(str::parse::<u64>);
    match (numbers.next(), numbers.next()) {
        (Some(Ok(major)), Some(Ok(minor))) => (major, minor) >= least,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_version_is_compared_by_its_numbers() {
        assert!(is_at_least("tool 0.20.2", (0, 18)));
        assert!(is_at_least("tool 1.0.0", (0, 18)));
        assert!(!is_at_least("tool 0.9.4", (0, 18)));
        assert!(!is_at_least("tool unknown", (0, 18)));
        assert!(!is_at_least("", (0, 0)));
    }

    #[test]
    fn a_missing_program_writes_no_line() {
        assert_eq!(first_line("no-such-program-anywhere", &[]), None);
    }

    #[test]
    fn an_unknown_target_is_not_there() {
        assert!(!has_target("no-such-target"));
    }
}
