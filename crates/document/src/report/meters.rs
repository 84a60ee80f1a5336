//! The meters of the site, with what each was taken for.

use super::{Subject, heading};
use crate::content::{Block, Table};
use records::{Meter, MeterKind, MeterOf, Tap};

/// Composes the table of meters.
pub(super) fn meters(subject: &Subject<'_>) -> Vec<Block> {
    let meters = &subject.site.meters;
    if meters.is_empty() {
        return Vec::new();
    }
    let table = Table {
        headings: ["meter", "measures", "accuracy", "shows", "where"]
            .map(str::to_owned)
            .to_vec(),
        rows: meters.iter().map(row).collect(),
        word_columns: 5,
        struck: Vec::new(),
    };
    let mut blocks = vec![heading("Meters"), Block::Table(table)];
    if meters.iter().any(|meter| meter.accuracy.is_empty()) {
        blocks.push(Block::Note(
            "\"Usual\" is what meters of that kind are worth by common practice, no source: the accuracy is not stated."
                .to_owned(),
        ));
    }
    blocks
}

fn row(meter: &Meter) -> Vec<String> {
    vec![
        meter.id.clone(),
        measures(meter),
        accuracy(meter),
        shows(meter),
        place(meter),
    ]
}

fn measures(meter: &Meter) -> String {
    let what = match meter.measures {
        MeterOf::Flow => "flow",
        MeterOf::Power => "power",
        MeterOf::Current => "current",
        MeterOf::Voltage => "voltage",
        MeterOf::Pressure => "pressure",
        MeterOf::Vacuum => "vacuum",
    };
    let kind = meter.kind.map(|kind| match kind {
        MeterKind::Float => "float",
        MeterKind::Paddle => "paddle",
        MeterKind::ClampOn => "clamp-on",
        MeterKind::Magnetic => "magnetic",
        MeterKind::PumpDisplay => "pump display",
        MeterKind::Gauge => "gauge",
        MeterKind::TrueRms => "true rms",
        MeterKind::AverageRms => "average rms",
    });
    kind.map_or_else(|| what.to_owned(), |kind| format!("{what}, {kind}"))
}

fn accuracy(meter: &Meter) -> String {
    if meter.accuracy.is_empty() {
        return "usual".to_owned();
    }
    let limits: Vec<&str> = meter
        .accuracy
        .iter()
        .map(|limit| limit.text.as_str())
        .collect();
    limits.join("; ")
}

fn shows(meter: &Meter) -> String {
    let range = meter
        .range
        .as_ref()
        .map(|[low, high]| format!("{} to {}", low.text, high.text));
    let steps = meter
        .resolution
        .as_ref()
        .map(|step| format!("in steps of {}", step.text));
    let said: Vec<String> = range.into_iter().chain(steps).collect();
    said.join(", ")
}

fn place(meter: &Meter) -> String {
    let tap = meter.tap.map(|tap| match tap {
        Tap::PumpPot => "pump pot",
        Tap::SuctionPipe => "suction pipe",
        Tap::PumpOutlet => "pump outlet",
        Tap::FilterInlet => "filter inlet",
        Tap::FilterOutlet => "filter outlet",
        Tap::PadOutlet => "pad outlet",
    });
    let height = meter
        .height
        .as_ref()
        .map(|height| format!("{} above the water", height.text));
    let said: Vec<String> = meter
        .on
        .iter()
        .cloned()
        .chain(tap.map(str::to_owned))
        .chain(height)
        .collect();
    said.join(", ")
}
