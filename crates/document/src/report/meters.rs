//! The meters of the site, with what each was taken for.

use super::{Subject, heading};
use crate::content::{Block, Table};
use crate::language::say;
use crate::names;
use crate::units::Printing;
use records::{Meter, MeterKind, MeterOf, Tap};

/// Composes the table of meters.
pub(super) fn meters(subject: &Subject<'_>) -> Vec<Block> {
    let meters = &subject.site.meters;
    if meters.is_empty() {
        return Vec::new();
    }
    let table = Table {
        headings: [
            say!(subject.printing, "meter"),
            say!(subject.printing, "measures"),
            say!(subject.printing, "accuracy"),
            say!(subject.printing, "shows"),
            say!(subject.printing, "where"),
        ]
        .map(str::to_owned)
        .to_vec(),
        rows: meters
            .iter()
            .map(|meter| row(meter, subject.printing))
            .collect(),
        word_columns: 5,
        ..Table::default()
    };
    let mut blocks = vec![
        heading(say!(subject.printing, "Meters")),
        Block::Table(table),
    ];
    if meters.iter().any(|meter| meter.accuracy.is_empty()) {
        blocks.push(Block::Note(
            say!(subject.printing, "\"Usual\" is what meters of that kind are worth by common practice, no source: the accuracy is not stated.")
                .to_owned(),
        ));
    }
    blocks
}

fn row(meter: &Meter, printing: Printing) -> Vec<String> {
    vec![
        meter.id.clone(),
        measures(meter, printing),
        accuracy(meter, printing),
        shows(meter, printing),
        place(meter, printing),
    ]
}

fn measures(meter: &Meter, printing: Printing) -> String {
    let what = match meter.measures {
        MeterOf::Flow => say!(printing, "flow"),
        MeterOf::Power => say!(printing, "power"),
        MeterOf::Current => say!(printing, "current"),
        MeterOf::Voltage => say!(printing, "voltage"),
        MeterOf::Pressure => say!(printing, "pressure"),
        MeterOf::Vacuum => say!(printing, "vacuum"),
    };
    let kind = meter.kind.map(|kind| match kind {
        MeterKind::Float => say!(printing, "float"),
        MeterKind::Paddle => say!(printing, "paddle"),
        MeterKind::ClampOn => say!(printing, "clamp-on"),
        MeterKind::Magnetic => say!(printing, "magnetic"),
        MeterKind::PumpDisplay => say!(printing, "pump display"),
        MeterKind::Gauge => say!(printing, "gauge"),
        MeterKind::TrueRms => say!(printing, "true rms"),
        MeterKind::AverageRms => say!(printing, "average rms"),
    });
    kind.map_or_else(|| what.to_owned(), |kind| format!("{what}, {kind}"))
}

fn accuracy(meter: &Meter, printing: Printing) -> String {
    if meter.accuracy.is_empty() {
        return say!(printing, "usual" as "accuracy").to_owned();
    }
    let limits: Vec<String> = meter
        .accuracy
        .iter()
        .map(|limit| names::accuracy(&limit.text, printing))
        .collect();
    limits.join("; ")
}

fn shows(meter: &Meter, printing: Printing) -> String {
    let range = meter.range.as_ref().map(|[low, high]| {
        say!(
            printing,
            "{low} to {high}",
            low = low.text,
            high = high.text
        )
    });
    let steps = meter
        .resolution
        .as_ref()
        .map(|step| say!(printing, "in steps of {step}", step = step.text));
    let said: Vec<String> = range.into_iter().chain(steps).collect();
    said.join(", ")
}

fn place(meter: &Meter, printing: Printing) -> String {
    let tap = meter.tap.map(|tap| match tap {
        Tap::PumpPot => say!(printing, "pump pot"),
        Tap::SuctionPipe => say!(printing, "suction pipe"),
        Tap::PumpOutlet => say!(printing, "pump outlet"),
        Tap::FilterInlet => say!(printing, "filter inlet"),
        Tap::FilterOutlet => say!(printing, "filter outlet"),
        Tap::PadOutlet => say!(printing, "pad outlet"),
    });
    let height = meter
        .height
        .as_ref()
        .map(|height| say!(printing, "{height} above the water", height = height.text));
    let said: Vec<String> = meter
        .on
        .iter()
        .cloned()
        .chain(tap.map(str::to_owned))
        .chain(height)
        .collect();
    said.join(", ")
}
