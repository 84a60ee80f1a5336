//! The names of everything that is drawn: which places each may take, in which order they choose, and how they are set.

use super::frame::ASCENT;
use super::marks::radius;
use super::plan::{GAP, Plan};
use crate::figure::{At, Curve, CurveKind, Figure, Rule, Weight};
use crate::ink::Ink;
use crate::place::{Candidate, Label, Obstacle, extent, placed};
use crate::rect::Rect;
use crate::size::{LINE, TYPE};
use crate::svg::{Anchor, Line, Svg};
use crate::text::{Face, clean, shortened};

/// Lines that a label may take.
const MOST_LINES: usize = 3;
/// Shares of the height of the plot at which a label may begin beside something upright.
const DOWN: [f64; 9] = [0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8];
/// Shares of the width of the plot at which a label may stand along something level.
const ALONG: [f64; 5] = [0.0, 1.0, 0.25, 0.5, 0.75];

/// The labels that have found a place.
#[derive(Debug)]
pub(crate) struct Labels {
    found: Vec<(Label, Candidate)>,
    /// Of each rule of the figure, whether its name is among them.
    pub(crate) named_rules: Vec<bool>,
}

impl Labels {
    /// Places the labels: first what to do, then the lines, what is left out, and what stands beside.
    pub(crate) fn of(figure: &Figure, plan: &Plan) -> Self {
        let in_view = |rule: &Rule| match rule.at {
            At::X(at) => plan.x.holds(at),
            At::Y(at) => plan.y.holds(at),
        };
        let of_weight = |weight: Weight| {
            let rules = figure.rules.iter().enumerate();
            let kept = rules.filter(move |(_, rule)| rule.weight == weight && in_view(rule));
            kept.map(|(index, rule)| (Some(index), rule_label(rule, plan)))
        };
        let mut wanted: Vec<(Option<usize>, Label)> = Vec::new();
        wanted.extend(highlight(figure, plan).map(|label| (None, label)));
        wanted.extend(of_weight(Weight::Act));
        wanted.extend(
            figure
                .curves
                .iter()
                .map(|curve| (None, curve_label(curve, plan))),
        );
        wanted.extend(left_out(figure, plan).map(|label| (None, label)));
        wanted.extend(of_weight(Weight::Context));

        let (rules, labels): (Vec<_>, Vec<_>) = wanted.into_iter().unzip();
        let places = placed(&labels, &plan.plot, &obstacles(figure, plan));
        let mut named_rules = vec![false; figure.rules.len()];
        for (rule, _) in rules
            .iter()
            .zip(&places)
            .filter(|(_, place)| place.is_some())
        {
            if let Some(named) = rule.and_then(|index| named_rules.get_mut(index)) {
                *named = true;
            }
        }
        let found = labels.into_iter().zip(places);
        Self {
            found: found
                .filter_map(|(label, place)| Some((label, place?)))
                .collect(),
            named_rules,
        }
    }

    /// Writes the labels.
    pub(crate) fn write(&self, svg: &mut Svg) {
        for (label, place) in &self.found {
            let rect = &place.rect;
            let x = match place.anchor {
                Anchor::Start => rect.left,
                Anchor::Middle => 0.5 * (rect.left + rect.right),
                Anchor::End => rect.right,
            };
            for (index, text) in label.lines.iter().enumerate() {
                svg.text(&Line {
                    text,
                    x,
                    baseline: rect.top + LINE * index as f64 + ASCENT * TYPE,
                    size: TYPE,
                    anchor: place.anchor,
                    ink: label.ink,
                });
            }
        }
    }
}

/// Breaks the text of a label that may be as wide as `room`.
fn lines(text: &str, room: f64) -> Vec<String> {
    shortened(&clean(text), (Face::Regular, TYPE), room, MOST_LINES)
}

fn start(left: f64, top: f64, size: (f64, f64)) -> Candidate {
    Candidate {
        rect: Rect::at(left, top, size),
        anchor: Anchor::Start,
    }
}

fn end(right: f64, top: f64, size: (f64, f64)) -> Candidate {
    Candidate {
        rect: Rect::at(right - size.0, top, size),
        anchor: Anchor::End,
    }
}

/// Lists places to both sides of something upright that reaches from one x to another.
fn beside(plan: &Plan, (from, to): (f64, f64), size: (f64, f64)) -> Vec<Candidate> {
    let plot = &plan.plot;
    let down = DOWN
        .iter()
        .map(|share| plot.top + GAP + share * plot.height());
    down.flat_map(|top| [start(to + GAP, top, size), end(from - GAP, top, size)])
        .collect()
}

/// Labels the stretch to choose.
fn highlight(figure: &Figure, plan: &Plan) -> Option<Label> {
    let stretch = figure.highlight.as_ref()?;
    let lines = lines(&stretch.label, plan.size.label_width());
    let ends = (plan.x.place(stretch.from), plan.x.place(stretch.to));
    Some(Label {
        candidates: beside(plan, ends, extent(&lines)),
        lines,
        ink: Ink::ActText,
    })
}

