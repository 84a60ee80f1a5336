//! The drawing of a pad: which line leads where and what is in it, and where the pad is solved, what flows there and
//! which limits are kept.
//!
//! Neutral data for `charts`, with every word and number already in the language and the units of print.

mod line;
mod lost;
mod parts;

use crate::content::limit_words;
use crate::figures::glue::held;
use crate::language::say;
use crate::names;
use crate::number;
use crate::solved;
use crate::units::Printing;
pub use lost::lost;

use charts::{Circuit, CircuitLine, CircuitPump, Place, PlaceKind};
use fieldtest::{NetworkProblem, SolvedPad};
use line::{Subject, in_short, told};
use records::unit::Dimension;
use records::{Body, Part, Site};

/// The ends that a site's lines have at the pump, and the water that is the level 0.
const PUMP_INLET: &str = "pump inlet";
const PUMP_OUTLET: &str = "pump outlet";
const POOL: &str = "pool";

/// What is known of the flows of a pad: the solved pad, or why it has none.
pub type Flows<'a> = Result<&'a SolvedPad, &'a NetworkProblem>;

/// Composes the drawing of a pad; `None` where the site states no line.
pub fn circuit(site: &Site, flows: Flows<'_>, printing: Printing) -> Option<Circuit> {
    if site.lines.is_empty() {
        return None;
    }
    let places = places(site, printing);
    let solved = flows.ok();
    let subject = Subject {
        site,
        solved,
        printing,
    };
    let numbered = site.lines.iter().enumerate();
    let lines = numbered.map(|(index, line)| CircuitLine {
        from: place(&places, &line.from),
        to: place(&places, &line.to),
        name: line.name.clone(),
        values: held(&in_short(&subject, index)),
        told: told(&subject, index),
        standing: line::standing(&subject, index),
        way: line::way(&subject, index),
        parts: parts::parts(line, printing),
    });
    let lines: Vec<CircuitLine> = lines.collect();
    let title = title(site, solved, printing);
    let each = lines.iter().map(|line| line.told.as_str());
    let description: Vec<&str> = std::iter::once(title.as_str()).chain(each).collect();
    Some(Circuit {
        description: description.join(". ") + ".",
        title: held(&title),
        note: held(&note(site, flows, printing)),
        pump: pump(
            site,
            &places,
            solved.map(|pad| PumpValues {
                speed_rpm: pad.speed_rpm,
                flow: printing.plain(pad.flow_m3s, Dimension::Flow),
                head: printing.plain(pad.head_m, Dimension::Length),
            }),
            printing,
        ),
        lines,
        places: places.into_iter().map(|(_, place)| place).collect(),
    })
}

/// Names a part as the drawing does: a pipe by its size and length.
pub fn part_words(part: &Part, printing: Printing) -> String {
    parts::pipe(part, printing).unwrap_or_else(|| crate::parts::name(part, printing))
}

/// Lists the places by their names in the site file: the bodies of water, then the joints.
fn places(site: &Site, printing: Printing) -> Vec<(&str, Place)> {
    let water = |name: String| Place {
        name,
        kind: PlaceKind::Water,
    };
    let mut found = vec![(POOL, water(names::name(POOL, printing).into_owned()))];
    let bodies = site.bodies.iter();
    found.extend(bodies.map(|body| (body.name.as_str(), water(level(body, printing)))));
    let ends = site.lines.iter().flat_map(|line| [&line.from, &line.to]);
    let ends: Vec<&str> = ends.map(String::as_str).collect();
    let runs_pump = ends
        .iter()
        .any(|end| [PUMP_INLET, PUMP_OUTLET].contains(end));
    let pump = [PUMP_INLET, PUMP_OUTLET].into_iter().filter(|_| runs_pump);
    for end in pump.chain(ends.iter().copied()) {
        if !found.iter().any(|(name, _)| *name == end) {
            let joint = Place {
                name: names::name(end, printing).into_owned(),
                kind: PlaceKind::Joint,
            };
            found.push((end, joint));
        }
    }
    found
}

fn place(places: &[(&str, Place)], end: &str) -> usize {
    let found = places.iter().position(|(name, _)| *name == end);
    // Every end of a line is among the places; beyond them the drawing leaves the line out.
    found.unwrap_or(places.len())
}

/// Names a body of water with how high it stands.
fn level(body: &Body, printing: Printing) -> String {
    let height = printing.plain(body.level.si.abs(), Dimension::Length);
    match body.level.si {
        level if level > 0.0 => say!(
            printing,
            "{body}, {height} above the pool",
            body = body.name,
            height
        ),
        level if level < 0.0 => say!(
            printing,
            "{body}, {height} below the pool",
            body = body.name,
            height
        ),
        _ => body.name.clone(),
    }
}

fn pump(
    site: &Site,
    places: &[(&str, Place)],
    values: Option<PumpValues>,
    printing: Printing,
) -> Option<CircuitPump> {
    let [inlet, outlet] = [PUMP_INLET, PUMP_OUTLET].map(|end| place(places, end));
    if inlet == places.len() || outlet == places.len() {
        return None;
    }
    let (words, told) = pump_words(site, values, printing);
    Some(CircuitPump {
        inlet,
        outlet,
        told,
        words,
    })
}

/// What a pump does, written.
struct PumpValues {
    speed_rpm: f64,
    flow: String,
    head: String,
}

/// Names the pump and what it does, line by line and as one sentence.
fn pump_words(
    site: &Site,
    values: Option<PumpValues>,
    printing: Printing,
) -> (Vec<String>, String) {
    let name = site.pump.name.as_deref().unwrap_or(say!(printing, "pump"));
    let Some(values) = values else {
        return (
            vec![name.to_owned()],
            say!(printing, "{name}, the pump", name),
        );
    };
    let values = [
        say!(
            printing,
            "{speed} rpm",
            speed = number::rpm(printing, values.speed_rpm)
        ),
        values.flow,
        say!(printing, "{head} head", head = values.head),
    ];
    let told = say!(
        printing,
        "{name}, the pump: {values}",
        name,
        values = values.join(", ")
    );
    let words = std::iter::once(name.to_owned()).chain(values).collect();
    (words, told)
}

/// Says what flows and whether the limits are kept; of a pad that is not solved, what is drawn.
fn title(site: &Site, solved: Option<&SolvedPad>, printing: Printing) -> String {
    let Some(pad) = solved else {
        return say!(printing, "{site}: the circuit as stated", site = site.name);
    };
    let flow = printing.plain(pad.flow_m3s, Dimension::Flow);
    let flows = say!(
        printing,
        "{flow} at {speed} rpm",
        flow,
        speed = number::rpm(printing, pad.speed_rpm)
    );
    let passed: Vec<String> = pad
        .limits
        .iter()
        .filter(|found| !found.kept)
        .map(|found| limit_words(&found.limit, printing))
        .collect();
    match passed.as_slice() {
        [] if pad.limits.is_empty() => flows,
        [] => say!(printing, "{flows}: every limit is kept", flows),
        [one] => say!(printing, "{flows}: {one} is not kept", flows, one),
        several => say!(
            printing,
            "{flows}: {count} limits are not kept",
            flows,
            count = several.len()
        ),
    }
}

fn note(site: &Site, flows: Flows<'_>, printing: Printing) -> String {
    match flows {
        Ok(_) => say!(
            printing,
            "Computed from the lines of {site}, not measured.",
            site = site.name
        ),
        Err(problem) => say!(
            printing,
            "Not solved: {problem}.",
            problem = solved::problem(problem, printing).0
        ),
    }
}

#[cfg(test)]
mod tests;
