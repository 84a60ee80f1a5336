//! The parts of a line as they stand in a drawing: few, in few words.

use crate::language::say;
use crate::parts::name;
use crate::units::Printing;
use charts::{CircuitPart, Shape};
use records::unit::Dimension;
use records::{Line, Part, PartKind};

/// The most parts that one line shows.
const MOST: usize = 8;

/// Lists the parts of a line; fittings stand together where the first of them is.
pub(super) fn parts(line: &Line, printing: Printing) -> Vec<CircuitPart> {
    let fittings: Vec<&Part> = line.parts.iter().filter(|part| is_fitting(part)).collect();
    let mut together = fittings_together(&fittings, printing);
    let mut shown: Vec<CircuitPart> = line
        .parts
        .iter()
        .filter_map(|part| {
            if is_fitting(part) {
                return together.take();
            }
            Some(CircuitPart {
                label: pipe(part, printing).unwrap_or_else(|| name(part, printing)),
                shape: shape(&part.kind),
            })
        })
        .collect();
    if shown.len() > MOST {
        let more = shown.len() + 1 - MOST;
        shown.truncate(MOST - 1);
        shown.push(CircuitPart {
            label: say!(printing, "{more} more parts", more),
            shape: Shape::Dot,
        });
    }
    shown
}

fn is_fitting(part: &Part) -> bool {
    matches!(
        part.kind,
        PartKind::Fitting(_) | PartKind::Tee(_) | PartKind::Reducer(_)
    )
}

fn fittings_together(fittings: &[&Part], printing: Printing) -> Option<CircuitPart> {
    let count: u64 = fittings.iter().map(|part| u64::from(part.count)).sum();
    let label = match fittings {
        [] => return None,
        [only] if count == 1 => name(only, printing),
        _ => say!(printing, "{count} fittings", count),
    };
    Some(CircuitPart {
        label,
        shape: Shape::Dot,
    })
}

/// Writes the size of a pipe with its length; `None` for what is no pipe.
pub(super) fn pipe(part: &Part, printing: Printing) -> Option<String> {
    let PartKind::Pipe(pipe) = &part.kind else {
        return None;
    };
    let size = match (&pipe.pipe, &pipe.pipe_bore) {
        (Some(nominal), _) => Some(nominal.text.clone()),
        (None, Some(bore)) => Some(printing.bore(bore.si)),
        (None, None) => None,
    };
    let length = pipe.length.as_ref().map(|length| {
        let about = if length.guess.is_some() {
            say!(printing, "about ")
        } else {
            ""
        };
        format!("{about}{}", printing.plain(length.si, Dimension::Length))
    });
    let said: Vec<String> = size.into_iter().chain(length).collect();
    let one = if said.is_empty() {
        say!(printing, "pipe").to_owned()
    } else {
        said.join(", ")
    };
    Some(match part.count {
        1 => one,
        count => format!("{count} × {one}"),
    })
}

fn shape(kind: &PartKind) -> Shape {
    match kind {
        PartKind::Pipe(_) => Shape::Pipe,
        PartKind::Skimmer(_)
        | PartKind::Cover(_)
        | PartKind::Basket(_)
        | PartKind::Filter(_)
        | PartKind::Heater(_)
        | PartKind::Cell(_)
        | PartKind::Solar(_)
        | PartKind::Spillover(_) => Shape::Box,
        PartKind::Fitting(_)
        | PartKind::Tee(_)
        | PartKind::Reducer(_)
        | PartKind::Valve(_)
        | PartKind::CheckValve(_)
        | PartKind::Outlet(_)
        | PartKind::FlowMeter(_)
        | PartKind::MinorLoss(_) => Shape::Dot,
    }
}
