//! From the text of a site file to the answers of the form.

use super::document::table;
use super::plumbing::{self, Side};
use super::{Asked, Form, Measure, MeterSlot, Question, meters};
use records::UnitSystem;
use toml_edit::{DocumentMut, Item, Value};

/// Reads the answers; `None` where the text is no TOML, which then is mended as a text.
///
/// # Inputs
/// The text, and the units where it names none.
pub fn form_of(text: &str, units: UnitSystem) -> Option<Form> {
    let document: DocumentMut = text.parse().ok()?;
    let word = |key: &str| document.get(key).and_then(Item::as_str);
    let units = match word("units") {
        Some("si") => UnitSystem::Si,
        Some("us") => UnitSystem::Us,
        _ => units,
    };
    let bore_unit = bore_unit(units);
    Some(Form {
        name: word("name").unwrap_or_default().to_owned(),
        units,
        quantities: Question::ALL.map(|question| quantity(&document, question, units)),
        pipes: Side::ALL.map(|side| plumbing::pipe(&document, side, bore_unit)),
        filter: plumbing::filter(&document),
        meters: MeterSlot::ALL.map(|slot| meters::read(&document, slot)),
    })
}

/// The unit that an inside diameter is typed in.
fn bore_unit(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Us => "in",
        UnitSystem::Si => "mm",
    }
}

fn quantity(document: &DocumentMut, question: Question, units: UnitSystem) -> Asked<Measure> {
    let unit = question.unit(units);
    let at = |path: &[&str], key: &str| {
        let item = table(document, path).and_then(|table| table.get(key));
        match item {
            Some(item) if item.as_value().is_none() => Asked::InTheText,
            item => measure(item.and_then(Item::as_value), unit),
        }
    };
    match question {
        Question::TopSpeed => at(&["pump", "speed"], "max"),
        Question::LowestSpeed => at(&["pump", "speed"], "min"),
        Question::Supply => at(&["pump"], "supply"),
        Question::Volume => at(&["water"], "volume"),
        Question::Elevation => at(&["place"], "elevation"),
        Question::FilterPressure => {
            plumbing::part_measure(document, ["filter", "max_pressure"], unit)
        }
        Question::HeaterFlow => plumbing::part_measure(document, ["heater", "min_flow"], unit),
    }
}

/// Cuts a quantity into its number and its unit.
pub(super) fn measure(value: Option<&Value>, unit: &str) -> Asked<Measure> {
    let Some(value) = value else {
        return Asked::Here(Measure::unknown(unit));
    };
    match value.as_str().and_then(|text| text.trim().split_once(' ')) {
        Some((number, unit)) => Asked::Here(Measure {
            number: number.to_owned(),
            unit: unit.trim().to_owned(),
        }),
        None => Asked::InTheText,
    }
}
