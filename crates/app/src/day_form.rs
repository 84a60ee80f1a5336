//! The short form of what a day must do and what it costs, written into the text of the site file: what a plan cannot do
//! without. Longer tariffs and tasks are written in the text itself.

use crate::guided::document::{put, top_table};
use toml_edit::{Array, DocumentMut, InlineTable, Item, Value};

/// What is filled in, as typed; empty is not stated.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DayForm {
    /// The volume of the pool with its unit.
    pub volume: String,
    /// How often a day the volume passes the filter.
    pub turnovers: String,
    /// The price of a kilowatt-hour.
    pub price: String,
    /// The code of its currency.
    pub currency: String,
    /// When the quiet hours begin and end, and the highest speed in them, rpm.
    pub quiet: [String; 3],
    /// What the text says at more length than the form does, by the key.
    pub in_the_text: Vec<&'static str>,
}

/// The currency of a form in which none is stated yet.
const USUAL_CURRENCY: &str = "USD";

/// Reads what is stated; `None` where the text is no TOML.
pub fn form_of(text: &str) -> Option<DayForm> {
    let document: DocumentMut = text.parse().ok()?;
    let of = |table: &str, key: &str| document.get(table)?.as_table_like()?.get(key);
    let text_of = |item: Option<&Item>| item.and_then(Item::as_str).unwrap_or_default().to_owned();
    let mut form = DayForm {
        volume: text_of(of("water", "volume")),
        currency: USUAL_CURRENCY.to_owned(),
        ..DayForm::default()
    };
    let turnover = text_of(of("operation", "turnover"));
    let number = turnover.split(' ').next().unwrap_or_default();
    number.clone_into(&mut form.turnovers);
    if let Some(tariff) = of("operation", "tariff") {
        match alone(tariff).as_ref().and_then(flat) {
            Some((price, currency)) => (form.price, form.currency) = (price, currency),
            None => form.in_the_text.push("tariff"),
        }
    }
    if let Some(quiet) = of("operation", "quiet") {
        match alone(quiet).and_then(|block| quiet_of(&block)) {
            Some(quiet) => form.quiet = quiet,
            None => form.in_the_text.push("quiet"),
        }
    }
    Some(form)
}

/// The one block of a list; `None` where there are more, or none.
fn alone(item: &Item) -> Option<InlineTable> {
    let blocks = item.as_array()?;
    let first = blocks.get(0)?.as_inline_table()?.clone();
    (blocks.len() == 1).then_some(first)
}

/// The price and the currency of a tariff that knows one price alone.
fn flat(block: &InlineTable) -> Option<(String, String)> {
    let price = block.get("price")?.as_str()?;
    let (number, unit) = price.trim().split_once(' ')?;
    let currency = unit.strip_suffix("/kWh")?;
    (block.len() == 1).then(|| (number.to_owned(), currency.trim().to_owned()))
}

fn quiet_of(block: &InlineTable) -> Option<[String; 3]> {
    let text = |key: &str| block.get(key)?.as_str().map(str::to_owned);
    let speed = text("max_speed")?;
    let rpm = speed.strip_suffix("rpm")?.trim().to_owned();
    Some([text("from")?, text("to")?, rpm])
}

/// Writes what was changed in the form into the text; whether it makes sense is the records' to say. `None` where the text is
/// no TOML.
pub fn edited(text: &str, form: &DayForm) -> Option<String> {
    let before = form_of(text)?;
    let mut document: DocumentMut = text.parse().ok()?;
    if form.volume.trim() != before.volume {
        put_or_take(&mut document, ("water", "volume"), form.volume.trim());
    }
    if form.turnovers.trim() != before.turnovers {
        let turnovers = form.turnovers.trim();
        let said = if turnovers.is_empty() {
            String::new()
        } else {
            format!("{turnovers} per day")
        };
        put_or_take(&mut document, ("operation", "turnover"), &said);
    }
    let price = (form.price.trim(), form.currency.trim());
    if price != (before.price.as_str(), before.currency.as_str())
        && !form.in_the_text.contains(&"tariff")
    {
        let block = (!price.0.is_empty()).then(|| {
            let said = format!("{} {}/kWh", price.0, price.1);
            InlineTable::from_iter([("price", said)])
        });
        put_block(&mut document, "tariff", block);
    }
    if form.quiet != before.quiet && !form.in_the_text.contains(&"quiet") {
        let [from, to, rpm] = form.quiet.each_ref().map(|text| text.trim().to_owned());
        let is_stated = ![&from, &to, &rpm].iter().all(|text| text.is_empty());
        let block = is_stated.then(|| {
            let speed = format!("{rpm} rpm");
            InlineTable::from_iter([("from", from), ("to", to), ("max_speed", speed)])
        });
        put_block(&mut document, "quiet", block);
    }
    Some(document.to_string())
}

fn put_or_take(document: &mut DocumentMut, (table, key): (&str, &str), text: &str) {
    let Some(table) = top_table(document, table) else {
        return;
    };
    if text.is_empty() {
        table.remove(key);
    } else {
        put(table, key, text);
    }
}

/// Puts a list of one block, or takes the list out; what stands around the list stays.
fn put_block(document: &mut DocumentMut, key: &str, block: Option<InlineTable>) {
    let Some(operation) = top_table(document, "operation") else {
        return;
    };
    let Some(block) = block else {
        operation.remove(key);
        return;
    };
    let mut list = Value::Array(Array::from_iter([block]));
    if let Some(before) = operation.get(key).and_then(Item::as_value) {
        *list.decor_mut() = before.decor().clone();
    }
    operation.insert(key, Item::Value(list));
}
