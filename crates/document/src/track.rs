//! The answer of `track`: what changed since the baseline, how sure that is, what to do, and when the filter is due.

mod answer;
mod figure;
mod handed;
mod json;
mod tables;
mod words;

use crate::language::{said, say};
pub use figure::figure;
pub use handed::handed;
pub use json::json;
pub(crate) use words::change_words;
pub use words::refusal;

use crate::cautions::CAUTIONS;
use crate::content::Block;
use crate::units::Printing;
use fieldtest::FollowUp;
use records::Site;

/// What the words are made from.
#[derive(Clone, Copy, Debug)]
struct Subject<'a> {
    site: &'a Site,
    found: &'a FollowUp,
    printing: Printing,
}

/// Composes the answer; the last visit first, for that is what a person came for.
pub fn content(site: &Site, found: &FollowUp, printing: Printing) -> Vec<Block> {
    let subject = Subject {
        site,
        found,
        printing,
    };
    let mut blocks = body(&subject);
    blocks.push(Block::Heading(say!(printing, "Cautions").to_owned()));
    blocks.push(Block::Item(
        say!(printing, "Open a filter only with the pump off and locked out, the air relief open and the gauge at zero.").to_owned(),
    ));
    blocks.extend(
        CAUTIONS
            .into_iter()
            .map(|text| Block::Item(said(printing, text).to_owned())),
    );
    blocks
}

/// Composes what is said above the cautions.
fn body(subject: &Subject<'_>) -> Vec<Block> {
    let Subject {
        found, printing, ..
    } = *subject;
    let mut blocks = Vec::new();
    for visit in found.visits.iter().rev() {
        blocks.push(Block::Title(subject.title(visit)));
        blocks.extend(subject.answers(visit));
    }
    for visit in found.visits.iter().rev() {
        blocks.extend(tables::hypotheses(visit, printing));
    }
    blocks.extend(subject.resistances());
    blocks.push(Block::Note(
        say!(printing, "Before a reading, that nothing changed is about as probable as all changes together; filters and baskets change most often (common practice, no source). Each factor holds the truth in 95 of 100 cases, if that is what changed.")
            .to_owned(),
    ));
    blocks
}
