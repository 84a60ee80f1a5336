//! A drawing that changes: what is to be done to the one that is shown so that it shows another.
//!
//! A keystroke moves a few marks of a figure and leaves its axes and most of its words. To hand the whole to the browser
//! again costs more than everything else that the keystroke does; so the lines of two drawings are held against each
//! other, and only what differs is told. It knows drawings as `charts` writes them: an element on each line, and groups of
//! them one deep.

/// What is to be done to a drawing. Places count the elements, from 0: one number for an element of the drawing itself, two
/// for one in a group of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// An attribute takes another value.
    Attribute {
        /// Whose.
        place: Place,
        /// Which.
        name: String,
        /// The value.
        value: String,
    },
    /// An element says another text.
    Text {
        /// Which.
        place: Place,
        /// The text.
        text: String,
    },
    /// An element is another one.
    Replace {
        /// Which.
        place: Place,
        /// What stands in its place.
        svg: String,
    },
    /// Elements come behind the last one, of the drawing or of a group of it.
    Append {
        /// The group; `None` for the drawing.
        group: Option<usize>,
        /// What comes.
        svg: String,
    },
    /// Elements go from behind.
    Remove {
        /// The group; `None` for the drawing.
        group: Option<usize>,
        /// How many.
        count: usize,
    },
}

/// Where an element stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// Among the elements of the drawing.
    pub at: usize,
    /// Among those of that group.
    pub within: Option<usize>,
}

/// Lists what makes one drawing into another; `None` where they are so unlike that the whole is better drawn anew.
pub fn changes(shown: &str, wanted: &str) -> Option<Vec<Change>> {
    let (shown, wanted) = (Drawing::read(shown)?, Drawing::read(wanted)?);
    if shown.opening != wanted.opening {
        return None;
    }
    let mut changes = Vec::new();
    for (at, (old, new)) in shown.nodes.iter().zip(&wanted.nodes).enumerate() {
        let place = Place { at, within: None };
        match (old, new) {
            (Node::Line(old), Node::Line(new)) => line_changes(old, new, place, &mut changes),
            (Node::Group(old_opening, old), Node::Group(opening, new))
                if old_opening == opening =>
            {
                group_changes(old, new, at, &mut changes);
            }
            _ => changes.push(Change::Replace {
                place,
                svg: new.written(),
            }),
        }
    }
    tail_changes(
        None,
        &shown.nodes,
        &wanted.nodes,
        Node::written,
        &mut changes,
    );
    Some(changes)
}

fn group_changes(old: &[&str], new: &[&str], at: usize, changes: &mut Vec<Change>) {
    for (within, (old, new)) in old.iter().zip(new).enumerate() {
        let within = Some(within);
        line_changes(old, new, Place { at, within }, changes);
    }
    tail_changes(Some(at), old, new, |line| (*line).to_owned(), changes);
}

/// What goes from behind, or comes there.
fn tail_changes<T>(
    group: Option<usize>,
    old: &[T],
    new: &[T],
    written: impl Fn(&T) -> String,
    changes: &mut Vec<Change>,
) {
    if old.len() > new.len() {
        let count = old.len() - new.len();
        changes.push(Change::Remove { group, count });
    } else if new.len() > old.len() {
        let svg = new[old.len()..].iter().map(written).collect();
        changes.push(Change::Append { group, svg });
    }
}

fn line_changes(old: &str, new: &str, place: Place, changes: &mut Vec<Change>) {
    if old == new {
        return;
    }
    let small = Element::read(old).zip(Element::read(new));
    match small.and_then(|(old, new)| old.changes(&new, place)) {
        Some(small) => changes.extend(small),
        None => changes.push(Change::Replace {
            place,
            svg: new.to_owned(),
        }),
    }
}

/// A drawing as lines.
struct Drawing<'a> {
    opening: &'a str,
    nodes: Vec<Node<'a>>,
}

enum Node<'a> {
    Line(&'a str),
    /// How the group opens, and what is in it.
    Group(&'a str, Vec<&'a str>),
}

impl Node<'_> {
    fn written(&self) -> String {
        match self {
            Self::Line(line) => (*line).to_owned(),
            Self::Group(opening, lines) => format!("{opening}{}</g>", lines.concat()),
        }
    }
}

impl<'a> Drawing<'a> {
    /// Reads a drawing; `None` where it is laid out otherwise than ours.
    fn read(svg: &'a str) -> Option<Self> {
        let mut lines = svg.lines();
        let opening = lines.next().filter(|line| line.starts_with("<svg "))?;
        let mut nodes = Vec::new();
        let mut group: Option<(&str, Vec<&str>)> = None;
        for line in lines {
            let is_whole = line.starts_with('<') && line.ends_with('>');
            match (line, group.take()) {
                ("</svg>", None) => return Some(Self { opening, nodes }),
                ("</g>", Some((opening, lines))) => nodes.push(Node::Group(opening, lines)),
                (line, None) if is_whole && line.starts_with("<g ") => {
                    group = Some((line, Vec::new()));
                }
                (line, None) if is_whole => nodes.push(Node::Line(line)),
                (line, Some((opening, mut lines))) if is_whole && !line.starts_with("<g ") => {
                    lines.push(line);
                    group = Some((opening, lines));
                }
                _ => return None,
            }
        }
        None
    }
}

