//! Small moves in the tree of a TOML text that keep its comments.

use toml_edit::{DocumentMut, InlineTable, Item, Table, TableLike, Value};

/// A table of the file by its path; `None` where there is none.
pub(super) fn table<'d>(document: &'d DocumentMut, path: &[&str]) -> Option<&'d dyn TableLike> {
    let mut item = document.as_item();
    for key in path {
        item = item.as_table_like()?.get(key)?;
    }
    item.as_table_like()
}

/// The same to be changed.
pub(super) fn table_mut<'d>(
    document: &'d mut DocumentMut,
    path: &[&str],
) -> Option<&'d mut dyn TableLike> {
    let mut item = document.as_item_mut();
    for key in path {
        item = item.as_table_like_mut()?.get_mut(key)?;
    }
    item.as_table_like_mut()
}

/// A table at the top of the file, made where there is none.
pub(crate) fn top_table<'d>(
    document: &'d mut DocumentMut,
    key: &str,
) -> Option<&'d mut dyn TableLike> {
    let root = document.as_table_mut();
    if !root.contains_key(key) {
        root.insert(key, Item::Table(Table::new()));
    }
    root.get_mut(key)?.as_table_like_mut()
}

/// Puts a text under a key; what stands around the value that was there stays around it.
pub(crate) fn put(table: &mut dyn TableLike, key: &str, text: &str) {
    let mut value = Value::from(text);
    if let Some(before) = table.get(key).and_then(Item::as_value) {
        *value.decor_mut() = before.decor().clone();
    }
    table.insert(key, Item::Value(value));
}

/// Puts a text under a key of a part, or takes the key out.
pub(super) fn put_or_take(part: &mut InlineTable, key: &str, text: Option<&str>) {
    match text {
        Some(text) => put(part, key, text),
        None => drop(part.remove(key)),
    }
}
