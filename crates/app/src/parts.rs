//! Blocks gathered into what a page has elements for: answers that follow each other are one list, and so are items.

use document::content::{Block, FindingBlock, Kind, Kinds, Struck, Table};
use fieldtest::Severity;
use serde::{Deserialize, Serialize};

/// One part of a page. It is plain data, for it may come from the worker.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Part {
    /// What the whole is about.
    Title(String),
    /// The head of a section.
    Heading(String),
    /// Words, each with the sentence that answers to it.
    Answers(Vec<AnswerPart>),
    /// A finding.
    Finding(FindingPart),
    /// A table, with the heading before it as its name.
    Table {
        /// What it is called where no eye sees the heading.
        name: String,
        /// What it holds.
        #[serde(with = "PlainTable")]
        table: Table,
    },
    /// A sentence below a table.
    Note(String),
    /// A list.
    Items(Vec<String>),
}

/// A sentence as it is shown.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct AnswerPart {
    /// The word that it answers to.
    pub word: String,
    /// The sentence.
    pub text: String,
    /// What the number is that it tells of.
    pub kind: Option<Kind>,
}

/// A finding as it is shown.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FindingPart {
    /// How much it weighs.
    #[serde(with = "PlainSeverity")]
    pub severity: Severity,
    /// The code of the contract.
    pub code: String,
    /// The tests that it concerns, where there are several.
    pub tests: Vec<String>,
    /// What was found.
    pub says: String,
    /// What to do.
    pub action: String,
    /// The rule behind it.
    pub source: Option<String>,
}

impl From<FindingBlock> for FindingPart {
    fn from(block: FindingBlock) -> Self {
        Self {
            severity: block.severity,
            code: block.code.to_owned(),
            tests: block.tests,
            says: block.says,
            action: block.action,
            source: block.source,
        }
    }
}

/// A table on its way from the worker.
#[derive(Serialize, Deserialize)]
#[serde(remote = "Table")]
struct PlainTable {
    headings: Vec<String>,
    rows: Vec<Vec<String>>,
    word_columns: usize,
    // Only what is handed on strikes cells out.
    #[serde(skip)]
    struck: Vec<Struck>,
    kinds: Kinds,
}

/// The weight of a finding on its way from the worker.
#[derive(Serialize, Deserialize)]
#[serde(remote = "Severity")]
enum PlainSeverity {
    Note,
    Warning,
    Error,
}

/// Gathers blocks into parts, in their order.
pub fn parts(blocks: Vec<Block>) -> Vec<Part> {
    let mut parts = Vec::new();
    let mut heading = String::new();
    for block in blocks {
        match (block, parts.last_mut()) {
            (Block::Answer { word, text, kind }, Some(Part::Answers(answers))) => {
                answers.push(AnswerPart { word, text, kind });
            }
            (Block::Item(item), Some(Part::Items(items))) => items.push(item),
            (Block::Answer { word, text, kind }, _) => {
                parts.push(Part::Answers(vec![AnswerPart { word, text, kind }]));
            }
            (Block::Item(item), _) => parts.push(Part::Items(vec![item])),
            (Block::Title(title), _) => parts.push(Part::Title(title)),
            (Block::Heading(text), _) => {
                heading.clone_from(&text);
                parts.push(Part::Heading(text));
            }
            (Block::Finding(finding), _) => parts.push(Part::Finding(finding.into())),
            (Block::Table(table), _) => parts.push(Part::Table {
                name: heading.clone(),
                table,
            }),
            (Block::Note(note) | Block::Paragraph(note), _) => parts.push(Part::Note(note)),
            // Of documents that are handed on, and of no answer on a page.
            (
                Block::Part(_)
                | Block::Tick(_)
                | Block::Drawing(_)
                | Block::Beside(_)
                | Block::Room(_),
                _,
            ) => {}
        }
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answer(word: &str) -> Block {
        Block::Answer {
            word: word.to_owned(),
            text: String::new(),
            kind: None,
        }
    }

    #[test]
    fn neighbours_of_a_kind_are_one_list() {
        let item = |text: &str| Block::Item(text.to_owned());
        let found = parts(vec![
            answer("Flow"),
            answer("Limit"),
            item("a"),
            item("b"),
            answer("Trust"),
        ]);
        let words = |words: &[&str]| {
            let answers = words.iter().map(|&word| AnswerPart {
                word: word.to_owned(),
                text: String::new(),
                kind: None,
            });
            Part::Answers(answers.collect())
        };
        assert_eq!(
            found,
            [
                words(&["Flow", "Limit"]),
                Part::Items(vec!["a".to_owned(), "b".to_owned()]),
                words(&["Trust"]),
            ]
        );
    }

    #[test]
    fn a_table_is_named_by_the_heading_above_it() {
        let found = parts(vec![
            Block::Heading("Steps".to_owned()),
            Block::Table(Table::default()),
        ]);
        assert!(matches!(&found[1], Part::Table { name, .. } if name == "Steps"));
    }

    #[test]
    fn nothing_of_the_demo_is_lost() {
        let blocks = crate::engine::analyze(&crate::demo::pad(), None)
            .unwrap()
            .blocks;
        let gathered = parts(blocks.clone());
        let count = |part: &Part| match part {
            Part::Answers(answers) => answers.len(),
            Part::Items(items) => items.len(),
            _ => 1,
        };
        assert_eq!(gathered.iter().map(count).sum::<usize>(), blocks.len());
    }
}
