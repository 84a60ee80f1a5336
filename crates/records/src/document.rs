//! Reads a whole TOML file: syntax, format number, record, unknown keys.

use crate::kind::Kind;
use crate::problems::Problems;
use crate::syntax;
use crate::walker::Table;
use crate::wording::shown;
use crate::{Problem, Source};
use crate::{Told, told};
use toml::de::{DeTable, DeValue};

/// The format that this program reads and writes.
pub(crate) const FORMAT: u32 = 1;
/// Above this size a broken text is told by its first error only: a list of them all could fill the memory.
const SEVERAL_ERRORS_BYTES: usize = 250_000;

/// Reads a record from a text of one kind, or everything that is wrong in it.
pub(crate) fn read<T>(
    source: &Source,
    kind: Kind,
    record: impl FnOnce(&Table<'_>) -> Option<T>,
) -> Result<T, Vec<Problem>> {
    let found = read_any(source, |root| {
        let is_read = !kind.refuse_other(root);
        is_read.then(|| record(root)).flatten()
    });
    found.map_err(|problems| match kind.readings_instead(source) {
        Some(problem) => vec![problem],
        None => problems,
    })
}

/// Reads a record from a whole text, of whatever kind it is.
pub(crate) fn read_any<T>(
    source: &Source,
    record: impl FnOnce(&Table<'_>) -> Option<T>,
) -> Result<T, Vec<Problem>> {
    read_fragment(source, |root| {
        format_is_known(root).then(|| record(root)).flatten()
    })
}

/// Reads a record from a text that is no whole file and has no format number.
pub(crate) fn read_fragment<T>(
    source: &Source,
    record: impl FnOnce(&Table<'_>) -> Option<T>,
) -> Result<T, Vec<Problem>> {
    if let Some(problem) = source.too_large_for_toml() {
        return Err(vec![problem]);
    }
    let problems = Problems::new(source);
    let (tree, errors) = parse(&source.text);
    if !errors.is_empty() {
        syntax::report(&problems, &source.text, &tree, &errors);
        return problems.finish(None);
    }
    let found = record(&Table::root(&problems, &tree));
    problems.finish(found)
}

/// Parses a text into its spanned tree; the tree is of use only where there is no error.
pub(crate) fn parse(text: &str) -> (DeTable<'_>, Vec<toml::de::Error>) {
    if text.len() <= SEVERAL_ERRORS_BYTES {
        let (tree, errors) = DeTable::parse_recoverable(text);
        return (tree.into_inner(), errors);
    }
    match DeTable::parse(text) {
        Ok(tree) => (tree.into_inner(), Vec::new()),
        Err(error) => (DeTable::new(), vec![error]),
    }
}

/// Checks the format number. A newer one ends the reading: its keys would only be called unknown.
fn format_is_known(root: &Table<'_>) -> bool {
    let Some(field) = root.require("format", "1") else {
        return true;
    };
    let number = match field.value {
        DeValue::Integer(number) if number.radix() == 10 => number.as_str(),
        _ => "",
    };
    // However long the number, it is newer if it is above.
    if number
        .parse::<f64>()
        .is_ok_and(|number| number > f64::from(FORMAT))
    {
        let message = told!(
            "format {number} is newer than this program reads; expected {most}",
            number = shown(number),
            most = FORMAT
        );
        let hint = Some(told!(
            "read it with the newer version of the program that wrote it"
        ));
        root.problems.add(Some(field.at), message, hint);
        return false;
    }
    if number != FORMAT.to_string() {
        field.refuse(Told::written(FORMAT), None);
    }
    true
}
