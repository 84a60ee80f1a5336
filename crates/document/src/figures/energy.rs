//! Energy per volume against speed, with the speeds at which water is cheapest.

use super::against_speed::AgainstSpeed;
use super::{Subject, law, span};
use crate::language::say;
use crate::number;
use crate::units::{Printing, with_unit};
use charts::{Figure, Highlight};
use fieldtest::{Edge, LeastEnergy};
use metrology::Estimate;

/// Composes the figure; `None` where no step has both flow and power.
pub(super) fn figure(subject: &Subject<'_>) -> Option<Figure> {
    let laws = &subject.test.laws;
    let least = subject.test.least_energy.as_ref();
    let (factor, per_volume) = subject.printing.energy_per_volume();
    let unit = format!("Wh {per_volume}");
    let printed = |energy: Estimate| energy.scaled(factor).not_below(0.0);
    let read = subject.steps(|step| {
        let energy = step.energy_above_standby_wh_per_m3(laws.standby_w);
        energy.map(printed)
    });
    let predicted = |speed: f64| {
        let energy = laws.energy_above_standby_wh_per_m3(speed)?;
        Some(span(printed(energy)))
    };
    AgainstSpeed {
        title: title(least, &read, subject.printing),
        more: least
            .and_then(|least| least.energy_wh_per_m3)
            .map(|energy| {
                with_unit(
                    &number::with_interval(subject.printing, printed(energy)),
                    &unit,
                )
            })
            .map(|energy| say!(subject.printing, "The least is {energy}", energy)),
        quantity: match laws.standby_w {
            Some(_) => say!(subject.printing, "Energy above standby"),
            None => say!(subject.printing, "Energy"),
        },
        unit,
        dots: say!(
            subject.printing,
            "Dots: power over flow as read, with 95 % bars."
        ),
        law: law(&read, predicted),
        read,
        refused: Vec::new(),
        rules: subject.speed_rules(),
        highlight: least.and_then(|least| highlight(least, subject.printing)),
    }
    .figure(subject)
}

/// Marks the speeds at which water costs at most 3 % more than the least.
fn highlight(least: &LeastEnergy, printing: Printing) -> Option<Highlight> {
    let (from, to) = least.within_3_percent_rpm?;
    Some(Highlight {
        from,
        to,
        label: say!(printing, "cheapest, to within 3 %").to_owned(),
    })
}

/// Says where water is cheapest, or why that is not known.
fn title(least: Option<&LeastEnergy>, read: &[(f64, Estimate)], printing: Printing) -> String {
    let end = |step: Option<&(f64, Estimate)>| step.map_or(0.0, |(speed, _)| *speed);
    let edge = least.and_then(|least| least.at_edge);
    match (least.and_then(|least| least.within_3_percent_rpm), edge) {
        (Some((low, high)), _) => say!(
            printing,
            "Cheapest water between {low} and {high} rpm",
            low = number::rpm_about(low),
            high = number::rpm_about(high)
        ),
        (None, Some(Edge::Low)) => say!(
            printing,
            "Water gets cheaper down to the slowest step, {speed} rpm",
            speed = number::rpm(printing, end(read.first()))
        ),
        (None, Some(Edge::High)) => say!(
            printing,
            "Water gets cheaper up to the fastest step, {speed} rpm",
            speed = number::rpm(printing, end(read.last()))
        ),
        (None, None) => match read.len() {
            1 => say!(
                printing,
                "Energy at one speed: where it is least is not known"
            )
            .to_owned(),
            n => say!(
                printing,
                "Energy at {n} speeds: where it is least is not known",
                n
            ),
        },
    }
}
