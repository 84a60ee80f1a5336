//! Flow against speed, with the limits of the plumbing.

use super::against_speed::AgainstSpeed;
use super::{Subject, law, span, without_law};
use crate::content::capitalized;
use crate::language::say;
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
        quantity: say!(subject.printing, "Flow"),
        unit: printing.name(Dimension::Flow).to_owned(),
        dots: say!(subject.printing, "Dots: read, with 95 % bars."),
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
        let (name, speed) = (subject.limit_name(limit), number::rpm_about(speed));
        let printing = subject.printing;
        return match limit.of {
            LimitOf::Flow => say!(
                printing,
                "The {limit} is met at about {speed} rpm",
                limit = name,
                speed
            ),
            _ => say!(
                printing,
                "{limit} is met at about {speed} rpm",
                limit = capitalized(&name),
                speed
            ),
        };
    }
    match (subject.test.laws.flow.as_ref(), read.last()) {
        (Some(law), Some((top, flow))) => say!(
            subject.printing,
            "{flow} {unit} at {top} rpm, about {more} more for every 1000 rpm",
            flow = number::best(subject.printing, *flow),
            unit = subject.printing.name(Dimension::Flow),
            top = number::rpm(subject.printing, *top),
            more = subject
                .printing
                .best(law.slope_m3s_per_rpm.scaled(1000.0), Dimension::Flow)
        ),
        _ => without_law(say!(subject.printing, "flow"), read.len(), subject.printing),
    }
}
