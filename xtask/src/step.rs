//! One step of a command: another program, run under a heading, with the time that it took.

use std::process::{Command, Stdio};
use std::time::Instant;

use crate::error::Error;
use crate::project::Project;

/// Runs cargo in the root of the project, with the arguments written as on a command line.
pub(crate) fn cargo(project: &Project, arguments: &str) -> Result<(), Error> {
    let mut command = Command::new("cargo");
    command
        .current_dir(project.root())
        .args(arguments.split_whitespace());
    run(&format!("cargo {arguments}"), &mut command)
}

/// Runs a program under a heading; its output passes through.
pub(crate) fn run(heading: &str, command: &mut Command) -> Result<(), Error> {
    timed(heading, || {
        let status = command
            .status()
            .map_err(|source| not_started(command, source))?;
        if status.success() {
            return Ok(());
        }
        Err(Error::Failed {
            step: heading.to_owned(),
            status: status.to_string(),
        })
    })
}

/// Does something under a heading and says how long it took.
pub(crate) fn timed(
    heading: &str,
    action: impl FnOnce() -> Result<(), Error>,
) -> Result<(), Error> {
    eprintln!("\n== {heading}");
    let started = Instant::now();
    let outcome = action();
    eprintln!("== {:.1} s", started.elapsed().as_secs_f64());
    outcome
}

/// Runs a program quietly and gives what it wrote to standard output.
pub(crate) fn output(command: &mut Command) -> Result<String, Error> {
    let output = command
        .stdin(Stdio::null())
        .output()
        .map_err(|source| not_started(command, source))?;
    if output.status.success() {
        return Ok(String::from_utf8_lossy(&output.stdout).into_owned());
    }
    Err(Error::Failed {
        step: command.get_program().to_string_lossy().into_owned(),
        status: format!(
            "{}; {}",
            output.status,
            String::from_utf8_lossy(&output.stderr).trim()
        ),
    })
}

fn not_started(command: &Command, source: std::io::Error) -> Error {
    Error::Start {
        program: command.get_program().to_string_lossy().into_owned(),
        source,
    }
}
