//! Reads a test file with its readings, and checks a test against its site.

use super::lines::shown_list;
use super::readings::{headings, read_readings};
use super::site::WATER_TEMPERATURE;
use super::{rulings, steps};
use crate::problems::Problems;
use crate::unit::Dimension;
use crate::walker::{Field, Table};
use crate::wording::{nearest, shown};
use crate::{
    Column, Condition, Measured, MeterOf, Problem, Readings, Site, Source, Test, TestHead, document,
};
use toml::de::DeValue;

/// The bare name of the file of readings that a test file names, if it names one.
pub fn readings_file(source: &Source) -> Result<Option<String>, Vec<Problem>> {
    document::read(source, |root| {
        Some(match root.get("readings") {
            Some(field) => Some(bare_file_name(&field)?),
            None => None,
        })
    })
}

/// Reads a test file with the file of readings that it names, or everything that is wrong in either.
pub fn read_test(source: &Source, readings: Option<&Source>) -> Result<Test, Vec<Problem>> {
    let read = readings.map(read_readings);
    let table = read.as_ref().map(|read| read.as_ref().ok());
    let test = document::read(source, |root| test(root, table, stem(&source.name)));
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

/// Reads the test; the file of readings is absent, present but wrong, or read.
fn test(root: &Table<'_>, table: Option<Option<&Readings>>, name: String) -> Option<Test> {
    let date = root.get("date").and_then(|field| date(&field));
    let water_temperature = root.quantity(
        "water_temperature",
        Dimension::Temperature,
        WATER_TEMPERATURE,
    );
    let (closed, throttled) = (root.names("closed"), root.names("throttled"));
    let (also_running, power_includes) = (root.names("also_running"), root.names("power_includes"));
    let file_field = root.get("readings");
    let file = file_field.and_then(|field| bare_file_name(&field));
    let tables = root.tables("step", "[[step]]");
    let condition = root.get("condition").and_then(|field| condition(&field));
    let rulings = rulings::rulings(root);
    root.finish();
    report_closed_and_throttled(root, &closed);
    report_two_places(file_field, &tables, table);
    let inline = (file_field.is_none()).then(|| steps::steps(&tables));
    let readings = if file.is_some() {
        table.flatten().cloned()
    } else {
        inline
    };
    if let Some(readings) = &readings {
        rulings::check(&rulings, readings);
    }
    let head = TestHead {
        format: document::FORMAT,
        date,
        water_temperature,
        closed,
        throttled,
        also_running,
        power_includes,
        readings: file,
        condition: condition.unwrap_or_default(),
        rulings: rulings.into_iter().map(|read| read.ruling).collect(),
    };
    Some(Test {
        name,
        head,
        readings: readings.unwrap_or_default(),
    })
}

fn date(field: &Field<'_>) -> Option<toml::value::Datetime> {
    match field.value {
        DeValue::Datetime(date) if date.date.is_some() => Some(*date),
        _ => {
            field.refuse(
                "a date without quotes, such as 2026-05-16 or 2026-05-16T09:30:00",
                None,
            );
            None
        }
    }
}

/// A file beside the test file: a path could point anywhere on the machine that reads it.
fn bare_file_name(field: &Field<'_>) -> Option<String> {
    let name = field.name()?;
    let last = name.rsplit(['/', '\\']).next().unwrap_or_default();
    if name.contains(['/', '\\', ':']) || name == "." || name == ".." {
        let hint = match last.trim_matches('.') {
            "" => None,
            _ => Some(format!(
                "put the file beside the test file and write \"{}\"",
                shown(last)
            )),
        };
        field.refuse("the bare name of a file beside the test file", hint);
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
            field.report("closed has it too; expected it in one of the two", None);
        }
    }
}

