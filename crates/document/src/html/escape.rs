//! Text as HTML has it.

/// Writes a text so that it is text in an element and in a quoted attribute.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            sign => out.push(sign),
        }
    }
    out
}
