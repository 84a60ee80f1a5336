//! The languages that an answer is told in.
//!
//! English is the source text and stands in the code where it is read; [`say!`] looks it up where another language is
//! asked for. What it finds stands in `languages/*.po`, which the build script checks and sorts, so that no
//! reader of PO files is carried along. Only what a person reads is translated: JSON, CSV and TOML are the same in
//! every language but for the sentences in them.

use crate::units::Printing;
use records::Language;
use std::fmt::{Display, Write as _};
use std::sync::OnceLock;

static SPANISH: Catalogue = Catalogue {
    text: include_str!(concat!(env!("OUT_DIR"), "/spanish.txt")),
    entries: OnceLock::new(),
};

/// What stands between the whole and the broken part of a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum DecimalMark {
    /// 12,345.6
    Point,
    /// 12 345,6
    Comma,
}

/// Returns how a language parts its numbers.
///
/// # Source
/// ISO 80000-1:2009, 7.3, allows comma and point, and parts thousands by a small space; the Ortografía of 2010 (RAE and
/// ASALE) allows either mark and asks for the space. The comma is usual in Spain and most of South America, the point in
/// Mexico, Central America and the United States. From memory.
pub(crate) fn decimal_mark(language: Language) -> DecimalMark {
    match language {
        Language::English | Language::SpanishOfTheUs => DecimalMark::Point,
        Language::Spanish => DecimalMark::Comma,
    }
}

/// Returns the texts of a language: source and context, sorted, with the translation; `None` for the source itself.
fn catalogue(language: Language) -> Option<&'static [Entry]> {
    match language {
        Language::English => None,
        Language::Spanish | Language::SpanishOfTheUs => Some(SPANISH.entries()),
    }
}

/// The texts of a language as the build script lays them down, in one: a table of where each stands would weigh on the page. It is
/// made when the language is first spoken.
struct Catalogue {
    text: &'static str,
    entries: OnceLock<Vec<Entry>>,
}

/// A text of a catalogue: the source, the context that sets it apart, the translation.
type Entry = (&'static str, &'static str, &'static str);

impl Catalogue {
    fn entries(&self) -> &[Entry] {
        self.entries.get_or_init(|| {
            let mut texts = self.text.split('\0');
            let next = || Some((texts.next()?, texts.next()?, texts.next()?));
            std::iter::from_fn(next).collect()
        })
    }
}

/// Returns the translation of a text; `None` where the source is to be read.
pub fn translated(language: Language, context: &str, source: &str) -> Option<&'static str> {
    let catalogue = catalogue(language)?;
    let found = catalogue.binary_search_by(|entry| (entry.0, entry.1).cmp(&(source, context)));
    found
        .ok()
        .and_then(|at| catalogue.get(at))
        .map(|entry| entry.2)
}

