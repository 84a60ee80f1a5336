//! A text and the name it goes by in messages.

use crate::Problem;
use crate::place::Lines;
use crate::{Told, told};

/// The most bytes of one file that are read: a log of a hundred thousand rows.
pub const MAX_FILE_BYTES: usize = 4_000_000;
/// The most bytes of a text in TOML: a thousand times a site file. A tree of values takes some sixty times the memory of its text, so
/// that a larger one is refused before it is read.
pub const MAX_TOML_BYTES: usize = 1_000_000;

/// Bytes of a megabyte, as sizes are told.
const MEGABYTE: usize = 1_000_000;

/// A file's text with the name by which messages speak of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// The name as the person knows it, such as `site.toml`.
    pub name: String,
    /// The text, without a byte-order mark.
    pub text: String,
}

impl Source {
    /// Takes the bytes of a file as text, or says why they are none.
    ///
    /// Whoever reads the file need not read more than [`MAX_FILE_BYTES`] and one: more is refused here.
    pub fn from_bytes(name: &str, bytes: &[u8]) -> Result<Self, Problem> {
        if bytes.len() > MAX_FILE_BYTES {
            return Err(too_large(name, MAX_FILE_BYTES, average()));
        }
        let whole = |message, hint| whole(name, message, hint);
        if bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]) {
            return Err(whole(
                told!("the file is UTF-16 text; expected UTF-8"),
                told!("save it as UTF-8 text"),
            ));
        }
        let bytes = without_marks(bytes);
        if bytes.contains(&0) {
            return Err(whole(
                told!("the file is no text; expected UTF-8 text"),
                told!("save a spreadsheet as CSV, and text as UTF-8"),
            ));
        }
        match std::str::from_utf8(bytes) {
            Ok(text) => Ok(Self {
                name: name.to_owned(),
                text: text.to_owned(),
            }),
            Err(error) => Err(not_utf8(name, bytes, error.valid_up_to())),
        }
    }

    /// Says that a text in TOML is larger than is read; asked before it is parsed, since not every text was a file.
    pub(crate) fn too_large_for_toml(&self) -> Option<Problem> {
        (self.text.len() > MAX_TOML_BYTES).then(|| {
            let hint = told!(
                "keep one visit in a test file, and a long log in a file of readings beside it"
            );
            too_large(&self.name, MAX_TOML_BYTES, hint)
        })
    }

    /// Says the same of a text of readings.
    pub(crate) fn too_large_for_readings(&self) -> Option<Problem> {
        (self.text.len() > MAX_FILE_BYTES).then(|| too_large(&self.name, MAX_FILE_BYTES, average()))
    }
}

/// What to do with a file of readings that is too large.
fn average() -> Told {
    told!("average a long log to one row per speed")
}

fn too_large(name: &str, most: usize, hint: Told) -> Problem {
    let message = told!(
        "the file is larger than {most} MB; expected at most that",
        most = most / MEGABYTE
    );
    whole(name, message, hint)
}

/// A problem of a whole file.
fn whole(name: &str, message: Told, hint: Told) -> Problem {
    Problem {
        file: name.to_owned(),
        line: 0,
        column: 0,
        message,
        hint: Some(hint),
    }
}

/// Drops byte-order marks: programs that each put one there leave several.
fn without_marks(bytes: &[u8]) -> &[u8] {
    let mut rest = bytes;
    while let Some(after) = rest.strip_prefix(&[0xEF, 0xBB, 0xBF]) {
        rest = after;
    }
    rest
}

fn not_utf8(name: &str, bytes: &[u8], at: usize) -> Problem {
    let (before, rest) = bytes.split_at(at);
    let text = String::from_utf8_lossy(before);
    let place = Lines::new(&text).place(at);
    let byte = rest.first().copied().unwrap_or_default();
    Problem {
        file: name.to_owned(),
        line: place.line,
        column: place.column,
        message: told!(
            "the byte {byte} is no UTF-8 text; expected UTF-8",
            byte = format!("0x{byte:02X}")
        ),
        hint: Some(told!("save the file as UTF-8 text")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(bytes: &[u8]) -> String {
        Source::from_bytes("site.toml", bytes)
            .unwrap_err()
            .to_string()
    }

    #[test]
    fn byte_order_marks_are_dropped() {
        for text in ["\u{FEFF}format = 1", "\u{FEFF}\u{FEFF}format = 1"] {
            let read = Source::from_bytes("a", text.as_bytes()).unwrap();
            assert_eq!(read.text, "format = 1");
        }
    }

    #[test]
    fn what_is_no_text_is_refused_at_its_place() {
        let latin = refused("a = 1\nb = \"µ\u{e9}".as_bytes().split_last().unwrap().1);
        assert!(
            latin.starts_with("site.toml:2:7: the byte 0xC3 is no UTF-8 text"),
            "{latin}"
        );
        assert!(refused(b"\xFF\xFEa\0").contains("UTF-16"));
        assert!(refused(b"PK\x03\x04\0").contains("no text"));
        assert!(refused(&vec![b' '; MAX_FILE_BYTES + 1]).contains("4 MB"));
        assert!(Source::from_bytes("a", &vec![b' '; MAX_FILE_BYTES]).is_ok());
    }
}
