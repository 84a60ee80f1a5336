//! What was done last and can be taken back.

use super::{Phrase, here, phrase};
use document::say;

pub(in crate::page) const UNDO: Phrase = phrase!("Undo");
pub(in crate::page) const PAD_CHANGED: Phrase = phrase!("The pad was changed.");

/// Says what was deleted.
pub(in crate::page) fn deleted(name: &str) -> String {
    say!(here(), "Deleted: {name}.", name)
}

/// Says what was put away.
pub(in crate::page) fn archived(name: &str) -> String {
    say!(here(), "Put away: {name}.", name)
}
