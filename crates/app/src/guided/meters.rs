//! The meters that the form asks for: one of each quantity, its kind and what it is worth.

use super::Asked;
use super::document::put;
use records::{Measured, MeterKind};
use toml_edit::{Array, ArrayOfTables, DocumentMut, Item, Table, Value};

/// A quantity that a meter may be there for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MeterSlot {
    /// Flow.
    Flow,
    /// Electrical power.
    Power,
    /// Current.
    Current,
    /// The gauge at the filter.
    FilterGauge,
    /// The gauge before the pump.
    InletVacuum,
}

/// The kind of a meter by its word in the file.
pub fn meter_kind(word: &str) -> Option<MeterKind> {
    Some(match word {
        "paddle" => MeterKind::Paddle,
        "clamp-on" => MeterKind::ClampOn,
        "magnetic" => MeterKind::Magnetic,
        "float" => MeterKind::Float,
        "pump display" => MeterKind::PumpDisplay,
        "true rms" => MeterKind::TrueRms,
        "average rms" => MeterKind::AverageRms,
        "gauge" => MeterKind::Gauge,
        _ => return None,
    })
}

/// What the form holds of a meter.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct MeterAnswer {
    /// The kind as the file calls it; empty where there is no such meter.
    pub kind: String,
    /// The accuracy as the file writes it; empty where the usual one is taken.
    pub accuracy: String,
}

impl MeterSlot {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Flow,
        Self::Power,
        Self::Current,
        Self::FilterGauge,
        Self::InletVacuum,
    ];

    /// The kinds that can be chosen, as the file calls them.
    pub fn kinds(self) -> &'static [&'static str] {
        match self {
            Self::Flow => &["paddle", "clamp-on", "magnetic", "float", "pump display"],
            Self::Power | Self::Current => &["true rms", "average rms", "pump display"],
            Self::FilterGauge | Self::InletVacuum => &["gauge"],
        }
    }

    /// What the engine calls the quantity.
    pub fn measured(self) -> Measured {
        match self {
            Self::Flow => Measured::Flow,
            Self::Power => Measured::Power,
            Self::Current => Measured::Current,
            Self::FilterGauge => Measured::FilterPressure,
            Self::InletVacuum => Measured::InletVacuum,
        }
    }

    fn measures(self) -> &'static str {
        match self {
            Self::Flow => "flow",
            Self::Power => "power",
            Self::Current => "current",
            Self::FilterGauge => "pressure",
            Self::InletVacuum => "vacuum",
        }
    }

    /// What a new meter of it is called.
    fn id(self) -> &'static str {
        match self {
            Self::Flow => "A",
            Self::Power => "power meter",
            Self::Current => "current meter",
            Self::FilterGauge => "filter gauge",
            Self::InletVacuum => "inlet gauge",
        }
    }

    fn tap(self) -> Option<&'static str> {
        match self {
            Self::FilterGauge => Some("filter inlet"),
            Self::InletVacuum => Some("pump pot"),
            _ => None,
        }
    }

    /// Whether a meter of the file is the one that the form means.
    fn is_of(self, meter: &Table) -> bool {
        let text = |key: &str| meter.get(key).and_then(Item::as_str);
        let elsewhere =
            self == Self::FilterGauge && text("tap").is_some_and(|tap| tap != "filter inlet");
        text("measures") == Some(self.measures()) && !elsewhere
    }
}

/// Reads one meter.
pub(super) fn read(document: &DocumentMut, slot: MeterSlot) -> Asked<MeterAnswer> {
    let meters = match document.get("meter") {
        None => return Asked::Here(MeterAnswer::default()),
        Some(Item::ArrayOfTables(meters)) => meters,
        Some(_) => return Asked::InTheText,
    };
    let mut of = meters.iter().filter(|meter| slot.is_of(meter));
    match (of.next(), of.next()) {
        (None, _) => Asked::Here(MeterAnswer::default()),
        (Some(meter), None) => answer(meter, slot),
        _ => Asked::InTheText,
    }
}

fn answer(meter: &Table, slot: MeterSlot) -> Asked<MeterAnswer> {
    let kind = meter.get("kind").and_then(Item::as_str);
    let Some(kind) = kind.filter(|kind| slot.kinds().contains(kind)) else {
        return Asked::InTheText;
    };
    let accuracy = match meter.get("accuracy") {
        None => Some(""),
        Some(item) => match item.as_array() {
            Some(limits) if limits.len() == 1 => limits.get(0).and_then(Value::as_str),
            Some(_) => None,
            None => item.as_str(),
        },
    };
    accuracy.map_or(Asked::InTheText, |accuracy| {
        Asked::Here(MeterAnswer {
            kind: kind.to_owned(),
            accuracy: accuracy.to_owned(),
        })
    })
}

/// Writes one meter, adds it or takes it out.
pub(super) fn write(document: &mut DocumentMut, slot: MeterSlot, answer: &MeterAnswer) {
    let item = document
        .as_table_mut()
        .entry("meter")
        .or_insert(Item::ArrayOfTables(ArrayOfTables::new()));
    let Some(meters) = item.as_array_of_tables_mut() else {
        return;
    };
    let at = meters.iter().position(|meter| slot.is_of(meter));
    match at {
        Some(at) if answer.kind.is_empty() => {
            meters.remove(at);
        }
        Some(at) => {
            if let Some(meter) = meters.get_mut(at) {
                state(meter, answer);
            }
        }
        None if answer.kind.is_empty() => {}
        None => {
            let mut meter = Table::new();
            put(&mut meter, "id", slot.id());
            put(&mut meter, "measures", slot.measures());
            state(&mut meter, answer);
            if let Some(tap) = slot.tap() {
                put(&mut meter, "tap", tap);
            }
            meters.push(meter);
        }
    }
    if meters.is_empty() {
        document.remove("meter");
    }
}

fn state(meter: &mut Table, answer: &MeterAnswer) {
    put(meter, "kind", &answer.kind);
    if answer.accuracy.trim().is_empty() {
        meter.remove("accuracy");
    } else {
        let mut limits = Array::new();
        limits.push(answer.accuracy.trim());
        meter.insert("accuracy", Item::Value(Value::Array(limits)));
    }
}
