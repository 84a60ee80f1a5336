//! Reads the meters, and checks that what is said of one fits what it measures.

use super::site::{Placed, report_repeats};
use crate::Told;
use crate::told;
use crate::told::later;
use crate::unit::Dimension;
use crate::values::{Range, Words};
use crate::walker::{Field, Table};
use crate::wording::one_of;
use crate::{Accuracy, Meter, MeterKind, MeterOf, Quantity};

/// A meter as far as it could be read, with the line that it says it sits on.
pub(super) struct ReadMeter<'t> {
    pub(super) meter: Option<Meter>,
    pub(super) on: Option<Field<'t>>,
}

impl MeterOf {
    /// The dimension of its readings.
    pub fn dimension(self) -> Dimension {
        match self {
            Self::Flow => Dimension::Flow,
            Self::Power => Dimension::Power,
            Self::Current => Dimension::Current,
            Self::Voltage => Dimension::Voltage,
            Self::Pressure | Self::Vacuum => Dimension::Pressure,
        }
    }

    /// The word of the site file.
    pub fn word(self) -> &'static str {
        Self::WORDS
            .iter()
            .find(|(_, value)| *value == self)
            .map_or("", |(word, _)| word)
    }

    fn is_gauge(self) -> bool {
        matches!(self, Self::Pressure | Self::Vacuum)
    }
}

impl MeterKind {
    /// Whether a meter of this kind can measure it; a pump's display may show anything.
    fn fits(self, measures: MeterOf) -> bool {
        match self {
            Self::Float | Self::Paddle | Self::ClampOn | Self::Magnetic => {
                measures == MeterOf::Flow
            }
            Self::Gauge => measures.is_gauge(),
            Self::TrueRms | Self::AverageRms => !measures.is_gauge() && measures != MeterOf::Flow,
            Self::PumpDisplay => true,
        }
    }
}

/// Reads every `[[meter]]`.
pub(super) fn meters<'t>(root: &Table<'t>) -> Vec<ReadMeter<'t>> {
    let tables = root.tables("meter", "[[meter]]");
    let mut ids: Vec<Placed> = Vec::new();
    let mut read = Vec::with_capacity(tables.len());
    for table in &tables {
        let id = table
            .require("id", "\"A\"")
            .and_then(|field| Some((field.name()?, field.at)));
        ids.extend(id.clone());
        let meter = meter(table, id);
        read.push(ReadMeter {
            meter,
            on: table.get("on"),
        });
    }
    report_repeats(root, "id", &ids);
    read
}

fn meter(table: &Table<'_>, id: Option<Placed>) -> Option<Meter> {
    let measures: Option<MeterOf> = table
        .require("measures", "\"flow\"")
        .and_then(|field| field.word());
    let kind = table.word("kind");
    // Without knowing what is measured the units of these three cannot be judged.
    let [accuracy, resolution, range] =
        ["accuracy", "resolution", "range"].map(|key| table.get(key).zip(measures));
    let accuracy = accuracy.map(|(field, measures)| accuracies(&field, measures.dimension()));
    let resolution =
        resolution.and_then(|(field, of)| field.quantity(of.dimension(), Range::AboveZero));
    let range = range.and_then(|(field, measures)| ends_of_range(&field, measures));
    let coverage = table
        .get("coverage")
        .and_then(|field| field.number(Range::AboveZero));
    let share_common = table
        .get("share_common")
        .and_then(|field| field.number(SHARE_COMMON));
    let on = table.name("on");
    let scaled_for = table.name("scaled_for");
    let tap = table.word("tap");
    let height = table.quantity("height", Dimension::Length, Range::Any);
    let read_at = table.get("read_at").and_then(|field| edge(&field));
    table.finish();
    let meter = Meter {
        id: id?.0,
        measures: measures?,
        kind,
        accuracy: accuracy.unwrap_or_default(),
        coverage,
        resolution,
        range,
        share_common,
        on,
        scaled_for,
        tap,
        height,
        read_at,
    };
    check(table, &meter);
    Some(meter)
}

