//! Reads a test file with its readings.

use super::readings::read_readings;
use super::site::WATER_TEMPERATURE;
use super::{rulings, steps};
use crate::kind::Kind;
use crate::told::later;
use crate::unit::Dimension;
use crate::walker::{Field, Table};
use crate::wording::shown;
use crate::{Condition, Problem, Readings, Ruling, Source, Test, TestHead, Told, document, told};
use toml::de::DeValue;

/// The bare name of the file of readings that a test file names, if it names one.
pub fn readings_file(source: &Source) -> Result<Option<String>, Vec<Problem>> {
    document::read(source, Kind::Test, |root| {
        Some(match root.get("readings") {
            Some(field) => Some(bare_file_name(&field, BESIDE_TEST)?),
            None => None,
        })
    })
}

/// The file of readings beside the test file.
#[derive(Clone, Copy)]
enum Beside<'r> {
    Nothing,
    Wrong,
    Read(&'r Readings),
}

/// Reads a test file with the file of readings that it names, or everything that is wrong in either.
pub fn read_test(source: &Source, readings: Option<&Source>) -> Result<Test, Vec<Problem>> {
    let read = readings.map(read_readings);
    let beside = match &read {
        None => Beside::Nothing,
        Some(Err(_)) => Beside::Wrong,
        Some(Ok(readings)) => Beside::Read(readings),
    };
    let test = document::read(source, Kind::Test, |root| {
        Some(test(root, beside, stem(&source.name)))
    });
    match (test, read) {
        (Ok(test), None | Some(Ok(_))) => Ok(test),
        (test, read) => {
            let mut problems = test.err().unwrap_or_default();
            problems.extend(read.and_then(Result::err).unwrap_or_default());
            Err(problems)
        }
    }
}

fn stem(name: &str) -> String {
    let file = name.rsplit(['/', '\\']).next().unwrap_or(name);
    let stem = file.rsplit_once('.').map_or(file, |(stem, _)| stem);
    if stem.is_empty() {
        file.to_owned()
    } else {
        stem.to_owned()
    }
}

/// Reads the test. What is wrong in it is reported, and what is left of it does not matter then.
fn test(root: &Table<'_>, beside: Beside<'_>, name: String) -> Test {
    let file_field = root.get("readings");
    let file = file_field.and_then(|field| bare_file_name(&field, BESIDE_TEST));
    let tables = root.tables("step", "[[step]]");
    let rulings = rulings::rulings(root);
    let readings = match (file_field, beside) {
        (None, _) => Some(steps::steps(root, &tables)),
        (Some(_), Beside::Read(readings)) => Some(readings.clone()),
        (Some(_), Beside::Wrong | Beside::Nothing) => None,
    };
    if let Some(readings) = &readings {
        rulings::check(&rulings, readings);
    }
    if let Some(field) = file_field.filter(|_| file.is_some()) {
        report_place(&field, &tables, beside);
    }
    let head = head(
        root,
        file,
        rulings.into_iter().map(|read| read.ruling).collect(),
    );
    root.finish();
    Test {
        name,
        head,
        readings: readings.unwrap_or_default(),
    }
}

fn head(root: &Table<'_>, readings: Option<String>, rulings: Vec<Ruling>) -> TestHead {
    let head = TestHead {
        format: document::FORMAT,
        date: root.get("date").and_then(|field| date(&field)),
        water_temperature: root.quantity(
            "water_temperature",
            Dimension::Temperature,
            WATER_TEMPERATURE,
        ),
        closed: root.names("closed"),
        throttled: root.names("throttled"),
        also_running: root.names("also_running"),
        power_includes: root.names("power_includes"),
        readings,
        condition: root
            .get("condition")
            .and_then(|field| condition(&field))
            .unwrap_or_default(),
        rulings,
    };
    report_closed_and_throttled(root, &head.closed);
    head
}

fn date(field: &Field<'_>) -> Option<toml::value::Datetime> {
    match field.value {
        DeValue::Datetime(date) if date.date.is_some() => Some(*date),
        _ => {
            field.refuse(
                told!("a date without quotes, such as 2026-05-16 or 2026-05-16T09:30:00"),
                None,
            );
            None
        }
    }
}

/// What the file of readings stands beside.
const BESIDE_TEST: &str = later!("the test file");

/// A file beside another: a path could point anywhere on the machine that reads it.
pub(super) fn bare_file_name(field: &Field<'_>, beside: &'static str) -> Option<String> {
    let name = field.name()?;
    let last = name.rsplit(['/', '\\']).next().unwrap_or_default();
    if name.contains(['/', '\\', ':']) || name == "." || name == ".." {
        let hint = match last.trim_matches('.') {
            "" => None,
            _ => Some(told!(
                "put the file beside {beside} and write \"{file}\"",
                beside = Told::plain(beside),
                file = shown(last)
            )),
        };
        field.refuse(
            told!(
                "the bare name of a file beside {beside}",
                beside = Told::plain(beside)
            ),
            hint,
        );
        return None;
    }
    Some(name)
}

fn condition(field: &Field<'_>) -> Option<Condition> {
    let table = field.table("[condition]")?;
    let condition = Condition {
        filter: table.name("filter"),
        basket: table.name("basket"),
        air: table.name("air"),
        heater: table.name("heater"),
    };
    table.finish();
    Some(condition)
}

fn report_closed_and_throttled(root: &Table<'_>, closed: &[String]) {
    for field in root
        .get("throttled")
        .map(|field| field.one_or_more())
        .unwrap_or_default()
    {
        let name = field.value.as_str().unwrap_or_default().trim();
        if closed.iter().any(|other| other == name) {
            field.report(
                told!("closed has it too; expected it in one of the two"),
                None,
            );
        }
    }
}

fn report_place(file: &Field<'_>, steps: &[Table<'_>], beside: Beside<'_>) {
    if !steps.is_empty() {
        let hint = Some(told!("keep the file of readings or the [[step]] tables"));
        file.report(
            told!("there are [[step]] tables too; expected one of the two"),
            hint,
        );
    } else if matches!(beside, Beside::Nothing) {
        file.report(told!("there is no such file beside the test file"), None);
    }
}