fn rule_label(rule: &Rule, plan: &Plan) -> Label {
    let plot = &plan.plot;
    let ink = match rule.weight {
        Weight::Act => Ink::ActText,
        Weight::Context => Ink::Number,
    };
    match rule.at {
        At::X(at) => {
            let lines = lines(&rule.label, plan.size.label_width());
            let x = plan.x.place(at);
            Label {
                candidates: beside(plan, (x, x), extent(&lines)),
                lines,
                ink,
            }
        }
        At::Y(at) => {
            /// How much of the plot's width the name of a level rule may take.
            const SHARE: f64 = 0.7;
            let lines = lines(&rule.label, SHARE * plot.width());
            let size = extent(&lines);
            let (y, free) = (plan.y.place(at), plot.width() - size.0 - 2.0 * GAP);
            let along = ALONG.iter().map(|share| plot.left + GAP + share * free);
            let candidates = along.flat_map(|left| {
                let above = start(left, y - size.1 - 1.0, size);
                [above, start(left, y + 2.0, size)]
            });
            Label {
                candidates: candidates.collect(),
                lines,
                ink,
            }
        }
    }
}

/// Labels a line: near its upper end, then further down, above it or below.
fn curve_label(curve: &Curve, plan: &Plan) -> Label {
    /// Places along a line at which its name may stand.
    const PLACES: usize = 24;
    let lines = lines(&curve.label, plan.size.label_width());
    let size = extent(&lines);
    let last = curve.points.len().saturating_sub(1);
    let along = (0..=PLACES).rev().filter_map(|share| {
        let point = curve.points.get(last * share / PLACES)?;
        Some((plan.x.place(point.x), plan.y.place(point.y.value)))
    });
    let candidates = along.flat_map(|(x, y)| {
        [
            end(x - GAP, y - GAP - size.1, size),
            start(x + GAP, y + GAP, size),
            end(x - GAP, y + GAP, size),
            start(x + GAP, y - GAP - size.1, size),
        ]
    });
    Label {
        candidates: candidates.collect(),
        lines,
        ink: match curve.kind {
            CurveKind::Law => Ink::LawText,
            CurveKind::Context => Ink::Number,
        },
    }
}

/// Labels the readings that are left out.
fn left_out<'a>(figure: &'a Figure, plan: &'a Plan) -> impl Iterator<Item = Label> + 'a {
    let off = radius(figure) + GAP;
    figure.left_out.iter().map(move |point| {
        let lines = lines(&point.label, plan.size.label_width());
        let size = extent(&lines);
        let (x, y) = plan.place(point.x, point.y).0;
        let middle = y - 0.5 * size.1;
        let candidates = vec![
            start(x + off, middle, size),
            end(x - off, middle, size),
            start(x + off, y - size.1, size),
            end(x - off, y - size.1, size),
            start(x + off, y, size),
            end(x - off, y, size),
            start(x - 0.5 * size.0, y - off - size.1, size),
            start(x - 0.5 * size.0, y + off, size),
        ];
        Label {
            candidates,
            lines,
            ink: Ink::Text,
        }
    })
}

/// Lists what labels should not cover.
fn obstacles(figure: &Figure, plan: &Plan) -> Vec<Obstacle> {
    let of = |rect: Rect, weight: f64| Obstacle { rect, weight };
    let mut found = Vec::new();
    for point in &figure.points {
        let (x, y) = (plan.x.place(point.x.value), plan.y.place(point.y.value));
        found.push(of(Rect::around(x, y, radius(figure) + 1.0), 3.0));
        let upright = Rect {
            left: x - 1.0,
            top: plan.y.place(point.y.high),
            right: x + 1.0,
            bottom: plan.y.place(point.y.low),
        };
        found.push(of(upright, 3.0));
    }
    for point in &figure.left_out {
        let (x, y) = plan.place(point.x, point.y).0;
        found.push(of(Rect::around(x, y, radius(figure) + 1.0), 4.0));
    }
    found.extend(figure.curves.iter().flat_map(|curve| beads(curve, plan)));
    found.extend(
        figure
            .rules
            .iter()
            .map(|rule| of(rule_rect(rule, plan), 2.0)),
    );
    if let Some(stretch) = &figure.highlight {
        for at in [stretch.from, stretch.to] {
            found.push(of(upright(plan, plan.x.place(at)), 2.0));
        }
    }
    found
}

fn upright(plan: &Plan, x: f64) -> Rect {
    Rect {
        left: x - 1.0,
        right: x + 1.0,
        ..plan.plot
    }
}

fn rule_rect(rule: &Rule, plan: &Plan) -> Rect {
    match rule.at {
        At::X(at) => upright(plan, plan.x.place(at)),
        At::Y(at) => Rect {
            top: plan.y.place(at) - 1.0,
            bottom: plan.y.place(at) + 1.0,
            ..plan.plot
        },
    }
}

/// Strings a line as beads that are near enough to leave no gap for a label.
fn beads<'a>(curve: &'a Curve, plan: &'a Plan) -> impl Iterator<Item = Obstacle> + 'a {
    /// Half the width of a bead.
    const HALF: f64 = 2.5;
    /// The most beads of one piece of a line.
    const MOST: f64 = 200.0;
    let place = |point: &crate::CurvePoint| (plan.x.place(point.x), plan.y.place(point.y.value));
    curve.points.windows(2).flat_map(move |piece| {
        let (from, to) = (place(&piece[0]), place(&piece[1]));
        let long = (to.0 - from.0).abs().max((to.1 - from.1).abs());
        let count = (long / (2.0 * HALF)).ceil().clamp(1.0, MOST);
        let beads =
            std::iter::successors(Some(0.0), move |at| Some(at + 1.0).filter(|at| *at < count));
        beads.map(move |at| {
            let share = at / count;
            let (x, y) = (
                from.0 + share * (to.0 - from.0),
                from.1 + share * (to.1 - from.1),
            );
            Obstacle {
                rect: Rect::around(x, y, HALF),
                weight: 2.0,
            }
        })
    })
}
