//! The drawing of a pad with what each line takes of the head, as the calibrated plumbing has it.

use super::{PumpValues, parts, place, places, pump};
use crate::content::capitalized;
use crate::figures::glue::held;
use crate::language::say;
use crate::names;
use crate::number;
use crate::units::Printing;
use charts::{Circuit, CircuitLine, Standing, Way};
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
            told: say!(
                printing,
                "{line}, from {from} to {to}: {values}",
                line = line.name,
                from = names::name(&line.from, printing),
                to = names::name(&line.to, printing),
                values
            ),
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
        note: say!(
            printing,
            "Blue: takes the most. By the stated plumbing, moved as far as the readings ask."
        )
        .to_owned(),
        pump: pump(
            site,
            &places,
            Some(PumpValues {
                speed_rpm: budget.speed_rpm,
                flow: printing.best(budget.flow_m3s, Dimension::Flow),
                head: printing.best(budget.head_m, Dimension::Length),
            }),
            printing,
        ),
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
        return say!(printing, "shut").to_owned();
    }
    format!(
        "{}, {} %",
        printing.with_interval(lost.head_m, Dimension::Length),
        number::with_interval(printing, lost.share.scaled(100.0)),
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
    let speed = number::rpm(printing, budget.speed_rpm);
    match greatest {
        Some((lines, share)) => capitalized(&say!(
            printing,
            "{lines} takes {percent} % of the {head} of head at {speed} rpm",
            lines = lines.join(say!(printing, " and ")),
            percent = number::best(printing, share.scaled(100.0)),
            head,
            speed
        )),
        None => say!(printing, "{head} of head at {speed} rpm", head, speed),
    }
}
