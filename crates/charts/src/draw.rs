//! Draws a figure: the plan of the page first, then what lies behind, the marks, and the labels on top.

mod candidates;
pub(crate) mod frame;
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
pub const OPENING: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"headwright-figure\"";

impl Figure {
    /// Draws the figure as a whole SVG file, which may also stand in a page as it is; `None` where there is nothing to draw.
    pub fn svg(&self, theme: Theme, size: Size) -> Option<String> {
        let figure = self.drawable();
        let plan = Plan::of(&figure, size)?;
        let labels = Labels::of(&figure, &plan);
        let mut svg = Svg::new(theme);
        let told = (figure.title.as_str(), figure.description.as_str());
        open(&mut svg, "img", (plan.page.right, plan.page.bottom), told);
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

/// Begins a file: a size, a role for readers who do not see it, and what is told to them.
pub(crate) fn open(
    svg: &mut Svg,
    role: &str,
    (width, height): (f64, f64),
    (title, description): (&str, &str),
) {
    debug_assert!(OPENING.contains(CLASS));
    let (width, height) = (number(width), number(height));
    svg.raw(OPENING);
    svg.raw(&format!(
        " role=\"{role}\" width=\"{width}\" height=\"{height}\" viewBox=\"0 0 {width} {height}\" font-family=\"{}\">\n",
        escaped(&family()),
    ));
    for (element, text) in [("title", title), ("desc", description)] {
        let text = escaped(&clean(text));
        svg.raw(&format!("<{element}>{text}</{element}>\n"));
    }
}
