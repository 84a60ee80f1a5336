//! Reads the pump: its speeds, its place, the maker's curve.

use crate::told;
use crate::told::later;
use crate::unit::Dimension;
use crate::values::{Range, SHARE};
use crate::walker::{Field, Table};
use crate::{CurvePoint, Prime, Pump, Quantity, SpeedRange};

/// Reads `[pump]`.
pub(super) fn pump(field: &Field<'_>) -> Option<Pump> {
    let table = field.table("[pump]")?;
    let name = table.name("name");
    let speed = table
        .require("speed", "{ max = \"3450 rpm\" }")
        .and_then(|field| speed_range(&field));
    let supply = table.quantity("supply", Dimension::Voltage, Range::AboveZero);
    let height = table.quantity("height", Dimension::Length, Range::Any);
    let prime = table.get("prime").and_then(|field| prime(&field));
    let curve_speed = table.quantity("curve_speed", Dimension::Speed, Range::AboveZero);
    let curve = table
        .get("curve")
        .map(|field| curve(&field))
        .unwrap_or_default();
    if table.has("curve") && !table.has("curve_speed") {
        let hint = Some(told!("add the speed that the maker's curve is drawn for"));
        table.report(
            told!("[pump] has a curve and no curve_speed; expected curve_speed = \"3450 rpm\""),
            hint,
        );
    }
    table.finish();
    Some(Pump {
        name,
        speed: speed?,
        supply,
        height,
        prime,
        curve_speed,
        curve,
    })
}

fn speed_range(field: &Field<'_>) -> Option<SpeedRange> {
    let table = field.table("speed")?;
    let min = table.quantity("min", Dimension::Speed, Range::AboveZero);
    let max = table
        .require("max", "\"3450 rpm\"")
        .and_then(|field| field.quantity(Dimension::Speed, Range::AboveZero));
    table.finish();
    if let (Some(min), Some(max)) = (&min, &max) {
        report_unordered(&table, "min", min, max);
    }
    Some(SpeedRange { min, max: max? })
}

/// Reports a lowest value that is not below the highest.
pub(super) fn report_unordered(
    table: &Table<'_>,
    key: &'static str,
    low: &Quantity,
    high: &Quantity,
) {
    if low.si >= high.si
        && let Some(field) = table.get(key)
    {
        field.refuse(
            told!("a value below {high}", high = crate::shown(&high.text)),
            None,
        );
    }
}

fn prime(field: &Field<'_>) -> Option<Prime> {
    let table = field.table("prime")?;
    let speed = table.require_quantity("speed", Dimension::Speed, Range::AboveZero);
    let time = table.require_quantity("time", Dimension::Time, Range::AboveZero);
    table.finish();
    Some(Prime {
        speed: speed?,
        time: time?,
    })
}

fn curve(field: &Field<'_>) -> Vec<CurvePoint> {
    let items = field.items();
    let points: Vec<CurvePoint> = items.iter().filter_map(curve_point).collect();
    if items.len() < 2 {
        let count = items.len();
        field.report(
            told!(
                "it has {count} points; expected two or more points of flow and head",
                count
            ),
            None,
        );
    }
    if points.len() == items.len() {
        report_one_flow_twice(&items, &points);
    }
    points
}

fn curve_point(field: &Field<'_>) -> Option<CurvePoint> {
    let table = field.table(later!("a point of the curve"))?;
    let flow = table.require_quantity("flow", Dimension::Flow, Range::ZeroOrMore);
    let head = table.require_quantity("head", Dimension::Length, Range::ZeroOrMore);
    let npshr = table.quantity("npshr", Dimension::Length, Range::ZeroOrMore);
    let power = table.quantity("power", Dimension::Power, Range::AboveZero);
    let efficiency = table.quantity("efficiency", Dimension::Ratio, SHARE);
    table.finish();
    Some(CurvePoint {
        flow: flow?,
        head: head?,
        npshr,
        power,
        efficiency,
    })
}

fn report_one_flow_twice(items: &[Field<'_>], points: &[CurvePoint]) {
    for (position, (item, point)) in items.iter().zip(points).enumerate() {
        // The same flow in another unit may differ in its last digits; a millionth is no other point.
        let same =
            |other: &&CurvePoint| (other.flow.si - point.flow.si).abs() <= 1e-6 * point.flow.si;
        if points.iter().take(position).find(same).is_some() {
            let message = told!(
                "the curve has the flow {flow} twice; expected each flow once",
                flow = crate::shown(&point.flow.text)
            );
            item.problems.add(Some(item.at), message, None);
        }
    }
}
