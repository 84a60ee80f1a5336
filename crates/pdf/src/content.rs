//! The content of a report as data for the template: one JSON text, and a file for each picture.

use crate::world::NamedFile;
use document::content::{Block, FindingBlock, Room, Table};
use document::report::{Paper, Report, letterhead_lines};
use document::units::Printing;
use fieldtest::Severity;
use records::LogoKind;
use serde_json::{Value, json};

/// Lists the files of a report.
pub(crate) fn files(report: &Report, paper: Paper) -> Vec<NamedFile> {
    let printing = report.printing;
    let mut writer = Writer {
        printing,
        files: Vec::new(),
        is_in_part: false,
        is_beside: false,
    };
    let blocks = writer.blocks(&report.blocks);
    let letterhead = &report.letterhead;
    let logo = letterhead.logo.as_ref().map(|logo| {
        let name = match logo.kind {
            LogoKind::Png => "logo.png",
            LogoKind::Jpeg => "logo.jpg",
        };
        writer.files.push((name.to_owned(), logo.bytes.clone()));
        name
    });
    let date = letterhead.date;
    let (lang, region) = match printing.language.tag().split_once('-') {
        Some((lang, region)) => (lang, Some(region)),
        None => (printing.language.tag(), None),
    };
    let content = json!({
        "lang": lang,
        "region": region,
        "title": report.title,
        "dated": report.dated,
        "date": [date.year, date.month, date.day],
        "paper": match paper {
            Paper::Letter => "us-letter",
            Paper::A4 => "a4",
        },
        "business": letterhead.profile.business.as_deref().unwrap_or("Logo"),
        "lines": letterhead_lines(&letterhead.profile, printing),
        "logo": logo,
        "blocks": blocks,
    });
    writer.files.push((
        "report.json".to_owned(),
        in_signs_of_the_face(&content.to_string()).into_bytes(),
    ));
    writer.files
}

/// Writes our own words in signs that the face has.
fn in_signs_of_the_face(text: &str) -> String {
    text.replace("CO₂", "CO2")
}

/// Blocks as data, with the pictures met on the way.
struct Writer {
    printing: Printing,
    files: Vec<NamedFile>,
    is_in_part: bool,
    /// Whether what is written stands beside something, where there is half the room.
    is_beside: bool,
}

impl Writer {
    fn blocks(&mut self, blocks: &[Block]) -> Vec<Value> {
        blocks.iter().map(|block| self.block(block)).collect()
    }

    fn block(&mut self, block: &Block) -> Value {
        let text = |kind: &str, text: &str| json!({ "kind": kind, "text": text });
        match block {
            Block::Part(part) => {
                self.is_in_part = true;
                text("part", part)
            }
            Block::Title(heading) | Block::Heading(heading) => {
                let level = if self.is_in_part { 3 } else { 2 };
                json!({ "kind": "heading", "text": heading, "level": level })
            }
            Block::Answer { word, text, .. } => {
                json!({ "kind": "answer", "word": word, "text": text })
            }
            Block::Finding(found) => finding(found, self.printing),
            Block::Table(content) => table(content),
            Block::Note(note) => text("note", note),
            Block::Item(item) => text("item", item),
            Block::Paragraph(paragraph) => text("paragraph", paragraph),
            Block::Tick(tick) => text("tick", tick),
            Block::Drawing(drawing) => {
                let name = format!("figure-{}.svg", self.files.len());
                let drawn = if self.is_beside {
                    &drawing.narrow
                } else {
                    &drawing.wide
                };
                self.files.push((name.clone(), drawn.clone().into_bytes()));
                json!({ "kind": "drawing", "file": name, "told": drawing.description, "beside": self.is_beside })
            }
            Block::Beside([left, right]) => {
                self.is_beside = true;
                let runs = [self.blocks(left), self.blocks(right)];
                self.is_beside = false;
                json!({ "kind": "beside", "runs": runs })
            }
            Block::Room(room) => self::room(room),
        }
    }
}

fn finding(finding: &FindingBlock, printing: Printing) -> Value {
    json!({
        "kind": "finding",
        "weight": match finding.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Note => "note",
        },
        "word": finding.word,
        "code": finding.code,
        "tests": finding.tests.join(", "),
        "says": finding.says,
        "action": finding.action,
        "source": finding.source_words(printing),
    })
}

fn table(table: &Table) -> Value {
    let headings = table.headings.iter();
    let headings: Vec<Vec<&str>> = headings.map(|heading| heading.lines().collect()).collect();
    let rows = table.rows.iter().enumerate().map(|(at, row)| {
        let cells = row.iter().enumerate();
        let cells =
            cells.map(|(index, text)| json!({ "text": text, "mark": table.mark(at, index) }));
        cells.collect::<Vec<_>>()
    });
    json!({
        "kind": "table",
        "headings": headings,
        "rows": rows.collect::<Vec<_>>(),
        "words": table.word_columns,
    })
}

fn room(room: &Room) -> Value {
    match room {
        Room::Photographs(labels) => json!({ "kind": "photographs", "labels": labels }),
        Room::Lines(labels) => json!({ "kind": "lines", "labels": labels }),
    }
}
