//! One change of the parts of a line, written into the text.

use super::read::{Said, parts_mut, said};
use super::{FieldKind, PartForm, PartPlace, kind};
use toml_edit::{Array, Decor, DocumentMut, InlineTable, Value};

/// One change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PartEdit {
    /// Adds a part, before the one that stands there or behind the last.
    Add(PartPlace, PartForm),
    /// Makes a part what the form says.
    Change(PartPlace, PartForm),
    /// Takes a part out.
    Remove(PartPlace),
    /// Moves a part to another place of its line.
    Move(PartPlace, usize),
}

/// Why a part cannot be changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum EditError {
    /// The text cannot be read, or has no such part.
    #[error("the text is not in order, or has no such part; change it as a text")]
    Text,
    /// A field takes a number.
    #[error("{key} takes a number")]
    NoNumber {
        /// The field.
        key: &'static str,
    },
    /// The form names no kind of part.
    #[error("the part has no kind")]
    NoKind,
}

/// Changes the text of a site file.
///
/// # Errors
/// That the text or the form cannot be read so; whether the site still makes sense is the records' to say.
pub fn edited(text: &str, edit: &PartEdit) -> Result<String, EditError> {
    let mut document: DocumentMut = text.parse().map_err(|_| EditError::Text)?;
    let (PartEdit::Add(place, _)
    | PartEdit::Change(place, _)
    | PartEdit::Remove(place)
    | PartEdit::Move(place, _)) = edit;
    let parts = parts_mut(&mut document, place.line).ok_or(EditError::Text)?;
    let is_there = place.part < parts.len();
    match edit {
        PartEdit::Add(_, form) => add(parts, place.part, form)?,
        _ if !is_there => return Err(EditError::Text),
        PartEdit::Change(_, form) => {
            let part = parts.get_mut(place.part);
            let part = part.and_then(Value::as_inline_table_mut);
            write(part.ok_or(EditError::Text)?, form)?;
        }
        PartEdit::Remove(_) => remove(parts, place.part),
        PartEdit::Move(_, to) => reorder(parts, place.part, *to),
    }
    Ok(document.to_string())
}

/// Writes the fields of a form that say something else than the part.
fn write(part: &mut InlineTable, form: &PartForm) -> Result<(), EditError> {
    let kind = kind(&form.kind).ok_or(EditError::NoKind)?;
    if !part.contains_key(kind.key) {
        // Another kind: nothing of the old one holds for it.
        part.clear();
    }
    for field in kind.fields {
        let typed = form.text(field.key).trim();
        let before = match said(part, field.key) {
            Said::Otherwise => continue,
            Said::Text(text) => text,
            Said::Nothing => String::new(),
        };
        if typed != before {
            put(part, field.key, value(field.key, field.kind, typed)?);
        }
    }
    Ok(())
}

/// A field as the file holds it; `None` for an empty one.
fn value(key: &'static str, kind: FieldKind, typed: &str) -> Result<Option<Value>, EditError> {
    if typed.is_empty() || (key == "count" && typed == "1") {
        return Ok(None);
    }
    let no_number = |_| EditError::NoNumber { key };
    Ok(Some(match kind {
        FieldKind::Count => typed.parse::<i64>().map_err(no_number)?.into(),
        FieldKind::Number => typed
            .parse::<f64>()
            .map_err(|_| EditError::NoNumber { key })?
            .into(),
        FieldKind::Quantity | FieldKind::Word | FieldKind::OneOf(_) => typed.into(),
    }))
}

fn put(part: &mut InlineTable, key: &str, value: Option<Value>) {
    let Some((table, key)) = key.split_once('.') else {
        match value {
            None => drop(part.remove(key)),
            Some(mut value) => {
                if let Some(before) = part.get(key) {
                    *value.decor_mut() = before.decor().clone();
                }
                part.insert(key, value);
            }
        }
        return;
    };
    if !part.contains_key(table) && value.is_some() {
        part.insert(table, Value::InlineTable(InlineTable::new()));
    }
    if let Some(inner) = part.get_mut(table).and_then(Value::as_inline_table_mut) {
        put(inner, key, value);
        if inner.is_empty() {
            part.remove(table);
        }
    }
}

fn add(parts: &mut Array, at: usize, form: &PartForm) -> Result<(), EditError> {
    let mut part = InlineTable::new();
    write(&mut part, form)?;
    let at = at.min(parts.len());
    // The new one stands on a line of its own where the others do.
    let before = at.checked_sub(1).and_then(|before| parts.get(before));
    let neighbour = before.or_else(|| parts.get(at));
    let indent = neighbour.map(|part| indent(&text(part.decor().prefix())).to_owned());
    let closing = (at == parts.len() && at > 0).then(|| take_suffix(parts, at - 1));
    let mut part = Value::InlineTable(part);
    part.decor_mut()
        .set_prefix(indent.unwrap_or_else(|| " ".to_owned()));
    part.decor_mut().set_suffix(closing.unwrap_or_default());
    parts.insert_formatted(at, part);
    Ok(())
}

/// Takes out a part; the comment above it stays with what follows.
fn remove(parts: &mut Array, at: usize) {
    let is_last = at + 1 == parts.len();
    let suffix = take_suffix(parts, at);
    let above = text(parts.get(at).and_then(|part| part.decor().prefix()));
    parts.remove(at);
    let above = if above.contains('#') {
        above
    } else {
        String::new()
    };
    if is_last {
        let trailing = text(Some(parts.trailing()));
        parts.set_trailing(joined(&above, &suffix, &trailing));
    } else if let Some(next) = parts.get_mut(at) {
        let prefix = text(next.decor().prefix());
        next.decor_mut()
            .set_prefix(joined(&above, &suffix, &prefix));
    }
}

/// Puts comments before what stood there, which begins its own line.
fn joined(above: &str, suffix: &str, before: &str) -> String {
    let suffix = if suffix.contains('#') { suffix } else { "" };
    let above = above.trim_end_matches([' ', '\t', '\n']);
    let gap = if before.is_empty() && !above.is_empty() {
        "\n"
    } else {
        ""
    };
    format!("{above}{suffix}{gap}{before}")
}

/// Moves a part with the comment above it; what stands behind a part stays at its place.
fn reorder(parts: &mut Array, from: usize, to: usize) {
    let to = to.min(parts.len().saturating_sub(1));
    let decors: Vec<Decor> = parts.iter().map(|part| part.decor().clone()).collect();
    let part = parts.remove(from);
    parts.insert_formatted(to, part);
    let texts: Vec<String> = decors.iter().map(|decor| text(decor.suffix())).collect();
    for (part, suffix) in parts.iter_mut().zip(texts) {
        part.decor_mut().set_suffix(suffix);
    }
}

fn take_suffix(parts: &mut Array, at: usize) -> String {
    let Some(part) = parts.get_mut(at) else {
        return String::new();
    };
    let suffix = text(part.decor().suffix());
    part.decor_mut().set_suffix("");
    suffix
}

/// The last line of what stands before a part: its indent, without the comments above.
fn indent(prefix: &str) -> &str {
    prefix.rfind('\n').map_or(prefix, |at| &prefix[at..])
}

fn text(raw: Option<&toml_edit::RawString>) -> String {
    raw.and_then(toml_edit::RawString::as_str)
        .unwrap_or_default()
        .to_owned()
}