fn report_two_places(
    file: Option<Field<'_>>,
    steps: &[Table<'_>],
    table: Option<Option<&Readings>>,
) {
    let Some(field) = file else { return };
    if !steps.is_empty() {
        let hint = Some("keep the file of readings or the [[step]] tables".to_owned());
        field.report(
            "there are [[step]] tables too; expected one of the two",
            hint,
        );
    } else if table.is_none() {
        field.report("there is no such file beside the test file", None);
    }
}

/// Checks the names of a test against its site: lines that are shut or throttled, meters of the columns.
///
/// The sources are those that the test was read from; they give the places of the problems.
pub fn check_test(
    site: &Site,
    source: &Source,
    readings: Option<&Source>,
    test: &Test,
) -> Vec<Problem> {
    let (tree, _) = document::parse(&source.text);
    let problems = Problems::new(source);
    let root = Table::root(&problems, &tree);
    check_lines(site, &root);
    let mut list = match readings {
        Some(readings) => {
            let elsewhere = Problems::new(readings);
            for (column, at) in headings(readings) {
                check_meter(site, &column, Some(at), &elsewhere);
            }
            elsewhere.into_list()
        }
        None => {
            let tables = root.tables("step", "[[step]]");
            for column in &test.readings.columns {
                check_meter(site, column, steps::place_of(&tables, column), &problems);
            }
            Vec::new()
        }
    };
    drop(root);
    let mut all = problems.into_list();
    all.append(&mut list);
    all
}

fn check_lines(site: &Site, root: &Table<'_>) {
    let names: Vec<&str> = site.lines.iter().map(|line| line.name.as_str()).collect();
    for key in ["closed", "throttled"] {
        for field in root.get(key).map(|field| field.items()).unwrap_or_default() {
            let name = field.value.as_str().unwrap_or_default().trim();
            if names.contains(&name) {
                continue;
            }
            let hint = nearest(name, &names).map(|near| format!("write \"{}\"", shown(near)));
            match names.as_slice() {
                [] => field.refuse("the name of a line, and the site has no [[line]]", hint),
                _ => field.refuse(&format!("a line of the site: {}", shown_list(&names)), hint),
            }
        }
    }
}

fn check_meter(site: &Site, column: &Column, at: Option<usize>, problems: &Problems<'_>) {
    let Some(id) = &column.meter else { return };
    let fitting: &[MeterOf] = meters_of(column.measured);
    let named = site.meters.iter().find(|meter| meter.id == *id);
    if named.is_some_and(|meter| fitting.contains(&meter.measures)) {
        return;
    }
    let ids: Vec<&str> = site
        .meters
        .iter()
        .filter(|meter| fitting.contains(&meter.measures))
        .map(|meter| meter.id.as_str())
        .collect();
    let name = shown(&column.name());
    let expected = match ids.as_slice() {
        [] => "the site has no such meter".to_owned(),
        _ => format!("expected {}", shown_list(&ids)),
    };
    let hint =
        nearest(id, &ids).map(|near| format!("write {} {}", column.measured.word(), shown(near)));
    match named {
        Some(meter) => {
            let measures = meter.measures.word();
            problems.add(
                at,
                format!(
                    "{name} was read on meter {}, which measures {measures}; {expected}",
                    shown(id)
                ),
                hint,
            );
        }
        // A meter that the site does not declare has the stated defaults, unless it declares others of its kind.
        None if ids.is_empty() => {}
        None => problems.add(
            at,
            format!(
                "{name} names the meter {}, which the site does not have; {expected}",
                shown(id)
            ),
            hint,
        ),
    }
}

/// What a meter must measure to be read in a column. A gauge of vacuum often shows pressure too.
fn meters_of(measured: Measured) -> &'static [MeterOf] {
    match measured {
        Measured::Flow => &[MeterOf::Flow],
        Measured::Power => &[MeterOf::Power],
        Measured::Current => &[MeterOf::Current],
        Measured::Voltage => &[MeterOf::Voltage],
        Measured::FilterPressure => &[MeterOf::Pressure],
        Measured::InletVacuum | Measured::InletPressure => &[MeterOf::Vacuum, MeterOf::Pressure],
        Measured::Speed | Measured::Head | Measured::Time => &[],
    }
}
