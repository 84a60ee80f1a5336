//! The figure of changes: what each saves, as a dot with its interval, one above the other.

use super::{Subject, changed};
use crate::figures::{NamedFigure, held};
use crate::language::say;
use crate::number;
use crate::units::Printing;
use charts::{At, Axis, Figure, Point, Rule, Span, Start, Weight};
use metrology::Estimate;
use operation::{Changed, Comparison};
use records::Site;

/// Draws what the changes add; `None` where nothing is known of any.
pub fn figure(site: &Site, comparison: &Comparison, printing: Printing) -> Option<NamedFigure> {
    let subject = Subject {
        site,
        comparison,
        printing,
    };
    let has_money = comparison.today.sums.cost.is_some();
    let of = |changed: &Changed| {
        if has_money {
            changed.adds
        } else {
            changed.adds_kwh
        }
    };
    // A program that is stated stands for what others are held against; beside it small changes would not be seen.
    let known: Vec<(&str, Estimate)> = changed(comparison)
        .filter(|(_, changed)| changed.program.is_empty())
        .filter_map(|(alternative, changed)| Some((alternative.name.as_str(), of(changed)?)))
        .collect();
    let best = known
        .iter()
        .max_by(|(_, a), (_, b)| a.value.total_cmp(&b.value))?;
    let unit = if has_money { subject.currency() } else { "kWh" };
    let title = if best.1.value > 0.0 {
        say!(
            printing,
            "{change} adds most: {amount} {unit} a year",
            change = best.0,
            amount = number::with_interval(printing, best.1),
            unit
        )
    } else {
        say!(printing, "No change adds to what the best program saves").to_owned()
    };
    // The first change stands on top.
    let level = |index: usize| (known.len() - index) as f64 - 0.5;
    let told: Vec<String> = known
        .iter()
        .map(|(name, adds)| format!("{name}: {} {unit}", number::with_interval(printing, *adds)))
        .collect();
    let points = known.iter().enumerate().map(|(index, (_, adds))| Point {
        x: Span {
            low: adds.low,
            value: adds.value,
            high: adds.high,
        },
        y: Span::exact(level(index)),
        told: told[index].clone(),
    });
    let names = known.iter().enumerate().map(|(index, (name, _))| Rule {
        at: At::Y(level(index)),
        label: (*name).to_owned(),
        weight: Weight::Context,
    });
    Some(NamedFigure {
        name: say!(printing, "changes").to_owned(),
        figure: held(Figure {
            description: format!("{title}. {}.", told.join("; ")),
            note: say!(
                printing,
                "Dots with 95 % intervals, beyond the best program on the pad as it is. {site}.",
                site = site.name
            ),
            title,
            x: Axis {
                title: say!(
                    printing,
                    "Adds to what the program alone saves, {unit} a year",
                    unit
                ),
                start: Start::Zero,
                write: number::of_axis(printing),
            },
            y: Axis {
                title: say!(printing, "Change").to_owned(),
                start: Start::Zero,
                write: nothing,
            },
            highlight: None,
            curves: Vec::new(),
            points: points.collect(),
            left_out: Vec::new(),
            rules: names.collect(),
        }),
    })
}

/// Changes have names, and no numbers.
fn nothing(_: f64, _: usize) -> String {
    String::new()
}
