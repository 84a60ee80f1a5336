//! The plan of a step test in words, as a table for a terminal, as JSON, as an empty file of readings and as a sheet to print.

mod json;
mod readings;
mod refusal;
mod sheet;
mod tables;
mod words;

use crate::language::say;
pub use json::json;
pub use readings::readings;
pub use refusal::refusal;
pub use sheet::sheet;

use crate::content::{Block, cautions};
use crate::units::Printing;
use fieldtest::{Plan, PlanQuestion};
use records::Site;

/// What the words are made from.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// The site.
    pub site: &'a Site,
    /// What was asked.
    pub question: PlanQuestion<'a>,
    /// The plan.
    pub plan: &'a Plan,
    /// The units of print.
    pub printing: Printing,
}

/// Composes the plan for a terminal.
pub fn content(subject: &Subject<'_>) -> Vec<Block> {
    let mut blocks = vec![Block::Title(words::title(subject))];
    blocks.extend(words::answers(subject));
    blocks.extend(list(
        say!(subject.printing, "What this plan does not know"),
        words::notes(subject),
    ));
    blocks.push(Block::Heading(
        say!(subject.printing, "In this order").to_owned(),
    ));
    let order = words::order(subject).into_iter();
    blocks.extend(order.map(|(word, text)| Block::Answer {
        word,
        text,
        kind: None,
    }));
    blocks.push(Block::Heading(
        say!(subject.printing, "The climb").to_owned(),
    ));
    blocks.push(tables::climb(subject));
    blocks.push(Block::Note(words::climb_note(subject)));
    blocks.push(Block::Heading(
        say!(subject.printing, "The steps").to_owned(),
    ));
    blocks.push(tables::steps(subject));
    blocks.extend(words::bands(subject).into_iter().map(Block::Note));
    blocks.push(Block::Heading(
        say!(subject.printing, "What each step is for").to_owned(),
    ));
    blocks.push(tables::reasons(subject));
    blocks.extend(list(
        say!(subject.printing, "Meters"),
        words::meters(subject),
    ));
    blocks.extend(cautions(subject.printing));
    blocks
}

fn list(heading: &str, items: Vec<String>) -> Vec<Block> {
    if items.is_empty() {
        return Vec::new();
    }
    let heading = Block::Heading(heading.to_owned());
    std::iter::once(heading)
        .chain(items.into_iter().map(Block::Item))
        .collect()
}
