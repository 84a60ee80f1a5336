//! `plan`: which test to hold, before it is held.

use super::printing;
use crate::arguments::PlanArguments;
use crate::failure::Failure;
use crate::files::write_new_file;
use crate::{files, output};
use document::plan::Subject;
use fieldtest::PlanQuestion;
use records::unit::Dimension;
use records::{Quantity, Site, read_pad};
use std::path::Path;
use std::process::ExitCode;

/// Runs the command.
pub(crate) fn run(arguments: &PlanArguments) -> Result<ExitCode, Failure> {
    let time = time(&arguments.time)?;
    let (source, tests) = files::pad(&arguments.site, &arguments.tests)?;
    let (site, tests) = read_pad(&source, &tests).map_err(Failure::Input)?;
    check_lines(&site, "--closed", &arguments.closed)?;
    check_lines(&site, "--throttled", &arguments.throttled)?;
    check_either(&arguments.closed, &arguments.throttled)?;
    let question = PlanQuestion {
        time_s: time.si,
        closed: &arguments.closed,
        throttled: &arguments.throttled,
    };
    let printing = printing(arguments.answer.print, &site);
    let plan = fieldtest::plan(&site, &tests, &question).map_err(|problem| {
        let words = document::plan::refusal(&problem, printing);
        let message = format!("{}: {}", arguments.site.display(), words.says);
        Failure::call(message, words.action)
    })?;
    let subject = Subject {
        site: &site,
        question,
        plan: &plan,
        printing,
    };
    write(arguments.readings.as_deref(), || {
        document::plan::readings(&subject)
    })?;
    write(arguments.sheet.as_deref(), || {
        document::plan::sheet(&subject)
    })?;
    if arguments.answer.json {
        return output::print(&document::plan::json(&subject));
    }
    output::blocks(&document::plan::content(&subject), printing)
}

/// Writes a file that was asked for.
fn write(path: Option<&Path>, text: impl FnOnce() -> String) -> Result<(), Failure> {
    let Some(path) = path else {
        return Ok(());
    };
    write_new_file(path, text().as_bytes())?;
    wrote(path);
    Ok(())
}

fn wrote(path: &Path) {
    output::note(&format!("Wrote {}.", path.display()));
}

fn time(text: &str) -> Result<Quantity, Failure> {
    let wrong = |what: String| Failure::call(format!("--time: {what}"), "ask as --time \"60 min\"");
    let time = Quantity::parse(text, Dimension::Time).map_err(|error| wrong(error.to_string()))?;
    if time.si > 0.0 {
        Ok(time)
    } else {
        Err(wrong(format!("{} is no time at a pad", time.text)))
    }
}

fn check_lines(site: &Site, option: &str, lines: &[String]) -> Result<(), Failure> {
    let names: Vec<&str> = site.lines.iter().map(|line| line.name.as_str()).collect();
    let unknown = lines.iter().find(|name| !names.contains(&name.as_str()));
    unknown.map_or(Ok(()), |name| {
        Err(Failure::call(
            format!("{option}: the site has no line \"{name}\""),
            format!("name one of: {}", names.join(", ")),
        ))
    })
}

fn check_either(closed: &[String], throttled: &[String]) -> Result<(), Failure> {
    let both = closed.iter().find(|line| throttled.contains(line));
    both.map_or(Ok(()), |line| {
        Err(Failure::call(
            format!("\"{line}\" is named shut and part-open"),
            "name it with --closed or with --throttled",
        ))
    })
}
