//! What is no TOML, said for people who know no TOML.

use crate::problems::Problems;
use crate::wording::shown;
use crate::{Told, told};
use std::collections::BTreeSet;
use toml::de::{DeTable, DeValue, Error};

/// Reports the errors of the TOML reader, the first of each line: the others follow from it.
pub(crate) fn report(problems: &Problems<'_>, text: &str, tree: &DeTable<'_>, errors: &[Error]) {
    let open = first_open(text, tree);
    if let Some((at, closing)) = open {
        problems.add(
            Some(at),
            told!(
                "what is opened here is not closed; expected {closing}",
                closing
            ),
            None,
        );
    }
    let mut placed: Vec<(usize, &Error)> =
        errors.iter().map(|error| (start(error), error)).collect();
    numerics::order::sort_by_key(&mut placed, |(at, _)| *at);
    let mut lines = BTreeSet::new();
    for (at, error) in placed {
        // What follows an open bracket is read as its content, and is wrong for that alone.
        let is_after_open = open.is_some_and(|(open, _)| at > open);
        if !is_after_open && lines.insert(problems.line(at)) {
            let span = error.span().unwrap_or(at..at);
            let (message, hint) = in_words(error.message(), text.get(span).unwrap_or(""));
            problems.add(Some(at), message, hint);
        }
    }
}

fn start(error: &Error) -> usize {
    error.span().map_or(0, |span| span.start)
}

/// The first bracket of a list or an inline table that is never closed, with the one that is missing.
fn first_open(text: &str, tree: &DeTable<'_>) -> Option<(usize, char)> {
    // The depth of the tree is bounded by the reader of TOML.
    let mut open: Vec<(usize, char)> = tree
        .iter()
        .filter_map(|(_, value)| open_within(text, value))
        .collect();
    open.sort_unstable();
    open.first().copied()
}

fn open_within(text: &str, value: &toml::Spanned<DeValue<'_>>) -> Option<(usize, char)> {
    let span = value.span();
    let found = text.get(span.clone()).unwrap_or("");
    let closing = match value.get_ref() {
        DeValue::Array(_) if found.starts_with('[') => ']',
        DeValue::Table(_) if found.starts_with('{') => '}',
        DeValue::Table(table) => return first_open(text, table),
        _ => return None,
    };
    if !found.ends_with(closing) || found.len() < 2 {
        return Some((span.start, closing));
    }
    match value.get_ref() {
        DeValue::Array(items) => items.iter().find_map(|item| open_within(text, item)),
        DeValue::Table(table) => first_open(text, table),
        _ => None,
    }
}

/// The message in words of the trade; what has no words of its own keeps those of the TOML reader.
fn in_words(message: &str, found: &str) -> (Told, Option<Told>) {
    let found = shown(found.trim());
    let first = message.split(", expected").next().unwrap_or(message);
    let words = match first {
        "duplicate key" => {
            let hint = told!(
                "keep one of the two; a table of which there are several is written [[name]]"
            );
            return (
                told!("{found} is stated twice; expected it once", found),
                Some(hint),
            );
        }
        "string values must be quoted" if !found.is_empty() => {
            let hint = told!("write \"{found}\"", found);
            return (
                told!(
                    "{found} stands without quotes; expected text in quotes",
                    found
                ),
                Some(hint),
            );
        }
        "string values must be quoted" => told!("the value is missing; expected one after the ="),
        "key with no value" => told!("a key stands alone; expected key = value"),
        "invalid basic string" | "invalid literal string" => {
            told!("a quote is opened and not closed; expected it before the end of the line")
        }
        "unclosed table" | "unclosed array table" => {
            told!("a heading is opened and not closed; expected ]")
        }
        "missing comma between array elements" | "missing comma between key-value pairs" => {
            told!("a comma is missing; expected one between two entries")
        }
        _ => {
            return (
                told!("this is no TOML: {message}", message = shown(message)),
                None,
            );
        }
    };
    (words, None)
}

#[cfg(test)]
mod tests {
    use crate::{Source, read_site};

    fn told(text: &str) -> String {
        let problems = read_site(&Source {
            name: "a".to_owned(),
            text: text.to_owned(),
        })
        .unwrap_err();
        let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
        told.join("\n") + "\n"
    }

    #[test]
    fn an_open_bracket_is_told_where_it_opens_and_nothing_after_it() {
        let expected = "a:2:5: what is opened here is not closed; expected ]\n";
        assert_eq!(told("a = 1\nb = [1, 2\nc = 3\n[pump]\nd = 4\n"), expected);
        assert_eq!(
            told("a = [[1], [2]\nb = 3\n"),
            "a:1:5: what is opened here is not closed; expected ]\n"
        );
        assert_eq!(
            told("a = { b = 1\n"),
            "a:1:5: what is opened here is not closed; expected }\n"
        );
    }

    #[test]
    fn several_errors_are_told_at_once() {
        let told = told("a = 60 rpm\nb =\nc\n[x\n");
        let lines: Vec<&str> = told.lines().filter(|line| line.starts_with("a:")).collect();
        assert_eq!(lines.len(), 4, "{told}");
    }

    #[test]
    fn errors_without_words_of_ours_keep_those_of_the_reader() {
        assert!(
            told("a = \"\\q\"\n").starts_with("a:1:"),
            "{}",
            told("a = \"\\q\"\n")
        );
    }
}
