//! Blocks as elements: what follows its like stands in one list.

use super::escape::escaped;
use super::table::table;
use crate::content::{Block, Drawing, FindingBlock, Room};
use crate::language::say;
use crate::units::Printing;
use fieldtest::Severity;

/// A list that is open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum List {
    Items,
    Ticks,
    Answers,
}

impl List {
    fn of(block: &Block) -> Option<Self> {
        match block {
            Block::Item(_) => Some(Self::Items),
            Block::Tick(_) => Some(Self::Ticks),
            Block::Answer { .. } => Some(Self::Answers),
            _ => None,
        }
    }

    fn tags(self) -> (&'static str, &'static str) {
        match self {
            Self::Items => ("<ul>\n", "</ul>\n"),
            Self::Ticks => ("<ul class=\"ticks\">\n", "</ul>\n"),
            Self::Answers => ("<dl>\n", "</dl>\n"),
        }
    }
}

/// The elements of the page as they are written.
#[derive(Debug)]
pub(super) struct Body {
    printing: Printing,
    out: String,
    list: Option<List>,
    /// Whether a part has begun, below whose head the others stand.
    in_part: bool,
    is_section_open: bool,
    /// The last heading, by which a table goes.
    heading: String,
    /// The names of the tables so far.
    names: Vec<String>,
}

impl Body {
    /// Begins a page that is printed so.
    pub(super) fn new(printing: Printing) -> Self {
        Self {
            printing,
            out: String::new(),
            list: None,
            in_part: false,
            is_section_open: false,
            heading: String::new(),
            names: Vec::new(),
        }
    }

    /// Writes blocks.
    pub(super) fn write(&mut self, blocks: &[Block]) {
        for block in blocks {
            self.turn_to(List::of(block));
            self.block(block);
        }
        self.turn_to(None);
    }

    /// Gives what was written.
    pub(super) fn into_text(mut self) -> String {
        self.leave_section();
        self.out
    }

    /// Closes the list that is open, unless the next block belongs to it, and opens the next one.
    fn turn_to(&mut self, next: Option<List>) {
        if self.list == next {
            return;
        }
        if let Some(list) = self.list {
            self.out.push_str(list.tags().1);
        } else {
            self.enter_section("owner");
        }
        if let Some(list) = next {
            self.out.push_str(list.tags().0);
        }
        self.list = next;
    }

    fn enter_section(&mut self, class: &str) {
        if !self.is_section_open {
            self.push(&format!("<section class=\"{class}\">\n"));
            self.is_section_open = true;
        }
    }

    fn leave_section(&mut self) {
        if self.is_section_open {
            self.push("</section>\n");
            self.is_section_open = false;
        }
    }

    fn push(&mut self, text: &str) {
        self.out.push_str(text);
    }

    fn block(&mut self, block: &Block) {
        if !matches!(block, Block::Part(_)) {
            self.enter_section("owner");
        }
        let text = match block {
            Block::Part(text) => {
                self.leave_section();
                self.enter_section("part");
                self.in_part = true;
                format!("<h2>{}</h2>\n", escaped(text))
            }
            Block::Title(text) | Block::Heading(text) => self.headed(text),
            Block::Answer { word, text, .. } => {
                format!("<dt>{}</dt><dd>{}</dd>\n", escaped(word), escaped(text))
            }
            Block::Finding(found) => finding(found, self.printing),
            Block::Table(content) => {
                let name = self.name();
                table(content, &name)
            }
            Block::Note(text) => format!("<p class=\"note\">{}</p>\n", escaped(text)),
            Block::Item(text) => format!("<li>{}</li>\n", escaped(text)),
            Block::Paragraph(text) => format!("<p>{}</p>\n", escaped(text)),
            Block::Tick(text) => {
                let text = escaped(text);
                format!("<li><label><input type=\"checkbox\"> <span>{text}</span></label></li>\n")
            }
            Block::Drawing(shown) => drawing(shown, self.printing),
            Block::Beside(runs) => return self.beside(runs),
            Block::Room(left) => room(left),
        };
        self.push(&text);
    }

    fn headed(&mut self, text: &str) -> String {
        text.clone_into(&mut self.heading);
        let level = if self.in_part { 3 } else { 2 };
        format!("<h{level}>{}</h{level}>\n", escaped(text))
    }

    fn beside(&mut self, runs: &[Vec<Block>; 2]) {
        self.push("<div class=\"beside\">\n");
        for run in runs {
            self.push("<div>\n");
            self.write(run);
            self.push("</div>\n");
        }
        self.push("</div>\n");
    }

    /// Names a table by the heading above it, so that no two go by one name.
    fn name(&mut self) -> String {
        let same = self.names.iter().filter(|name| **name == self.heading);
        let name = match same.count() {
            0 => self.heading.clone(),
            before => format!("{} ({})", self.heading, before + 1),
        };
        self.names.push(self.heading.clone());
        name
    }
}

fn finding(finding: &FindingBlock, printing: Printing) -> String {
    let class = match finding.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "remark",
    };
    let tests = match finding.tests.as_slice() {
        [] => String::new(),
        tests => escaped(&format!(" ({})", tests.join(", "))),
    };
    let source = finding
        .source_words(printing)
        .map(|source| format!("<p class=\"note\">{}</p>\n", escaped(&source)));
    format!(
        "<div class=\"finding {class}\">\n<p class=\"code\"><strong>{}</strong> {}{tests}</p>\n<p>{}</p>\n<p class=\"do\">{}</p>\n{}</div>\n",
        finding.word,
        finding.code,
        escaped(&finding.says),
        escaped(&finding.action),
        source.unwrap_or_default(),
    )
}

/// Writes a drawing in both sizes, of which the style shows one, with room for what is told of it.
fn drawing(drawing: &Drawing, printing: Printing) -> String {
    let hint = say!(printing, "Point at a mark to read it.");
    format!(
        "<figure>\n<div class=\"wide\">\n{}</div>\n<div class=\"narrow\">\n{}</div>\n<p class=\"told\" hidden>{hint}</p>\n</figure>\n",
        drawing.wide, drawing.narrow
    )
}

fn room(room: &Room) -> String {
    let (class, labels) = match room {
        Room::Photographs(labels) => ("photographs", labels),
        Room::Lines(labels) => ("lines", labels),
    };
    let labels = labels
        .iter()
        .map(|label| format!("<li>{}</li>\n", escaped(label)));
    format!(
        "<ul class=\"{class}\">\n{}</ul>\n",
        labels.collect::<String>()
    )
}
