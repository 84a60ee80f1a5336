//! Figures as SVG text: measured points with their bars, laws with their bands, limits as thin rules, each named
//! where it stands.
//!
//! A [`Circuit`] is a drawing of which line joins what, laid out from that alone.
//!
//! A [`Figure`] is neutral data in the caller's units and words; nothing here knows a pool, a language or how a number
//! is rounded. [`Figure::svg`] draws it in a [`Theme`] and a [`Size`]: the same figure gives the same bytes. Colour
//! stands in presentation attributes beside class names, never in a style attribute or element, so that a page with a
//! strict content policy can hold the figure, and re-colour it with the rules of [`stylesheet`].

mod axis;
mod circuit;
mod draw;
mod figure;
mod ink;
mod place;
mod rect;
mod size;
mod svg;
mod text;
mod theme;

pub use circuit::{
    Circuit, CircuitLine, CircuitPart, CircuitPump, Place, PlaceKind, Shape, Standing, Way,
};
pub use draw::OPENING;
pub use figure::{
    At, Axis, Curve, CurveKind, CurvePoint, Figure, Highlight, LeftOut, Point, Rule, Span, Start,
    Weight,
};
pub use ink::stylesheet;
pub use size::Size;
pub use text::{Face, escaped, width};
pub use theme::Theme;
