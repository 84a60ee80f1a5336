//! Names that come from below or out of the files as English words: what a column measures, a part, the rule behind a
//! limit.
//!
//! The words of the files are the same in every language, so that a file can be read by everybody; an answer says them
//! in its own language where they are among those that the trade has a word for, and as they stand where not.

use crate::language::translated;
use crate::units::Printing;
use fieldtest::Limit;
use records::Measured;
use std::borrow::Cow;

/// The context of the names below in the catalogue.
const NAME: &str = "name";
/// The context of the names of parts that a limit is of; in Spanish they carry their article.
const LIMITED: &str = "part of a limit";

/// Says a name, as it stands where the catalogue does not have it.
pub fn name(word: &str, printing: Printing) -> Cow<'_, str> {
    Cow::Borrowed(translated(printing.language, NAME, word).unwrap_or(word))
}

/// Says a name that is put together from words of the file; `None` where the catalogue does not have it as a whole.
pub fn compound(phrase: &str, printing: Printing) -> Option<String> {
    translated(printing.language, NAME, phrase).map(str::to_owned)
}

/// Says what was measured.
pub fn measured(measured: Measured, printing: Printing) -> Cow<'static, str> {
    name(measured.word(), printing)
}

/// Says the name of a column: what it measures, and the meter as it was named.
pub fn column(heading: &str, printing: Printing) -> String {
    let words = Measured::ALL.map(Measured::word);
    let found = words
        .into_iter()
        .filter_map(|word| Some((word, heading.strip_prefix(word)?)))
        .find(|(_, rest)| rest.is_empty() || rest.starts_with(' '));
    match found {
        Some((word, rest)) => format!("{}{rest}", name(word, printing)),
        None => heading.to_owned(),
    }
}

/// Says an accuracy as it was typed, what it is of in words.
pub(crate) fn accuracy(typed: &str, printing: Printing) -> String {
    ["of reading", "of full scale"]
        .into_iter()
        .fold(typed.to_owned(), |text, words| {
            text.replace(words, &name(words, printing))
        })
}

/// Says what a limit applies to: a part in its line, a line, or the whole.
pub fn applied_to(limit: &Limit, printing: Printing) -> String {
    match &limit.line {
        Some(line) if part(limit) != limit.applies_to => {
            let part = limited(limit, printing);
            crate::language::say!(printing, "{part} in {line}", part, line)
        }
        _ => limited(limit, printing),
    }
}

/// Says the part that a limit is of, without its line.
pub(crate) fn limited(limit: &Limit, printing: Printing) -> String {
    let word = part(limit);
    translated(printing.language, LIMITED, word)
        .unwrap_or(word)
        .to_owned()
}

/// Returns the part that a limit is of, without its line.
fn part(limit: &Limit) -> &str {
    let line = limit.line.as_deref();
    let part = line.and_then(|line| limit.applies_to.strip_suffix(line)?.strip_suffix(" in "));
    part.unwrap_or(&limit.applies_to)
}
