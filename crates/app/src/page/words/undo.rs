//! What was done last and can be taken back.

pub(in crate::page) const UNDO: &str = "Undo";
pub(in crate::page) const PAD_CHANGED: &str = "The pad was changed.";

/// Says what was deleted.
pub(in crate::page) fn deleted(name: &str) -> String {
    format!("Deleted: {name}.")
}

/// Says what was put away.
pub(in crate::page) fn archived(name: &str) -> String {
    format!("Put away: {name}.")
}
