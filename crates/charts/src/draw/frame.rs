//! What stands around the plot: ground, net, axes with their numbers, title and note.

use super::plan::{GAP, Plan, TICK};
use crate::ink::Ink;
use crate::size::{LINE, MARGIN, TYPE};
use crate::svg::{Anchor, Line, Svg};

/// How far below the top of its line a text's letters stand, as a share of the size of type.
pub(crate) const ASCENT: f64 = 0.92;
/// How far below the middle of a number its digits stand, as a share of the size of type.
const HALF_DIGIT: f64 = 0.34;

/// Draws the ground and the net.
pub(crate) fn behind(svg: &mut Svg, plan: &Plan) {
    let page = &plan.page;
    svg.mark(
        "rect",
        Ink::Ground,
        &[("width", page.right), ("height", page.bottom)],
    );
    for tick in plan.y_ticks.all.iter().filter(|tick| tick.text.is_some()) {
        let y = plan.y.place(tick.value);
        line(svg, Ink::Grid, (plan.plot.left, y), (plan.plot.right, y));
    }
}

/// Draws a straight line.
pub(crate) fn line(svg: &mut Svg, ink: Ink, from: (f64, f64), to: (f64, f64)) {
    let places = [("x1", from.0), ("y1", from.1), ("x2", to.0), ("y2", to.1)];
    svg.mark("line", ink, &places);
}

/// Draws the axes with their ticks and numbers.
pub(crate) fn axes(svg: &mut Svg, plan: &Plan) {
    let plot = &plan.plot;
    let corner = (plot.left, plot.bottom);
    line(svg, Ink::Axis, (plot.left, plot.top), corner);
    line(svg, Ink::Axis, corner, (plot.right, plot.bottom));
    for tick in &plan.y_ticks.all {
        let y = plan.y.place(tick.value);
        line(svg, Ink::Axis, (plot.left - TICK, y), (plot.left, y));
        let place = (plot.left - TICK - GAP, y + HALF_DIGIT * TYPE);
        number(svg, tick.text.as_deref(), place, Anchor::End);
    }
    for tick in &plan.x_ticks.all {
        let x = plan.x.place(tick.value);
        line(svg, Ink::Axis, (x, plot.bottom), (x, plot.bottom + TICK));
        let place = (x, plot.bottom + TICK + GAP + ASCENT * TYPE);
        number(svg, tick.text.as_deref(), place, Anchor::Middle);
    }
}

fn number(svg: &mut Svg, text: Option<&str>, (x, baseline): (f64, f64), anchor: Anchor) {
    if let Some(text) = text {
        svg.text(&Line {
            text,
            x,
            baseline,
            size: TYPE,
            anchor,
            ink: Ink::Number,
        });
    }
}

/// Lines of text above one another.
pub(crate) struct Stack<'a> {
    pub(crate) lines: &'a [String],
    pub(crate) ink: Ink,
    pub(crate) anchor: Anchor,
    pub(crate) x: f64,
    /// The top of the first line.
    pub(crate) top: f64,
    /// The size of type, and the height of a line.
    pub(crate) size: (f64, f64),
}

impl Stack<'_> {
    pub(crate) fn write(&self, svg: &mut Svg) {
        let (size, height) = self.size;
        for (index, text) in self.lines.iter().enumerate() {
            svg.text(&Line {
                text,
                x: self.x,
                baseline: self.top + height * index as f64 + ASCENT * size,
                size,
                anchor: self.anchor,
                ink: self.ink,
            });
        }
    }
}

/// Writes the title, the names of the axes and the note.
pub(crate) fn words(svg: &mut Svg, plan: &Plan) {
    let body = Stack {
        lines: &[],
        ink: Ink::Text,
        anchor: Anchor::Start,
        x: MARGIN,
        top: MARGIN,
        size: (TYPE, LINE),
    };
    let title = Stack {
        lines: &plan.title,
        ink: Ink::Title,
        size: plan.size.title(),
        ..body
    };
    let y_title = Stack {
        lines: &plan.y_title,
        top: plan.plot.top - plan.above_plot(),
        ..body
    };
    let x_title = Stack {
        lines: &plan.x_title,
        anchor: Anchor::End,
        x: plan.page.right - MARGIN,
        top: plan.plot.bottom + TICK + GAP + LINE,
        ..body
    };
    let note = Stack {
        lines: &plan.note,
        ink: Ink::Number,
        top: plan.page.bottom - MARGIN - LINE * plan.note.len() as f64,
        ..body
    };
    for stack in [title, y_title, x_title, note] {
        stack.write(svg);
    }
}
