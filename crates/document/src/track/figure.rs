//! What each side of the pad takes over the baseline, visit by visit.

use super::tables::SIDES;
use super::words::{change_words, says};
use crate::content::capitalized;
use crate::figures::{NamedFigure, held};
use crate::language::say;
use crate::number;
use crate::units::Printing;
use charts::{At, Axis, Curve, CurveKind, CurvePoint, Figure, Point, Rule, Span, Start, Weight};
use fieldtest::{Change, FollowUp, Told, Verdict};
use metrology::Estimate;
use records::Site;

/// Composes the figure; `None` where no visit is compared.
pub fn figure(site: &Site, found: &FollowUp, printing: Printing) -> Option<NamedFigure> {
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
        let label = format!(
            "{} {}",
            change_words(side, printing),
            number::best(printing, last.1)
        );
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
    let description = SIDES.iter().map(|side| {
        format!(
            "{}: {}",
            capitalized(&change_words(side, printing)),
            at_each(&of_side(side), &visits, printing)
        )
    });
    let title = title(last.2, printing);
    Some(NamedFigure {
        name: format!("{}-track", last.1),
        figure: held(Figure {
            description: format!("{title}. {}.", description.collect::<Vec<_>>().join(". ")),
            title,
            note: say!(
                printing,
                "All let free at once; 95 % bands and bars. {site}, against test {baseline}.",
                site = site.name,
                baseline = found.baseline
            ),
            x: Axis {
                title: along(found, printing),
                start: Start::Zero,
                write: number::of_axis(printing),
            },
            y: Axis {
                title: say!(printing, "times the baseline").to_owned(),
                start: Start::Data,
                write: number::of_axis(printing),
            },
            highlight: None,
            curves: curves.collect(),
            points: points
                .into_iter()
                .map(|(x, factor)| Point {
                    x: Span::exact(x),
                    y: span(factor),
                    told: say!(
                        printing,
                        "{factor} times the baseline",
                        factor = number::with_interval(printing, factor)
                    ),
                })
                .collect(),
            left_out: Vec::new(),
            rules: vec![Rule {
                at: At::Y(1.0),
                label: say!(printing, "baseline").to_owned(),
                weight: Weight::Context,
            }],
        }),
    })
}

/// What the visits are laid out along: the days after the baseline where all of them are dated.
fn along(found: &FollowUp, printing: Printing) -> String {
    let baseline = &found.baseline;
    if found.visits.iter().all(|visit| visit.days.is_some()) {
        say!(printing, "days after {baseline}", baseline)
    } else {
        say!(printing, "visits after {baseline}", baseline)
    }
}

/// Writes the factors of a side at each visit.
fn at_each(
    factors: &[(f64, Estimate)],
    visits: &[(f64, &str, &Told)],
    printing: Printing,
) -> String {
    let told = factors
        .iter()
        .zip(visits)
        .map(|((_, factor), (_, test, _))| {
            say!(
                printing,
                "{factor} at {test}",
                factor = number::with_interval(printing, *factor),
                test
            )
        });
    told.collect::<Vec<_>>().join("; ")
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

fn title(told: &Told, printing: Printing) -> String {
    match &told.verdict {
        Verdict::NoChange => {
            say!(printing, "No change that these instruments could see").to_owned()
        }
        Verdict::Several => say!(printing, "More than one thing changed").to_owned(),
        Verdict::Changed { group, .. } => {
            let best = group.first().and_then(|place| told.candidates.get(*place));
            let said =
                best.and_then(|it| Some(says(it.change.as_ref()?, it.factor?, None, printing).0));
            said.map_or_else(String::new, |said| said.trim_end_matches('.').to_owned())
        }
    }
}