const SHARE_COMMON: Range = Range::Between {
    low: 0.0,
    high: 1.0,
    words: later!("a number from 0 to 1"),
};

fn accuracies(field: &Field<'_>, dimension: Dimension) -> Vec<Accuracy> {
    let mut read = Vec::new();
    for item in field.one_or_more() {
        let Some(text) = item.text(told!("text in quotes, such as \"2 % of reading\"")) else {
            continue;
        };
        match Accuracy::parse(text, dimension) {
            Ok(accuracy) => read.push(accuracy),
            Err(error) => item.report(error.told(), error.hint()),
        }
    }
    read
}

fn ends_of_range(field: &Field<'_>, measures: MeterOf) -> Option<[Quantity; 2]> {
    let unit = measures.dimension().example();
    let [low, high] = field.pair(&format!(
        "[\"0 {}\", \"{unit}\"]",
        unit.split(' ').next_back().unwrap_or(unit)
    ))?;
    let rule = if measures.is_gauge() {
        Range::Any
    } else {
        Range::ZeroOrMore
    };
    let low = low.quantity(measures.dimension(), rule);
    let high = high.quantity(measures.dimension(), rule);
    let (low, high) = low.zip(high)?;
    if low.si >= high.si {
        let message = told!(
            "range goes from {low} to {high}; expected the lower end first",
            low = crate::shown(&low.text),
            high = crate::shown(&high.text)
        );
        field.problems.add(Some(field.at), message, None);
    }
    Some([low, high])
}

fn edge(field: &Field<'_>) -> Option<String> {
    const EDGES: [&str; 3] = ["top", "middle", "bottom"];
    let edge = field.name()?;
    if !EDGES.contains(&edge.as_str()) {
        field.refuse(Told::written(one_of(&EDGES)), None);
        return None;
    }
    Some(edge)
}

/// Checks that what is said of a meter fits what it measures.
fn check(table: &Table<'_>, meter: &Meter) {
    let measures = meter.measures.word();
    if let Some(field) = meter
        .kind
        .filter(|kind| !kind.fits(meter.measures))
        .and(table.get("kind"))
    {
        let fitting = MeterKind::WORDS
            .iter()
            .filter(|(_, kind)| kind.fits(meter.measures));
        let fitting: Vec<&str> = fitting.map(|(word, _)| *word).collect();
        field.report(
            told!(
                "such a meter measures no {measures}; expected {kinds}",
                measures,
                kinds = one_of(&fitting)
            ),
            None,
        );
    }
    if meter.measures != MeterOf::Flow {
        report_misplaced(
            table,
            &["on", "scaled_for"],
            &told!("a meter of {measures}", measures),
            &told!("flow"),
        );
    }
    if !meter.measures.is_gauge() {
        report_misplaced(
            table,
            &["tap", "height"],
            &told!("a meter of {measures}", measures),
            &told!("pressure or vacuum"),
        );
    }
    if meter.kind.is_some_and(|kind| kind != MeterKind::Float) {
        report_misplaced(
            table,
            &["read_at"],
            &told!("this kind of meter"),
            &told!("a float"),
        );
    }
    let full_scale = meter
        .accuracy
        .iter()
        .any(|accuracy| accuracy.of_full_scale > 0.0);
    if let Some(field) = (full_scale && !table.has("range"))
        .then(|| table.get("accuracy"))
        .flatten()
    {
        let message = told!(
            "accuracy is a share of the full scale, and no range is stated; expected range = [low, high]"
        );
        field.problems.add(Some(field.at), message, None);
    }
}

fn report_misplaced(table: &Table<'_>, keys: &[&'static str], of: &Told, fits: &Told) {
    for field in keys.iter().filter_map(|key| table.get(key)) {
        let message = told!(
            "{of} has no {field}; it belongs to {fits}",
            of,
            field = field.name,
            fits
        );
        field.problems.add(
            Some(field.at),
            message,
            Some(told!("take out {field}", field = field.name)),
        );
    }
}
