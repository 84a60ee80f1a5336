//! Figures and drawings of pads as blocks: drawn in both sizes, each renderer taking the one that it has room for.

use crate::figures::NamedFigure;
use charts::{Circuit, Size, Theme};

/// A figure or the drawing of a pad, drawn on a light ground.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawing {
    /// The finding.
    pub title: String,
    /// The finding and its numbers, for a reader who does not see it.
    pub description: String,
    /// The drawing for a page, as SVG.
    pub wide: String,
    /// The drawing for a phone held upright, as SVG.
    pub narrow: String,
}

impl Drawing {
    /// Draws a figure; `None` where there is nothing to draw.
    pub fn of_figure(named: &NamedFigure) -> Option<Self> {
        let figure = &named.figure;
        let drawn = |size| figure.svg(Theme::Light, size);
        Self::of(&figure.title, &figure.description, drawn)
    }

    /// Draws a pad; `None` where it has no line.
    pub fn of_circuit(circuit: &Circuit) -> Option<Self> {
        let drawn = |size| circuit.svg(Theme::Light, size);
        Self::of(&circuit.title, &circuit.description, drawn)
    }

    fn of(title: &str, description: &str, drawn: impl Fn(Size) -> Option<String>) -> Option<Self> {
        Some(Self {
            title: title.to_owned(),
            description: description.to_owned(),
            wide: drawn(Size::Wide)?,
            narrow: drawn(Size::Narrow)?,
        })
    }
}
