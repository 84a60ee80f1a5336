//! Changes in the text of a TOML document that keep its comments.

use super::HeadError;
use records::{Problem, Source, Told, readings_file};
use toml_edit::{Array, DocumentMut, Item, RawString, Table, Value};

/// Parses a text. What is wrong in it is told in the words of `records`.
pub(super) fn parsed(head_text: &str) -> Result<DocumentMut, HeadError> {
    head_text.parse().map_err(|error: toml_edit::TomlError| {
        let source = Source {
            name: "test file".to_owned(),
            text: head_text.to_owned(),
        };
        let in_words = readings_file(&source).err().unwrap_or_default();
        let own = || Problem {
            file: source.name.clone(),
            line: 0,
            column: 0,
            message: Told::written(error.message()),
            hint: None,
        };
        HeadError::Text(if in_words.is_empty() {
            vec![own()]
        } else {
            in_words
        })
    })
}

/// The text of an item, where it is one.
pub(super) fn text(item: Option<&Item>) -> Option<String> {
    item?.as_str().map(str::to_owned)
}

/// The texts of a list, or the one text that stands for a list of one.
pub(super) fn strings(item: Option<&Item>) -> Vec<String> {
    let Some(item) = item else {
        return Vec::new();
    };
    let one = item.as_str().map(str::to_owned).into_iter();
    let many = item.as_array().into_iter().flatten();
    let many = many.filter_map(|value| value.as_str().map(str::to_owned));
    one.chain(many).collect()
}

/// Puts a value under a key, with the comment behind the value that stood there.
pub(super) fn put(table: &mut Table, key: &str, value: impl Into<Value>) {
    let mut value = value.into();
    match table.get_mut(key) {
        Some(Item::Value(old)) => {
            *value.decor_mut() = old.decor().clone();
            *old = value;
        }
        _ => {
            table.insert(key, Item::Value(value));
        }
    }
}

/// Makes a list hold just these texts: those that stay keep their place and comments.
pub(super) fn put_strings(table: &mut Table, key: &str, wanted: &[String]) {
    let Some(array) = table.get_mut(key).and_then(Item::as_array_mut) else {
        if !(wanted.is_empty() && table.get(key).is_none()) {
            put(table, key, wanted.iter().collect::<Array>());
        }
        return;
    };
    let is_wanted = |text: &str| wanted.iter().any(|other| other == text);
    array.retain(|value| value.as_str().is_some_and(is_wanted));
    for text in wanted {
        let is_there = array.iter().any(|value| value.as_str() == Some(text));
        if !is_there {
            array.push(text);
        }
    }
}

/// Takes a key out. The comments above and behind it move to what follows.
pub(super) fn take_out(head: &mut DocumentMut, path: Option<&str>, key: &str) {
    let table = match path {
        None => Some(head.as_table_mut()),
        Some(path) => head.get_mut(path).and_then(Item::as_table_mut),
    };
    let Some(table) = table else {
        // An inline table has no comments.
        let inline = path.and_then(|path| head.get_mut(path)?.as_inline_table_mut());
        if let Some(inline) = inline {
            inline.remove(key);
        }
        return;
    };
    let Some(comments) = comments_of(table, key) else {
        return;
    };
    let next = key_after(table, key);
    table.remove(key);
    if comments.is_empty() {
        return;
    }
    let Some(mut next) = next.as_deref().and_then(|next| table.key_mut(next)) else {
        let after = raw(head.trailing());
        head.set_trailing(comments + &after);
        return;
    };
    let decor = next.leaf_decor_mut();
    let before = decor.prefix().map(raw).unwrap_or_default();
    decor.set_prefix(comments + &before);
}

/// The comments above and behind a key, each on a line of its own; `None` where there is no such key.
fn comments_of(table: &Table, key: &str) -> Option<String> {
    let (name, item) = table.get_key_value(key)?;
    let above = name.leaf_decor().prefix().map(raw).unwrap_or_default();
    let behind = item
        .as_value()
        .and_then(|value| value.decor().suffix())
        .map(raw);
    let behind = behind.unwrap_or_default();
    let mut comments = String::new();
    if above.contains('#') {
        comments.push_str(&above);
    }
    if behind.contains('#') {
        comments.push_str(behind.trim());
        comments.push('\n');
    }
    Some(comments)
}

/// The key of the value that follows a key in a table.
fn key_after(table: &Table, key: &str) -> Option<String> {
    let values = table.iter().filter(|(_, item)| item.is_value());
    let mut keys = values.map(|(key, _)| key.to_owned());
    keys.find(|other| other == key)?;
    keys.next()
}

fn raw(text: &RawString) -> String {
    text.as_str().unwrap_or_default().to_owned()
}
