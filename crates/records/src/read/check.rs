//! Checks a test against its site: what neither file can tell alone.

use super::readings::headings;
use super::steps;
use crate::problems::Problems;
use crate::told;
use crate::walker::Table;
use crate::wording::{nearest, shown, shown_list};
use crate::{Column, Measured, MeterOf, Problem, Site, Source, Test, document};

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
    let mut in_readings = Vec::new();
    if let Some(readings) = readings {
        let problems = Problems::new(readings);
        for (column, at) in headings(readings) {
            check_meter(site, &column, Some(at), &problems);
        }
        in_readings = problems.into_list();
    } else {
        let tables = root.tables("step", "[[step]]");
        for column in &test.readings.columns {
            check_meter(site, column, steps::place_of(&tables, column), &problems);
        }
    }
    drop(root);
    let mut list = problems.into_list();
    list.append(&mut in_readings);
    list
}

fn check_lines(site: &Site, root: &Table<'_>) {
    let names: Vec<&str> = site.lines.iter().map(|line| line.name.as_str()).collect();
    for key in ["closed", "throttled"] {
        for field in root.get(key).map(|field| field.items()).unwrap_or_default() {
            let name = field.value.as_str().unwrap_or_default().trim();
            if names.contains(&name) {
                continue;
            }
            let hint =
                nearest(name, &names).map(|near| told!("write \"{near}\"", near = shown(near)));
            match names.as_slice() {
                [] => field.refuse(
                    told!("the name of a line, and the site has no [[line]]"),
                    hint,
                ),
                _ => field.refuse(
                    told!("a line of the site: {names}", names = shown_list(&names)),
                    hint,
                ),
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
        [] => told!("the site has no such meter"),
        _ => told!("expected {ids}", ids = shown_list(&ids)),
    };
    let hint = nearest(id, &ids).map(|near| {
        told!(
            "write {column} {near}",
            column = column.measured.word(),
            near = shown(near)
        )
    });
    match named {
        Some(meter) => {
            let measures = meter.measures.word();
            problems.add(
                at,
                told!(
                    "{name} was read on meter {meter}, which measures {measures}; {expected}",
                    name,
                    meter = shown(id),
                    measures,
                    expected
                ),
                hint,
            );
        }
        // A meter that the site does not declare has the stated defaults, unless it declares others of its kind.
        None if ids.is_empty() => {}
        None => problems.add(
            at,
            told!(
                "{name} names the meter {meter}, which the site does not have; {expected}",
                name,
                meter = shown(id),
                expected
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
