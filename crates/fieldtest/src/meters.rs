//! Which meter reads a column, and what that meter is worth.

use crate::circuit::passage;
use crate::result::Passage;
use metrology::{AccuracyLimit, Instrument};
use records::{Cell, Column, Measured, Meter, MeterKind, MeterOf, Readings, Site, Tap, Test};

/// The part of a meter's variance that all its readings share, where the site does not say: most of what a
/// meter is off by, it is off by everywhere. Common practice, no source.
const SHARE_COMMON: f64 = 0.7;

/// One pound-force per square inch, Pa (NIST SP 811, appendix B.8).
const PSI_PA: f64 = 6894.757293168361;
/// One inch of mercury at 0 °C, Pa (NIST SP 811, appendix B.8).
const INHG_PA: f64 = 3386.389;

/// A column of readings with the instrument behind it.
#[derive(Clone, Debug)]
pub(crate) struct ColumnMeter {
    /// The meter's id, where the site declares one.
    pub id: Option<String>,
    /// What it is worth.
    pub instrument: Instrument,
    /// The line that a flow meter sits on, where the site states one.
    pub on: Option<String>,
    /// Why the column does not enter what is said of the whole pump.
    pub excluded: Option<&'static str>,
    /// Whether it is the pump's own display.
    pub is_pump_display: bool,
    /// Where a gauge is tapped.
    pub tap: Option<Tap>,
    /// The height of a gauge above the water, m.
    pub height_m: Option<f64>,
    /// Half-width as a share of the reading, where the accuracy is the usual one rather than stated.
    pub assumed_of_reading: Option<f64>,
}

/// Why a column does not enter what is said of the whole pump: its meter sees a part of the flow.
pub(crate) const PART_OF_THE_FLOW: &str = "part-of-the-flow";
/// Why a column does not enter: the pump computes its flow from its own power.
const NOT_INDEPENDENT: &str = "not-independent";

/// Finds the instruments behind all columns of the readings of a test.
pub(crate) fn column_meters(site: &Site, test: &Test) -> Vec<ColumnMeter> {
    let readings = &test.readings;
    let columns = 0..readings.columns.len();
    let mut meters: Vec<ColumnMeter> = columns
        .map(|index| column_meter(site, readings, index))
        .collect();
    for meter in &mut meters {
        let line = meter
            .on
            .as_ref()
            .and_then(|on| site.lines.iter().find(|line| line.name == *on));
        if line.is_some_and(|line| passage(site, line, &test.head.closed) != Passage::Whole) {
            meter.excluded = Some(PART_OF_THE_FLOW);
        }
    }
    set_displays_aside(readings, &mut meters);
    meters
}

/// Sets a flow that the pump computes from its own power aside, wherever a meter of its own reads the flow.
fn set_displays_aside(readings: &Readings, meters: &mut [ColumnMeter]) {
    let is_flow = |index: usize| readings.columns[index].measured == Measured::Flow;
    let has_own = (0..meters.len()).any(|index| {
        is_flow(index) && meters[index].excluded.is_none() && !meters[index].is_pump_display
    });
    for (index, meter) in meters.iter_mut().enumerate() {
        if has_own && is_flow(index) && meter.is_pump_display {
            meter.excluded = Some(NOT_INDEPENDENT);
        }
    }
}

/// Finds the instrument behind column `index` of the readings.
fn column_meter(site: &Site, readings: &Readings, index: usize) -> ColumnMeter {
    let column = &readings.columns[index];
    let meter = declared(site, column);
    let stated = meter.filter(|meter| !meter.accuracy.is_empty());
    let kind = meter.and_then(|meter| meter.kind);
    let full_scale = meter
        .and_then(|meter| meter.range.as_ref())
        .map_or_else(|| largest(readings, index), |range| range[1].si);
    let limits = stated.map_or_else(
        || usual_limits(column.measured, kind, full_scale),
        |meter| stated_limits(meter, full_scale),
    );
    let assumed = stated.is_none() && limits.iter().any(|limit| limit.of_reading > 0.0);
    ColumnMeter {
        id: meter.map(|meter| meter.id.clone()),
        assumed_of_reading: assumed.then(|| {
            let squares = limits
                .iter()
                .map(|limit| limit.of_reading * limit.of_reading);
            squares.sum::<f64>().sqrt()
        }),
        on: meter.and_then(|meter| meter.on.clone()),
        excluded: None,
        is_pump_display: kind == Some(MeterKind::PumpDisplay),
        tap: meter.and_then(|meter| meter.tap),
        height_m: meter
            .and_then(|meter| meter.height.as_ref())
            .map(|height| height.si),
        instrument: Instrument {
            limits,
            coverage: stated.and_then(|meter| meter.coverage),
            resolution: meter
                .and_then(|meter| meter.resolution.as_ref())
                .map_or_else(|| shown_resolution(readings, index), |quantity| quantity.si),
            range: meter
                .and_then(|meter| meter.range.as_ref())
                .map(|range| (range[0].si, range[1].si)),
            share_common: meter
                .and_then(|meter| meter.share_common)
                .unwrap_or(SHARE_COMMON),
        },
    }
}

