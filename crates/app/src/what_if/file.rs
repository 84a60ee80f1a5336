//! The file of a change, made from the text of the site: a part that changes keeps everything else that the text says of it.

use super::{Choice, FilterState};
use crate::library::site_name;
use records::unit::Dimension;
use records::{Line, Part, PartKind, Quantity, Site, Source, read_site};
use toml_edit::{ArrayOfTables, DocumentMut, InlineTable, Item, Table, Value};

/// The water whose level is 0.
const POOL: &str = "pool";
/// Sizes that differ by less are one, m.
const SAME_SIZE_M: f64 = 1e-4;

/// Lists the lines that lead back into water.
pub(super) fn returns(site: &Site) -> impl Iterator<Item = &Line> {
    site.lines.iter().filter(|line| is_return(site, &line.to))
}

fn is_return(site: &Site, end: &str) -> bool {
    end == POOL || site.bodies.iter().any(|body| body.name == end)
}

/// Writes the file of a change, in the words of its name; `None` where nothing of the pad changes, or the text of the site
/// cannot be read.
pub fn change_text(site_text: &str, choice: &Choice, name: &str) -> Option<String> {
    let source = Source {
        name: records::SITE_FILE.to_owned(),
        text: site_text.to_owned(),
    };
    let site = read_site(&source).ok()?;
    let document: DocumentMut = site_text.parse().ok()?;
    let mut parts = ArrayOfTables::new();
    let lines = document.get("line")?.as_array_of_tables()?;
    for (stated, line) in site.lines.iter().zip(lines) {
        let Some(of_line) = line.get("parts").and_then(Item::as_array) else {
            continue;
        };
        for (index, part) in of_line.iter().enumerate() {
            let (Some(part), Some(of_site)) = (part.as_inline_table(), stated.parts.get(index))
            else {
                continue;
            };
            let is_return = is_return(&site, &stated.to);
            if let Some(changed) = changed(part, (of_site, is_return), choice) {
                parts.push(put_part(&stated.name, index + 1, changed));
            }
        }
    }
    let cleans = choice.filter == FilterState::Clean;
    if parts.is_empty() && !cleans {
        return None;
    }
    let mut file = DocumentMut::new();
    file.insert("format", toml_edit::value(1));
    file.insert("name", toml_edit::value(name));
    if cleans {
        file.insert("filter", toml_edit::value("clean"));
    }
    if !parts.is_empty() {
        file.insert("part", Item::ArrayOfTables(parts));
    }
    Some(file.to_string())
}

/// The part as it would be; `None` where it stays.
fn changed(
    part: &InlineTable,
    (stated, is_return): (&Part, bool),
    choice: &Choice,
) -> Option<InlineTable> {
    let mut changed = part.clone();
    match &stated.kind {
        PartKind::Pipe(pipe) if is_return => {
            let bore = choice.bore.as_ref()?;
            let now = pipe.pipe.as_ref()?;
            let then = Quantity::parse(bore, Dimension::Length).ok()?;
            // The same size may be spelled in another way.
            if (then.si - now.si).abs() < SAME_SIZE_M {
                return None;
            }
            *changed.get_mut("pipe")? = Value::from(bore);
        }
        PartKind::Filter(_) => {
            let times = choice.filter.times()?;
            let clean = changed.get_mut("clean")?.as_inline_table_mut()?;
            let drop = clean.get_mut("drop")?;
            let loaded = loaded(drop.as_str()?, times)?;
            *drop = Value::from(loaded);
        }
        _ => return None,
    }
    // It stands in another file now.
    changed.decor_mut().clear();
    changed.fmt();
    Some(changed)
}

/// A drop some times as large, in its own unit.
fn loaded(drop: &str, times: f64) -> Option<String> {
    let (number, unit) = drop.trim().split_once(' ')?;
    let number: f64 = number.parse().ok()?;
    let rounded = (1000.0 * number * times).round() / 1000.0;
    Some(format!("{rounded} {unit}"))
}

fn put_part(line: &str, part: usize, is: InlineTable) -> Table {
    let mut table = Table::new();
    table.insert("line", toml_edit::value(line));
    let place = i64::try_from(part).unwrap_or(i64::MAX);
    table.insert("part", toml_edit::value(place));
    table.insert("is", Item::Value(Value::InlineTable(is)));
    table
}

/// What the text of a change calls it.
pub fn change_name(change_text: &str) -> String {
    site_name(change_text).unwrap_or_default()
}
