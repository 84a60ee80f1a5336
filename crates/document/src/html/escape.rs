//! Text as HTML has it.

/// Writes a text so that it is text in an element and in an attribute, however that is quoted.
pub(super) fn escaped(text: &str) -> String {
    charts::escaped(text).replace('\'', "&#39;")
}
