//! Holds a drawn file to what every drawing promises: its texts lie within the page and apart from one another.

use charts::{Face, width};
use roxmltree::{Document, Node};

fn number(node: Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name).unwrap().parse().unwrap()
}

fn texts<'a, 'input>(document: &'a Document<'input>) -> Vec<Node<'a, 'input>> {
    document
        .descendants()
        .filter(|node| node.has_tag_name("text"))
        .collect()
}

/// The room that a text takes: left, right, top, bottom.
fn room(node: Node<'_, '_>) -> [f64; 4] {
    let class = node.parent().unwrap().attribute("class").unwrap();
    let face = if class == "title" {
        Face::Bold
    } else {
        Face::Regular
    };
    let (x, y, size) = (
        number(node, "x"),
        number(node, "y"),
        number(node, "font-size"),
    );
    let long = width(node.text().unwrap_or_default(), face, size);
    let left = match node.attribute("text-anchor") {
        Some("middle") => x - 0.5 * long,
        Some("end") => x - long,
        _ => x,
    };
    // Capitals and tails of the face.
    [left, left + long, y - 0.75 * size, y + 0.22 * size]
}

/// Holds a drawing to its promises, and returns its texts.
pub(crate) fn readable(svg: &str) -> Vec<String> {
    assert!(!svg.contains("NaN"), "{svg}");
    let document = Document::parse(svg).unwrap();
    let root = document.root_element();
    let page = (number(root, "width"), number(root, "height"));
    let texts = texts(&document);
    for (index, text) in texts.iter().enumerate() {
        let [left, right, top, bottom] = room(*text);
        assert!(
            left >= 0.0 && right <= page.0 && top >= 0.0 && bottom <= page.1,
            "{text:?}"
        );
        for other in &texts[index + 1..] {
            let [l, r, t, b] = room(*other);
            let apart = right <= l || r <= left || bottom <= t || b <= top;
            assert!(apart, "{text:?} meets {other:?}");
        }
    }
    let words = texts
        .iter()
        .map(|text| text.text().unwrap_or_default().to_owned());
    words.collect()
}

/// What stands in a drawing, for the eye that reviews a change: the words and where they are.
pub(crate) fn outline(svg: &str) -> String {
    let document = Document::parse(svg).unwrap();
    let view = document.root_element().attribute("viewBox").unwrap();
    let lines = texts(&document).into_iter().map(|node| {
        let [left, _, _, bottom] = room(node);
        let class = node.parent().unwrap().attribute("class").unwrap();
        let text = node.text().unwrap_or_default();
        format!("{class} {left:.0},{bottom:.0} {text}\n")
    });
    format!("{view}\n{}", lines.collect::<String>())
}
