//! `year`: a site and its tests in, the program of every day of a year out.

use super::printing;
use super::schedule::{parsed, refused};
use crate::arguments::{OfYear, YearArguments};
use crate::failure::Failure;
use crate::{files, output};
use indicatif::{ProgressBar, ProgressStyle};
use operation::{AskedYear, Clock, Date, Effort, date_of};
use records::{ClockTime, Test, read_pad};
use std::process::ExitCode;

/// By how much the clock is set, minutes: common practice, no source.
const SET_MINUTES: u32 = 60;

/// Runs the command.
pub(crate) fn run(arguments: &YearArguments) -> Result<ExitCode, Failure> {
    let (source, files) = files::pad(&arguments.site, &arguments.tests)?;
    let (site, tests) = read_pad(&source, &files).map_err(Failure::Input)?;
    let asked = asked(&arguments.of, &tests)?;
    let analysis = fieldtest::analyze(&site, &tests);
    let progress = Progress::new("days planned");
    let year = operation::plan_year(&site, &analysis, &asked, |done, of| progress.show(done, of));
    progress.end();
    let printing = printing(arguments.answer.print, &site);
    let year = year
        .map_err(|no_year| refused(&source, document::alternatives::no_year(&no_year, printing)))?;
    if let Some(path) = &arguments.csv {
        let text = document::year::csv(&year, printing);
        files::write_new_file(path, text.as_bytes())?;
        output::note(&format!("Wrote {}.", path.display()));
    }
    if arguments.answer.json {
        return output::print(&document::year::json(&site, &year));
    }
    output::blocks(&document::year::content(&site, &year, printing), printing)
}

/// Reads how a year is planned.
pub(super) fn asked(of: &OfYear, tests: &[Test]) -> Result<AskedYear, Failure> {
    let of_test = tests.last().and_then(date_of).map(|date| date.year);
    let year = of.year.or(of_test).ok_or_else(|| {
        Failure::call(
            "the last test has no date, and no year is named",
            "name it: --year 2026",
        )
    })?;
    let forward = |at| Clock::Forward {
        at,
        minutes: SET_MINUTES,
    };
    let back = |at| Clock::Back {
        at,
        minutes: SET_MINUTES,
    };
    let mut clock_changes = Vec::new();
    for (option, text, clock) in [
        (
            "--clock-forward",
            &of.clock_forward,
            &forward as &dyn Fn(ClockTime) -> Clock,
        ),
        ("--clock-back", &of.clock_back, &back),
    ] {
        let Some(text) = text else { continue };
        let (date, at) = moment(option, text, year)?;
        clock_changes.push((date, clock(at)));
    }
    Ok(AskedYear {
        year,
        least: of.least.map(Into::into),
        slot_minutes: of.grid,
        effort: Effort::a_second(),
        clock_changes,
    })
}

/// Reads a day of the year with a time of it.
fn moment(option: &str, text: &str, year: u16) -> Result<(Date, ClockTime), Failure> {
    let parts = text.trim().split_once(' ');
    let read = parts.and_then(|(day, time)| {
        let date = parsed(day)?;
        let at = ClockTime::parse(time.trim()).ok()?;
        Some((date, at))
    });
    let (date, at) = read.ok_or_else(|| {
        Failure::call(
            format!("{option}: \"{text}\" is no day with a time"),
            "write both, such as \"2026-03-08 02:00\"",
        )
    })?;
    if date.year != year || !date.is_real() || !(60..=1380).contains(&at.minutes) {
        return Err(Failure::call(
            format!("{option}: \"{text}\" is no day of {year}, or no time between 01:00 and 23:00"),
            "name the day in the year that is planned, and the time before the clock is set",
        ));
    }
    Ok((date, at))
}

/// How far the work is, on standard error, and only on a terminal.
pub(super) struct Progress(ProgressBar);

impl Progress {
    /// Begins; what is counted is named.
    pub(super) fn new(what: &'static str) -> Self {
        // The bar hides itself where standard error is no terminal.
        let bar = ProgressBar::new(0);
        if let Ok(style) = ProgressStyle::with_template("{bar:30} {pos} of {len} {msg}") {
            bar.set_style(style);
        }
        bar.set_message(what);
        Self(bar)
    }

    /// Shows how many of how many are done.
    pub(super) fn show(&self, done: usize, of: usize) {
        self.0.set_length(of as u64);
        self.0.set_position(done as u64);
    }

    /// Takes the bar away.
    pub(super) fn end(&self) {
        self.0.finish_and_clear();
    }
}
