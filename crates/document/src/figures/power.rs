//! Power against speed, with the draw that does not depend on it.

use super::describe::{Told, left_out};
use super::{Subject, span, without_law};
use crate::number;
use charts::{At, Curve, CurveKind, Figure, Point, Rule, Span, Start, Weight};
use fieldtest::PowerLaw;
use metrology::Estimate;
use records::Measured;
use records::unit::Dimension;

/// Composes the figure; `None` without a reading.
pub(super) fn figure(subject: &Subject<'_>) -> Option<Figure> {
    let steps = subject.test.steps.iter();
    let read: Vec<(f64, Estimate)> = steps
        .filter_map(|step| Some((step.speed_rpm, step.power_w?)))
        .collect();
    let refused = subject.left_out(Measured::Power);
    if read.is_empty() && refused.is_empty() {
        return None;
    }
    let law = subject.test.laws.power.as_ref();
    let title = title(law, &read);
    let told = Told {
        title: title.clone(),
        axes: "Power drawn in W against pump speed".to_owned(),
        points: read
            .iter()
            .map(|(speed, power)| {
                let power = number::with_interval(*power);
                format!("{power} W at {} rpm", number::rpm(*speed))
            })
            .collect(),
        left_out: left_out(&refused),
        limits: Vec::new(),
    };
    let point = |(speed, power): &(f64, Estimate)| Point {
        x: Span::exact(*speed),
        y: span(*power),
    };
    let curve = law.map(|power| Curve {
        label: "law, 95 % band".to_owned(),
        kind: CurveKind::Law,
        points: subject.law(read.iter().map(|(speed, _)| *speed), |speed| {
            power.law.predict(speed).map(span)
        }),
    });
    Some(Figure {
        title,
        description: told.text(),
        note: subject.note("Dots: read, with 95 % bars.", refused.len()),
        x: subject.speed_axis(),
        y: subject.axis("Power drawn", Dimension::Power, Start::Zero),
        highlight: None,
        curves: curve.into_iter().collect(),
        points: read.iter().map(point).collect(),
        left_out: refused.into_iter().map(|refused| refused.drawn).collect(),
        rules: law.and_then(fixed_draw).into_iter().collect(),
    })
}

/// Marks the draw that does not depend on speed, where it is told.
fn fixed_draw(law: &PowerLaw) -> Option<Rule> {
    is_told(law).then(|| Rule {
        at: At::Y(law.fixed_w.value),
        label: format!(
            "{} W whatever the speed",
            number::with_interval(law.fixed_w)
        ),
        weight: Weight::Context,
    })
}

/// Whether the fixed draw is more than a bound.
fn is_told(law: &PowerLaw) -> bool {
    law.fixed_w.low > 0.0
}

/// Says what is drawn whatever the speed, and at the highest.
fn title(law: Option<&PowerLaw>, read: &[(f64, Estimate)]) -> String {
    match (law, read.last()) {
        (Some(law), Some((top, power))) => {
            let most = format!("{} W at {} rpm", number::best(*power), number::rpm(*top));
            if is_told(law) {
                format!("{} W whatever the speed, {most}", number::best(law.fixed_w))
            } else {
                format!("Power grows steeply with speed, to {most}")
            }
        }
        _ => without_law("power", read.len()),
    }
}
