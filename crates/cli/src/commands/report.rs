//! `report`: a site and its tests in, the report that is handed over out.

use super::analyze::calibrated;
use super::printing;
use super::schedule::date_of;
use crate::arguments::ReportArguments;
use crate::failure::Failure;
use crate::{files, output};
use document::report::{Letterhead, More, Paper, Report, Subject, report};
use document::units::Printing;
use operation::Asked;
use records::{CalendarDay, Logo, MAX_LOGO_BYTES, Profile, Site, Test, read_pad, read_profile};
use std::path::Path;
use std::process::ExitCode;

/// Runs the command.
pub(crate) fn run(arguments: &ReportArguments) -> Result<ExitCode, Failure> {
    let kind = arguments.output.as_deref().map(Kind::of).transpose()?;
    let date = arguments
        .date
        .as_deref()
        .map_or_else(|| Ok(today()), date)?;
    let (source, tests) = files::pad(&arguments.site, &arguments.tests)?;
    let (profile, logo) = match arguments.profile.as_deref() {
        Some(path) => letterhead(path)?,
        None => (Profile::default(), None),
    };
    let (site, tests) = read_pad(&source, &tests).map_err(Failure::Input)?;
    let mut printing = printing(arguments.print, &site);
    if let (None, Some(own)) = (arguments.print.language, profile.language) {
        printing.language = own;
    }
    let written = composed(
        &site,
        &tests,
        printing,
        Letterhead {
            profile,
            logo,
            date,
        },
    );
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

/// Composes the report by the same answers as `analyze --at` and `schedule` give.
fn composed(site: &Site, tests: &[Test], printing: Printing, letterhead: Letterhead) -> Report {
    let mut analysis = fieldtest::analyze(site, tests);
    let steps = analysis.tests.last().map(|test| &test.steps);
    let highest = steps
        .and_then(|steps| steps.last())
        .map(|step| step.speed_rpm);
    let calibration = highest
        .filter(|_| !site.lines.is_empty())
        .and_then(|highest| calibrated(site, tests, &mut analysis, Some(highest)));
    let asked = Asked {
        date: tests.last().and_then(date_of),
        ..Asked::default()
    };
    let plan = operation::plan(site, &analysis, &asked);
    let subject = Subject {
        site,
        tests,
        analysis: &analysis,
        plan: plan.as_ref(),
        calibration: calibration.as_ref(),
        more: &More::default(),
        printing,
    };
    report(&subject, letterhead)
}

/// What a report is written as.
#[derive(Clone, Copy, Debug)]
enum Kind {
    Html,
    Pdf,
    Text,
}

impl Kind {
    /// Tells the kind by the ending of the file's name.
    fn of(path: &Path) -> Result<Self, Failure> {
        let ending = path.extension().map(std::ffi::OsStr::to_ascii_lowercase);
        match ending.as_deref().and_then(std::ffi::OsStr::to_str) {
            Some("html" | "htm") => Ok(Self::Html),
            Some("pdf") => Ok(Self::Pdf),
            Some("txt") => Ok(Self::Text),
            _ => Err(Failure::call(
                format!(
                    "{}: a report is written as .html, .pdf or .txt",
                    path.display()
                ),
                "name the file so, such as -o report.html",
            )),
        }
    }

    fn rendered(self, report: &Report, paper: Paper) -> Result<Vec<u8>, Failure> {
        /// The width of a report in text: what a printer and a mail hold.
        const TEXT_WIDTH: usize = 80;
        match self {
            Self::Html => Ok(document::html::page(report, paper).into_bytes()),
            Self::Text => {
                let layout = document::terminal::Layout {
                    width: TEXT_WIDTH,
                    paint: document::terminal::Paint::Plain,
                    printing: report.printing,
                };
                let text = document::terminal::text(&report.as_blocks(), layout);
                Ok(text.into_bytes())
            }
            Self::Pdf => set(report, paper),
        }
    }
}

#[cfg(feature = "pdf")]
fn set(report: &Report, paper: Paper) -> Result<Vec<u8>, Failure> {
    pdf::pdf(report, paper).map_err(|error| Failure::NoAnswer(error.to_string()))
}

#[cfg(not(feature = "pdf"))]
fn set(_: &Report, _: Paper) -> Result<Vec<u8>, Failure> {
    Err(Failure::call(
        "this build of the command makes no PDF",
        "write report.html and print it from a browser, or build the command with its usual features",
    ))
}

/// Reads a profile and the logo that it names.
fn letterhead(path: &Path) -> Result<(Profile, Option<Logo>), Failure> {
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