/// Finds the meter that a column names, or the only one of its kind.
fn declared<'a>(site: &'a Site, column: &Column) -> Option<&'a Meter> {
    let of = match column.measured {
        Measured::Flow => MeterOf::Flow,
        Measured::Power => MeterOf::Power,
        Measured::Current => MeterOf::Current,
        Measured::Voltage => MeterOf::Voltage,
        Measured::FilterPressure | Measured::InletPressure => MeterOf::Pressure,
        Measured::InletVacuum => MeterOf::Vacuum,
        Measured::Speed | Measured::Head | Measured::Time => return None,
    };
    let mut candidates = site.meters.iter().filter(|meter| meter.measures == of);
    match &column.meter {
        Some(id) => candidates.find(|meter| meter.id == *id),
        None => candidates.next().filter(|_| candidates.next().is_none()),
    }
}

fn stated_limits(meter: &Meter, full_scale: f64) -> Vec<AccuracyLimit> {
    meter
        .accuracy
        .iter()
        .map(|limit| AccuracyLimit {
            of_reading: limit.of_reading,
            absolute: limit.absolute_si + limit.of_full_scale * full_scale,
        })
        .collect()
}

/// One limit of what a kind of meter usually is worth; several are independent of one another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum UsualLimit {
    /// A share of the reading.
    OfReading(f64),
    /// A share of the reading that the uncertain bore of a pipe brings in, which such a meter does not see.
    OfBore(f64),
    /// A share of the largest value that the meter shows.
    OfFullScale(f64),
    /// An amount, SI.
    Amount(f64),
}

/// Returns what a kind of meter usually is worth, where its accuracy is not stated.
///
/// # Source
/// Common practice, no source; float meters 2-5 % of full scale: US Bureau of Reclamation, Water Measurement Manual, 14.8.
pub fn usual_accuracy(measured: Measured, kind: Option<MeterKind>) -> &'static [UsualLimit] {
    use UsualLimit::{Amount, OfBore, OfFullScale, OfReading};
    match (measured, kind) {
        (Measured::Flow, Some(MeterKind::Float)) => &[OfFullScale(0.05)],
        // The sound path, and a bore that is 1 % uncertain.
        (Measured::Flow, Some(MeterKind::ClampOn)) => &[OfReading(0.02), OfBore(0.02)],
        (Measured::Flow, Some(MeterKind::Magnetic)) => &[OfReading(0.01)],
        (Measured::Flow, Some(MeterKind::PumpDisplay)) => &[OfReading(0.10)],
        (Measured::Flow, _) => &[OfReading(0.03)],
        // Who does not say which meter it was has mostly read the pump's own display.
        (Measured::Power, None | Some(MeterKind::PumpDisplay)) => &[OfReading(0.05)],
        // A drive's current is far from a sine; the rectified mean tells little of its effective value.
        (Measured::Power | Measured::Current, Some(MeterKind::AverageRms)) => &[OfReading(0.15)],
        (Measured::Power | Measured::Current | Measured::Voltage, _) => &[OfReading(0.02)],
        (Measured::FilterPressure | Measured::InletPressure, _) => &[Amount(0.03 * 60.0 * PSI_PA)],
        (Measured::InletVacuum, _) => &[Amount(0.9 * INHG_PA)],
        (Measured::Speed | Measured::Head | Measured::Time, _) => &[],
    }
}

/// Returns the usual accuracy of a kind of meter as limits of an instrument.
fn usual_limits(
    measured: Measured,
    kind: Option<MeterKind>,
    full_scale: f64,
) -> Vec<AccuracyLimit> {
    let limit = |usual: &UsualLimit| {
        let (of_reading, absolute) = match usual {
            UsualLimit::OfReading(share) | UsualLimit::OfBore(share) => (*share, 0.0),
            UsualLimit::OfFullScale(share) => (0.0, share * full_scale),
            UsualLimit::Amount(amount) => (0.0, *amount),
        };
        AccuracyLimit {
            of_reading,
            absolute,
        }
    };
    usual_accuracy(measured, kind).iter().map(limit).collect()
}

/// Returns the largest reading of a column, the least that its full scale can be.
fn largest(readings: &Readings, index: usize) -> f64 {
    let values = readings
        .rows
        .iter()
        .filter_map(|row| match row.cells.get(index) {
            Some(Cell::Value { si, .. }) => Some(*si),
            _ => None,
        });
    values.fold(0.0, f64::max)
}

/// Returns the smallest difference that the typed digits of a column can show.
fn shown_resolution(readings: &Readings, index: usize) -> f64 {
    let Some(unit) = readings.columns[index].unit else {
        return 0.0;
    };
    let decimals = readings
        .rows
        .iter()
        .filter_map(|row| match row.cells.get(index) {
            Some(Cell::Value { text, .. }) => Some(decimals(text)),
            _ => None,
        });
    let places = decimals.max().unwrap_or(0);
    unit.factor / numerics::elementary::pow_whole(10.0, places)
}

/// Counts the digits behind the decimal mark.
fn decimals(text: &str) -> u32 {
    let behind = text
        .trim()
        .split_once(['.', ','])
        .map_or("", |(_, behind)| behind);
    let digits = behind.chars().take_while(char::is_ascii_digit).count();
    u32::try_from(digits.min(9)).unwrap_or(9)
}
