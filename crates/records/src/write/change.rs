//! From a change to text: what is paid for it, and where its site differs from the site that it is laid over.

use super::{document, table_of};
use crate::document::FORMAT;
use crate::{Change, Site};
use serde::Serialize;
use toml::{Table, Value};

/// Writes a file of a change; reading it over the same site gives the same change.
///
/// A line that differs is written whole, the pump too; of water, limits and operation only the keys that differ.
pub fn write_change(change: &Change, site: &Site) -> String {
    let mut table = Table::new();
    put(&mut table, "format", &FORMAT);
    put(&mut table, "name", &change.name);
    put(&mut table, "capital", &change.capital);
    put(&mut table, "life", &change.life);
    put(&mut table, "maintenance", &change.maintenance);
    put(
        &mut table,
        "filter",
        &change.cleans_filter.then_some("clean"),
    );
    if !change.program.is_empty() {
        put(&mut table, "program", &change.program);
    }
    if change.site.pump != site.pump {
        put(&mut table, "pump", &change.site.pump);
    }
    let lines = change.site.lines.iter();
    let changed: Vec<_> = lines.filter(|line| !site.lines.contains(line)).collect();
    if !changed.is_empty() {
        put(&mut table, "line", &changed);
    }
    let after = &change.site;
    put_keys(&mut table, "water", (&site.water, &after.water));
    put_keys(&mut table, "limits", (&site.limits, &after.limits));
    put_keys(&mut table, "operation", (&site.operation, &after.operation));
    document(&table)
}

/// Puts a value under its key, where there is one.
fn put(table: &mut Table, key: &str, value: &impl Serialize) {
    if let Ok(value) = Value::try_from(value) {
        table.insert(key.to_owned(), value);
    }
}

/// Puts the keys of a table that differ; a list that is empty now is written as such.
fn put_keys(table: &mut Table, key: &str, (before, after): (&impl Serialize, &impl Serialize)) {
    let (before, after) = (table_of(before), table_of(after));
    let mut keys = Table::new();
    for (key, value) in &after {
        if before.get(key) != Some(value) {
            keys.insert(key.clone(), value.clone());
        }
    }
    let emptied = before.keys().filter(|key| !after.contains_key(*key));
    for key in emptied {
        keys.insert(key.clone(), Value::Array(Vec::new()));
    }
    if !keys.is_empty() {
        table.insert(key.to_owned(), Value::Table(keys));
    }
}
