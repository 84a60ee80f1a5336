//! Blocks as text for a terminal or a file.

use crate::content::{Block, Drawing, FindingBlock, Room, Table};
use crate::language::say;
use crate::units::Printing;
use anstyle::{AnsiColor, Style};
use comfy_table::{CellAlignment, ContentArrangement, TableStyle};
use fieldtest::Severity;

/// How text is laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Layout {
    /// The width of a line in characters.
    pub width: usize,
    /// Whether colour is used.
    pub paint: Paint,
    /// How the answer is printed: the few words of the layout are in its language.
    pub printing: Printing,
}

/// Whether text carries colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paint {
    /// Bare text.
    Plain,
    /// Escape sequences of colour and weight.
    Colour,
}

/// The width of the words that answers answer to.
const WORD_WIDTH: usize = 12;
/// The least width that is laid out for.
const LEAST_WIDTH: usize = 40;

/// Writes blocks as text.
pub fn text(blocks: &[Block], layout: Layout) -> String {
    let layout = Layout {
        width: layout.width.max(LEAST_WIDTH),
        ..layout
    };
    let mut text = String::new();
    for block in blocks {
        text.push_str(&layout.block(block, text.is_empty()));
        text.push('\n');
    }
    text
}

impl Layout {
    fn block(self, block: &Block, is_first: bool) -> String {
        let gap = if is_first { "" } else { "\n" };
        match block {
            Block::Title(title) => {
                let title = self.wrapped(title, "", "  ");
                format!("{gap}{}\n", self.painted(&title, Style::new().bold()))
            }
            Block::Heading(heading) => {
                format!(
                    "{gap}{}",
                    self.painted(heading, Style::new().bold().underline())
                )
            }
            Block::Answer { word, text, .. } => {
                let padded = format!("{word:<WORD_WIDTH$}");
                let wrapped = self.wrapped(text, &padded, &" ".repeat(WORD_WIDTH));
                wrapped.replacen(&padded, &self.painted(&padded, Style::new().bold()), 1)
            }
            Block::Finding(finding) => self.finding(finding),
            Block::Table(content) => self.table(content),
            Block::Note(note) => self.wrapped(note, "  ", "  "),
            Block::Item(item) => self.wrapped(item, "- ", "  "),
            Block::Part(part) => {
                let part = self.wrapped(&part.to_uppercase(), "", "  ");
                format!("{gap}{}", self.painted(&part, Style::new().bold()))
            }
            Block::Paragraph(text) => self.wrapped(text, "", ""),
            Block::Tick(text) => self.wrapped(text, "[ ] ", "    "),
            Block::Drawing(drawing) => self.drawing(drawing),
            Block::Beside(runs) => {
                let blocks = runs.iter().flatten();
                let texts: Vec<String> = blocks.map(|block| self.block(block, false)).collect();
                texts.join("\n")
            }
            Block::Room(room) => self.room(room),
        }
    }

    /// Tells what a drawing shows: there is no room for the drawing itself.
    fn drawing(self, drawing: &Drawing) -> String {
        let told = &drawing.description;
        let figure = say!(self.printing, "Figure: {told}", told);
        self.wrapped(&figure, "  ", "  ")
    }

    fn room(self, room: &Room) -> String {
        let (Room::Photographs(labels) | Room::Lines(labels)) = room;
        let line =
            |label: &String| self.wrapped(&format!("{label}: ____________________"), "", "  ");
        let lines: Vec<String> = labels.iter().map(line).collect();
        lines.join("\n")
    }

    fn finding(self, finding: &FindingBlock) -> String {
        let colour = match finding.severity {
            Severity::Error => AnsiColor::Red.on_default().bold(),
            Severity::Warning => AnsiColor::Yellow.on_default().bold(),
            Severity::Note => Style::new().bold(),
        };
        let tests = match finding.tests.as_slice() {
            [] => String::new(),
            tests => format!(" ({})", tests.join(", ")),
        };
        let mut text = format!(
            "{} {}{tests}\n",
            self.painted(finding.word, colour),
            finding.code
        );
        text.push_str(&self.wrapped(&finding.says, "  ", "  "));
        text.push('\n');
        text.push_str(&self.wrapped(&finding.action, "  > ", "    "));
        if let Some(source) = finding.source_words(self.printing) {
            text.push('\n');
            text.push_str(&self.wrapped(&source, "  ", "    "));
        }
        text
    }

    fn table(self, content: &Table) -> String {
        let mut table = comfy_table::Table::new();
        table
            .load_style(TableStyle::new())
            .set_content_arrangement(ContentArrangement::Dynamic)
            .set_width(u16::try_from(self.width).unwrap_or(u16::MAX));
        if !content.headings.is_empty() {
            table.set_header(content.headings.clone());
        }
        for (at, row) in content.rows.iter().enumerate() {
            let cells = row.iter().enumerate();
            let cells = cells.map(|(index, text)| match content.mark(at, index) {
                Some(mark) => format!("{text} {mark}"),
                None => text.clone(),
            });
            table.add_row(cells.collect::<Vec<String>>());
        }
        for (index, column) in table.column_iter_mut().enumerate() {
            if index >= content.word_columns {
                column.set_cell_alignment(CellAlignment::Right);
            }
        }
        let lines: Vec<String> = table
            .lines()
            .map(|line| line.trim_end().to_owned())
            .collect();
        lines.join("\n")
    }

    fn wrapped(self, text: &str, first: &str, later: &str) -> String {
        let options = textwrap::Options::new(self.width)
            .initial_indent(first)
            .subsequent_indent(later);
        textwrap::fill(text, options)
    }

    fn painted(self, text: &str, style: Style) -> String {
        match self.paint {
            Paint::Plain => text.to_owned(),
            Paint::Colour => format!("{style}{text}{style:#}"),
        }
    }
}
