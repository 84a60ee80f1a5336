//! What each kind of mark is drawn with: its class name, and the attributes that it has where no page re-colours it.

use crate::text::family;
use crate::theme::{Palette, Theme};
use std::fmt::Write as _;

/// A kind of mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Ink {
    Ground,
    Highlight,
    HighlightEdge,
    Grid,
    Axis,
    Band,
    Rule,
    ActRule,
    Law,
    Context,
    Bar,
    Point,
    LeftOut,
    Title,
    Text,
    Number,
    LawText,
    ActText,
    /// A body of water.
    Water,
    /// A joint of pipes, drawn out, and its dots.
    Riser,
    Joint,
    Pipe,
    PipeKept,
    PipePassed,
    PipeShut,
    PipeUnstated,
    /// A part of a line.
    Symbol,
    /// The room in which a finger meets a line; nothing is seen of it.
    Target,
}

/// What a kind of mark is painted with.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Paint {
    fill: &'static str,
    stroke: &'static str,
    stroke_width: f64,
}

/// The class of a whole figure.
pub(crate) const CLASS: &str = "headwright-figure";
const NONE: &str = "none";
/// Width of the ground's edge around a text, which holds lines off it.
const HALO: f64 = 4.0;

impl Ink {
    /// All of them.
    const ALL: [Self; 28] = [
        Self::Ground,
        Self::Highlight,
        Self::HighlightEdge,
        Self::Grid,
        Self::Axis,
        Self::Band,
        Self::Rule,
        Self::ActRule,
        Self::Law,
        Self::Context,
        Self::Bar,
        Self::Point,
        Self::LeftOut,
        Self::Title,
        Self::Text,
        Self::Number,
        Self::LawText,
        Self::ActText,
        Self::Water,
        Self::Riser,
        Self::Joint,
        Self::Pipe,
        Self::PipeKept,
        Self::PipePassed,
        Self::PipeShut,
        Self::PipeUnstated,
        Self::Symbol,
        Self::Target,
    ];

    /// Returns the class name.
    pub(crate) fn class(self) -> &'static str {
        match self {
            Self::Ground => "ground",
            Self::Highlight => "highlight",
            Self::HighlightEdge => "highlight-edge",
            Self::Grid => "grid",
            Self::Axis => "axis",
            Self::Band => "band",
            Self::Rule => "rule",
            Self::ActRule => "act-rule",
            Self::Law => "law",
            Self::Context => "context",
            Self::Bar => "bar",
            Self::Point => "point",
            Self::LeftOut => "left-out",
            Self::Title => "title",
            Self::Text => "text",
            Self::Number => "number",
            Self::LawText => "law-text",
            Self::ActText => "act-text",
            Self::Water => "water",
            Self::Riser => "riser",
            Self::Joint => "joint",
            Self::Pipe => "pipe",
            Self::PipeKept => "pipe-kept",
            Self::PipePassed => "pipe-passed",
            Self::PipeShut => "pipe-shut",
            Self::PipeUnstated => "pipe-unstated",
            Self::Symbol => "symbol",
            Self::Target => "target",
        }
    }

    /// Whether it is text, which lies on an edge of its ground.
    fn is_text(self) -> bool {
        matches!(
            self,
            Self::Title | Self::Text | Self::Number | Self::LawText | Self::ActText
        )
    }

    fn paint(self, colours: &Palette) -> Paint {
        let filled = |fill| Paint {
            fill,
            stroke: NONE,
            stroke_width: 0.0,
        };
        let drawn = |stroke, stroke_width| Paint {
            fill: NONE,
            stroke,
            stroke_width,
        };
        let set = |fill| Paint {
            fill,
            stroke: colours.ground,
            stroke_width: HALO,
        };
        match self {
            Self::Ground => filled(colours.ground),
            Self::Highlight => filled(colours.highlight),
            Self::HighlightEdge => drawn(colours.act, 1.5),
            Self::Grid => drawn(colours.grid, 1.0),
            Self::Axis => drawn(colours.line, 1.25),
            Self::Band => filled(colours.band),
            Self::Rule => drawn(colours.line, 1.0),
            Self::ActRule => drawn(colours.act, 2.0),
            Self::Law => drawn(colours.law, 2.25),
            Self::Context => drawn(colours.line, 1.75),
            Self::Bar => drawn(colours.ink, 1.25),
            Self::Point => filled(colours.ink),
            Self::LeftOut | Self::Symbol => Paint {
                fill: colours.ground,
                stroke: colours.ink,
                stroke_width: 1.75,
            },
            Self::Title | Self::Text => set(colours.ink),
            Self::Number => set(colours.muted),
            Self::LawText => set(colours.law_text),
            Self::ActText => set(colours.act_text),
            Self::Water => Paint {
                fill: colours.band,
                stroke: colours.law,
                stroke_width: 1.5,
            },
            Self::Riser | Self::PipeShut | Self::PipeUnstated => drawn(colours.line, 2.25),
            Self::Joint => filled(colours.line),
            Self::Pipe => drawn(colours.ink, 2.25),
            Self::PipeKept => drawn(colours.law, 3.0),
            Self::PipePassed => drawn(colours.act, 4.0),
            Self::Target => drawn(NONE, 0.0),
        }
    }

    /// Lists the properties that colour it, the same by name in SVG and in a stylesheet.
    fn colours(self, theme: Theme) -> Vec<(&'static str, String)> {
        let paint = self.paint(&theme.palette());
        let mut colours = vec![("fill", paint.fill.to_owned())];
        if paint.stroke != NONE {
            let heavier = if self.is_text() { 1.0 } else { theme.weight() };
            colours.push(("stroke", paint.stroke.to_owned()));
            colours.push((
                "stroke-width",
                crate::svg::number(heavier * paint.stroke_width),
            ));
        }
        colours
    }

    /// Lists the attributes that it is drawn with.
    pub(crate) fn attributes(self, theme: Theme) -> Vec<(&'static str, String)> {
        let mut attributes = vec![("class", self.class().to_owned())];
        attributes.extend(self.colours(theme));
        let more: &[(&str, &str)] = match self {
            Self::Context => &[("stroke-dasharray", "7 4")],
            Self::Law => &[("stroke-linejoin", "round")],
            Self::PipeShut => &[("stroke-dasharray", "6 5")],
            Self::Target => &[("pointer-events", "all")],
            Self::Title => &[("font-weight", "700")],
            _ => &[],
        };
        attributes.extend(
            more.iter()
                .map(|(name, value)| (*name, (*value).to_owned())),
        );
        if self.is_text() {
            attributes.push(("paint-order", "stroke".to_owned()));
            attributes.push(("stroke-linejoin", "round".to_owned()));
        }
        attributes
    }
}

