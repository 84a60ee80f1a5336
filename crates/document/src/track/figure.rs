//! What each side of the pad takes over the baseline, visit by visit.

use super::tables::SIDES;
use super::words::{change_words, says};
use crate::content::capitalized;
use crate::figures::{NamedFigure, held};
use crate::number;
use charts::{At, Axis, Curve, CurveKind, CurvePoint, Figure, Point, Rule, Span, Start, Weight};
use fieldtest::{Change, FollowUp, Told, Verdict};
use metrology::Estimate;
use records::Site;

/// Composes the figure; `None` where no visit is compared.
pub fn figure(site: &Site, found: &FollowUp) -> Option<NamedFigure> {
    let visits: Vec<(f64, &str, &Told)> = found
        .visits
        .iter()
        .enumerate()
        .filter_map(|(index, visit)| {
            let told = visit.told.as_ref().ok()?;
            Some((
                visit.days.unwrap_or(index as f64 + 1.0),
                visit.test.as_str(),
                told,
            ))
        })
        .collect();
    let last = visits.last()?;
    let dated = found.visits.iter().all(|visit| visit.days.is_some());
    let named = named(last.2);
    let of_side = |side: &Change| -> Vec<(f64, Estimate)> {
        let of_visit = |(x, _, told): &(f64, &str, &Told)| {
            let of = told.at_once.iter().find(|(of, _)| of == side)?;
            Some((*x, of.1))
        };
        visits.iter().filter_map(of_visit).collect()
    };
    let curves = SIDES.iter().filter_map(|side| {
        let read = of_side(side);
        let last = read.last()?;
        let label = format!("{} {}", change_words(side), number::best(last.1));
        let mut points = vec![CurvePoint {
            x: 0.0,
            y: Span::exact(1.0),
        }];
        points.extend(read.iter().map(|(x, factor)| CurvePoint {
            x: *x,
            y: span(*factor),
        }));
        Some(Curve {
            label,
            kind: if Some(side) == named {
                CurveKind::Law
            } else {
                CurveKind::Context
            },
            points,
        })
    });
    let points = named.map(of_side).unwrap_or_default();
    let x = if dated {
        format!("days after {}", found.baseline)
    } else {
        format!("visits after {}", found.baseline)
    };
    let description = SIDES.iter().map(|side| {
        let told: Vec<String> = of_side(side)
            .iter()
            .zip(&visits)
            .map(|((_, factor), (_, test, _))| {
                format!("{} at {test}", number::with_interval(*factor))
            })
            .collect();
        format!("{}: {}", capitalized(&change_words(side)), told.join("; "))
    });
    let title = title(last.2);
    Some(NamedFigure {
        name: format!("{}-track", last.1),
        figure: held(Figure {
            description: format!("{title}. {}.", description.collect::<Vec<_>>().join(". ")),
            title,
            note: format!(
                "All let free at once; 95 % bands and bars. {}, against test {}.",
                site.name, found.baseline
            ),
            x: Axis {
                title: x,
                start: Start::Zero,
                write: number::with_decimals,
            },
            y: Axis {
                title: "times the baseline".to_owned(),
                start: Start::Data,
                write: number::with_decimals,
            },
            highlight: None,
            curves: curves.collect(),
            points: points
                .into_iter()
                .map(|(x, factor)| Point {
                    x: Span::exact(x),
                    y: span(factor),
                    told: format!("{} times the baseline", number::with_interval(factor)),
                })
                .collect(),
            left_out: Vec::new(),
            rules: vec![Rule {
                at: At::Y(1.0),
                label: "baseline".to_owned(),
                weight: Weight::Context,
            }],
        }),
    })
}

fn span(estimate: Estimate) -> Span {
    Span {
        low: estimate.low,
        value: estimate.value,
        high: estimate.high,
    }
}

/// The side that the verdict names, where it is one of those that are drawn.
fn named(told: &Told) -> Option<&Change> {
    match &told.verdict {
        Verdict::Changed { group, .. } => {
            let change = told.candidates.get(*group.first()?)?.change.as_ref()?;
            SIDES.iter().find(|side| *side == change)
        }
        _ => None,
    }
}

fn title(told: &Told) -> String {
    match &told.verdict {
        Verdict::NoChange => "No change that these instruments could see".to_owned(),
        Verdict::Several => "More than one thing changed".to_owned(),
        Verdict::Changed { group, .. } => {
            let best = group.first().and_then(|place| told.candidates.get(*place));
            let said = best.and_then(|it| Some(says(it.change.as_ref()?, it.factor?, None).0));
            said.map_or_else(String::new, |said| said.trim_end_matches('.').to_owned())
        }
    }
}
