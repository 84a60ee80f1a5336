//! The parts as they stand in the text.

use super::{PartForm, PartOfKind, kinds::KINDS};
use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table, Value};

/// The parts of one line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LineParts {
    /// The name of the line.
    pub name: String,
    /// Its parts; `None` for one whose kind a form does not know.
    pub parts: Vec<Option<PartForm>>,
}

/// Reads the parts of every line; `None` where the text is not in order, or its lines stand in it otherwise than as
/// `[[line]]`.
pub fn lines(text: &str) -> Option<Vec<LineParts>> {
    let document: DocumentMut = text.parse().ok()?;
    match document.get("line") {
        None => Some(Vec::new()),
        Some(Item::ArrayOfTables(lines)) => lines.iter().map(line).collect(),
        Some(_) => None,
    }
}

fn line(line: &Table) -> Option<LineParts> {
    let name = line.get("name").and_then(Item::as_str).unwrap_or_default();
    let parts = match line.get("parts") {
        None => Vec::new(),
        Some(parts) => parts.as_array()?.iter().map(form_of).collect(),
    };
    Some(LineParts {
        name: name.to_owned(),
        parts,
    })
}

/// The table of the lines, where they stand as a form can change them.
pub(super) fn tables(document: &mut DocumentMut) -> Option<&mut ArrayOfTables> {
    document.get_mut("line")?.as_array_of_tables_mut()
}

/// The parts of a line, made where it has none yet.
pub(super) fn parts_mut(document: &mut DocumentMut, line: usize) -> Option<&mut Array> {
    tables(document)?
        .get_mut(line)?
        .entry("parts")
        .or_insert(Item::Value(Value::Array(Array::new())))
        .as_array_mut()
}

/// The kind of a part, by its kind key.
pub(super) fn kind_of(part: &InlineTable) -> Option<&'static PartOfKind> {
    // A pipe by its bore may name its specification too, but not its size.
    KINDS.iter().find(|kind| part.contains_key(kind.key))
}

fn form_of(part: &Value) -> Option<PartForm> {
    let part = part.as_inline_table()?;
    let kind = kind_of(part)?;
    let mut form = PartForm {
        kind: kind.key.to_owned(),
        ..PartForm::default()
    };
    for field in kind.fields {
        match said(part, field.key) {
            Said::Nothing => {}
            Said::Text(text) => form.set(field.key, &text),
            Said::Otherwise => form.in_the_text.push(field.key.to_owned()),
        }
    }
    Some(form)
}

/// What a part says under a key.
pub(super) enum Said {
    /// Nothing.
    Nothing,
    /// A text or a number.
    Text(String),
    /// Something that is neither.
    Otherwise,
}

pub(super) fn said(part: &InlineTable, key: &str) -> Said {
    if let Some((table, key)) = key.split_once('.') {
        return match part.get(table) {
            None => Said::Nothing,
            Some(Value::InlineTable(inner)) => said(inner, key),
            Some(_) => Said::Otherwise,
        };
    }
    match part.get(key) {
        None => Said::Nothing,
        Some(Value::String(text)) => Said::Text(text.value().clone()),
        Some(Value::Integer(number)) => Said::Text(number.value().to_string()),
        Some(Value::Float(number)) => Said::Text(number.value().to_string()),
        Some(_) => Said::Otherwise,
    }
}