/// An element of one line.
struct Element<'a> {
    name: &'a str,
    attributes: Vec<(&'a str, &'a str)>,
    /// What stands between its ends.
    inner: &'a str,
}

impl<'a> Element<'a> {
    fn read(line: &'a str) -> Option<Self> {
        let rest = line.strip_prefix('<')?;
        let end = rest.find([' ', '>', '/'])?;
        let (name, mut rest) = rest.split_at(end);
        let mut attributes = Vec::new();
        while let Some(from) = rest.strip_prefix(' ') {
            let (attribute, value) = from.split_once("=\"")?;
            let (value, after) = value.split_once('"')?;
            attributes.push((attribute, value));
            rest = after;
        }
        if rest == "/>" {
            let inner = "";
            return Some(Self {
                name,
                attributes,
                inner,
            });
        }
        let inner = rest.strip_prefix('>')?;
        let inner = inner.strip_suffix('>')?.strip_suffix(name)?;
        let inner = inner.strip_suffix("</")?;
        Some(Self {
            name,
            attributes,
            inner,
        })
    }

    /// What makes this element into another of its kind; `None` where it takes more than values and a text.
    fn changes(&self, new: &Element<'_>, place: Place) -> Option<Vec<Change>> {
        let names = |element: &Element<'_>| -> Vec<String> {
            let names = element.attributes.iter();
            names.map(|(name, _)| (*name).to_owned()).collect()
        };
        if self.name != new.name || names(self) != names(new) {
            return None;
        }
        let mut changes = Vec::new();
        for ((name, old), (_, value)) in self.attributes.iter().zip(&new.attributes) {
            if old != value {
                changes.push(Change::Attribute {
                    place,
                    name: (*name).to_owned(),
                    value: plain(value)?,
                });
            }
        }
        if self.inner != new.inner {
            let is_text = |inner: &str| !inner.is_empty() && !inner.contains('<');
            if !is_text(self.inner) || !is_text(new.inner) {
                return None;
            }
            changes.push(Change::Text {
                place,
                text: plain(new.inner)?,
            });
        }
        Some(changes)
    }
}

