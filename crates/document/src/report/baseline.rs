//! What to read next time, and what would be a change: a fast step and a slow one, with the limits that hold today's readings.

use super::tested::called;
use super::{Subject, heading};
use crate::content::{Block, Table};
use crate::language::say;
use crate::number;
use crate::units::Printing;
use fieldtest::Step;
use metrology::Estimate;
use records::unit::Dimension;

/// A quantity of a step, in the unit of print.
type Quantity<'a> = (String, Box<dyn Fn(&Step) -> Option<Estimate> + 'a>);

/// Composes what to read next time.
pub(super) fn baseline(subject: &Subject<'_>) -> Vec<Block> {
    let Some((test, _)) = subject.last() else {
        return Vec::new();
    };
    let steps = steps(subject);
    if steps.is_empty() {
        return Vec::new();
    }
    vec![
        heading(say!(subject.printing, "What to read next time")),
        Block::Paragraph(say!(
            subject.printing,
            "Read these steps again with the same meters, the same valves and clean baskets. Today is {test}; a reading outside of these limits is a change, one inside of them is none that these meters can see.",
            test = called(test, subject.printing)
        )),
        Block::Table(table(&steps, subject.printing)),
    ]
}

/// Chooses a slow step near the cheapest speed, and the fastest that keeps the limits.
fn steps<'a>(subject: &Subject<'a>) -> Vec<&'a Step> {
    let complete = |step: &Step| step.flow_m3s.is_some() && step.power_w.is_some();
    let Some((_, result)) = subject.last() else {
        return Vec::new();
    };
    let Some(top) = subject.top_step(complete) else {
        return Vec::new();
    };
    let least = result.least_energy.as_ref();
    let near = least
        .and_then(|least| least.speed_rpm)
        .map_or(0.0, |speed| speed.value);
    let slower = result.steps.iter().filter(|step| complete(step));
    let slow = slower
        .filter(|step| step.speed_rpm < top.speed_rpm)
        .min_by(|a, b| {
            (a.speed_rpm - near)
                .abs()
                .total_cmp(&(b.speed_rpm - near).abs())
        });
    slow.into_iter().chain([top]).collect()
}

fn table(steps: &[&Step], printing: Printing) -> Table {
    let mut headings = vec![say!(printing, "quantity").to_owned()];
    headings.extend(steps.iter().map(|step| {
        say!(
            printing,
            "at {speed} rpm",
            speed = number::rpm(printing, step.speed_rpm)
        )
    }));
    let rows = quantities(printing).into_iter().filter_map(|(name, of)| {
        let numbers: Vec<Option<Estimate>> = steps.iter().map(|step| of(step)).collect();
        numbers.iter().any(Option::is_some).then(|| {
            let written = numbers.into_iter().map(|number| {
                number.map_or_else(|| "–".to_owned(), |number| between(number, printing))
            });
            std::iter::once(name).chain(written).collect()
        })
    });
    Table {
        headings,
        rows: rows.collect(),
        word_columns: 1,
        ..Table::default()
    }
}

fn between(estimate: Estimate, printing: Printing) -> String {
    let (low, high) = number::ends(printing, estimate);
    say!(printing, "{low} to {high}", low, high)
}

fn quantities<'a>(printing: Printing) -> Vec<Quantity<'a>> {
    let of = |word: &str, dimension, of: fn(&Step) -> Option<Estimate>| -> Quantity<'a> {
        let name = format!("{word}, {}", printing.name(dimension));
        let read = move |step: &Step| of(step).map(|found| printing.estimate(found, dimension));
        (name, Box::new(read))
    };
    vec![
        of(say!(printing, "flow"), Dimension::Flow, |step| {
            step.flow_m3s
        }),
        of(say!(printing, "power"), Dimension::Power, |step| {
            step.power_w
        }),
        of(say!(printing, "current"), Dimension::Current, |step| {
            step.current_a
        }),
        of(
            say!(printing, "filter gauge"),
            Dimension::Pressure,
            |step| step.filter_pressure_pa,
        ),
        (
            say!(
                printing,
                "inlet vacuum, {unit}",
                unit = printing.vacuum_name()
            ),
            Box::new(move |step| {
                let below = step.inlet_pressure_pa.map(Estimate::negated);
                below.map(|vacuum| printing.vacuum_estimate(vacuum))
            }),
        ),
        of(say!(printing, "head"), Dimension::Length, |step| {
            step.head_m
        }),
    ]
}
