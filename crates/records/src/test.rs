//! A test: when, with which line-up and water, and what was read.

use crate::{Quantity, Readings};
use serde::Serialize;

/// One step test.
#[derive(Clone, Debug, PartialEq)]
pub struct Test {
    /// The stem of the file's name.
    pub name: String,
    /// What the test file states.
    pub head: TestHead,
    /// What was read.
    pub readings: Readings,
}

/// What a test file states beside the readings.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TestHead {
    /// Counts breaking changes of the format; 1.
    pub format: u32,
    /// When it was done.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub date: Option<toml::value::Datetime>,
    /// Temperature of the water, K.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub water_temperature: Option<Quantity>,
    /// Lines that were shut.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub closed: Vec<String>,
    /// Lines that were part-open.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub throttled: Vec<String>,
    /// What else was running.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub also_running: Vec<String>,
    /// What else is in the power reading.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub power_includes: Vec<String>,
    /// The bare name of the file of readings, beside the test file; absent where the steps stand inline.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub readings: Option<String>,
    /// The condition of the pad.
    #[serde(skip_serializing_if = "Condition::is_empty")]
    pub condition: Condition,
    /// The person's words on doubted readings.
    #[serde(rename = "ruling", skip_serializing_if = "Vec::is_empty")]
    pub rulings: Vec<Ruling>,
}

/// The condition of the pad during the test.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Condition {
    /// State of the filter: `as found`, `clean`, `media out`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub filter: Option<String>,
    /// State of the baskets.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub basket: Option<String>,
    /// Air that was seen.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub air: Option<String>,
    /// State of the heater.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub heater: Option<String>,
}

/// The person's word on one doubted reading; what was typed stays.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Ruling {
    /// The line of the file of readings.
    pub row: usize,
    /// The heading of the column, without its unit.
    pub column: String,
    /// What the person says.
    pub say: Verdict,
}

/// What a person says of a doubted reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Verdict {
    /// It is right: it is used, and not doubted again.
    Confirmed,
    /// It is wrong: it is left out.
    Drop,
}
