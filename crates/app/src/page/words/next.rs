//! What to read next.

use super::{Phrase, here, phrase};
use document::say;

pub(in crate::page) const TITLE: Phrase = phrase!("What to read next");
pub(in crate::page) const LEAD: Phrase =
    phrase!("Readings that you have not taken, the one first that would narrow the answer most.");
pub(in crate::page) const BUSY: Phrase = phrase!("Working it out…");
pub(in crate::page) const NOTHING: Phrase =
    phrase!("No further reading would narrow these answers much.");

/// Names an answer with what is known of it now.
pub(in crate::page) fn of(answer: &str, now: &str) -> String {
    // A number and its unit stay on one line.
    let now = now.replace(' ', "\u{a0}");
    say!(here(), "For {answer}, now {now}", answer, now)
}
