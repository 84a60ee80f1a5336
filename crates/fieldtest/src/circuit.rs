//! The lines as a graph: which side of the pump a line is on, and whether all of the flow passes it.
//!
//! No flow is solved here; this says only what follows from which line joins which.

use crate::result::Passage;
use records::{Line, Site};

/// The end of the suction lines at the pump.
pub(crate) const PUMP_INLET: &str = "pump inlet";
/// The start of the lines after the pump.
pub(crate) const PUMP_OUTLET: &str = "pump outlet";

/// The side of the pump that a line is on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Side {
    /// Before the pump.
    Suction,
    /// After the pump.
    Discharge,
}

/// Finds the side of a line, or `None` where it is joined to no pump end.
pub(crate) fn side(site: &Site, line: &Line) -> Option<Side> {
    let lines: Vec<&Line> = site.lines.iter().collect();
    let leads = |start: &str, end: &str, towards: Towards| {
        !is_water(site, end) && reached(site, &lines, start, towards).contains(&end)
    };
    if leads(PUMP_INLET, &line.to, Towards::From) {
        Some(Side::Suction)
    } else if leads(PUMP_OUTLET, &line.from, Towards::To) {
        Some(Side::Discharge)
    } else {
        None
    }
}

/// Finds how much of the flow passes a line, with `closed` lines shut: all of it where without the line no way is left.
pub(crate) fn passage(site: &Site, line: &Line, closed: &[String]) -> Passage {
    if closed.contains(&line.name) {
        Passage::Shut
    } else if carries_whole_flow(site, line, closed) {
        Passage::Whole
    } else {
        Passage::Part
    }
}

fn carries_whole_flow(site: &Site, line: &Line, closed: &[String]) -> bool {
    let open = |other: &&Line| !closed.contains(&other.name);
    let all: Vec<&Line> = site.lines.iter().filter(open).collect();
    if !all.iter().any(|other| other.name == line.name) {
        return false;
    }
    let without: Vec<&Line> = all
        .iter()
        .copied()
        .filter(|other| other.name != line.name)
        .collect();
    match side(site, line) {
        Some(Side::Suction) => {
            has_water(site, &all, PUMP_INLET, Towards::From)
                && !has_water(site, &without, PUMP_INLET, Towards::From)
        }
        Some(Side::Discharge) => {
            has_water(site, &all, PUMP_OUTLET, Towards::To)
                && !has_water(site, &without, PUMP_OUTLET, Towards::To)
        }
        None => false,
    }
}

/// Which way along the lines a search goes.
#[derive(Clone, Copy)]
enum Towards {
    From,
    To,
}

/// Says whether an end is a body of water.
pub(crate) fn is_water(site: &Site, end: &str) -> bool {
    end == "pool" || site.bodies.iter().any(|body| body.name == end)
}

fn has_water(site: &Site, lines: &[&Line], start: &str, towards: Towards) -> bool {
    let ends = reached(site, lines, start, towards);
    ends.iter().any(|end| is_water(site, end))
}

/// Lists the ends that are reached from `start`; a body of water is reached but not crossed.
fn reached<'a>(site: &Site, lines: &[&'a Line], start: &'a str, towards: Towards) -> Vec<&'a str> {
    let mut ends = vec![start];
    let mut next = 0;
    while let Some(end) = ends.get(next).copied() {
        next += 1;
        if is_water(site, end) {
            continue;
        }
        for line in lines {
            let (near, far) = match towards {
                Towards::From => (line.to.as_str(), line.from.as_str()),
                Towards::To => (line.from.as_str(), line.to.as_str()),
            };
            if near == end && !ends.contains(&far) {
                ends.push(far);
            }
        }
    }
    ends
}

/// Says whether an open way joins an end of the pump to a body of water.
pub(crate) fn leads_to_water(site: &Site, pump_end: &str, closed: &[String]) -> bool {
    let open = |line: &&Line| !closed.contains(&line.name);
    let lines: Vec<&Line> = site.lines.iter().filter(open).collect();
    let towards = if pump_end == PUMP_INLET {
        Towards::From
    } else {
        Towards::To
    };
    has_water(site, &lines, pump_end, towards)
}
