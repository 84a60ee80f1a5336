//! Reads a site file.

use super::{lines, meters, operation, pump, tees};
use crate::kind::Kind;
use crate::told;
use crate::told::later;
use crate::unit::Dimension;
use crate::values::Range;
use crate::walker::{Field, Table};
use crate::wording::shown;
use crate::{Body, Limits, Operation, Place, Problem, Quantity, Site, Source, Water, document};
use std::collections::BTreeMap;

/// Water of a pool; the laws of water that the analysis rests on hold from 0 to 60 °C.
pub(super) const WATER_TEMPERATURE: Range = Range::Between {
    low: 273.15,
    high: 333.15,
    words: later!("0 degC to 60 degC (32 degF to 140 degF)"),
};
const SALINITY: Range = Range::Between {
    low: 0.0,
    high: 35.0,
    words: later!("0 g/L to 35 g/L"),
};
/// From below the shore of the Dead Sea to above every town.
const ELEVATION: Range = Range::Between {
    low: -500.0,
    high: 9000.0,
    words: later!("-500 m to 9000 m (-1640 ft to 29500 ft)"),
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
        .map(|table| water(&table, &Water::default()));
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
        .map(|table| limits(&table, &Limits::default()));
    let operation = root
        .get("operation")
        .and_then(|field| operation::operation(&field, &lines, &Operation::default()));
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

/// Reads `[water]`; what it does not state stays as it was before.
pub(super) fn water(table: &Table<'_>, before: &Water) -> Water {
    let quantity = |key, dimension, range, before: &Option<Quantity>| {
        table
            .quantity(key, dimension, range)
            .or_else(|| before.clone())
    };
    let water = Water {
        volume: quantity(
            "volume",
            Dimension::Volume,
            Range::AboveZero,
            &before.volume,
        ),
        temperature: quantity(
            "temperature",
            Dimension::Temperature,
            WATER_TEMPERATURE,
            &before.temperature,
        ),
        salinity: quantity(
            "salinity",
            Dimension::Concentration,
            SALINITY,
            &before.salinity,
        ),
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

/// Reads `[limits]`; what it does not state stays as it was before.
pub(super) fn limits(table: &Table<'_>, before: &Limits) -> Limits {
    let above_zero = |key, dimension, before: &Option<Quantity>| {
        table
            .quantity(key, dimension, Range::AboveZero)
            .or_else(|| before.clone())
    };
    let velocity = |key, before| above_zero(key, Dimension::Velocity, before);
    let pressure = |key, before| above_zero(key, Dimension::Pressure, before);
    let margin = |before: &Option<Quantity>| {
        let stated = table.quantity("npsh_margin", Dimension::Length, Range::ZeroOrMore);
        stated.or_else(|| before.clone())
    };
    let limits = Limits {
        rules: table.name("rules").or_else(|| before.rules.clone()),
        suction_velocity: velocity("suction_velocity", &before.suction_velocity),
        return_velocity: velocity("return_velocity", &before.return_velocity),
        pressure: pressure("pressure", &before.pressure),
        inlet_vacuum: pressure("inlet_vacuum", &before.inlet_vacuum),
        npsh_margin: margin(&before.npsh_margin),
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
            told!(
                "a name other than pool, pump inlet and pump outlet, which have their place already"
            ),
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
            let message = told!(
                "{key} is {name}, which line {line} has already; expected another {key}",
                key,
                name = shown(name),
                line
            );
            root.problems.add(Some(*at), message, None);
        }
    }
}
