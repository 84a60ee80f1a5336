//! The flows that parts of a line ask for, as the site file states them.

use records::{Filter, PartKind, Quantity};

/// Returns the word for a part, as the trade says it.
pub(crate) fn word(kind: &PartKind) -> &'static str {
    match kind {
        PartKind::Pipe(_) => "pipe",
        PartKind::Fitting(_) => "fitting",
        PartKind::Valve(_) => "valve",
        PartKind::Tee(_) => "tee",
        PartKind::Reducer(_) => "reducer",
        PartKind::Skimmer(_) => "skimmer",
        PartKind::Cover(_) => "suction cover",
        PartKind::Basket(_) => "basket",
        PartKind::Filter(_) => "filter",
        PartKind::Heater(_) => "heater",
        PartKind::Cell(_) => "chlorine cell",
        PartKind::CheckValve(_) => "check valve",
        PartKind::Solar(_) => "solar panels",
        PartKind::Spillover(_) => "spillover",
        PartKind::Outlet(_) => "outlet",
        PartKind::FlowMeter(_) => "flow meter",
        PartKind::MinorLoss(_) => "minor loss",
    }
}

/// Returns a part as a filter, where it is one.
pub(crate) fn filter(kind: &PartKind) -> Option<&Filter> {
    match kind {
        PartKind::Filter(filter) => Some(filter),
        _ => None,
    }
}

/// Returns the least flow that a part needs, where it is stated.
pub(crate) fn min_flow(kind: &PartKind) -> Option<&Quantity> {
    match kind {
        PartKind::Heater(heater) => heater.min_flow.as_ref(),
        PartKind::Cell(cell) => cell.min_flow.as_ref(),
        PartKind::Solar(solar) => solar.min_flow.as_ref(),
        _ => None,
    }
}

/// Returns the highest flow that a part stands, where it is stated.
pub(crate) fn max_flow(kind: &PartKind) -> Option<&Quantity> {
    match kind {
        PartKind::Filter(filter) => filter.max_flow.as_ref(),
        PartKind::Heater(heater) => heater.max_flow.as_ref(),
        PartKind::Cell(cell) => cell.max_flow.as_ref(),
        PartKind::Solar(solar) => solar.max_flow.as_ref(),
        PartKind::Cover(cover) => cover.rating.as_ref(),
        _ => None,
    }
}
