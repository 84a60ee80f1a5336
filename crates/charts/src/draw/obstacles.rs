//! What labels should not cover, and how bad it is to cover it.

use super::marks::radius;
use super::plan::Plan;
use crate::figure::{At, Curve, Figure};
use crate::place::{Obstacle, Segment};
use crate::rect::Rect;

/// Weight of a point.
const POINT: f64 = 3.0;
/// Weight of a line or a rule.
const LINE: f64 = 2.0;

/// Lists what labels should not cover. Upright rules are not among them: each ends below its own label.
pub(super) fn obstacles(figure: &Figure, plan: &Plan) -> Vec<Obstacle> {
    let of = |rect: Rect, weight: f64| Obstacle { rect, weight };
    let mut found = Vec::new();
    for point in &figure.points {
        let (x, y) = (plan.x.place(point.x.value), plan.y.place(point.y.value));
        let bar = Rect {
            left: x - 1.0,
            top: plan.y.place(point.y.high),
            right: x + 1.0,
            bottom: plan.y.place(point.y.low),
        };
        found.push(of(Rect::around(x, y, radius(figure) + 1.0), POINT));
        found.push(of(bar, POINT));
    }
    for point in &figure.left_out {
        /// The room of the arrow of a point beyond the frame.
        const ARROW: f64 = 9.0;
        let ((x, y), (right, down)) = plan.place(point.x, point.y);
        let point = Rect::around(x, y, radius(figure) + 1.0);
        let arrow = Rect::around(x + ARROW * right, y + ARROW * down, radius(figure));
        found.extend([of(point, POINT), of(arrow, POINT)]);
    }
    found.extend(figure.curves.iter().flat_map(|curve| beads(curve, plan)));
    found.extend(figure.rules.iter().filter_map(|rule| match rule.at {
        At::X(_) => None,
        At::Y(at) => Some(of(level(plan, plan.y.place(at)), LINE)),
    }));
    if let Some(stretch) = &figure.highlight {
        for at in [stretch.from, stretch.to] {
            found.push(of(upright(plan, plan.x.place(at)), LINE));
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

fn level(plan: &Plan, y: f64) -> Rect {
    Rect {
        top: y - 1.0,
        bottom: y + 1.0,
        ..plan.plot
    }
}

/// Strings a curve as beads.
fn beads<'a>(curve: &'a Curve, plan: &'a Plan) -> impl Iterator<Item = Obstacle> + 'a {
    /// Half the width of a bead.
    const HALF: f64 = 2.5;
    let place = |point: &crate::CurvePoint| (plan.x.place(point.x), plan.y.place(point.y.value));
    let pieces = curve.points.windows(2).map(move |piece| Segment {
        from: place(&piece[0]),
        to: place(&piece[1]),
    });
    pieces
        .flat_map(|piece| piece.beads(HALF))
        .map(|rect| Obstacle { rect, weight: LINE })
}