/// Returns a text without places in a language.
pub fn text(language: Language, context: &str, source: &'static str) -> &'static str {
    translated(language, context, source).unwrap_or(source)
}

/// Fills the named places of a text. Those of a translation were held against those of its source by the build script. The source is
/// filled by the same routine, so that a text is compiled once and not twice.
pub fn filled(template: &str, values: &[(&str, &dyn Display)]) -> String {
    records::filled(template, &mut |name, out| {
        if let Some((_, value)) = values.iter().find(|(known, _)| *known == name) {
            // Writing to a text cannot fail.
            let _ = write!(out, "{value}");
        }
    })
}

/// Whether each place of a template is among the names; looked at while the program is compiled.
pub const fn names_every_place(template: &str, names: &[&str]) -> bool {
    let text = template.as_bytes();
    let mut at = 0;
    while at < text.len() {
        if text[at] == b'{' {
            let from = at + 1;
            while at < text.len() && text[at] != b'}' {
                at += 1;
            }
            if !is_among(text, from, at, names) {
                return false;
            }
        }
        at += 1;
    }
    true
}

const fn is_among(text: &[u8], from: usize, to: usize, names: &[&str]) -> bool {
    let mut index = 0;
    while index < names.len() {
        let name = names[index].as_bytes();
        let mut same = 0;
        while same < name.len() && from + same < to && name[same] == text[from + same] {
            same += 1;
        }
        if same == name.len() && from + same == to {
            return true;
        }
        index += 1;
    }
    false
}

/// Says a text in the language of an answer: `say!(printing, "at rest")`, a `&'static str`, as a literal is one.
///
/// With places it is a `String`, as that of `format!` is: `say!(printing, "{flow} at {speed} rpm", flow = written, speed)`.
/// A place is a plain name, and every one is listed behind; numbers are written beforehand, in the habits of the
/// language. Where one English word needs two of another language, a context sets them apart:
/// `say!(printing, "off" as "pump")`.
#[macro_export]
macro_rules! say {
    ($printing:expr, $text:literal $(as $context:literal)? $(,)?) => {
        $crate::language::text($printing.language, concat!($($context)?), $text)
    };
    ($printing:expr, $text:literal $(as $context:literal)?, $($name:ident $(= $value:expr)?),+ $(,)?) => {
        match ($(&$crate::language::say!(@value $name $(= $value)?),)+) {
            ($($name,)+) => {
                const {
                    assert!(
                        $crate::language::names_every_place($text, &[$(stringify!($name)),+]),
                        "a place of the text is not listed behind it"
                    );
                }
                $crate::language::filled(
                    $crate::language::text($printing.language, concat!($($context)?), $text),
                    &[$((stringify!($name), $name as &dyn ::std::fmt::Display)),+],
                )
            }
        }
    };
    (@value $name:ident) => { $name };
    (@value $name:ident = $value:expr) => { $value };
}
pub use say;

/// Marks a text that is said later, by [`said`]: in a table of constants there is no answer yet whose language to ask.
#[macro_export]
macro_rules! later {
    ($text:literal $(as $context:literal)?) => {
        $text
    };
}
pub use later;

/// Says a text that was marked by [`later!`].
pub fn said(printing: Printing, source: &'static str) -> &'static str {
    text(printing.language, "", source)
}

/// Says a text that was marked by [`later!`] in a context.
pub fn said_as(printing: Printing, context: &str, source: &'static str) -> &'static str {
    text(printing.language, context, source)
}

#[cfg(test)]
mod tests {
    use super::*;
    use records::UnitSystem;

    const ENGLISH: Printing = Printing::english(UnitSystem::Us);
    const SPANISH: Printing = Printing {
        language: Language::Spanish,
        ..ENGLISH
    };

    #[test]
    fn a_text_is_said_in_its_language() {
        assert_eq!(say!(ENGLISH, "flow"), "flow");
        assert_eq!(say!(SPANISH, "flow"), "caudal");
    }

    #[test]
    fn places_are_filled_by_name() {
        let (low, high) = ("1", "2");
        let said = |printing: Printing| say!(printing, "{low} to {high}", low, high = high);
        assert_eq!(said(ENGLISH), "1 to 2");
        assert_eq!(said(SPANISH), "1 a 2");
        assert_eq!(filled("{b}, {a}, {b}", &[("a", &1), ("b", &2)]), "2, 1, 2");
    }

    #[test]
    fn a_place_takes_its_value_from_outside_and_not_from_another_place() {
        let (low, high) = (1, 2);
        let swapped = say!(ENGLISH, "{low} to {high}", low = high, high = low);
        assert_eq!(swapped, "2 to 1");
    }

    #[test]
    fn a_place_that_is_not_listed_is_seen() {
        assert!(names_every_place("{a} of {bc}", &["a", "bc"]));
        assert!(!names_every_place("{a} of {bc}", &["a", "b"]));
        assert!(!names_every_place("{a} of {b}", &["a", "bc"]));
    }
}
