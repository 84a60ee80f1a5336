//! The content of an analysis as neutral blocks: the answer first, then what to do, then the tables, then the cautions.

pub(crate) mod answer;
pub(crate) mod budget;
mod drawing;
pub(crate) mod findings;
mod kind;
mod lost;
mod monte_carlo;
pub(crate) mod tables;
mod tee_budget;
mod why;

use crate::language::{said, say};
pub(crate) use answer::{capitalized, limit_words};
pub use drawing::Drawing;
pub use kind::{Kind, Kinds};
pub use lost::lost;
pub use monte_carlo::monte_carlo;
pub(crate) use tables::{limit_table, limited_value};
pub(crate) use why::source as source_of_uncertainty;
pub use why::why;

use crate::cautions::CAUTIONS;
use crate::units::Printing;
use fieldtest::{Analysis, Calibration, Learning, NotLearnt, Severity};
use records::{Site, Test};

/// One block of an answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// What the whole is about.
    Title(String),
    /// The head of a section.
    Heading(String),
    /// A sentence with the word that it answers to.
    Answer {
        /// The word, such as "Fixed draw".
        word: String,
        /// The sentence.
        text: String,
        /// What the number is that it tells of, where it can be asked where that comes from.
        kind: Option<Kind>,
    },
    /// A finding.
    Finding(FindingBlock),
    /// A table.
    Table(Table),
    /// A sentence below a table.
    Note(String),
    /// An item of a list.
    Item(String),
    /// The head of a part of a document, which begins on a page of its own.
    Part(String),
    /// Sentences that stand by themselves.
    Paragraph(String),
    /// A thing to be ticked off by hand.
    Tick(String),
    /// A figure or the drawing of a pad.
    Drawing(Box<Drawing>),
    /// Two runs of blocks that stand beside one another where there is room.
    Beside([Vec<Block>; 2]),
    /// Room that is left empty, to be filled in by hand.
    Room(Room),
}

/// Room that is left empty, to be filled in by hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Room {
    /// Frames for photographs, each with what it is to show.
    Photographs(Vec<String>),
    /// Lines to write on, each with what is to be written.
    Lines(Vec<String>),
}

/// A finding as it is shown.
#[derive(Clone, Debug, PartialEq)]
pub struct FindingBlock {
    /// How much it weighs.
    pub severity: Severity,
    /// The word for that weight.
    pub word: &'static str,
    /// The code of the contract.
    pub code: &'static str,
    /// The tests that it concerns, where there are several.
    pub tests: Vec<String>,
    /// What was found.
    pub says: String,
    /// What to do.
    pub action: String,
    /// The rule behind it.
    pub source: Option<String>,
}

impl FindingBlock {
    /// Says the rule behind it, where there is one.
    pub fn source_words(&self, printing: Printing) -> Option<String> {
        let source = self.source.as_deref()?;
        Some(say!(printing, "Source: {source}", source))
    }
}

/// A table: one heading with its unit per column, numbers aligned right.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// The headings.
    pub headings: Vec<String>,
    /// The rows, one text per column.
    pub rows: Vec<Vec<String>>,
    /// How many columns from the left hold words rather than numbers.
    pub word_columns: usize,
    /// The cells that are struck out.
    pub struck: Vec<Struck>,
    /// What the numbers are.
    pub kinds: Kinds,
}

/// A cell that is struck out: it stays to be read, and does not count.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Struck {
    /// Its row.
    pub row: usize,
    /// Its column.
    pub column: usize,
    /// What stands behind it, such as the number of the note that says why.
    pub mark: String,
}

impl Table {
    /// Returns the mark of a cell that is struck out; `None` where it is not.
    pub fn mark(&self, row: usize, column: usize) -> Option<&str> {
        let here = |struck: &&Struck| struck.row == row && struck.column == column;
        self.struck
            .iter()
            .find(here)
            .map(|struck| struck.mark.as_str())
    }
}

/// Composes the whole answer of `analyze`.
pub fn analysis(
    site: &Site,
    tests: &[Test],
    analysis: &Analysis,
    printing: Printing,
) -> Vec<Block> {
    let mut blocks = judged(site, tests, analysis, printing);
    blocks.extend(cautions(printing));
    blocks
}

/// Composes the whole answer of `analyze --at`: where the head is lost at that speed stands below the limits, and then which
/// reading would tell most.
pub fn analysis_with_budget(
    site: &Site,
    tests: &[Test],
    (analysis, calibration, learning): (&Analysis, &Calibration, Result<&Learning, &NotLearnt>),
    printing: Printing,
) -> Vec<Block> {
    let mut blocks = judged(site, tests, analysis, printing);
    blocks.extend(budget::budget(site, calibration, printing));
    blocks.extend(budget::read_next(site, learning, printing));
    blocks.extend(cautions(printing));
    blocks
}

/// Composes the answer of `analyze --to-learn` where the circuit has no part in it.
pub fn analysis_to_learn(
    site: &Site,
    tests: &[Test],
    (analysis, learning): (&Analysis, Result<&Learning, &NotLearnt>),
    printing: Printing,
) -> Vec<Block> {
    let mut blocks = judged(site, tests, analysis, printing);
    blocks.push(Block::Heading(
        say!(printing, "What to read next").to_owned(),
    ));
    blocks.extend(budget::read_next(site, learning, printing));
    blocks.extend(cautions(printing));
    blocks
}

pub(crate) fn cautions(printing: Printing) -> impl Iterator<Item = Block> {
    let heading = Block::Heading(say!(printing, "Cautions").to_owned());
    let items = CAUTIONS
        .into_iter()
        .map(move |text| Block::Item(said(printing, text).to_owned()));
    std::iter::once(heading).chain(items)
}

fn judged(site: &Site, tests: &[Test], analysis: &Analysis, printing: Printing) -> Vec<Block> {
    let mut blocks = Vec::new();
    for (result, test) in analysis.tests.iter().zip(tests) {
        blocks.push(Block::Title(answer::title(site, test, result, printing)));
        blocks.extend(answer::answers(analysis, result, printing));
    }
    blocks.extend(findings::findings(analysis, printing));
    for (place, result) in analysis.tests.iter().enumerate() {
        let named = (analysis.tests.len() > 1).then_some(result.name.as_str());
        let mut tables = tables::steps(result, named, printing);
        tables.extend(tables::laws(result, named, printing));
        blocks.extend(kind::of_test(tables, place));
    }
    blocks.extend(tables::limits(analysis, printing));
    blocks
}

/// Composes the answer of `check`: the findings, or that there are none.
pub fn check(analysis: &Analysis, printing: Printing) -> Vec<Block> {
    let blocks = findings::findings(analysis, printing);
    if blocks.is_empty() {
        let text = if analysis.tests.is_empty() {
            say!(printing, "Nothing to say: the site file is in order.")
        } else {
            say!(printing, "Nothing to say: site and readings are in order.")
        };
        vec![Block::Item(text.to_owned())]
    } else {
        blocks
    }
}
