//! Flow against speed, with the limits of the plumbing.

use super::against_speed::AgainstSpeed;
use super::{Subject, law, span, without_law};
use crate::content::capitalized;
use crate::number;
use charts::Figure;
use fieldtest::LimitOf;
use metrology::Estimate;
use records::Measured;
use records::unit::Dimension;

/// Composes the figure; `None` without a reading.
pub(super) fn figure(subject: &Subject<'_>) -> Option<Figure> {
    let printing = subject.printing;
    let printed = |si: Estimate| printing.estimate(si, Dimension::Flow);
    let read = subject.steps(|step| step.flow_m3s.map(printed));
    let predicted = |speed: f64| {
        let flow = subject.test.laws.flow.as_ref()?.law.predict(speed)?;
        Some(span(printed(flow)))
    };
    AgainstSpeed {
        title: title(subject, &read),
        more: None,
        quantity: "Flow",
        unit: printing.name(Dimension::Flow).to_owned(),
        dots: "Dots: read, with 95 % bars.",
        law: law(&read, predicted),
        read,
        refused: subject.left_out(Measured::Flow),
        rules: subject.flow_rules(),
        highlight: None,
    }
    .figure(subject)
}

/// Says the limit that is met first, or how flow grows.
fn title(subject: &Subject<'_>, read: &[(f64, Estimate)]) -> String {
    if let Some((limit, speed)) = subject.first_limit() {
        let name = subject.limit_name(limit);
        let met = match limit.of {
            LimitOf::Flow => format!("The {name}"),
            _ => capitalized(&name),
        };
        return format!("{met} is met at about {} rpm", number::rpm_about(speed));
    }
    match (subject.test.laws.flow.as_ref(), read.last()) {
        (Some(law), Some((top, flow))) => format!(
            "{} {} at {} rpm, about {} more for every 1000 rpm",
            number::best(*flow),
            subject.printing.name(Dimension::Flow),
            number::rpm(*top),
            subject
                .printing
                .best(law.slope_m3s_per_rpm.scaled(1000.0), Dimension::Flow),
        ),
        _ => without_law("flow", read.len()),
    }
}
