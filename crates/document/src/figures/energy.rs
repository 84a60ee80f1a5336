//! Energy per volume against speed, with the speeds at which water is cheapest.

use super::describe::Told;
use super::{Subject, axis, span};
use crate::number;
use charts::{Curve, CurveKind, Figure, Highlight, Point, Span, Start};
use fieldtest::{Edge, LeastEnergy};
use metrology::Estimate;

/// Composes the figure; `None` where no step has both flow and power.
pub(super) fn figure(subject: &Subject<'_>) -> Option<Figure> {
    let standby = subject.test.laws.standby_w;
    let (factor, per_volume) = subject.printing.energy_per_volume();
    let steps = subject.test.steps.iter();
    let read: Vec<(f64, Estimate)> = steps
        .filter_map(|step| {
            let energy = step.energy_above_standby_wh_per_m3(standby)?;
            Some((step.speed_rpm, energy.scaled(factor).not_below(0.0)))
        })
        .collect();
    let (first, last) = (read.first()?, read.last()?);
    let least = subject.test.least_energy.as_ref();
    let title = title(least, (first.0, last.0), read.len());
    let rules = subject.speed_rules();
    let word = if standby.is_some() {
        "Energy above standby"
    } else {
        "Energy"
    };
    let told = Told {
        title: title.clone(),
        axes: format!("{word} in Wh {per_volume} against pump speed"),
        points: read
            .iter()
            .map(|(speed, energy)| {
                let energy = number::with_interval(*energy);
                format!("{energy} at {} rpm", number::rpm(*speed))
            })
            .collect(),
        left_out: Vec::new(),
        limits: rules.iter().map(|rule| rule.label.clone()).collect(),
    };
    let point = |(speed, energy): &(f64, Estimate)| Point {
        x: Span::exact(*speed),
        y: span(*energy),
    };
    let speeds = read.iter().map(|(speed, _)| *speed);
    let predicted = |speed: f64| {
        let energy = subject.test.laws.energy_above_standby_wh_per_m3(speed)?;
        Some(span(energy.scaled(factor).not_below(0.0)))
    };
    Some(Figure {
        title,
        description: told.text(),
        note: subject.note("Dots: power over flow as read, with 95 % bars.", 0),
        x: subject.speed_axis(),
        y: axis(&format!("{word}, Wh {per_volume}"), Start::Zero),
        highlight: least.and_then(highlight),
        curves: vec![Curve {
            label: "law, 95 % band".to_owned(),
            kind: CurveKind::Law,
            points: subject.law(speeds, predicted),
        }],
        points: read.iter().map(point).collect(),
        left_out: Vec::new(),
        rules,
    })
}

/// Marks the speeds at which water costs at most 3 % more than the least.
fn highlight(least: &LeastEnergy) -> Option<Highlight> {
    let (from, to) = least.within_3_percent_rpm?;
    Some(Highlight {
        from,
        to,
        label: "cheapest, to within 3 %".to_owned(),
    })
}

/// Says where water is cheapest, or why that is not known.
fn title(least: Option<&LeastEnergy>, (slowest, fastest): (f64, f64), speeds: usize) -> String {
    let edge = least.and_then(|least| least.at_edge);
    match (least.and_then(|least| least.within_3_percent_rpm), edge) {
        (Some((low, high)), _) => format!(
            "Cheapest water between {} and {} rpm",
            number::rpm_about(low),
            number::rpm_about(high),
        ),
        (None, Some(Edge::Low)) => format!(
            "Water gets cheaper down to the slowest step, {} rpm",
            number::rpm(slowest),
        ),
        (None, Some(Edge::High)) => format!(
            "Water gets cheaper up to the fastest step, {} rpm",
            number::rpm(fastest),
        ),
        (None, None) => match speeds {
            1 => "Energy at one speed: where it is least is not known".to_owned(),
            n => format!("Energy at {n} speeds: where it is least is not known"),
        },
    }
}
