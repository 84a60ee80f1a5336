//! Reads a site file.

use super::{lines, meters, operation, pump, tees};
use crate::kind::Kind;
use crate::unit::Dimension;
use crate::values::Range;
use crate::walker::{Field, Table};
use crate::wording::shown;
use crate::{Body, Limits, Place, Problem, Site, Source, Water, document};
use std::collections::BTreeMap;

/// Water of a pool; the laws of water that the analysis rests on hold from 0 to 60 °C.
pub(super) const WATER_TEMPERATURE: Range = Range::Between {
    low: 273.15,
    high: 333.15,
    words: "0 degC to 60 degC (32 degF to 140 degF)",
};
const SALINITY: Range = Range::Between {
    low: 0.0,
    high: 35.0,
    words: "0 g/L to 35 g/L",
};
/// From below the shore of the Dead Sea to above every town.
const ELEVATION: Range = Range::Between {
    low: -500.0,
    high: 9000.0,
    words: "-500 m to 9000 m (-1640 ft to 29500 ft)",
};

/// A name with the byte that it stands at.
pub(super) type Placed = (String, usize);

/// Reads a site file, or everything that is wrong in it.
pub fn read_site(source: &Source) -> Result<Site, Vec<Problem>> {
    document::read(source, Kind::Site, site)
}

fn site(root: &Table<'_>) -> Option<Site> {
    let name = root
        .require("name", "\"Larkspur Lane\"")
        .and_then(|field| field.name());
    let units = root.word("units");
    let water = root
        .get("water")
        .and_then(|field| field.table("[water]"))
        .map(|table| water(&table));
    let place = root
        .get("place")
        .and_then(|field| field.table("[place]"))
        .map(|table| place(&table));
    let bodies = bodies(root);
    let pump = root
        .require("pump", "{ speed = { max = \"3450 rpm\" } }")
        .and_then(|field| pump::pump(&field));
    let meters = meters::meters(root);
    let lines = lines::lines(root, &bodies.names);
    let tees = tees::tees(root, &lines);
    let limits = root
        .get("limits")
        .and_then(|field| field.table("[limits]"))
        .map(|table| limits(&table));
    let operation = root
        .get("operation")
        .and_then(|field| operation::operation(&field, &lines));
    root.finish();
    lines::check_meters(&lines, &meters);
    Some(Site {
        format: document::FORMAT,
        name: name?,
        units,
        water: water.unwrap_or_default(),
        place: place.unwrap_or_default(),
        bodies: bodies.bodies,
        pump: pump?,
        meters: meters.into_iter().filter_map(|read| read.meter).collect(),
        lines: lines.read,
        tees,
        limits: limits.unwrap_or_default(),
        operation: operation.unwrap_or_default(),
    })
}

fn water(table: &Table<'_>) -> Water {
    let water = Water {
        volume: table.quantity("volume", Dimension::Volume, Range::AboveZero),
        temperature: table.quantity("temperature", Dimension::Temperature, WATER_TEMPERATURE),
        salinity: table.quantity("salinity", Dimension::Concentration, SALINITY),
    };
    table.finish();
    water
}

fn place(table: &Table<'_>) -> Place {
    let place = Place {
        elevation: table.quantity("elevation", Dimension::Length, ELEVATION),
    };
    table.finish();
    place
}

fn limits(table: &Table<'_>) -> Limits {
    let limits = Limits {
        rules: table.name("rules"),
        suction_velocity: table.quantity("suction_velocity", Dimension::Velocity, Range::AboveZero),
        return_velocity: table.quantity("return_velocity", Dimension::Velocity, Range::AboveZero),
        pressure: table.quantity("pressure", Dimension::Pressure, Range::AboveZero),
        inlet_vacuum: table.quantity("inlet_vacuum", Dimension::Pressure, Range::AboveZero),
        npsh_margin: table.quantity("npsh_margin", Dimension::Length, Range::ZeroOrMore),
    };
    table.finish();
    limits
}

/// The bodies that could be read, and the names of all.
struct Bodies {
    bodies: Vec<Body>,
    names: Vec<Placed>,
}

fn bodies(root: &Table<'_>) -> Bodies {
    let mut read = Bodies {
        bodies: Vec::new(),
        names: Vec::new(),
    };
    for table in root.tables("body", "[[body]]") {
        let name = table
            .require("name", "\"spa\"")
            .and_then(|field| body_name(&field));
        let level = table.require_quantity("level", Dimension::Length, Range::Any);
        table.finish();
        read.names.extend(name.clone());
        read.bodies.extend(
            name.zip(level)
                .map(|((name, _), level)| Body { name, level }),
        );
    }
    report_repeats(root, "name", &read.names);
    read
}

fn body_name(field: &Field<'_>) -> Option<Placed> {
    let name = field.name()?;
    if lines::FIXED_ENDS.contains(&name.as_str()) {
        field.refuse(
            "a name other than pool, pump inlet and pump outlet, which have their place already",
            None,
        );
        return None;
    }
    Some((name, field.at))
}

/// Reports every name that stands twice.
pub(super) fn report_repeats(root: &Table<'_>, key: &str, names: &[Placed]) {
    let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
    for (name, at) in names {
        let first = *seen.entry(name).or_insert(*at);
        if first != *at {
            let line = root.problems.line(first);
            let message = format!(
                "{key} is {}, which line {line} has already; expected another {key}",
                shown(name)
            );
            root.problems.add(Some(*at), message, None);
        }
    }
}
