//! Flow against speed, with the limits of the plumbing.

use super::describe::{Told, left_out};
use super::{Subject, without_law};
use crate::content::capitalized;
use crate::number;
use charts::{Curve, CurveKind, Figure, Point, Span, Start};
use metrology::Estimate;
use records::Measured;
use records::unit::Dimension;

const FLOW: Dimension = Dimension::Flow;

/// Composes the figure; `None` without a reading.
pub(super) fn figure(subject: &Subject<'_>) -> Option<Figure> {
    let read = read(subject);
    let refused = subject.left_out(Measured::Flow);
    if read.is_empty() && refused.is_empty() {
        return None;
    }
    let title = title(subject, &read);
    let rules = subject.flow_rules();
    let printing = subject.printing;
    let told = Told {
        title: title.clone(),
        axes: format!("Flow in {} against pump speed", printing.name(FLOW)),
        points: read
            .iter()
            .map(|(speed, flow)| {
                let flow = printing.with_interval(*flow, FLOW);
                format!("{flow} at {} rpm", number::rpm(*speed))
            })
            .collect(),
        left_out: left_out(&refused),
        limits: rules.iter().map(|rule| rule.label.clone()).collect(),
    };
    let point = |(speed, flow): &(f64, Estimate)| Point {
        x: Span::exact(*speed),
        y: subject.span(*flow, FLOW),
    };
    Some(Figure {
        title,
        description: told.text(),
        note: subject.note("Dots: read, with 95 % bars.", refused.len()),
        x: subject.speed_axis(),
        y: subject.axis("Flow", FLOW, Start::Zero),
        highlight: None,
        curves: law(subject, &read),
        points: read.iter().map(point).collect(),
        left_out: refused.into_iter().map(|refused| refused.drawn).collect(),
        rules,
    })
}

/// Lists the steps with a flow.
fn read(subject: &Subject<'_>) -> Vec<(f64, Estimate)> {
    let steps = subject.test.steps.iter();
    steps
        .filter_map(|step| Some((step.speed_rpm, step.flow_m3s?)))
        .collect()
}

fn law(subject: &Subject<'_>, read: &[(f64, Estimate)]) -> Vec<Curve> {
    let law = subject.test.laws.flow.as_ref();
    let curve = law.map(|flow| Curve {
        label: "law, 95 % band".to_owned(),
        kind: CurveKind::Law,
        points: subject.law(read.iter().map(|(speed, _)| *speed), |speed| {
            Some(subject.span(flow.law.predict(speed)?, FLOW))
        }),
    });
    curve.into_iter().collect()
}

/// Says the limit that is met first, or how flow grows.
fn title(subject: &Subject<'_>, read: &[(f64, Estimate)]) -> String {
    let printing = subject.printing;
    if let Some((limit, speed)) = subject
        .first_limit()
        .and_then(|limit| Some((limit, limit.speed_rpm?)))
    {
        return format!(
            "{} is met at about {} rpm",
            capitalized(&match limit.velocity_m_s {
                Some(_) => subject.limit_name(limit),
                None => format!("the {}", subject.limit_name(limit)),
            }),
            number::rpm_about(speed),
        );
    }
    match (subject.test.laws.flow.as_ref(), read.last()) {
        (Some(law), Some((top, flow))) => format!(
            "{} at {} rpm, about {} more for every 1000 rpm",
            printing.best(*flow, FLOW),
            number::rpm(*top),
            printing.best(law.slope_m3s_per_rpm.scaled(1000.0), FLOW),
        ),
        _ => without_law("flow", read.len()),
    }
}