/// Returns the rules by which a page colours the figures that it holds: light, or dark where the reader's screen is, or
/// as the page's root says with `data-theme="light"`, `"dark"` or `"sun"`.
pub fn stylesheet() -> String {
    let mut sheet = format!(
        ".{CLASS} {{ width: 100%; height: auto; font-family: {}; }}\n",
        family(),
    );
    rules(&mut sheet, "", Theme::Light);
    sheet.push_str("@media screen and (prefers-color-scheme: dark) {\n");
    rules(&mut sheet, "", Theme::Dark);
    sheet.push_str("}\n");
    for (name, theme) in [
        ("light", Theme::Light),
        ("dark", Theme::Dark),
        ("sun", Theme::Sun),
    ] {
        rules(&mut sheet, &format!("[data-theme=\"{name}\"] "), theme);
    }
    sheet
}

fn rules(sheet: &mut String, before: &str, theme: Theme) {
    for ink in Ink::ALL {
        let colours = ink.colours(theme);
        let told: Vec<String> = colours
            .iter()
            .map(|(name, value)| format!("{name}: {value};"))
            .collect();
        // Writing to a string cannot fail.
        let _ = writeln!(
            sheet,
            "{before}.{CLASS} .{} {{ {} }}",
            ink.class(),
            told.join(" ")
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_page_can_recolour_every_mark_in_every_theme() {
        let sheet = stylesheet();
        for ink in Ink::ALL {
            let rules = sheet
                .matches(&format!(".{CLASS} .{} {{", ink.class()))
                .count();
            assert_eq!(rules, 5, "{ink:?}");
        }
        assert!(
            sheet.contains("font-family: Atkinson Hyperlegible Next, sans-serif;"),
            "{sheet}"
        );
    }

    #[test]
    fn nothing_is_styled_in_the_figure_itself() {
        for ink in Ink::ALL {
            for theme in Theme::ALL {
                assert!(
                    ink.attributes(theme)
                        .iter()
                        .all(|(name, _)| *name != "style")
                );
            }
        }
    }
}
