//! The marks of a figure: bands, rules, lines, points.

use super::frame::line;
use super::plan::Plan;
use crate::figure::{Curve, CurveKind, Figure, LeftOut};
use crate::ink::Ink;
use crate::svg::{Svg, number};
use std::fmt::Write as _;

/// Points that have room enough to be large, and to stand on a line.
const FEW: usize = 40;

/// Returns the radius of a point.
pub(crate) fn radius(figure: &Figure) -> f64 {
    if figure.points.len() <= FEW {
        4.0
    } else {
        2.75
    }
}

/// Draws what lies behind all else: the stretch to choose, and the bands of the laws.
pub(crate) fn behind(svg: &mut Svg, figure: &Figure, plan: &Plan) {
    let plot = &plan.plot;
    if let Some(stretch) = &figure.highlight {
        let (from, to) = (plan.x.place(stretch.from), plan.x.place(stretch.to));
        let places = [
            ("x", from),
            ("y", plot.top),
            ("width", (to - from).max(0.0)),
            ("height", plot.height()),
        ];
        svg.mark("rect", Ink::Highlight, &places);
    }
    for curve in laws(figure) {
        let ends = |end: fn(&crate::Span) -> f64| {
            let at = move |point: &crate::CurvePoint| {
                (plan.x.place(point.x), plan.y.place(end(&point.y)))
            };
            curve.points.iter().map(at).collect::<Vec<_>>()
        };
        let mut around = ends(|span| span.high);
        around.extend(ends(|span| span.low).into_iter().rev());
        svg.path(Ink::Band, &(path(&around) + "Z"));
    }
    if let Some(stretch) = &figure.highlight {
        for x in [plan.x.place(stretch.from), plan.x.place(stretch.to)] {
            line(svg, Ink::HighlightEdge, (x, plot.top), (x, plot.bottom));
        }
    }
}

fn laws(figure: &Figure) -> impl Iterator<Item = &Curve> {
    let has_band = |curve: &&Curve| {
        let mut spans = curve.points.iter().map(|point| point.y);
        curve.kind == CurveKind::Law && spans.any(|span| span.low < span.high)
    };
    figure.curves.iter().filter(has_band)
}

/// Draws lines and points; points that are few stand on the lines, many would hide them.
pub(crate) fn curves_and_points(svg: &mut Svg, figure: &Figure, plan: &Plan) {
    if figure.points.len() <= FEW {
        curves(svg, figure, plan);
        points(svg, figure, plan);
    } else {
        points(svg, figure, plan);
        curves(svg, figure, plan);
    }
}

/// Draws the lines.
fn curves(svg: &mut Svg, figure: &Figure, plan: &Plan) {
    for curve in &figure.curves {
        let ink = match curve.kind {
            CurveKind::Law => Ink::Law,
            CurveKind::Context => Ink::Context,
        };
        let places: Vec<(f64, f64)> = curve
            .points
            .iter()
            .map(|point| (plan.x.place(point.x), plan.y.place(point.y.value)))
            .collect();
        svg.path(ink, &path(&places));
    }
}

/// Writes a path through places.
fn path(places: &[(f64, f64)]) -> String {
    let mut path = String::new();
    for (index, (x, y)) in places.iter().enumerate() {
        let step = if index == 0 { 'M' } else { 'L' };
        // Writing to a string cannot fail.
        let _ = write!(path, "{step}{} {}", number(*x), number(*y));
    }
    path
}

/// Draws the measured points over their bars, then what is left out.
fn points(svg: &mut Svg, figure: &Figure, plan: &Plan) {
    for point in &figure.points {
        let (x, y) = (plan.x.place(point.x.value), plan.y.place(point.y.value));
        let (left, right) = (plan.x.place(point.x.low), plan.x.place(point.x.high));
        let (top, bottom) = (plan.y.place(point.y.high), plan.y.place(point.y.low));
        if top < bottom {
            line(svg, Ink::Bar, (x, top), (x, bottom));
        }
        if left < right {
            line(svg, Ink::Bar, (left, y), (right, y));
        }
    }
    let radius = radius(figure);
    for point in &figure.points {
        let (x, y) = (plan.x.place(point.x.value), plan.y.place(point.y.value));
        let places = [("cx", x), ("cy", y), ("r", radius)];
        svg.told_mark("circle", Ink::Point, &places, &point.told);
    }
    for point in &figure.left_out {
        left_out(svg, point, radius, plan);
    }
}

/// Draws a reading that is left out; an arrow says that it lies beyond the frame.
fn left_out(svg: &mut Svg, point: &LeftOut, radius: f64, plan: &Plan) {
    /// Length of the arrow from the rim of the point, and half its width.
    const ARROW: (f64, f64) = (7.0, 4.0);
    let ((x, y), (right, down)) = plan.place(point.x, point.y);
    let places = [("cx", x), ("cy", y), ("r", radius)];
    svg.told_mark("circle", Ink::LeftOut, &places, &point.label);
    if right != 0.0 || down != 0.0 {
        let (long, wide) = ARROW;
        let (tip, foot) = (radius + long, radius + long - wide);
        // The arrow's sides stand off to the sides of its way.
        let side = |sign: f64| {
            (
                x + foot * right + sign * wide * down,
                y + foot * down + sign * wide * right,
            )
        };
        let tip = (x + tip * right, y + tip * down);
        svg.path(Ink::Bar, &path(&[side(1.0), tip, side(-1.0)]));
    }
}
