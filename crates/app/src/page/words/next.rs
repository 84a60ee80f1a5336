//! What to read next.

pub(in crate::page) const TITLE: &str = "What to read next";
pub(in crate::page) const LEAD: &str =
    "Readings that you have not taken, the one first that would narrow the answer most.";
pub(in crate::page) const BUSY: &str = "Working it out…";
pub(in crate::page) const NOTHING: &str = "No further reading would narrow these answers much.";

/// Names an answer with what is known of it now.
pub(in crate::page) fn of(answer: &str, now: &str) -> String {
    // A number and its unit stay on one line.
    let now = now.replace(' ', "\u{a0}");
    format!("For {answer}, now {now}")
}
