//! The guided form of a site.

use super::{Phrase, here, phrase};
use app::guided::{MeterSlot, Question, meter_kind};
use document::names::name;
use document::say;
use document::units::Printing;
use document::words::usual_accuracy;
use records::UnitSystem;

pub(in crate::page) const TITLE: Phrase = phrase!("New site");
pub(in crate::page) const LEAD: Phrase = phrase!(
    "The name and the pump's highest speed are enough. Leave empty what is not known: the answer then says what it would tell."
);
pub(in crate::page) const MAKE: Phrase = phrase!("Make the site");
pub(in crate::page) const NAME: Phrase = phrase!("Name of the site");
pub(in crate::page) const NAME_MISSING: Phrase = phrase!("Give the site a name.");
pub(in crate::page) const NOT_IN_ORDER: Phrase =
    phrase!("The text is not in order; mend it as a text first.");
pub(in crate::page) const UNITS: Phrase = phrase!("Units");
pub(in crate::page) const US: Phrase = phrase!("gpm, ft, psi");
pub(in crate::page) const SI: Phrase = phrase!("m³/h, m, bar");
pub(in crate::page) const PUMP: Phrase = phrase!("Pump");
pub(in crate::page) const PIPES: Phrase = phrase!("Pipes");
pub(in crate::page) const METERS: Phrase = phrase!("Meters");
pub(in crate::page) const METERS_HELP: Phrase = phrase!(
    "What you read the pump with, and what such a meter usually is worth. A meter that is not chosen can be read all the same."
);
pub(in crate::page) const EQUIPMENT: Phrase = phrase!("Pool and equipment");
pub(in crate::page) const NOT_KNOWN: Phrase = phrase!("not known");
pub(in crate::page) const NO_METER: Phrase = phrase!("none, or not known");
pub(in crate::page) const BORE: Phrase = phrase!("inside diameter");
pub(in crate::page) const SPEC: Phrase = phrase!("Kind of pipe");
pub(in crate::page) const SIZE: Phrase = phrase!("Size");
pub(in crate::page) const FILTER: Phrase = phrase!("Kind of filter");
pub(in crate::page) const FILTERS: [(&str, Phrase); 3] = [
    ("cartridge", phrase!("cartridge")),
    ("sand", phrase!("sand")),
    ("precoat", phrase!("pre-coat (earth)")),
];
pub(in crate::page) const ACCURACY: Phrase = phrase!("Accuracy, where the maker states it");
pub(in crate::page) const IN_THE_TEXT: Phrase =
    phrase!("Said in the text of the site file; change it there.");
pub(in crate::page) const PIPE_SIDES: [Phrase; 2] = [
    phrase!("Before the pump (suction)"),
    phrase!("After the pump (return)"),
];

pub(in crate::page) fn question(question: Question) -> (Phrase, Phrase) {
    match question {
        Question::TopSpeed => (
            phrase!("Highest speed"),
            phrase!("From the label or the pump's own menu."),
        ),
        Question::LowestSpeed => (
            phrase!("Lowest speed"),
            phrase!("From the pump's own menu."),
        ),
        Question::Supply => (
            phrase!("Supply voltage"),
            phrase!("For the power factor, where current is read."),
        ),
        Question::Volume => (
            phrase!("Volume of the pool"),
            phrase!("For how long a turnover takes."),
        ),
        Question::Elevation => (
            phrase!("Height above the sea"),
            phrase!("Air is thinner higher up: for the vacuum before the pump."),
        ),
        Question::FilterPressure => (
            phrase!("Rated pressure of the filter"),
            phrase!("Printed on the vessel; often 50 psi or 3.5 bar."),
        ),
        Question::HeaterFlow => (
            phrase!("Least flow of the heater"),
            phrase!("From its plate or manual. Leave empty without a heater."),
        ),
    }
}

pub(in crate::page) fn meter(slot: MeterSlot) -> Phrase {
    match slot {
        MeterSlot::Flow => phrase!("Flow meter"),
        MeterSlot::Power => phrase!("Power meter"),
        MeterSlot::Current => phrase!("Current meter"),
        MeterSlot::FilterGauge => phrase!("Gauge at the filter"),
        MeterSlot::InletVacuum => phrase!("Vacuum gauge before the pump"),
    }
}

/// How a kind of meter is called, with what the engine takes it to be worth.
pub(in crate::page) fn kind(slot: MeterSlot, kind: &str, units: UnitSystem) -> String {
    let printing = Printing {
        system: units,
        ..here()
    };
    let word = match kind {
        "paddle" => say!(here(), "paddle wheel").into(),
        "pump display" => say!(here(), "pump's display").into(),
        kind => name(kind, printing),
    };
    meter_kind(kind).map_or_else(
        || word.to_string(),
        |kind| {
            let worth = usual_accuracy(slot.measured(), kind, printing);
            format!("{word}, {worth}")
        },
    )
}

pub(in crate::page) fn accuracy_example(slot: MeterSlot) -> Phrase {
    match slot {
        MeterSlot::Flow => phrase!("such as 2 % of reading + 0.5 gpm"),
        MeterSlot::Power => phrase!("such as 1.5 % of reading + 1 W"),
        MeterSlot::Current => phrase!("such as 2 % of reading + 0.02 A"),
        MeterSlot::FilterGauge => phrase!("such as 0.5 psi"),
        MeterSlot::InletVacuum => phrase!("such as 0.5 inHg"),
    }
}
