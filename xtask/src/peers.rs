//! Our speed beside that of general-purpose libraries, on the same inputs in one run.
//!
//! `examples/ours` does each work and writes its inputs; `peers/theirs.py` does the same with the libraries and
//! compares the answers. Times depend on the machine and on what else it does, so no test looks at them: only the
//! ratio of one run says something.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use clap::Args;
use serde_json::Value;

use crate::error::Error;
use crate::project::Project;
use crate::step;

/// What may be done to measure.
#[derive(Args)]
pub(crate) struct Options {
    /// Install the libraries first, from PyPI into a folder below `target`.
    #[arg(long)]
    install: bool,
}

const OURS: &str = "--release --package xtask --example ours";
const LIBRARIES: &str = "xtask/peers/requirements.txt";
const PEERS: &str = "xtask/peers/theirs.py";

/// One line that a side prints.
#[derive(Debug, PartialEq)]
struct Time {
    work: String,
    /// The path of ours, or the library.
    by: String,
    nanoseconds: f64,
    /// The largest relative difference between both answers; only the libraries' side knows it.
    apart: Option<f64>,
}

/// Runs both sides and prints the table.
pub(crate) fn run(project: &Project, options: &Options) -> Result<(), Error> {
    let target = project.metadata()?.target_directory.into_std_path_buf();
    let folder = target.join("peers");
    fs::create_dir_all(&folder).map_err(|source| Error::File {
        path: folder.clone(),
        source,
    })?;
    let python = libraries(project, &folder, options)?;

    step::cargo(project, &format!("build {OURS}"))?;
    let program = format!("ours{}", std::env::consts::EXE_SUFFIX);
    let mut ours = Command::new(target.join("release/examples").join(program));
    let mut theirs = Command::new(python);
    theirs.current_dir(project.root()).arg(PEERS);
    let ours = measured("ours", ours.arg(&folder), "path")?;
    let theirs = measured("theirs", theirs.arg(&folder), "library")?;
    print!("{}", table(&ours, &theirs));
    Ok(())
}

/// Gives the Python that has the libraries; says how they are had, or installs them, where it is not there.
fn libraries(project: &Project, folder: &Path, options: &Options) -> Result<PathBuf, Error> {
    let place = folder.join("venv");
    let python = place.join(if cfg!(windows) {
        "Scripts/python.exe"
    } else {
        "bin/python"
    });
    let test = [
        "-c",
        "import emcee, fluids, highspy, numba, numpy, pandapipes, scipy",
    ];
    if step::output(Command::new(&python).args(test)).is_ok() {
        return Ok(python);
    }
    if !options.install {
        eprintln!("missing: the libraries of {LIBRARIES}\n    cargo xtask peers --install");
        return Err(Error::Missing { count: 1 });
    }
    install(project, &place, &python)?;
    Ok(python)
}

/// Makes a Python of its own for the libraries, so that nothing of the machine's changes.
fn install(project: &Project, place: &Path, python: &Path) -> Result<(), Error> {
    let mut venv = Command::new("python3");
    step::run("python3 -m venv", venv.args(["-m", "venv"]).arg(place))?;
    let mut pip = Command::new(python);
    pip.current_dir(project.root());
    pip.args(["-m", "pip", "install", "--quiet", "--requirement"]);
    step::run(&format!("pip install {LIBRARIES}"), pip.arg(LIBRARIES))
}

/// Runs a side under its heading and reads what it prints.
fn measured(side: &str, command: &mut Command, by: &str) -> Result<Vec<Time>, Error> {
    let mut times = Vec::new();
    step::timed(side, || {
        let written = step::output(command)?;
        times.extend(written.lines().filter_map(|line| time(line, by)));
        Ok(())
    })?;
    if times.is_empty() {
        return Err(Error::Failed {
            step: side.to_owned(),
            status: "it printed no time".to_owned(),
        });
    }
    Ok(times)
}

/// Reads a line such as `{"work": "fit", "path": "one at a time", "nanoseconds": 5e3}`.
fn time(line: &str, by: &str) -> Option<Time> {
    let value: Value = serde_json::from_str(line).ok()?;
    Some(Time {
        work: value.get("work")?.as_str()?.to_owned(),
        by: value.get(by)?.as_str()?.to_owned(),
        nanoseconds: value.get("nanoseconds")?.as_f64()?,
        apart: value.get("apart").and_then(Value::as_f64),
    })
}

/// Writes each of ours beside the library that does the same work.
fn table(ours: &[Time], theirs: &[Time]) -> String {
    let mut text = String::from(
        "| work | library | its time | ours | our time | ratio | answers apart |\n\
         | --- | --- | ---: | --- | ---: | ---: | ---: |\n",
    );
    for own in ours {
        let peer = theirs.iter().find(|peer| peer.work == own.work);
        let cells = [
            own.work.clone(),
            peer.map_or_else(|| "-".to_owned(), |peer| peer.by.clone()),
            peer.map_or_else(|| "-".to_owned(), |peer| readable(peer.nanoseconds)),
            own.by.clone(),
            readable(own.nanoseconds),
            peer.map_or_else(
                || "-".to_owned(),
                |peer| format!("{:.1}", peer.nanoseconds / own.nanoseconds),
            ),
            peer.and_then(|peer| peer.apart)
                .map_or_else(|| "-".to_owned(), |apart| format!("{apart:.0e}")),
        ];
        text.push_str(&["| ", &cells.join(" | "), " |\n"].concat());
    }
    text
}

/// Writes a time with three digits and its unit.
fn readable(nanoseconds: f64) -> String {
    let (value, unit) = match nanoseconds {
        t if t < 1e3 => (t, "ns"),
        t if t < 1e6 => (1e-3 * t, "µs"),
        t => (1e-6 * t, "ms"),
    };
    let decimals = match value {
        v if v < 10.0 => 2,
        v if v < 100.0 => 1,
        _ => 0,
    };
    format!("{value:.decimals$} {unit}")
}

#[cfg(test)]
mod tests {
    use super::*;

    const LINE: &str =
        r#"{"work": "fit", "library": "scipy", "nanoseconds": 98070.0, "apart": 2e-8}"#;

    #[test]
    fn a_time_is_read_and_other_lines_are_not() {
        let read = time(LINE, "library").unwrap();
        assert_eq!((read.work.as_str(), read.by.as_str()), ("fit", "scipy"));
        assert_eq!(read.apart, Some(2e-8));
        assert_eq!(time(LINE, "path"), None);
        assert_eq!(time("warning: {", "path"), None);
    }

    #[test]
    fn ours_stands_beside_the_library_of_its_work() {
        let theirs = [time(LINE, "library").unwrap()];
        let own = |work: &str| Time {
            work: work.to_owned(),
            by: "a path".to_owned(),
            nanoseconds: 9807.0,
            apart: None,
        };
        let written = table(&[own("fit"), own("none")], &theirs);
        assert!(written.contains("| fit | scipy | 98.1 µs | a path | 9.81 µs | 10.0 | 2e-8 |\n"));
        assert!(written.contains("| none | - | - | a path | 9.81 µs | - | - |\n"));
    }

    #[test]
    fn a_time_has_three_digits() {
        for (nanoseconds, text) in [
            (3.876, "3.88 ns"),
            (12_345.0, "12.3 µs"),
            (3.13e8, "313 ms"),
        ] {
            assert_eq!(readable(nanoseconds), text);
        }
    }
}
