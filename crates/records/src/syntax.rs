//! What is no TOML, said for people who know no TOML.

use crate::problems::Problems;
use crate::wording::shown;
use std::collections::BTreeSet;
use toml::de::Error;

/// Reports the errors of the TOML reader, the first of each line: the others follow from it.
pub(crate) fn report(problems: &Problems<'_>, text: &str, errors: &[Error]) {
    let mut placed: Vec<(usize, &Error)> = errors.iter().map(|error| (start(error), error)).collect();
    placed.sort_by_key(|(at, _)| *at);
    let mut lines = BTreeSet::new();
    for (at, error) in placed {
        if lines.insert(problems.line(at)) {
            let span = error.span().unwrap_or(at..at);
            let (message, hint) = in_words(error.message(), text.get(span).unwrap_or(""));
            problems.add(Some(at), message, hint);
        }
    }
}

fn start(error: &Error) -> usize {
    error.span().map_or(0, |span| span.start)
}

/// The message in words of the trade; what has no words of its own keeps those of the TOML reader.
fn in_words(message: &str, found: &str) -> (String, Option<String>) {
    let found = shown(found.trim());
    let first = message.split(", expected").next().unwrap_or(message);
    match first {
        "duplicate key" => (
            format!("{found} is stated twice; expected it once"),
            Some("keep one of the two; a table of which there are several is written [[name]]".to_owned()),
        ),
        "string values must be quoted" => match found.as_str() {
            "" => ("the value is missing; expected one after the =".to_owned(), None),
            _ => (format!("{found} stands without quotes; expected text in quotes"), Some(format!("write \"{found}\""))),
        },
        "key with no value" => ("a key stands alone; expected key = value".to_owned(), None),
        "invalid basic string" | "invalid literal string" => {
            ("a quote is opened and not closed; expected it before the end of the line".to_owned(), None)
        }
        "unclosed array" => ("a list is opened and not closed; expected ]".to_owned(), None),
        "unclosed inline table" => ("a table is opened and not closed; expected }".to_owned(), None),
        "unclosed table" | "unclosed array table" => ("a heading is opened and not closed; expected ]".to_owned(), None),
        "missing comma between array elements" | "missing comma between key-value pairs" => {
            ("a comma is missing; expected one between two entries".to_owned(), None)
        }
        _ => (format!("this is no TOML: {}", shown(message)), None),
    }
}
