//! What a test file states beside the readings, read for a form and changed in its text, where comments and layout stay.

mod edits;
mod rulings;
mod toml;

pub use edits::{HeadEdit, edited};
pub use rulings::{RulingPlace, may_have_rulings, ruled, rulings_moved};

use self::toml::{parsed, strings, text};
use records::{Problem, Ruling};
use toml_edit::DocumentMut;

/// Why the text of a test file cannot be changed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum HeadError {
    /// It is no TOML; what is wrong in it, with the place.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Text(Vec<Problem>),
    /// A key has another kind of value than a form can change.
    #[error("{key} is not written as expected in the test file")]
    Shape {
        /// The key.
        key: &'static str,
    },
    /// A text that is no date.
    #[error("{text} is no date; expected one such as 2026-05-16 or 2026-05-16T09:30")]
    Date {
        /// The text.
        text: String,
    },
}

/// What a test file states, as a form shows it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Lineup {
    /// When it was done: `2026-05-16` or `2026-05-16T09:30:00`.
    pub date: Option<String>,
    /// Temperature of the water as typed: `80 degF`.
    pub water_temperature: Option<String>,
    /// Lines that are shut.
    pub closed: Vec<String>,
    /// Lines that are part-open.
    pub throttled: Vec<String>,
    /// What else is running.
    pub also_running: Vec<String>,
    /// What else is in the power reading.
    pub power_includes: Vec<String>,
    /// State of the filter.
    pub filter: Option<String>,
    /// State of the baskets.
    pub basket: Option<String>,
    /// Air that was seen.
    pub air: Option<String>,
    /// State of the heater.
    pub heater: Option<String>,
    /// The person's words on doubted readings.
    pub rulings: Vec<Ruling>,
    /// The file of readings.
    pub readings: Option<String>,
}

/// Reads what a test file states, as far as a form shows it; what is written otherwise than expected is left out.
///
/// # Errors
/// That the text is no TOML.
pub fn lineup(head_text: &str) -> Result<Lineup, HeadError> {
    let head = parsed(head_text)?;
    let condition = |key: &str| text(head.get("condition").and_then(|item| item.get(key)));
    Ok(Lineup {
        date: head
            .get("date")
            .and_then(toml_edit::Item::as_datetime)
            .map(ToString::to_string),
        water_temperature: text(head.get("water_temperature")),
        closed: strings(head.get("closed")),
        throttled: strings(head.get("throttled")),
        also_running: strings(head.get("also_running")),
        power_includes: strings(head.get("power_includes")),
        filter: condition("filter"),
        basket: condition("basket"),
        air: condition("air"),
        heater: condition("heater"),
        rulings: rulings::rulings(&head),
        readings: text(head.get("readings")),
    })
}

/// Returns the text without what would keep the engine from the readings while it is typed: a temperature that is none
/// yet, and rulings on readings that are not there.
pub(crate) fn readable(
    head_text: &str,
    is_read: impl Fn(usize, &str) -> bool,
    is_temperature: impl Fn(&str) -> bool,
) -> String {
    let Ok(mut head) = parsed(head_text) else {
        return head_text.to_owned();
    };
    let mut is_changed = rulings::keep(&mut head, is_read);
    if text(head.get("water_temperature")).is_some_and(|text| !is_temperature(&text)) {
        head.remove("water_temperature");
        is_changed = true;
    }
    if is_changed {
        head.to_string()
    } else {
        head_text.to_owned()
    }
}

/// Whether a document states anything under a key.
fn has(head: &DocumentMut, key: &str) -> bool {
    head.get(key).is_some_and(|item| !item.is_none())
}
