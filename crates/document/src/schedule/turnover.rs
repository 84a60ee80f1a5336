//! The figure of what a turnover costs.

use super::Subject;
use crate::figures::{NamedFigure, held};
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
        Least::Cost => (format!("Cost of a day, {}", subject.currency()), 1.0),
        Least::Energy => ("Energy of a day, kWh".to_owned(), 1e-3),
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
        description: format!(
            "{title}. From {} for {} turnovers a day to {} for {}.",
            subject.least(first.1),
            number::plain(first.0),
            subject.least(last.1),
            number::plain(last.0),
        ),
        note: format!(
            "A turnover is {}. All other rules are kept. {}.",
            volume.map_or_else(String::new, |volume| printing
                .plain(volume, Dimension::Volume)),
            site.name
        ),
        title,
        x: axis("Turnovers a day"),
        y: axis(&what),
        highlight: None,
        curves: vec![Curve {
            label: "cheapest day".to_owned(),
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
                label: "asked for".to_owned(),
                weight: Weight::Context,
            })
            .into_iter()
            .collect(),
    };
    Some(NamedFigure {
        name: "turnover".to_owned(),
        figure: held(figure),
    })
}

fn title(subject: &Subject<'_>, one: Option<&(f64, f64)>, last: &(f64, f64)) -> String {
    let of_last = format!("{} for {}", subject.least(last.1), number::plain(last.0));
    match one {
        Some(one) if one.0 < last.0 => format!(
            "A turnover a day costs {}, {} of them {}",
            subject.least(one.1),
            number::plain(last.0),
            subject.least(last.1),
        ),
        _ => format!("A day costs {of_last} turnovers"),
    }
}

fn axis(title: &str) -> Axis {
    Axis {
        title: title.to_owned(),
        start: Start::Zero,
        write: number::with_decimals,
    }
}