/// A text without what stands for letters in it; `None` where something does.
fn plain(text: &str) -> Option<String> {
    (!text.contains('&')).then(|| text.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    const OPENING: &str = "<svg xmlns=\"x\" width=\"9\">";

    fn drawing(lines: &[&str]) -> String {
        format!("{OPENING}\n{}\n</svg>\n", lines.join("\n"))
    }

    /// Does what is to be done, on texts.
    fn changed(shown: &str, changes: &[Change]) -> String {
        let drawing = Drawing::read(shown).unwrap();
        let mut nodes: Vec<(Option<String>, Vec<String>)> = drawing
            .nodes
            .iter()
            .map(|node| match node {
                Node::Line(line) => (None, vec![(*line).to_owned()]),
                Node::Group(opening, lines) => {
                    let lines = lines.iter().map(|line| (*line).to_owned());
                    (Some((*opening).to_owned()), lines.collect())
                }
            })
            .collect();
        for change in changes {
            apply(&mut nodes, change);
        }
        let written = nodes.iter().map(|(opening, lines)| match opening {
            None => format!("{}\n", lines.concat()),
            Some(opening) => format!("{opening}\n{}\n</g>\n", lines.join("\n")),
        });
        format!(
            "{}\n{}</svg>\n",
            drawing.opening,
            written.collect::<String>()
        )
    }

    fn apply(nodes: &mut Vec<(Option<String>, Vec<String>)>, change: &Change) {
        let line = |place: &Place| (place.at, place.within.unwrap_or(0));
        match change {
            Change::Attribute { place, name, value } => {
                let (at, within) = line(place);
                let line = &mut nodes[at].1[within];
                let start = line.find(&format!(" {name}=\"")).unwrap() + name.len() + 3;
                let end = start + line[start..].find('"').unwrap();
                line.replace_range(start..end, value);
            }
            Change::Text { place, text } => {
                let (at, within) = line(place);
                let line = &mut nodes[at].1[within];
                let (start, end) = (line.find('>').unwrap() + 1, line.rfind("</").unwrap());
                line.replace_range(start..end, text);
            }
            Change::Replace { place, svg } => match place.within {
                Some(within) => nodes[place.at].1[within].clone_from(svg),
                None => nodes[place.at] = read_node(svg),
            },
            Change::Append { group, svg } => match group {
                Some(group) => nodes[*group].1.extend(split(svg)),
                None => nodes.extend(Drawing::read_all(svg)),
            },
            Change::Remove { group, count } => match group {
                Some(group) => {
                    let lines = &mut nodes[*group].1;
                    lines.truncate(lines.len() - count);
                }
                None => nodes.truncate(nodes.len() - count),
            },
        }
    }

    /// Parts elements that were put together without line ends.
    fn split(svg: &str) -> Vec<String> {
        let mut parts: Vec<String> = Vec::new();
        for piece in svg.split("/>") {
            if !piece.is_empty() {
                parts.push(format!("{piece}/>"));
            }
        }
        parts
    }

    fn read_node(svg: &str) -> (Option<String>, Vec<String>) {
        match svg.strip_prefix("<g ") {
            None => (None, vec![svg.to_owned()]),
            Some(rest) => {
                let (opening, rest) = rest.split_once('>').unwrap();
                let lines = rest.strip_suffix("</g>").unwrap();
                (Some(format!("<g {opening}>")), split(lines))
            }
        }
    }

    impl Drawing<'_> {
        fn read_all(svg: &str) -> Vec<(Option<String>, Vec<String>)> {
            let mut nodes = Vec::new();
            let mut rest = svg;
            while !rest.is_empty() {
                let end = if rest.starts_with("<g ") {
                    "</g>"
                } else {
                    "/>"
                };
                let at = rest.find(end).unwrap() + end.len();
                nodes.push(read_node(&rest[..at]));
                rest = &rest[at..];
            }
            nodes
        }
    }

    const SHOWN: [&str; 6] = [
        "<title>Flow</title>",
        "<g class=\"axis\">",
        "<path d=\"M0 0\"/>",
        "<path d=\"M1 1\"/>",
        "</g>",
        "<circle cx=\"1\" cy=\"2\"/>",
    ];

    #[test]
    fn the_same_drawing_changes_nothing() {
        assert_eq!(changes(&drawing(&SHOWN), &drawing(&SHOWN)), Some(vec![]));
    }

    #[test]
    fn what_is_told_makes_one_drawing_into_the_other() {
        let moved = |change: fn(&mut Vec<&'static str>)| {
            let mut lines = SHOWN.to_vec();
            change(&mut lines);
            drawing(&lines)
        };
        let shown = drawing(&SHOWN);
        for wanted in [
            moved(|lines| lines[5] = "<circle cx=\"1\" cy=\"7\"/>"),
            moved(|lines| lines[0] = "<title>Power</title>"),
            moved(|lines| lines[3] = "<line x=\"1\"/>"),
            moved(|lines| lines.insert(4, "<path d=\"M2 2\"/>")),
            moved(|lines| {
                lines.remove(3);
            }),
            moved(|lines| lines[1] = "<g class=\"other\">"),
            moved(|lines| lines.push("<circle cx=\"3\" cy=\"4\"/>")),
            moved(|lines| {
                lines.pop();
            }),
            moved(|lines| lines.extend(["<g class=\"new\">", "<path d=\"M\"/>", "</g>"])),
        ] {
            let told = changes(&shown, &wanted).unwrap();
            assert_eq!(changed(&shown, &told), wanted, "{told:?}");
            assert_eq!(told.len(), 1, "{told:?}");
        }
    }

    #[test]
    fn what_is_no_drawing_of_ours_is_drawn_anew() {
        let shown = drawing(&SHOWN);
        assert_eq!(
            changes(&shown, &shown.replace("width=\"9\"", "width=\"8\"")),
            None
        );
        assert_eq!(changes(&shown, "<p>no drawing</p>"), None);
        assert_eq!(changes("", &shown), None);
    }

    #[test]
    fn letters_that_stand_for_others_are_left_to_the_browser() {
        let with = |text: &str| drawing(&[&format!("<text x=\"1\">{text}</text>")]);
        let told = changes(&with("a"), &with("a &amp; b")).unwrap();
        assert!(
            matches!(told.as_slice(), [Change::Replace { .. }]),
            "{told:?}"
        );
    }

    #[test]
    fn a_key_in_the_demo_moves_few_marks_and_all_of_them() {
        let figures = |readings: &str| {
            let mut pad = crate::demo::pad();
            let text = &mut pad.tests[1].readings.as_mut().unwrap().text;
            *text = text.replace("93.9", readings);
            let answered = crate::answer::answer(&pad, None, records::Language::English).unwrap();
            let figures = answered.figures(&["flow", "power", "energy"]);
            let drawn = figures
                .iter()
                .map(|figure| figure.svg(charts::Size::Narrow).unwrap());
            drawn.collect::<Vec<_>>()
        };
        let (before, after) = (figures("93.9"), figures("93"));
        assert_eq!(before.len(), 6);
        for (before, after) in before.iter().zip(&after) {
            let told = changes(before, after).expect("drawings of ours are known");
            let lines = after.lines().count();
            assert!(told.len() < lines / 2, "{} of {lines}", told.len());
        }
    }
}
