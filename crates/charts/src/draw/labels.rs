//! The names of everything that is drawn: in which order they choose their places, and how they are set.

use super::candidates::{beside, callout, curve, flag, level, variants};
use super::frame::{ASCENT, line};
use super::obstacles::obstacles;
use super::plan::Plan;
use crate::figure::{At, CurveKind, Figure, Rule, Weight};
use crate::ink::Ink;
use crate::place::{Candidate, Label, best_placed};
use crate::size::{LINE, TYPE};
use crate::svg::{Anchor, Line, Svg};

/// What the name of something that stands beside may cover, in units of area: a rule that it crosses, not a point.
const LITTLE: f64 = 130.0;

/// How much the name of a line or of what to do is missed: more than all others.
const NEEDED: f64 = 1000.0;

/// The labels that have found a place.
#[derive(Debug)]
pub(crate) struct Labels {
    found: Vec<(Label, Candidate)>,
}

impl Labels {
    /// Places the labels. What to do chooses first, then what is left out; whether the lines or what stands beside them
    /// chooses next, and which rule is first among its like, is tried.
    pub(crate) fn of(figure: &Figure, plan: &Plan) -> Self {
        let stretch = highlight(figure, plan).into_iter();
        let act = rules(figure, plan, Weight::Act);
        let first: Vec<Label> = stretch.chain(act).chain(left_out(figure, plan)).collect();
        let curves: Vec<Label> = curves(figure, plan).collect();
        let beside: Vec<Label> = rules(figure, plan, Weight::Context).collect();
        let orders = [
            first.iter().chain(&curves).chain(&beside).collect(),
            first.iter().chain(&beside).chain(&curves).collect(),
            first
                .iter()
                .chain(&curves)
                .chain(beside.iter().rev())
                .collect(),
            first
                .iter()
                .chain(beside.iter().rev())
                .chain(&curves)
                .collect(),
        ];
        let placed = best_placed(&orders, &plan.plot, &obstacles(figure, plan));
        Self {
            found: placed
                .into_iter()
                .map(|(label, place)| (label.clone(), place))
                .collect(),
        }
    }

    /// Draws the rules and the pointers that belong to the labels.
    pub(crate) fn draw_lines(&self, svg: &mut Svg) {
        for (label, place) in &self.found {
            if let Some(segment) = place.line {
                line(svg, label.line_ink, segment.from, segment.to);
            }
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
            let lines = label.variants.get(place.variant).into_iter().flatten();
            for (index, text) in lines.enumerate() {
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

/// Labels the stretch to choose.
fn highlight(figure: &Figure, plan: &Plan) -> Option<Label> {
    let stretch = figure.highlight.as_ref()?;
    let variants = variants(&stretch.label, plan);
    let ends = (plan.x.place(stretch.from), plan.x.place(stretch.to));
    Some(Label {
        candidates: beside(plan, ends, &variants),
        variants,
        ink: Ink::ActText,
        line_ink: Ink::Rule,
        may_cover: f64::INFINITY,
        worth: NEEDED,
    })
}

/// Labels the rules of a weight that stand in view, from left to right: each flag leaves its neighbour the room below.
fn rules<'a>(figure: &'a Figure, plan: &'a Plan, weight: Weight) -> impl Iterator<Item = Label> {
    let in_view = |rule: &&Rule| match rule.at {
        At::X(at) => plan.x.holds(at),
        At::Y(at) => plan.y.holds(at),
    };
    let wanted = figure.rules.iter().filter(|rule| rule.weight == weight);
    let mut rules: Vec<&Rule> = wanted.filter(in_view).collect();
    rules.sort_by(|a, b| {
        let (At::X(a) | At::Y(a), At::X(b) | At::Y(b)) = (a.at, b.at);
        a.total_cmp(&b)
    });
    rules.into_iter().map(|rule| rule_label(rule, plan))
}

fn rule_label(rule: &Rule, plan: &Plan) -> Label {
    let (ink, line_ink, may_cover) = match rule.weight {
        Weight::Act => (Ink::ActText, Ink::ActRule, f64::INFINITY),
        Weight::Context => (Ink::Number, Ink::Rule, LITTLE),
    };
    let (variants, candidates) = match rule.at {
        At::X(at) => {
            let variants = variants(&rule.label, plan);
            let candidates = flag(plan, plan.x.place(at), &variants);
            (variants, candidates)
        }
        At::Y(at) => level(plan, plan.y.place(at), &rule.label),
    };
    Label {
        variants,
        candidates,
        ink,
        line_ink,
        may_cover,
        worth: 1.0,
    }
}

fn curves<'a>(figure: &'a Figure, plan: &'a Plan) -> impl Iterator<Item = Label> {
    figure.curves.iter().map(|line| {
        let variants = variants(&line.label, plan);
        Label {
            candidates: curve(line, plan, &variants),
            variants,
            ink: match line.kind {
                CurveKind::Law => Ink::LawText,
                CurveKind::Context => Ink::Number,
            },
            line_ink: Ink::Rule,
            may_cover: f64::INFINITY,
            worth: NEEDED,
        }
    })
}

fn left_out<'a>(figure: &'a Figure, plan: &'a Plan) -> impl Iterator<Item = Label> {
    let named = figure
        .left_out
        .iter()
        .filter(|point| !point.label.is_empty());
    named.map(|point| {
        let variants = variants(&point.label, plan);
        let place = plan.place(point.x, point.y).0;
        Label {
            candidates: callout(place, super::marks::radius(figure), &variants),
            variants,
            ink: Ink::Text,
            line_ink: Ink::Rule,
            may_cover: LITTLE,
            worth: 1.0,
        }
    })
}
