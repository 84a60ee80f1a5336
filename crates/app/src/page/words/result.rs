//! What came of a test.

pub(in crate::page) const GO_ON: &str = "Go on with the test";
pub(in crate::page) const DOUBTED: &str = "Readings to settle";
pub(in crate::page) const DOUBTED_LEAD: &str = "Correct a slip, say that a reading is right, or leave it out. What was typed can be had back by Undo.";
pub(in crate::page) const BESIDE: &str = "Other tests in this answer";
pub(in crate::page) const ANSWER: &str = "The answer";
pub(in crate::page) const NUMBERS: &str = "The numbers";
pub(in crate::page) const NUMBERS_LEAD: &str =
    "A number that is underlined tells where it comes from.";
pub(in crate::page) const FIGURES: &str = "Figures";
pub(in crate::page) const WHERE_FROM: &str = "Where this number comes from";
pub(in crate::page) const HOW: &str = "How it is computed";
pub(in crate::page) const SOURCE: &str = "Source:";
pub(in crate::page) const READINGS: &str = "Readings behind it";
pub(in crate::page) const SPEED: &str = "rpm";
pub(in crate::page) const LEFT_OUT: &str = "left out";
pub(in crate::page) const JSON: &str = "The answer as JSON";
pub(in crate::page) const COPY: &str = "Put JSON with the downloads";

pub(in crate::page) const OPEN: &str = "The whole result";

/// Says how much a finding weighs.
pub(in crate::page) fn weight(severity: fieldtest::Severity) -> &'static str {
    match severity {
        fieldtest::Severity::Error => "Cannot be, or must not be",
        fieldtest::Severity::Warning => "Settle this first",
        fieldtest::Severity::Note => "Worth knowing",
    }
}

/// Names a reading: what, where.
pub(in crate::page) fn reading(column: &str, speed: &str) -> String {
    format!("{column} at {speed} rpm")
}

/// Says what is typed there now.
pub(in crate::page) fn typed(text: &str, unit: &str) -> String {
    format!("typed: {text} {unit}")
}
