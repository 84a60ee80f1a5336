//! From the answers of the form back into the text.

use super::document::{put, table_mut, top_table};
use super::plumbing::{self, Side};
use super::{Asked, Form, Measure, MeterSlot, Question, form_of, meters};
use records::{UnitSystem, site_template};
use toml_edit::DocumentMut;

/// Why a form cannot be written: the text has become one that holds no form.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the text is not in order; mend it as a text first")]
pub struct WriteError;

/// What the heater is called where the form adds one.
const HEATER: &str = "gas";
/// What the filter is called where only its pressure is known.
const FILTER: &str = "kind not known";

/// Returns the text of a new site: the template without what it only shows.
pub fn new_site_text(units: UnitSystem) -> String {
    let text = site_template(units).replace(records::TEMPLATE_NAME, "\"\"");
    let Ok(mut document) = text.parse::<DocumentMut>() else {
        return text;
    };
    // The sizes and lengths of the template are examples.
    for side in Side::ALL {
        plumbing::write_pipe(&mut document, side, &plumbing::PipeAnswer::NotKnown);
    }
    document.to_string()
}

/// Writes the answers that differ from those in the text into it.
pub fn edited(text: &str, form: &Form) -> Result<String, WriteError> {
    let before = form_of(text, form.units).ok_or(WriteError)?;
    let text = uncommented(text, &before, form);
    let mut document: DocumentMut = text.parse().map_err(|_| WriteError)?;
    if form.name != before.name {
        put(document.as_table_mut(), "name", &form.name);
    }
    if form.units != before.units {
        let word = match form.units {
            UnitSystem::Us => "us",
            UnitSystem::Si => "si",
        };
        put(document.as_table_mut(), "units", word);
    }
    if let Some(filter) = changed(&before.filter, &form.filter) {
        plumbing::write_filter(&mut document, filter);
    }
    for (index, question) in Question::ALL.into_iter().enumerate() {
        if let Some(measure) = changed(&before.quantities[index], &form.quantities[index]) {
            quantity(&mut document, question, measure);
        }
    }
    for (index, side) in Side::ALL.into_iter().enumerate() {
        if let Some(pipe) = changed(&before.pipes[index], &form.pipes[index]) {
            plumbing::write_pipe(&mut document, side, pipe);
        }
    }
    for (index, slot) in MeterSlot::ALL.into_iter().enumerate() {
        if let Some(meter) = changed(&before.meters[index], &form.meters[index]) {
            meters::write(&mut document, slot, meter);
        }
    }
    Ok(document.to_string())
}

fn changed<'a, T: PartialEq>(before: &Asked<T>, after: &'a Asked<T>) -> Option<&'a T> {
    if before == after { None } else { after.here() }
}

fn quantity(document: &mut DocumentMut, question: Question, measure: &Measure) {
    let text = measure.text();
    let text = text.as_deref();
    match question {
        Question::TopSpeed => speed(document, "max", text),
        Question::LowestSpeed => speed(document, "min", text),
        Question::Supply => of_table(document, "pump", "supply", text),
        Question::Volume => of_table(document, "water", "volume", text),
        Question::Elevation => of_table(document, "place", "elevation", text),
        Question::FilterPressure => {
            plumbing::write_part_measure(document, ["filter", "max_pressure"], FILTER, text);
        }
        Question::HeaterFlow if text.is_none() => plumbing::remove_parts(document, "heater"),
        Question::HeaterFlow => {
            plumbing::write_part_measure(document, ["heater", "min_flow"], HEATER, text);
        }
    }
}

fn speed(document: &mut DocumentMut, key: &str, text: Option<&str>) {
    let range = table_mut(document, &["pump", "speed"]);
    match (range, text) {
        (Some(range), Some(text)) => put(range, key, text),
        (Some(range), None) => drop(range.remove(key)),
        (None, _) => {}
    }
}

fn of_table(document: &mut DocumentMut, table: &str, key: &str, text: Option<&str>) {
    match text {
        Some(text) => {
            if let Some(table) = top_table(document, table) {
                put(table, key, text);
            }
        }
        None => {
            if let Some(table) = table_mut(document, &[table]) {
                table.remove(key);
            }
        }
    }
}

/// Takes the `#` before what the template shows as an example and the form now states, as its first line tells people to.
fn uncommented(text: &str, before: &Form, form: &Form) -> String {
    let mut text = text.to_owned();
    for (question, table, key) in [
        (Question::Volume, "water", "volume"),
        (Question::Elevation, "place", "elevation"),
    ] {
        let change = changed(before.quantity(question), form.quantity(question));
        if let Some(value) = change.and_then(Measure::text) {
            text = with_example(&text, table, key, &value).unwrap_or(text);
        }
    }
    text
}

/// The text with the commented heading of a table and one commented key of it made live.
fn with_example(text: &str, table: &str, key: &str, value: &str) -> Option<String> {
    let heading = format!("# [{table}]");
    let (example, live) = (format!("# {key} = "), format!("[{table}]"));
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    if lines.contains(&live) {
        return None;
    }
    let start = lines.iter().position(|line| *line == heading)?;
    let block = lines[start + 1..]
        .iter()
        .take_while(|line| line.starts_with("# "));
    let at = start
        + 1
        + block
            .into_iter()
            .position(|line| line.starts_with(&example))?;
    lines[start] = live;
    lines[at] = format!("{key} = {}", toml_edit::Value::from(value));
    // The heading stands over its own keys alone.
    let moved = lines.remove(at);
    lines.insert(start + 1, moved);
    Some(lines.join("\n") + "\n")
}
