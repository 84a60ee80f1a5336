//! A text and the name it goes by in messages.

/// The most bytes of one file that are read.
pub const MAX_FILE_BYTES: usize = 16_000_000;

/// A file's text with the name by which messages speak of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// The name as the person knows it, such as `site.toml`.
    pub name: String,
    /// The text, without a byte-order mark.
    pub text: String,
}
