//! Reads a figure back: where its texts stand, whatever drew them.

#![allow(dead_code, reason = "each test binary uses its share")]
#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

use charts::{Face, width};
use roxmltree::{Document, Node};

/// A text with the room that it takes.
#[derive(Clone, Debug)]
pub(crate) struct Text {
    pub(crate) words: String,
    pub(crate) class: String,
    pub(crate) left: f64,
    pub(crate) right: f64,
    pub(crate) top: f64,
    pub(crate) bottom: f64,
}

/// How far letters reach above and below their line, as shares of the size of type: capitals and tails of the face.
const ABOVE: f64 = 0.75;
const BELOW: f64 = 0.22;

/// Reads a number of an element.
pub(crate) fn number(node: Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name).unwrap().parse().unwrap()
}

/// Lists the texts of a figure.
pub(crate) fn texts(document: &Document<'_>) -> Vec<Text> {
    let nodes = document
        .descendants()
        .filter(|node| node.has_tag_name("text"));
    nodes.map(text).collect()
}

fn text(node: Node<'_, '_>) -> Text {
    let class = node
        .parent()
        .unwrap()
        .attribute("class")
        .unwrap()
        .to_owned();
    let size = number(node, "font-size");
    let face = if class == "title" {
        Face::Bold
    } else {
        Face::Regular
    };
    let words = node.text().unwrap_or_default().to_owned();
    let long = width(&words, face, size);
    if let Some(told) = node.attribute("textLength") {
        assert!((told.parse::<f64>().unwrap() - long).abs() < 0.01);
    }
    let (x, y) = (number(node, "x"), number(node, "y"));
    let left = match node.attribute("text-anchor") {
        Some("middle") => x - 0.5 * long,
        Some("end") => x - long,
        _ => x,
    };
    Text {
        words,
        class,
        left,
        right: left + long,
        top: y - ABOVE * size,
        bottom: y + BELOW * size,
    }
}

impl Text {
    /// Whether two texts share room.
    pub(crate) fn meets(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }
}

/// Says what is wrong with the texts of a figure: one that leaves the frame, is too small to read or meets another.
pub(crate) fn faults(svg: &str) -> Vec<String> {
    let document = Document::parse(svg).unwrap();
    let root = document.root_element();
    let (wide, high) = (number(root, "width"), number(root, "height"));
    let texts = texts(&document);
    let outside = |text: &&Text| {
        text.left < -0.01 || text.right > wide + 0.01 || text.top < 0.0 || text.bottom > high
    };
    let mut faults: Vec<String> = texts
        .iter()
        .filter(outside)
        .map(|text| format!("outside: {text:?}"))
        .collect();
    for (index, text) in texts.iter().enumerate() {
        let meeting = texts
            .iter()
            .skip(index + 1)
            .filter(|other| text.meets(other));
        faults.extend(meeting.map(|other| format!("{text:?} meets {other:?}")));
    }
    for node in document.descendants() {
        // A page's policy refuses a style, and a number that is none draws nothing.
        let refused = |name: &str, value: &str| {
            name == "style"
                || name.starts_with("on")
                || value.contains("NaN")
                || value.contains("inf")
        };
        let bad = node
            .attributes()
            .filter(|at| refused(at.name(), at.value()));
        faults.extend(bad.map(|at| format!("{}=\"{}\"", at.name(), at.value())));
        if ["style", "script", "image", "a"].contains(&node.tag_name().name()) {
            faults.push(format!("an element {}", node.tag_name().name()));
        }
    }
    // 12 pt is 16 of the units that are pixels at full size.
    let sizes = document
        .descendants()
        .filter_map(|node| node.attribute("font-size"));
    faults.extend(
        sizes
            .filter(|size| size.parse::<f64>().unwrap() < 16.0)
            .map(|size| format!("type of {size}")),
    );
    faults
}
