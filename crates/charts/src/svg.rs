//! Writes SVG: elements with attributes, and numbers with no more than two decimals.

use crate::ink::Ink;
use crate::text::{Face, clean, escaped, is_measured, width};
use crate::theme::Theme;

/// A drawing as it grows. Marks of one kind that follow one another share a group, which holds how they are drawn.
#[derive(Debug)]
pub(crate) struct Svg {
    out: String,
    theme: Theme,
    group: Option<Ink>,
}

/// Which end of a text stands at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

/// A line of text as it is set.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Line<'a> {
    pub(crate) text: &'a str,
    pub(crate) x: f64,
    /// Where the letters stand.
    pub(crate) baseline: f64,
    pub(crate) size: f64,
    pub(crate) anchor: Anchor,
    pub(crate) ink: Ink,
}

impl Line<'_> {
    fn face(&self) -> Face {
        if self.ink == Ink::Title {
            Face::Bold
        } else {
            Face::Regular
        }
    }
}

/// Writes a length or a place.
pub(crate) fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_owned()
}

impl Svg {
    pub(crate) fn new(theme: Theme) -> Self {
        Self {
            out: String::new(),
            theme,
            group: None,
        }
    }

    /// Writes raw text, outside of any group.
    pub(crate) fn raw(&mut self, text: &str) {
        self.leave();
        self.out.push_str(text);
    }

    /// Writes an empty element of a kind of mark.
    pub(crate) fn mark(&mut self, element: &str, ink: Ink, places: &[(&str, f64)]) {
        let places = places.iter().map(|(name, at)| (*name, number(*at)));
        self.element(element, ink, places);
        self.out.push_str("/>\n");
    }

    /// Writes a mark that tells something to who points at it; without a text, a mark like any other.
    pub(crate) fn told_mark(
        &mut self,
        element: &str,
        ink: Ink,
        places: &[(&str, f64)],
        told: &str,
    ) {
        if told.is_empty() {
            return self.mark(element, ink, places);
        }
        let places = places.iter().map(|(name, at)| (*name, number(*at)));
        self.element(element, ink, places);
        let told = escaped(&clean(told));
        for part in ["><title>", &told, "</title></", element, ">\n"] {
            self.out.push_str(part);
        }
    }

    /// Writes a path.
    pub(crate) fn path(&mut self, ink: Ink, path: &str) {
        self.element("path", ink, [("d", path.to_owned())].into_iter());
        self.out.push_str("/>\n");
    }

    fn element<'a>(
        &mut self,
        element: &str,
        ink: Ink,
        places: impl Iterator<Item = (&'a str, String)>,
    ) {
        self.enter(ink);
        self.open(element, places);
    }

    fn enter(&mut self, ink: Ink) {
        if self.group != Some(ink) {
            self.leave();
            self.open("g", ink.attributes(self.theme).into_iter());
            self.out.push_str(">\n");
            self.group = Some(ink);
        }
    }

    fn leave(&mut self) {
        if self.group.take().is_some() {
            self.out.push_str("</g>\n");
        }
    }

    fn open<'a>(&mut self, element: &str, attributes: impl Iterator<Item = (&'a str, String)>) {
        self.out.push('<');
        self.out.push_str(element);
        for (name, value) in attributes {
            for part in [" ", name, "=\"", &escaped(&value), "\""] {
                self.out.push_str(part);
            }
        }
    }

    /// Writes a line of text. Its length is told, so that another face on the reader's machine takes the same room.
    pub(crate) fn text(&mut self, line: &Line<'_>) {
        let mut places = vec![("x", number(line.x)), ("y", number(line.baseline))];
        match line.anchor {
            Anchor::Start => {}
            Anchor::Middle => places.push(("text-anchor", "middle".to_owned())),
            Anchor::End => places.push(("text-anchor", "end".to_owned())),
        }
        if is_measured(line.text, line.face()) {
            let length = width(line.text, line.face(), line.size);
            places.push(("textLength", number(length)));
            places.push(("lengthAdjust", "spacingAndGlyphs".to_owned()));
        }
        // A class may not set it: the room that a text takes was measured in this size.
        places.push(("font-size", number(line.size)));
        self.element("text", line.ink, places.into_iter());
        self.out.push('>');
        self.out.push_str(&escaped(line.text));
        self.out.push_str("</text>\n");
    }

    /// Gives the text that was written.
    pub(crate) fn into_text(mut self) -> String {
        self.leave();
        self.out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short() {
        for (value, written) in [
            (1.0, "1"),
            (12.345, "12.35"),
            (-0.001, "0"),
            (0.5, "0.5"),
            (100.0, "100"),
        ] {
            assert_eq!(number(value), written);
        }
    }
}
