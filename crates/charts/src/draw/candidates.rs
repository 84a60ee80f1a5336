//! The places that a label may take, by what it names.

use super::plan::{GAP, Plan};
use crate::figure::Curve;
use crate::place::{Candidate, Segment, extent};
use crate::rect::Rect;
use crate::size::TYPE;
use crate::svg::Anchor;
use crate::text::{Face, balanced, clean, shortened};

/// Lines that a label may take.
const MOST_LINES: usize = 4;
/// The widths that a label is broken to, as shares of the widest.
const WIDTHS: [f64; 4] = [1.0, 0.75, 0.6, 0.45];
/// Heights at which a label may begin beside something upright.
const HEIGHTS: u32 = 24;
/// Shares of the width of the plot at which a label may stand along something level.
const ALONG: [f64; 5] = [0.0, 1.0, 0.25, 0.5, 0.75];

/// Breaks the text of a label to several widths; one that fits in none is cut.
pub(super) fn variants(text: &str, plan: &Plan) -> Vec<Vec<String>> {
    variants_within(text, plan.size.label_width())
}

fn variants_within(text: &str, room: f64) -> Vec<Vec<String>> {
    let text = clean(text);
    let mut found: Vec<Vec<String>> = Vec::new();
    for share in WIDTHS {
        let lines = balanced(&text, Face::Regular, TYPE, share * room);
        let breaks_a_word = lines.join(" ") != text;
        if lines.len() <= MOST_LINES && !breaks_a_word && !found.contains(&lines) {
            found.push(lines);
        }
    }
    if found.is_empty() {
        let face = (Face::Regular, TYPE);
        found.push(shortened(&text, face, room, MOST_LINES));
    }
    found
}

/// Lists the places of every variant.
fn of_each(
    variants: &[Vec<String>],
    places: impl Fn((f64, f64)) -> Vec<Candidate>,
) -> Vec<Candidate> {
    let each = variants.iter().enumerate();
    each.flat_map(|(variant, lines)| {
        let of_one = places(extent(lines)).into_iter();
        of_one.map(move |candidate| Candidate {
            variant,
            ..candidate
        })
    })
    .collect()
}

fn start(left: f64, top: f64, size: (f64, f64)) -> Candidate {
    Candidate {
        variant: 0,
        rect: Rect::at(left, top, size),
        anchor: Anchor::Start,
        line: None,
        claims: Vec::new(),
    }
}

fn end(right: f64, top: f64, size: (f64, f64)) -> Candidate {
    Candidate {
        rect: Rect::at(right - size.0, top, size),
        anchor: Anchor::End,
        ..start(right, top, size)
    }
}

/// Lists places to both sides of something upright that reaches from one x to another.
pub(super) fn beside(
    plan: &Plan,
    (from, to): (f64, f64),
    variants: &[Vec<String>],
) -> Vec<Candidate> {
    let plot = &plan.plot;
    of_each(variants, |size| {
        let free = plot.height() - size.1 - GAP;
        let shares = (0..=HEIGHTS).map(|height| f64::from(height) / f64::from(HEIGHTS));
        let down = shares.map(|share| plot.top + GAP + share * free);
        down.flat_map(|top| [start(to + GAP, top, size), end(from - GAP, top, size)])
            .collect()
    })
}

/// Lists places for the name of an upright rule, which flies like a flag from the top of its rule.
pub(super) fn flag(plan: &Plan, x: f64, variants: &[Vec<String>]) -> Vec<Candidate> {
    /// Half the width that the rule keeps free of labels.
    const HALF: f64 = 2.0;
    let bottom = plan.plot.bottom;
    let flown = |candidate: Candidate| {
        let top = candidate.rect.top;
        Candidate {
            line: Some(Segment {
                from: (x, top),
                to: (x, bottom),
            }),
            claims: vec![Rect {
                left: x - HALF,
                top,
                right: x + HALF,
                bottom,
            }],
            ..candidate
        }
    };
    beside(plan, (x, x), variants)
        .into_iter()
        .map(flown)
        .collect()
}

/// Lists places for the name of a level rule, above it and below.
pub(super) fn level(plan: &Plan, y: f64, label: &str) -> (Vec<Vec<String>>, Vec<Candidate>) {
    /// How much of the plot's width the name of a level rule may take.
    const SHARE: f64 = 0.85;
    let plot = &plan.plot;
    let variants = variants_within(label, SHARE * plot.width());
    let rule = Segment {
        from: (plot.left, y),
        to: (plot.right, y),
    };
    let candidates = of_each(&variants, |size| {
        let free = plot.width() - size.0 - 2.0 * GAP;
        let along = ALONG.iter().map(|share| plot.left + GAP + share * free);
        along
            .flat_map(|left| {
                [
                    start(left, y - size.1 - 1.0, size),
                    start(left, y + 2.0, size),
                ]
            })
            .map(|candidate| Candidate {
                line: Some(rule),
                ..candidate
            })
            .collect()
    });
    (variants, candidates)
}

/// Lists places along a line: near its upper end, then further down, above it or below.
pub(super) fn curve(curve: &Curve, plan: &Plan, variants: &[Vec<String>]) -> Vec<Candidate> {
    /// Places along a line at which its name may stand.
    const PLACES: usize = 24;
    let last = curve.points.len().saturating_sub(1);
    of_each(variants, |size| {
        let along = (0..=PLACES).rev().filter_map(|share| {
            let point = curve.points.get(last * share / PLACES)?;
            Some((plan.x.place(point.x), plan.y.place(point.y.value)))
        });
        along
            .flat_map(|(x, y)| {
                [
                    end(x - GAP, y - GAP - size.1, size),
                    start(x + GAP, y + GAP, size),
                    end(x - GAP, y + GAP, size),
                    start(x + GAP, y - GAP - size.1, size),
                ]
            })
            .collect()
    })
}

/// Lists places around a point, then some further off that a pointer joins to it.
pub(super) fn callout((x, y): (f64, f64), radius: f64, variants: &[Vec<String>]) -> Vec<Candidate> {
    /// How far off the further places begin, level and upright.
    const OFF: [(f64, f64); 4] = [(24.0, 30.0), (40.0, 55.0), (60.0, 85.0), (12.0, 120.0)];
    let near = radius + GAP;
    of_each(variants, |size| {
        let middle = y - 0.5 * size.1;
        let mut places = vec![
            start(x + near, middle, size),
            end(x - near, middle, size),
            start(x + near, y - size.1, size),
            end(x - near, y - size.1, size),
            start(x + near, y, size),
            end(x - near, y, size),
        ];
        for (level, upright) in OFF {
            let (above, below) = (y - upright - size.1, y + upright);
            for top in [above, below] {
                for candidate in [start(x + level, top, size), end(x - level, top, size)] {
                    places.push(pointed((x, y), radius, &candidate));
                }
            }
        }
        places
    })
}

/// Joins a place to the rim of the point that it names.
fn pointed((x, y): (f64, f64), radius: f64, candidate: &Candidate) -> Candidate {
    /// Half the width that the pointer keeps free of labels.
    const HALF: f64 = 2.0;
    let rect = candidate.rect;
    let corner = (
        x.clamp(rect.left, rect.right),
        y.clamp(rect.top, rect.bottom),
    );
    let (right, down) = (corner.0 - x, corner.1 - y);
    let share = radius / (right * right + down * down).sqrt();
    let pointer = Segment {
        from: (x + share * right, y + share * down),
        to: corner,
    };
    Candidate {
        line: Some(pointer),
        claims: pointer.beads(HALF).collect(),
        ..*candidate
    }
}
