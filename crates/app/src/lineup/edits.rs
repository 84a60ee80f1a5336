//! Changes of what a test file states, each in the text itself.

use super::toml::{parsed, put, put_strings, take_out};
use super::{HeadError, has};
use toml_edit::{Datetime, Item, Table};

/// One change of what a test file states.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum HeadEdit {
    /// When it was done, as `2026-05-16` or `2026-05-16T09:30`; `None` takes it out.
    Date(Option<String>),
    /// Temperature of the water with its unit, as typed; `None` takes it out.
    WaterTemperature(Option<String>),
    /// The lines that are shut.
    Closed(Vec<String>),
    /// The lines that are part-open.
    Throttled(Vec<String>),
    /// What else is running.
    AlsoRunning(Vec<String>),
    /// What else is in the power reading.
    PowerIncludes(Vec<String>),
    /// State of the filter; `None` takes it out, as with those below.
    Filter(Option<String>),
    /// State of the baskets.
    Basket(Option<String>),
    /// Air that was seen.
    Air(Option<String>),
    /// State of the heater.
    Heater(Option<String>),
    /// The bare name of the file of readings.
    Readings(String),
}

/// Changes the text of a test file.
///
/// # Errors
/// That the text is no TOML, that a date is none, or that a key is written in a way that cannot be changed here.
pub fn edited(head_text: &str, edit: &HeadEdit) -> Result<String, HeadError> {
    let mut head = parsed(head_text)?;
    match edit {
        HeadEdit::Date(None) => take_out(&mut head, None, "date"),
        HeadEdit::Date(Some(text)) => put(head.as_table_mut(), "date", date(text)?),
        HeadEdit::WaterTemperature(None) => take_out(&mut head, None, "water_temperature"),
        HeadEdit::WaterTemperature(Some(text)) => {
            put(head.as_table_mut(), "water_temperature", text.as_str());
        }
        HeadEdit::Closed(lines) => put_strings(head.as_table_mut(), "closed", lines),
        HeadEdit::Throttled(lines) => put_strings(head.as_table_mut(), "throttled", lines),
        HeadEdit::AlsoRunning(names) => put_strings(head.as_table_mut(), "also_running", names),
        HeadEdit::PowerIncludes(names) => {
            put_strings(head.as_table_mut(), "power_includes", names);
        }
        HeadEdit::Filter(state) => condition(&mut head, "filter", state.as_deref())?,
        HeadEdit::Basket(state) => condition(&mut head, "basket", state.as_deref())?,
        HeadEdit::Air(state) => condition(&mut head, "air", state.as_deref())?,
        HeadEdit::Heater(state) => condition(&mut head, "heater", state.as_deref())?,
        HeadEdit::Readings(name) => put(head.as_table_mut(), "readings", name.as_str()),
    }
    Ok(head.to_string())
}

/// Reads a date as forms of a page give it, which leave the seconds out.
fn date(text: &str) -> Result<Datetime, HeadError> {
    let text = text.trim();
    let has_no_seconds = text.contains('T') && text.matches(':').count() == 1;
    let whole = if has_no_seconds {
        format!("{text}:00")
    } else {
        text.to_owned()
    };
    let read = whole.parse().ok();
    let dated = read.filter(|read: &Datetime| read.date.is_some());
    dated.ok_or_else(|| HeadError::Date {
        text: text.to_owned(),
    })
}

fn condition(
    head: &mut toml_edit::DocumentMut,
    key: &str,
    state: Option<&str>,
) -> Result<(), HeadError> {
    const TABLE: &str = "condition";
    let Some(state) = state else {
        take_out(head, Some(TABLE), key);
        return Ok(());
    };
    if !has(head, TABLE) {
        head.insert(TABLE, Item::Table(Table::new()));
    }
    match head.get_mut(TABLE) {
        Some(Item::Table(table)) => put(table, key, state),
        Some(item) if item.is_inline_table() => {
            let inline = item.as_inline_table_mut();
            inline.and_then(|inline| inline.insert(key, state.into()));
        }
        _ => return Err(HeadError::Shape { key: TABLE }),
    }
    Ok(())
}
