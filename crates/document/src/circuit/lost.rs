//! The drawing of a pad with what each line takes of the head, as the calibrated plumbing has it.

use super::{PUMP_INLET, PUMP_OUTLET, parts, place, places};
use crate::content::capitalized;
use crate::figures::glue::held;
use crate::number;
use crate::units::Printing;
use charts::{Circuit, CircuitLine, CircuitPump, Place, Standing, Way};
use fieldtest::{Budget, LineBudget};
use records::unit::Dimension;
use records::{Line, Site};

/// Composes the drawing; `None` where the site states no line.
pub fn lost(site: &Site, budget: &Budget, printing: Printing) -> Option<Circuit> {
    if site.lines.is_empty() {
        return None;
    }
    let places = places(site, printing);
    let most = budget
        .lines
        .iter()
        .map(|line| line.share.value)
        .fold(0.0, f64::max);
    let stated = site.lines.iter().zip(&budget.lines);
    let lines = stated.map(|(line, lost)| {
        let values = in_short(line, lost, budget, printing);
        CircuitLine {
            from: place(&places, &line.from),
            to: place(&places, &line.to),
            name: line.name.clone(),
            told: format!("{}, from {} to {}: {values}", line.name, line.from, line.to),
            values: held(&values),
            standing: standing(line, lost, budget, most),
            way: Way::Forwards,
            parts: parts::parts(line, printing),
        }
    });
    let lines: Vec<CircuitLine> = lines.collect();
    let title = title(budget, printing);
    let each = lines.iter().map(|line| line.told.as_str());
    let description: Vec<&str> = std::iter::once(title.as_str()).chain(each).collect();
    Some(Circuit {
        description: description.join(". ") + ".",
        title: held(&title),
        note: "Blue: takes the most. By the stated plumbing, moved as far as the readings ask."
            .to_owned(),
        pump: pump(site, &places, budget, printing),
        lines,
        places: places.into_iter().map(|(_, place)| place).collect(),
    })
}

fn is_shut(line: &Line, budget: &Budget) -> bool {
    budget.closed.contains(&line.name)
}

/// Writes the head along a line and its part of the whole.
fn in_short(line: &Line, lost: &LineBudget, budget: &Budget, printing: Printing) -> String {
    if is_shut(line, budget) {
        return "shut".to_owned();
    }
    format!(
        "{}, {} %",
        printing.with_interval(lost.head_m, Dimension::Length),
        number::with_interval(lost.share.scaled(100.0)),
    )
}

fn standing(line: &Line, lost: &LineBudget, budget: &Budget, most: f64) -> Standing {
    if line.unknown {
        Standing::Unstated
    } else if is_shut(line, budget) {
        Standing::Shut
    } else if lost.share.value >= most {
        Standing::Kept
    } else {
        Standing::Unjudged
    }
}

fn title(budget: &Budget, printing: Printing) -> String {
    let greatest = budget
        .sections
        .iter()
        .max_by(|(_, a), (_, b)| a.value.total_cmp(&b.value));
    let head = printing.with_interval(budget.head_m, Dimension::Length);
    let speed = number::rpm(budget.speed_rpm);
    match greatest {
        Some((lines, share)) => capitalized(&format!(
            "{} takes {} % of the {head} of head at {speed} rpm",
            lines.join(" and "),
            number::best(share.scaled(100.0)),
        )),
        None => format!("{head} of head at {speed} rpm"),
    }
}

fn pump(
    site: &Site,
    places: &[(&str, Place)],
    budget: &Budget,
    printing: Printing,
) -> Option<CircuitPump> {
    let [inlet, outlet] = [PUMP_INLET, PUMP_OUTLET].map(|end| place(places, end));
    if inlet == places.len() || outlet == places.len() {
        return None;
    }
    let name = site.pump.name.as_deref().unwrap_or("pump");
    let words = [
        name.to_owned(),
        format!("{} rpm", number::rpm(budget.speed_rpm)),
        printing.best(budget.flow_m3s, Dimension::Flow),
        format!("{} head", printing.best(budget.head_m, Dimension::Length)),
    ];
    Some(CircuitPump {
        inlet,
        outlet,
        told: format!("{name}, the pump: {}", words[1..].join(", ")),
        words: words.to_vec(),
    })
}
