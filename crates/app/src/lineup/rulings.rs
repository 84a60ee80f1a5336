//! The person's words on doubted readings: `[[ruling]]` tables, or a list of inline ones.

use super::toml::parsed;
use super::{HeadError, has};
use records::{Column, Ruling, Verdict};
use std::collections::BTreeMap;
use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, TableLike, value};

const KEY: &str = "ruling";

/// The reading that a ruling is on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RulingPlace<'a> {
    /// The line of the file of readings.
    pub line: usize,
    /// The column.
    pub column: &'a Column,
}

/// Whether a text may hold rulings: a quick look that spares the parsing of most.
pub fn may_have_rulings(head_text: &str) -> bool {
    head_text.contains(KEY)
}

/// Sets the ruling on a reading, or takes it back.
///
/// # Errors
/// That the text is no TOML, or has rulings of another kind.
pub fn ruled(
    head_text: &str,
    place: RulingPlace<'_>,
    say: Option<Verdict>,
) -> Result<String, HeadError> {
    if say.is_none() && !may_have_rulings(head_text) {
        return Ok(head_text.to_owned());
    }
    let mut head = parsed(head_text)?;
    let is_it = |ruling: &dyn TableLike| {
        let name = ruling.get("column").and_then(Item::as_str);
        line_of(ruling) == Some(place.line) && name.is_some_and(|name| place.column.is_named(name))
    };
    retain(&mut head, |ruling| !is_it(ruling));
    if let Some(say) = say {
        add(&mut head, place, say)?;
    }
    Ok(head.to_string())
}

/// Points rulings at other lines; those whose line is gone are taken out.
///
/// # Errors
/// That the text is no TOML.
pub fn rulings_moved(
    head_text: &str,
    moved: &BTreeMap<usize, Option<usize>>,
) -> Result<String, HeadError> {
    if moved.is_empty() || !may_have_rulings(head_text) {
        return Ok(head_text.to_owned());
    }
    let mut head = parsed(head_text)?;
    let now = |ruling: &dyn TableLike| moved.get(&line_of(ruling)?).copied();
    retain(&mut head, |ruling| now(ruling) != Some(None));
    each(&mut head, |ruling| {
        if let Some(Some(line)) = now(ruling)
            && let Some(row) = ruling.get_mut("row").and_then(Item::as_value_mut)
        {
            let decor = row.decor().clone();
            *row = whole(line).into();
            *row.decor_mut() = decor;
        }
    });
    Ok(head.to_string())
}

/// Lists the rulings that are written as expected.
pub(super) fn rulings(head: &DocumentMut) -> Vec<Ruling> {
    let mut rulings = Vec::new();
    let mut take = |ruling: &dyn TableLike| {
        let say = match ruling.get("say").and_then(Item::as_str) {
            Some("confirmed") => Some(Verdict::Confirmed),
            Some("drop") => Some(Verdict::Drop),
            _ => None,
        };
        let column = ruling.get("column").and_then(Item::as_str);
        if let (Some(row), Some(column), Some(say)) = (line_of(ruling), column, say) {
            rulings.push(Ruling {
                row,
                column: column.to_owned(),
                say,
            });
        }
    };
    match head.get(KEY) {
        Some(Item::ArrayOfTables(tables)) => tables.iter().for_each(|table| take(table)),
        Some(Item::Value(toml_edit::Value::Array(array))) => {
            let tables = array.iter().filter_map(toml_edit::Value::as_inline_table);
            tables.for_each(|table| take(table));
        }
        _ => {}
    }
    rulings
}

/// Keeps the rulings on readings that are there; says whether any fell.
pub(super) fn keep(head: &mut DocumentMut, is_read: impl Fn(usize, &str) -> bool) -> bool {
    let is_kept = |ruling: &dyn TableLike| {
        let column = ruling.get("column").and_then(Item::as_str);
        match (line_of(ruling), column) {
            (Some(line), Some(column)) => is_read(line, column),
            // What cannot be understood is told by the engine.
            _ => true,
        }
    };
    retain(head, is_kept)
}

fn line_of(ruling: &dyn TableLike) -> Option<usize> {
    let row = ruling.get("row")?.as_integer()?;
    usize::try_from(row).ok()
}

fn whole(line: usize) -> i64 {
    i64::try_from(line).unwrap_or(i64::MAX)
}

/// Keeps some rulings; says whether any fell. A list that is left empty goes with them.
fn retain(head: &mut DocumentMut, is_kept: impl Fn(&dyn TableLike) -> bool) -> bool {
    let (before, after) = match head.get_mut(KEY) {
        Some(Item::ArrayOfTables(tables)) => {
            let before = tables.len();
            tables.retain(|table| is_kept(table));
            (before, tables.len())
        }
        Some(Item::Value(toml_edit::Value::Array(array))) => {
            let before = array.len();
            array.retain(|value| value.as_inline_table().is_none_or(|table| is_kept(table)));
            (before, array.len())
        }
        _ => (0, 0),
    };
    if before > 0 && after == 0 {
        head.remove(KEY);
    }
    before != after
}

/// Visits every ruling.
fn each(head: &mut DocumentMut, mut visit: impl FnMut(&mut dyn TableLike)) {
    match head.get_mut(KEY) {
        Some(Item::ArrayOfTables(tables)) => tables.iter_mut().for_each(|table| visit(table)),
        Some(Item::Value(toml_edit::Value::Array(array))) => {
            let tables = array
                .iter_mut()
                .filter_map(toml_edit::Value::as_inline_table_mut);
            tables.for_each(|table| visit(table));
        }
        _ => {}
    }
}

fn add(head: &mut DocumentMut, place: RulingPlace<'_>, say: Verdict) -> Result<(), HeadError> {
    let mut table = Table::new();
    table.insert("row", value(whole(place.line)));
    table.insert("column", value(place.column.name()));
    let word = match say {
        Verdict::Confirmed => "confirmed",
        Verdict::Drop => "drop",
    };
    table.insert("say", value(word));
    if !has(head, KEY) {
        head.insert(KEY, Item::ArrayOfTables(ArrayOfTables::new()));
    }
    match head.get_mut(KEY) {
        Some(Item::ArrayOfTables(tables)) => tables.push(table),
        Some(Item::Value(toml_edit::Value::Array(array))) => {
            array.push(table.into_inline_table());
        }
        _ => return Err(HeadError::Shape { key: KEY }),
    }
    Ok(())
}
