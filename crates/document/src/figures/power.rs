//! Power against speed, with the draw that does not depend on it.

use super::against_speed::AgainstSpeed;
use super::{Subject, law, span, without_law};
use crate::language::say;
use crate::number;
use crate::units::Printing;
use charts::{At, Figure, Rule, Weight};
use fieldtest::PowerLaw;
use metrology::Estimate;
use records::Measured;
use records::unit::Dimension;

/// Composes the figure; `None` without a reading.
pub(super) fn figure(subject: &Subject<'_>) -> Option<Figure> {
    let power = subject.test.laws.power.as_ref();
    let read = subject.steps(|step| step.power_w);
    AgainstSpeed {
        title: title(power, &read, subject.printing),
        more: None,
        quantity: say!(subject.printing, "Power drawn"),
        unit: subject.printing.name(Dimension::Power).to_owned(),
        dots: say!(subject.printing, "Dots: read, with 95 % bars."),
        law: law(&read, |speed| power?.law.predict(speed).map(span)),
        read,
        refused: subject.left_out(Measured::Power),
        rules: power
            .and_then(|law| fixed_draw(law, subject.printing))
            .into_iter()
            .collect(),
        highlight: None,
    }
    .figure(subject)
}

/// Marks the draw that does not depend on speed, where it is told.
fn fixed_draw(law: &PowerLaw, printing: Printing) -> Option<Rule> {
    is_told(law).then(|| Rule {
        at: At::Y(law.fixed_w.value),
        label: say!(
            printing,
            "{fixed} W whatever the speed",
            fixed = number::with_interval(printing, law.fixed_w)
        ),
        weight: Weight::Context,
    })
}

/// Whether the fixed draw is more than a bound.
fn is_told(law: &PowerLaw) -> bool {
    law.fixed_w.low > 0.0
}

/// Says what is drawn whatever the speed, and at the highest.
fn title(law: Option<&PowerLaw>, read: &[(f64, Estimate)], printing: Printing) -> String {
    let (Some(law), Some((top, power))) = (law, read.last()) else {
        return without_law(say!(printing, "power"), read.len(), printing);
    };
    let most = say!(
        printing,
        "{power} W at {top} rpm",
        power = number::best(printing, *power),
        top = number::rpm(printing, *top)
    );
    if is_told(law) {
        say!(
            printing,
            "{fixed} W whatever the speed, {most}",
            fixed = number::best(printing, law.fixed_w),
            most
        )
    } else {
        say!(printing, "Power grows steeply with speed, to {most}", most)
    }
}
