//! Reads the parts of a line: one kind key each, and the keys that belong to that kind.

use super::pump::report_unordered;
use crate::document;
use crate::told;
use crate::told::later;
use crate::unit::Dimension;
use crate::values::{Range, SHARE};
use crate::walker::{Field, Table};
use crate::wording::{nearest, one_of, shown};
use crate::{
    Basket, CheckValve, ChlorineCell, Cover, Filter, Fitting, FlowMeter, Heater, MinorLoss, Outlet,
    Part, PartKind, Pipe, Problem, RatedDrop, Reducer, Skimmer, Solar, Source, Spillover, Tee,
    Valve,
};

/// The most of one part in a row.
const MAX_COUNT: u32 = 1000;

type ReadKind = fn(&Table<'_>) -> Option<PartKind>;

/// Every kind key with what reads the part.
const KINDS: [(&str, ReadKind); 18] = [
    ("pipe", pipe),
    ("pipe_bore", pipe),
    ("fitting", fitting),
    ("valve", valve),
    ("tee", tee),
    ("reducer", reducer),
    ("skimmer", skimmer),
    ("cover", cover),
    ("basket", basket),
    ("filter", filter),
    ("heater", heater),
    ("cell", cell),
    ("check_valve", check_valve),
    ("solar", solar),
    ("spillover", spillover),
    ("outlet", outlet),
    ("flow_meter", flow_meter),
    ("k", minor_loss),
];

/// Reads one part as a site file states it, without its braces: `valve = "ball", size = "2 in"`.
///
/// # Errors
/// Everything that is wrong in it, at the column of the text as typed.
pub fn read_part(typed: &Source) -> Result<Part, Vec<Problem>> {
    const OPENING: &str = "part = {";
    let source = Source {
        name: typed.name.clone(),
        text: [OPENING, &typed.text, "}"].concat(),
    };
    document::read_fragment(&source, |root| part(&root.get("part")?)).map_err(|problems| {
        let as_typed = |problem: Problem| Problem {
            column: problem.column.saturating_sub(OPENING.len()),
            ..problem
        };
        problems.into_iter().map(as_typed).collect()
    })
}

/// Reads the list of parts of a line.
pub(super) fn parts(field: &Field<'_>) -> Vec<Part> {
    field.items().iter().filter_map(part).collect()
}

/// Reads one part.
pub(super) fn part(field: &Field<'_>) -> Option<Part> {
    let table = Field {
        name: "a part",
        ..*field
    }
    .table(later!("the part"))?;
    let kinds: Vec<_> = KINDS.iter().filter(|(key, _)| table.has(key)).collect();
    let [(_, read)] = kinds.as_slice() else {
        report_kinds(
            field,
            &table,
            &kinds.iter().map(|(key, _)| *key).collect::<Vec<_>>(),
        );
        return None;
    };
    let kind = read(&table);
    let count = table
        .get("count")
        .map_or(Some(1), |field| field.whole(1, MAX_COUNT));
    table.finish();
    Some(Part {
        kind: kind?,
        count: count?,
    })
}

fn report_kinds(field: &Field<'_>, table: &Table<'_>, found: &[&str]) {
    if let [first, second, ..] = found {
        let message = told!(
            "the part has two kinds, {first} and {second}; expected one",
            first,
            second
        );
        let [first, second] = [first, second].map(|kind| format!("{{ {kind} = … }}"));
        let hint = told!("make it two parts: {first}, {second}", first, second);
        field.problems.add(Some(field.at), message, Some(hint));
        return;
    }
    let all: Vec<&str> = KINDS.iter().map(|(key, _)| *key).collect();
    let near = table
        .everything()
        .find_map(|key| Some((shown(key.name), nearest(key.name, &all)?)));
    let hint = near.map(|(typed, near)| told!("write {near} for {typed}", near, typed));
    let message = told!(
        "the part has no kind; expected {kinds}",
        kinds = one_of(&all)
    );
    field.problems.add(Some(field.at), message, hint);
}

fn length(table: &Table<'_>, key: &'static str) -> Option<crate::Quantity> {
    table.quantity(key, Dimension::Length, Range::AboveZero)
}

fn flow(table: &Table<'_>, key: &'static str) -> Option<crate::Quantity> {
    table.quantity(key, Dimension::Flow, Range::AboveZero)
}

/// The least and the highest flow of an appliance.
fn flow_limits(table: &Table<'_>) -> [Option<crate::Quantity>; 2] {
    let (min, max) = (flow(table, "min_flow"), flow(table, "max_flow"));
    if let (Some(min), Some(max)) = (&min, &max) {
        report_unordered(table, "min_flow", min, max);
    }
    [min, max]
}

/// A flow with its drop: `{ flow = "60 gpm", drop = "2.4 psi" }`.
fn rated_drop(field: &Field<'_>) -> Option<RatedDrop> {
    let table = field.table(later!("a rated point"))?;
    let flow = table.require_quantity("flow", Dimension::Flow, Range::AboveZero);
    let drop = table.require_quantity("drop", Dimension::Pressure, Range::ZeroOrMore);
    table.finish();
    Some(RatedDrop {
        flow: flow?,
        drop: drop?,
    })
}

/// One rated point or a list of them.
fn rated_drops(table: &Table<'_>) -> Vec<RatedDrop> {
    let points = table
        .get("at")
        .map(|field| field.one_or_more())
        .unwrap_or_default();
    points.iter().filter_map(rated_drop).collect()
}

fn pipe(table: &Table<'_>) -> Option<PartKind> {
    let pipe = Pipe {
        pipe: length(table, "pipe"),
        pipe_bore: length(table, "pipe_bore"),
        spec: table.name("spec"),
        length: length(table, "length"),
        roughness: table.quantity("roughness", Dimension::Length, Range::ZeroOrMore),
    };
    let stated = pipe.pipe.is_some() || pipe.pipe_bore.is_some();
    stated.then_some(PartKind::Pipe(pipe))
}

fn fitting(table: &Table<'_>) -> Option<PartKind> {
    let (fitting, size) = (table.name("fitting"), length(table, "size"));
    Some(PartKind::Fitting(Fitting {
        fitting: fitting?,
        size,
    }))
}

fn valve(table: &Table<'_>) -> Option<PartKind> {
    let valve = table.name("valve");
    let size = length(table, "size");
    let open = table.quantity("open", Dimension::Ratio, SHARE);
    let kv = flow(table, "kv");
    Some(PartKind::Valve(Valve {
        valve: valve?,
        size,
        open,
        kv,
    }))
}

fn tee(table: &Table<'_>) -> Option<PartKind> {
    let (tee, size) = (table.word("tee"), length(table, "size"));
    Some(PartKind::Tee(Tee { tee: tee?, size }))
}

fn reducer(table: &Table<'_>) -> Option<PartKind> {
    let (reducer, spec) = (length(table, "reducer"), table.name("spec"));
    Some(PartKind::Reducer(Reducer {
        reducer: reducer?,
        spec,
    }))
}

fn skimmer(table: &Table<'_>) -> Option<PartKind> {
    let (skimmer, at) = (table.name("skimmer"), rated_drops(table));
    Some(PartKind::Skimmer(Skimmer {
        skimmer: skimmer?,
        at,
    }))
}

fn cover(table: &Table<'_>) -> Option<PartKind> {
    let (cover, rating, at) = (
        table.word("cover"),
        flow(table, "rating"),
        rated_drops(table),
    );
    Some(PartKind::Cover(Cover {
        cover: cover?,
        rating,
        at,
    }))
}

fn basket(table: &Table<'_>) -> Option<PartKind> {
    let (basket, at) = (table.name("basket"), rated_drops(table));
    Some(PartKind::Basket(Basket {
        basket: basket?,
        at,
    }))
}

fn filter(table: &Table<'_>) -> Option<PartKind> {
    let filter = table.name("filter");
    let area = table.quantity("area", Dimension::Area, Range::AboveZero);
    let clean = table.get("clean").and_then(|field| rated_drop(&field));
    let max_flow = flow(table, "max_flow");
    let max_pressure = table.quantity("max_pressure", Dimension::Pressure, Range::AboveZero);
    Some(PartKind::Filter(Filter {
        filter: filter?,
        area,
        clean,
        max_flow,
        max_pressure,
    }))
}

fn heater(table: &Table<'_>) -> Option<PartKind> {
    let (heater, at, bypass) = (
        table.name("heater"),
        rated_drops(table),
        table.name("bypass"),
    );
    let [min_flow, max_flow] = flow_limits(table);
    Some(PartKind::Heater(Heater {
        heater: heater?,
        at,
        min_flow,
        max_flow,
        bypass,
    }))
}

fn cell(table: &Table<'_>) -> Option<PartKind> {
    let (cell, at) = (table.name("cell"), rated_drops(table));
    let [min_flow, max_flow] = flow_limits(table);
    Some(PartKind::Cell(ChlorineCell {
        cell: cell?,
        at,
        min_flow,
        max_flow,
    }))
}

fn check_valve(table: &Table<'_>) -> Option<PartKind> {
    let check_valve = table.name("check_valve");
    let size = length(table, "size");
    let cracking = table.quantity("cracking", Dimension::Pressure, Range::ZeroOrMore);
    let kv = flow(table, "kv");
    Some(PartKind::CheckValve(CheckValve {
        check_valve: check_valve?,
        size,
        cracking,
        kv,
    }))
}

fn solar(table: &Table<'_>) -> Option<PartKind> {
    let (solar, at) = (table.name("solar"), rated_drops(table));
    let height = table.quantity("height", Dimension::Length, Range::Any);
    let [min_flow, max_flow] = flow_limits(table);
    Some(PartKind::Solar(Solar {
        solar: solar?,
        height,
        at,
        min_flow,
        max_flow,
    }))
}

fn spillover(table: &Table<'_>) -> Option<PartKind> {
    let spillover = table.name("spillover");
    let height = table.quantity("height", Dimension::Length, Range::Any);
    Some(PartKind::Spillover(Spillover {
        spillover: spillover?,
        height,
    }))
}

fn outlet(table: &Table<'_>) -> Option<PartKind> {
    let (outlet, bore) = (table.name("outlet"), length(table, "bore"));
    Some(PartKind::Outlet(Outlet {
        outlet: outlet?,
        bore,
    }))
}

fn flow_meter(table: &Table<'_>) -> Option<PartKind> {
    let (flow_meter, at) = (table.name("flow_meter"), rated_drops(table));
    Some(PartKind::FlowMeter(FlowMeter {
        flow_meter: flow_meter?,
        at,
    }))
}

fn minor_loss(table: &Table<'_>) -> Option<PartKind> {
    let k = table.get("k").and_then(|field| field.coefficient());
    Some(PartKind::MinorLoss(MinorLoss { k: k? }))
}
