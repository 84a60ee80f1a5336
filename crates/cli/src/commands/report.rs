//! `report`: a site and its tests in, the report that is handed over out; or one of every site below a folder.

mod all;
mod kind;
mod order;

pub(super) use order::setter;

use super::printing;
use super::schedule::refused;
use crate::arguments::ReportArguments;
use crate::failure::Failure;
use crate::{files, output};
use document::report::{Letterhead, Paper, composed};
use document::units::Printing;
use kind::Kind;
use operation::Gathered;
use records::{CalendarDay, Logo, MAX_LOGO_BYTES, Profile, Site, read_pad, read_profile};
use std::path::Path;
use std::process::ExitCode;

/// Runs the command.
pub(crate) fn run(arguments: &ReportArguments) -> Result<ExitCode, Failure> {
    match (&arguments.all, &arguments.site) {
        (Some(folder), _) => all::run(arguments, folder),
        (None, Some(site)) => one(arguments, site),
        (None, None) => Err(Failure::call(
            "no site is named",
            "name a site file and its tests, or a folder of sites with --all",
        )),
    }
}

/// Writes the report of one site.
fn one(arguments: &ReportArguments, site: &Path) -> Result<ExitCode, Failure> {
    let kind = arguments.output.as_deref().map(Kind::of).transpose()?;
    let letterhead = handed(arguments)?;
    let (source, tests) = files::pad(site, &arguments.tests)?;
    let (site, tests) = read_pad(&source, &tests).map_err(Failure::Input)?;
    let changes = super::compare::changes(&arguments.change, &site)?;
    let printing = reported(arguments, &letterhead, &site);
    let gathered = Gathered {
        site: &site,
        tests: &tests,
        changes: &changes,
        year: letterhead.date.year,
    };
    let worked = operation::worked(&gathered)
        .map_err(|no_year| refused(&source, document::alternatives::no_year(&no_year, printing)))?;
    let written = composed(&gathered, &worked, printing, letterhead);
    let paper = arguments
        .paper
        .map_or_else(|| Paper::usual(printing), Into::into);
    let (Some(path), Some(kind)) = (&arguments.output, kind) else {
        return output::blocks(&written.as_blocks(), printing);
    };
    files::write_new_file(path, &kind.rendered(&written, paper)?)?;
    output::note(&format!("Wrote {}.", path.display()));
    Ok(ExitCode::SUCCESS)
}

/// How a report is printed: in the language of the call, else in that of the profile.
fn reported(arguments: &ReportArguments, letterhead: &Letterhead, site: &Site) -> Printing {
    let mut printing = printing(arguments.print, site);
    if let (None, Some(own)) = (arguments.print.language, letterhead.profile.language) {
        printing.language = own;
    }
    printing
}

/// Reads whose report it is, and of which day.
fn handed(arguments: &ReportArguments) -> Result<Letterhead, Failure> {
    let date = arguments
        .date
        .as_deref()
        .map_or_else(|| Ok(today()), date)?;
    let (profile, logo) = match arguments.profile.as_deref() {
        Some(path) => profile_of(path)?,
        None => (Profile::default(), None),
    };
    Ok(Letterhead {
        profile,
        logo,
        date,
    })
}

/// Reads a profile and the logo that it names.
fn profile_of(path: &Path) -> Result<(Profile, Option<Logo>), Failure> {
    let wrong = |problem| Failure::Input(vec![problem]);
    let source = files::source(path).map_err(wrong)?;
    let profile = read_profile(&source).map_err(Failure::Input)?;
    let logo = profile.logo.as_ref().map(|name| {
        let beside = path.parent().unwrap_or(Path::new("")).join(name);
        let bytes = files::bytes_up_to(&beside, MAX_LOGO_BYTES).map_err(wrong)?;
        Logo::from_bytes(&beside.display().to_string(), bytes).map_err(wrong)
    });
    let logo = logo.transpose()?;
    Ok((profile, logo))
}

/// Reads the date that `--date` asks for.
fn date(text: &str) -> Result<CalendarDay, Failure> {
    let day = CalendarDay::parse(text).ok();
    day.filter(|day| day.year.is_some()).ok_or_else(|| {
        Failure::call(
            format!("--date: \"{text}\" is no date"),
            "write the year too, such as 2026-07-04",
        )
    })
}

/// Asks the clock which day it is.
fn today() -> CalendarDay {
    let today = jiff::ZonedDateTime::now().date();
    let part = |number: i8| u8::try_from(number).unwrap_or(1);
    CalendarDay {
        year: u16::try_from(today.year()).ok(),
        month: part(today.month()),
        day: part(today.day()),
    }
}
