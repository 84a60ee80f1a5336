//! `schedule`: a site and its tests in, the cheapest day out.

use super::figures::Drawing;
use super::printing;
use crate::arguments::ScheduleArguments;
use crate::failure::Failure;
use crate::{files, output};
use document::schedule::{LiesIn, Refusal};
use operation::{Asked, Date, date_of};
use records::{CalendarDay, Problem, Source, Told, read_pad};
use std::process::ExitCode;

/// Runs the command.
pub(crate) fn run(arguments: &ScheduleArguments) -> Result<ExitCode, Failure> {
    let asked_date = arguments.date.as_deref().map(date).transpose()?;
    let (source, files) = files::pad(&arguments.site, &arguments.tests)?;
    let (site, tests) = read_pad(&source, &files).map_err(Failure::Input)?;
    let analysis = fieldtest::analyze(&site, &tests);
    let asked = Asked {
        date: asked_date.or(tests.last().and_then(date_of)),
        least: arguments.least.map(Into::into),
        slot_minutes: arguments.grid,
        ..Asked::default()
    };
    let printing = printing(arguments.answer.print, &site);
    let plan = operation::plan(&site, &analysis, &asked)
        .map_err(|no_plan| refused(&source, document::schedule::refusal(&no_plan, printing)))?;
    // A folder that cannot be written to is better told before a long answer than below it.
    let nothing = "There is nothing to draw: no day keeps the rules.";
    let drawn = || {
        let day = document::schedule::figure(&site, &analysis, &plan, printing);
        let costs = operation::by_turnover(&site, &plan, asked.effort).unwrap_or_default();
        let turnover =
            document::schedule::turnover_figure(&site, &analysis, &plan, &costs, printing)
                .filter(|_| day.is_some());
        day.into_iter().chain(turnover).map(Drawing::from).collect()
    };
    super::figures::write(drawn, &arguments.figures, nothing)?;
    if arguments.answer.json {
        return output::print(&document::schedule::json(&site, &analysis, &plan, printing));
    }
    output::blocks(
        &document::schedule::content(&site, &analysis, &plan, printing),
        printing,
    )
}

fn date(text: &str) -> Result<Date, Failure> {
    parsed(text).ok_or_else(|| {
        Failure::call(
            format!("--date: \"{text}\" is no date"),
            "write the year too, such as 2026-07-04",
        )
    })
}

/// Reads a date with its year.
pub(super) fn parsed(text: &str) -> Option<Date> {
    let day = CalendarDay::parse(text).ok()?;
    Some(Date {
        year: day.year?,
        month: day.month,
        day: day.day,
    })
}

/// Ends without a plan: as wrong input where the site file lacks something, else as input without an answer.
pub(super) fn refused(site: &Source, refusal: Refusal) -> Failure {
    let Refusal {
        message,
        hint,
        lies_in,
    } = refusal;
    match lies_in {
        LiesIn::SiteFile => Failure::Input(vec![Problem {
            file: site.name.clone(),
            line: 0,
            column: 0,
            message: Told::written(message),
            hint: hint.map(Told::written),
        }]),
        LiesIn::Readings => Failure::NoAnswer(match hint {
            Some(hint) => format!("{message}\n  hint: {hint}"),
            None => message,
        }),
    }
}
