//! The figure of what a turnover costs.

use super::Subject;
use crate::figures::{NamedFigure, held};
use crate::language::say;
use crate::number;
use crate::units::Printing;
use charts::{At, Axis, Curve, CurveKind, CurvePoint, Figure, Rule, Span, Start, Weight};
use fieldtest::Analysis;
use operation::{DayPlan, Least};
use records::Site;
use records::unit::Dimension;

/// Draws what days of other turnovers would cost; `None` with fewer than two.
pub fn turnover_figure(
    site: &Site,
    analysis: &Analysis,
    plan: &DayPlan,
    costs: &[(f64, f64)],
    printing: Printing,
) -> Option<NamedFigure> {
    let subject = Subject {
        site,
        analysis,
        plan,
        printing,
    };
    let (first, last) = (costs.first()?, costs.last()?);
    if costs.len() < 2 {
        return None;
    }
    let (what, scale) = match plan.problem.least {
        Least::Cost => (
            say!(
                printing,
                "Cost of a day, {currency}",
                currency = subject.currency()
            ),
            1.0,
        ),
        Least::Energy => (say!(printing, "Energy of a day, kWh").to_owned(), 1e-3),
    };
    let one = costs.iter().find(|(turnovers, _)| *turnovers >= 1.0);
    let title = title(&subject, one, last);
    let asked = site
        .operation
        .turnover
        .as_ref()
        .map(|turnover| turnover.per_day);
    let volume = site.water.volume.as_ref().map(|volume| volume.si);
    let figure = Figure {
        description: say!(
            printing,
            "{title}. From {low} for {few} turnovers a day to {high} for {many}.",
            title,
            low = subject.least(first.1),
            few = number::plain(printing, first.0),
            high = subject.least(last.1),
            many = number::plain(printing, last.0)
        ),
        note: say!(
            printing,
            "A turnover is {volume}. All other rules are kept. {site}.",
            volume = volume.map_or_else(String::new, |volume| printing
                .plain(volume, Dimension::Volume)),
            site = site.name
        ),
        title,
        x: axis(say!(printing, "Turnovers a day"), printing),
        y: axis(&what, printing),
        highlight: None,
        curves: vec![Curve {
            label: say!(printing, "cheapest day").to_owned(),
            kind: CurveKind::Law,
            points: costs
                .iter()
                .map(|(turnovers, cost)| CurvePoint {
                    x: *turnovers,
                    y: Span::exact(scale * cost),
                })
                .collect(),
        }],
        points: Vec::new(),
        left_out: Vec::new(),
        rules: asked
            .map(|at| Rule {
                at: At::X(at),
                label: say!(printing, "asked for").to_owned(),
                weight: Weight::Context,
            })
            .into_iter()
            .collect(),
    };
    Some(NamedFigure {
        name: say!(printing, "turnover").to_owned(),
        figure: held(figure),
    })
}

fn title(subject: &Subject<'_>, one: Option<&(f64, f64)>, last: &(f64, f64)) -> String {
    let of_last = say!(
        subject.printing,
        "{cost} for {count}",
        cost = subject.least(last.1),
        count = number::plain(subject.printing, last.0)
    );
    match one {
        Some(one) if one.0 < last.0 => say!(
            subject.printing,
            "A turnover a day costs {one}, {count} of them {cost}",
            one = subject.least(one.1),
            count = number::plain(subject.printing, last.0),
            cost = subject.least(last.1)
        ),
        _ => say!(
            subject.printing,
            "A day costs {last} turnovers",
            last = of_last
        ),
    }
}

fn axis(title: &str, printing: Printing) -> Axis {
    Axis {
        title: title.to_owned(),
        start: Start::Zero,
        write: number::of_axis(printing),
    }
}
