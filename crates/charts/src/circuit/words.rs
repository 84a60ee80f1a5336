//! Words with their places, and how they are cut to the room that they have.

use crate::draw::frame::ASCENT;
use crate::ink::Ink;
use crate::size::TYPE;
use crate::svg::{Anchor, Line, Svg};
use crate::text::{Face, clean, width};

/// A line of text in the size of labels.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Word {
    pub(super) text: String,
    pub(super) ink: Ink,
    pub(super) anchor: Anchor,
    pub(super) x: f64,
    /// The top of its line, from the top of its lane.
    pub(super) top: f64,
}

impl Word {
    pub(super) fn write(&self, svg: &mut Svg, lane_top: f64) {
        svg.text(&Line {
            text: &self.text,
            x: self.x,
            baseline: lane_top + self.top + ASCENT * TYPE,
            size: TYPE,
            anchor: self.anchor,
            ink: self.ink,
        });
    }
}

/// Cuts a text to a room; what is left out is told by an ellipsis.
pub(super) fn cut(text: &str, face: Face, room: f64) -> String {
    let mut text = clean(text);
    if wide(&text, face) <= room {
        return text;
    }
    while text.pop().is_some() {
        let told = format!("{}…", text.trim_end());
        if wide(&told, face) <= room {
            return told;
        }
    }
    String::new()
}

/// Computes the width of a text in the size of labels.
pub(super) fn wide(text: &str, face: Face) -> f64 {
    width(text, face, TYPE)
}
