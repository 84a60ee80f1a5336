//! Draws a figure: the plan of the page first, then what lies behind, the marks, and the labels on top.

mod candidates;
mod frame;
mod labels;
mod marks;
mod obstacles;
mod plan;

use crate::figure::Figure;
use crate::ink::CLASS;
use crate::size::Size;
use crate::svg::{Svg, number};
use crate::text::{clean, escaped, family};
use crate::theme::Theme;
use labels::Labels;
use plan::Plan;

/// How every figure begins, by which it is known as ours.
pub const OPENING: &str =
    "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"headwright-figure\" role=\"img\"";

impl Figure {
    /// Draws the figure as a whole SVG file, which may also stand in a page as it is; `None` where there is nothing to draw.
    pub fn svg(&self, theme: Theme, size: Size) -> Option<String> {
        let figure = self.drawable();
        let plan = Plan::of(&figure, size)?;
        let labels = Labels::of(&figure, &plan);
        let mut svg = Svg::new(theme);
        open(&mut svg, &figure, &plan);
        frame::behind(&mut svg, &plan);
        marks::behind(&mut svg, &figure, &plan);
        labels.draw_lines(&mut svg);
        frame::axes(&mut svg, &plan);
        marks::curves_and_points(&mut svg, &figure, &plan);
        labels.write(&mut svg);
        frame::words(&mut svg, &plan);
        svg.raw("</svg>\n");
        Some(svg.into_text())
    }
}

fn open(svg: &mut Svg, figure: &Figure, plan: &Plan) {
    debug_assert!(OPENING.contains(CLASS));
    let (width, height) = (number(plan.page.right), number(plan.page.bottom));
    svg.raw(OPENING);
    svg.raw(&format!(
        " width=\"{width}\" height=\"{height}\" viewBox=\"0 0 {width} {height}\" font-family=\"{}\">\n",
        escaped(&family()),
    ));
    for (element, text) in [("title", &figure.title), ("desc", &figure.description)] {
        let text = escaped(&clean(text));
        svg.raw(&format!("<{element}>{text}</{element}>\n"));
    }
}
