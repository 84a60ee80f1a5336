//! The guided form of a site.

use app::guided::{MeterSlot, Question, meter_kind};
use document::units::Printing;
use document::words::usual_accuracy;
use records::UnitSystem;

pub(in crate::page) const TITLE: &str = "New site";
pub(in crate::page) const LEAD: &str = "The name and the pump's highest speed are enough. Leave empty what is not known: the answer then says what it would tell.";
pub(in crate::page) const MAKE: &str = "Make the site";
pub(in crate::page) const NAME: &str = "Name of the site";
pub(in crate::page) const NAME_MISSING: &str = "Give the site a name.";
pub(in crate::page) const UNITS: &str = "Units";
pub(in crate::page) const US: &str = "gpm, ft, psi";
pub(in crate::page) const SI: &str = "m³/h, m, bar";
pub(in crate::page) const PUMP: &str = "Pump";
pub(in crate::page) const PIPES: &str = "Pipes";
pub(in crate::page) const METERS: &str = "Meters";
pub(in crate::page) const METERS_HELP: &str = "What you read the pump with, and what such a meter usually is worth. A meter that is not chosen can be read all the same.";
pub(in crate::page) const EQUIPMENT: &str = "Pool and equipment";
pub(in crate::page) const NOT_KNOWN: &str = "not known";
pub(in crate::page) const NO_METER: &str = "none, or not known";
pub(in crate::page) const BORE: &str = "inside diameter";
pub(in crate::page) const SPEC: &str = "Kind of pipe";
pub(in crate::page) const SIZE: &str = "Size";
pub(in crate::page) const FILTER: &str = "Kind of filter";
pub(in crate::page) const FILTERS: [(&str, &str); 3] = [
    ("cartridge", "cartridge"),
    ("sand", "sand"),
    ("precoat", "pre-coat (earth)"),
];
pub(in crate::page) const ACCURACY: &str = "Accuracy, where the maker states it";
pub(in crate::page) const IN_THE_TEXT: &str = "Said in the text of the site file; change it there.";
pub(in crate::page) const PIPE_SIDES: [&str; 2] =
    ["Before the pump (suction)", "After the pump (return)"];

pub(in crate::page) fn question(question: Question) -> (&'static str, &'static str) {
    match question {
        Question::TopSpeed => ("Highest speed", "From the label or the pump's own menu."),
        Question::LowestSpeed => ("Lowest speed", "From the pump's own menu."),
        Question::Supply => (
            "Supply voltage",
            "For the power factor, where current is read.",
        ),
        Question::Volume => ("Volume of the pool", "For how long a turnover takes."),
        Question::Elevation => (
            "Height above the sea",
            "Air is thinner higher up: for the vacuum before the pump.",
        ),
        Question::FilterPressure => (
            "Rated pressure of the filter",
            "Printed on the vessel; often 50 psi or 3.5 bar.",
        ),
        Question::HeaterFlow => (
            "Least flow of the heater",
            "From its plate or manual. Leave empty without a heater.",
        ),
    }
}

pub(in crate::page) fn meter(slot: MeterSlot) -> &'static str {
    match slot {
        MeterSlot::Flow => "Flow meter",
        MeterSlot::Power => "Power meter",
        MeterSlot::Current => "Current meter",
        MeterSlot::FilterGauge => "Gauge at the filter",
        MeterSlot::InletVacuum => "Vacuum gauge before the pump",
    }
}

/// How a kind of meter is called, with what the engine takes it to be worth.
pub(in crate::page) fn kind(slot: MeterSlot, kind: &str, units: UnitSystem) -> String {
    let word = match kind {
        "paddle" => "paddle wheel",
        "pump display" => "pump's display",
        kind => kind,
    };
    let printing = Printing::english(units);
    meter_kind(kind).map_or_else(
        || word.to_owned(),
        |kind| {
            format!(
                "{word}, {}",
                usual_accuracy(slot.measured(), kind, printing)
            )
        },
    )
}

pub(in crate::page) fn accuracy_example(slot: MeterSlot) -> &'static str {
    match slot {
        MeterSlot::Flow => "such as 2 % of reading + 0.5 gpm",
        MeterSlot::Power => "such as 1.5 % of reading + 1 W",
        MeterSlot::Current => "such as 2 % of reading + 0.02 A",
        MeterSlot::FilterGauge => "such as 0.5 psi",
        MeterSlot::InletVacuum => "such as 0.5 inHg",
    }
}
