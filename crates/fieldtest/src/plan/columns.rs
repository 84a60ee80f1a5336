//! The columns of a test to come: those of the last one, else one for each meter of the site, else the usual ones.

use records::unit::{Dimension, Unit};
use records::{Column, Measured, Meter, MeterKind, MeterOf, PartKind, Site, Tap, Test, UnitSystem};

/// A column of the readings to come.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedColumn {
    /// The column, with its heading and its unit.
    pub column: Column,
    /// The id of the meter behind it, where the site states one.
    pub meter: Option<String>,
    /// How that meter works.
    pub kind: Option<MeterKind>,
}

/// Lists the columns; time and notes are none of them.
pub(super) fn columns(site: &Site, tests: &[Test]) -> Vec<PlannedColumn> {
    let earlier = tests.last().map(|test| &test.readings.columns);
    if let Some(earlier) = earlier.filter(|columns| !columns.is_empty()) {
        let read = |column: &&Column| {
            !matches!(
                column.measured,
                Measured::Speed | Measured::Time | Measured::Head
            )
        };
        return earlier
            .iter()
            .filter(read)
            .map(|column| planned(site, column.clone()))
            .collect();
    }
    if site.meters.is_empty() {
        return usual(site);
    }
    let columns = site.meters.iter().map(|meter| {
        let alike = site
            .meters
            .iter()
            .filter(|other| other.measures == meter.measures);
        // The only meter of its kind is known by that.
        let named = (alike.count() > 1).then(|| meter.id.clone());
        planned(site, column(site, measured(meter), named))
    });
    columns.collect()
}

fn planned(site: &Site, column: Column) -> PlannedColumn {
    let mut meters = site
        .meters
        .iter()
        .filter(|meter| of(column.measured) == Some(meter.measures));
    let meter = match &column.meter {
        Some(id) => meters.find(|meter| meter.id == *id),
        None => meters.next().filter(|_| meters.next().is_none()),
    };
    let column = match column.unit {
        Some(_) => column,
        None => self::column(site, column.measured, column.meter),
    };
    PlannedColumn {
        meter: meter.map(|meter| meter.id.clone()),
        kind: meter.and_then(|meter| meter.kind),
        column,
    }
}

/// What one has at a pad where the site states no meter. Common practice, no source.
fn usual(site: &Site) -> Vec<PlannedColumn> {
    let has_filter = site.lines.is_empty()
        || site
            .lines
            .iter()
            .flat_map(|line| &line.parts)
            .any(|part| matches!(part.kind, PartKind::Filter(_)));
    let mut measured = vec![Measured::Flow, Measured::Power, Measured::Current];
    measured.extend(has_filter.then_some(Measured::FilterPressure));
    measured.push(Measured::InletVacuum);
    measured
        .into_iter()
        .map(|measured| planned(site, column(site, measured, None)))
        .collect()
}

fn column(site: &Site, measured: Measured, meter: Option<String>) -> Column {
    let (dimension, name) = unit(measured, site.units.unwrap_or_default());
    let named = meter
        .as_ref()
        .map_or_else(String::new, |meter| format!(" {meter}"));
    Column {
        heading: format!("{}{named} [{name}]", measured.word()),
        measured,
        meter,
        unit: Unit::find(dimension, name),
    }
}

fn measured(meter: &Meter) -> Measured {
    let before_pump = matches!(meter.tap, Some(Tap::PumpPot | Tap::SuctionPipe));
    match meter.measures {
        MeterOf::Flow => Measured::Flow,
        MeterOf::Power => Measured::Power,
        MeterOf::Current => Measured::Current,
        MeterOf::Voltage => Measured::Voltage,
        MeterOf::Pressure if before_pump => Measured::InletPressure,
        MeterOf::Pressure => Measured::FilterPressure,
        MeterOf::Vacuum => Measured::InletVacuum,
    }
}

fn of(measured: Measured) -> Option<MeterOf> {
    match measured {
        Measured::Flow => Some(MeterOf::Flow),
        Measured::Power => Some(MeterOf::Power),
        Measured::Current => Some(MeterOf::Current),
        Measured::Voltage => Some(MeterOf::Voltage),
        Measured::FilterPressure | Measured::InletPressure => Some(MeterOf::Pressure),
        Measured::InletVacuum => Some(MeterOf::Vacuum),
        Measured::Speed | Measured::Head | Measured::Time => None,
    }
}

/// The unit of a heading, as in the files that `new` makes.
fn unit(measured: Measured, system: UnitSystem) -> (Dimension, &'static str) {
    let us = system == UnitSystem::Us;
    let choose = |of_us, of_si| if us { of_us } else { of_si };
    match measured {
        Measured::Speed => (Dimension::Speed, "rpm"),
        Measured::Flow => (Dimension::Flow, choose("gpm", "m3/h")),
        Measured::Power => (Dimension::Power, "W"),
        Measured::Current => (Dimension::Current, "A"),
        Measured::Voltage => (Dimension::Voltage, "V"),
        Measured::FilterPressure | Measured::InletPressure => {
            (Dimension::Pressure, choose("psi", "bar"))
        }
        Measured::InletVacuum => (Dimension::Pressure, choose("inHg", "mbar")),
        Measured::Head => (Dimension::Length, choose("ft", "m")),
        Measured::Time => (Dimension::Time, "s"),
    }
}
