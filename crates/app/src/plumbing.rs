//! The parts of a site's lines as a person edits them one by one: read out of the text of the site file and written into
//! it, where every comment and everything that is not asked for stays.

mod edit;
mod kinds;
mod read;

pub use edit::{EditError, PartEdit, edited};
pub use kinds::{FieldKind, KINDS, PartField, PartOfKind, kind};
pub use read::{LineParts, lines};

use std::collections::BTreeMap;

/// Which part of which line, both counted from 0 in the order of the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PartPlace {
    /// The line.
    pub line: usize,
    /// The part in it.
    pub part: usize,
}

/// A part as a form holds it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PartForm {
    /// The key of its kind, such as `pipe`.
    pub kind: String,
    /// What is typed in each field, by the field's key; a field that is not there is empty.
    pub typed: BTreeMap<String, String>,
    /// The fields that the text says in a way that a form cannot hold, such as a guess: they are left alone.
    pub in_the_text: Vec<String>,
}

impl PartForm {
    /// What is typed in a field.
    pub fn text(&self, key: &str) -> &str {
        self.typed.get(key).map_or("", String::as_str)
    }

    /// Types into a field.
    pub fn set(&mut self, key: &str, text: &str) {
        self.typed.insert(key.to_owned(), text.to_owned());
    }
}
