//! What a calibration rests on: at each step the flow, and what each gauge shows, as a head at its tap.

use super::knobs::{Knobs, ParameterOf};
use super::line_up::LineUp;
use super::taps::{TapPlace, tap_place, usual_tap};
use crate::cells::{SpeedKey, UsedColumn};
use crate::meters::{ColumnMeter, PART_OF_THE_FLOW, column_meters};
use crate::result::TestResult;
use crate::steps::repeated;
use metrology::Estimate;
use numerics::elementary::ln;
use records::{Cell, Measured, Site, Tap, Test};
use std::collections::BTreeMap;

/// Half-width of the height of a gauge where the site does not state it, m: a pad is about as high as a person reaches.
/// Common practice, no source.
const HEIGHT_HALF_WIDTH_M: f64 = 1.0;

/// A step whose flow is known.
#[derive(Clone, Debug)]
pub(crate) struct Stepped {
    /// Which of the tests.
    pub(crate) test: usize,
    /// The speed, rpm.
    pub(crate) speed_rpm: f64,
    /// The flow, m³/s.
    pub(crate) flow_m3s: f64,
    /// What all steps share of its standard uncertainty, in the logarithm.
    pub(crate) common_u_ln: f64,
    /// What is its own.
    pub(crate) own_u_ln: f64,
    /// The number of what the flow meter is off by.
    pub(crate) meter: usize,
}

/// A gauge at a step.
#[derive(Clone, Debug)]
pub(crate) struct Gauged {
    /// Which of the steps.
    pub(crate) step: usize,
    /// Where it is tapped.
    pub(crate) tap: Tap,
    /// That place in the network.
    pub(crate) place: TapPlace,
    /// Pressure as a head above the pool, m.
    pub(crate) head_m: f64,
    /// What all readings of the gauge share of its standard uncertainty, m.
    pub(crate) common_u_m: f64,
    /// What is its own, m.
    pub(crate) own_u_m: f64,
    /// The number of what the gauge is off by.
    pub(crate) meter: usize,
    /// The number of what its height is off by, with the standard uncertainty of the height, m.
    pub(crate) height: Option<(usize, f64)>,
}

/// The flow in one line at a step, by a meter that sits on it.
#[derive(Clone, Debug)]
pub(crate) struct Branched {
    /// Which of the steps.
    pub(crate) step: usize,
    /// Which of the lines.
    pub(crate) line: usize,
    /// Logarithm of the flow, in m³/s.
    pub(crate) ln_m3s: f64,
    /// What all readings of the meter share of its standard uncertainty, in the logarithm.
    pub(crate) common_u_ln: f64,
    /// What is its own.
    pub(crate) own_u_ln: f64,
    /// The number of what the meter is off by.
    pub(crate) meter: usize,
}

/// All that was read.
#[derive(Clone, Debug, Default)]
pub(crate) struct Data {
    /// The steps.
    pub(crate) steps: Vec<Stepped>,
    /// The gauges.
    pub(crate) gauges: Vec<Gauged>,
    /// The flows in single lines.
    pub(crate) branches: Vec<Branched>,
}

impl Data {
    /// Gathers what a test says.
    pub(crate) fn add(
        &mut self,
        site: &Site,
        (index, test): (usize, &Test),
        result: &TestResult,
        line_up: &LineUp,
        knobs: &mut Knobs,
    ) {
        let meters = column_meters(site, test);
        let first = self.steps.len();
        self.add_steps(index, test, result, &meters, knobs);
        self.add_branches(site, test, result, &meters, (first, knobs));
        let columns = test.readings.columns.iter().enumerate();
        for (column, of) in columns {
            let meter = &meters[column];
            let Some(tap) = usual_tap(of.measured).map(|usual| meter.tap.unwrap_or(usual)) else {
                continue;
            };
            let Some(place) = tap_place(site, &line_up.network, tap) else {
                continue;
            };
            let readings = readings(test, result, column, meter);
            for step in first..self.steps.len() {
                let read = readings.get(&SpeedKey::new(self.steps[step].speed_rpm));
                let gauged = read.map(|read| {
                    gauged(
                        (step, tap, place.clone()),
                        (*read, of.measured),
                        (of.name(), meter),
                        line_up,
                        knobs,
                    )
                });
                self.gauges.extend(gauged);
            }
        }
    }

    fn add_steps(
        &mut self,
        index: usize,
        test: &Test,
        result: &TestResult,
        meters: &[ColumnMeter],
        knobs: &mut Knobs,
    ) {
        let whole: Vec<usize> = (0..meters.len())
            .filter(|column| {
                test.readings.columns[*column].measured == Measured::Flow
                    && meters[*column].excluded.is_none()
            })
            .collect();
        let Some(share) = whole
            .first()
            .map(|column| meters[*column].instrument.share_common)
        else {
            return;
        };
        let names = whole.iter().map(|it| test.readings.columns[*it].name());
        let ids: Option<Vec<&str>> = whole.iter().map(|it| meters[*it].id.as_deref()).collect();
        let id = ids.map(|ids| ids.join(", "));
        let meter = knobs.meter(names.collect::<Vec<_>>().join(", "), id.as_deref());
        for step in &result.steps {
            let Some(flow) = step.flow_m3s.filter(|flow| flow.value > 0.0) else {
                continue;
            };
            let variance = flow.relative_u() * flow.relative_u();
            self.steps.push(Stepped {
                test: index,
                speed_rpm: step.speed_rpm,
                flow_m3s: flow.value,
                common_u_ln: (share * variance).sqrt(),
                own_u_ln: ((1.0 - share) * variance).sqrt(),
                meter,
            });
        }
    }
}

impl Data {
    /// Adds what meters on single lines read, at the steps from the first of this test on.
    fn add_branches(
        &mut self,
        site: &Site,
        test: &Test,
        result: &TestResult,
        meters: &[ColumnMeter],
        (first, knobs): (usize, &mut Knobs),
    ) {
        for (column, of) in test.readings.columns.iter().enumerate() {
            let meter = &meters[column];
            if of.measured != Measured::Flow || meter.excluded != Some(PART_OF_THE_FLOW) {
                continue;
            }
            let on = meter.on.as_ref();
            let line = on.and_then(|on| site.lines.iter().position(|line| line.name == *on));
            let open = |line: &usize| !test.head.closed.contains(&site.lines[*line].name);
            let Some(line) = line.filter(open) else {
                continue;
            };
            let readings = readings(test, result, column, meter);
            for step in first..self.steps.len() {
                let read = readings.get(&SpeedKey::new(self.steps[step].speed_rpm));
                let Some(read) = read.filter(|read| read.value > 0.0) else {
                    continue;
                };
                let common_u_ln = meter.instrument.common_u(read.value) / read.value;
                let u_ln = read.relative_u();
                self.branches.push(Branched {
                    step,
                    line,
                    ln_m3s: ln(read.value),
                    common_u_ln,
                    own_u_ln: (u_ln * u_ln - common_u_ln * common_u_ln).max(0.0).sqrt(),
                    meter: knobs.meter(of.name(), meter.id.as_deref()),
                });
            }
        }
    }
}

/// Estimates a meter at each speed from its readings that count, or that do not only because it sees a part of the flow.
fn readings(
    test: &Test,
    result: &TestResult,
    column: usize,
    meter: &ColumnMeter,
) -> BTreeMap<SpeedKey, Estimate> {
    let of = &test.readings.columns[column];
    let name = of.name();
    let counts = |line: usize| {
        let mut uses = result.readings.iter();
        let in_part = |why: Option<&'static str>| why == Some(PART_OF_THE_FLOW);
        uses.any(|it| (it.used || in_part(it.why)) && it.row == line && it.column == name)
    };
    let mut values: BTreeMap<SpeedKey, Vec<f64>> = BTreeMap::new();
    for row in test.readings.rows.iter().filter(|row| row.speed_rpm > 0.0) {
        if let Some(Cell::Value { si, .. }) = row.cells.get(column)
            && counts(row.line)
        {
            let of_speed = values.entry(SpeedKey::new(row.speed_rpm)).or_default();
            of_speed.push(*si);
        }
    }
    let used = UsedColumn {
        index: column,
        measured: of.measured,
        meter,
        widening: 1.0,
    };
    values
        .into_iter()
        .filter_map(|(key, values)| Some((key, repeated(used, values.into_iter())?)))
        .collect()
}

/// Turns a reading of a gauge into a head at its tap.
fn gauged(
    (step, tap, place): (usize, Tap, TapPlace),
    (read, measured): (Estimate, Measured),
    (column, meter): (String, &ColumnMeter),
    line_up: &LineUp,
    knobs: &mut Knobs,
) -> Gauged {
    let weight = line_up.around.specific_weight();
    let sign = if measured == Measured::InletVacuum {
        -1.0
    } else {
        1.0
    };
    let common_u_m = meter.instrument.common_u(read.value) / weight;
    let u_m = read.u / weight;
    // The pump's own height stands in for that of a gauge on its pot.
    let near_pump = matches!(tap, Tap::PumpPot | Tap::SuctionPipe | Tap::PumpOutlet);
    let of_pump = line_up.around.pump_m.filter(|_| near_pump);
    let height_m = meter.height_m.or(of_pump);
    let height = height_m.is_none().then(|| {
        let of = ParameterOf::GaugeHeight {
            column: column.clone(),
        };
        (
            knobs.add(of, 0.0, 1.0),
            HEIGHT_HALF_WIDTH_M / 3.0_f64.sqrt(),
        )
    });
    Gauged {
        step,
        tap,
        place,
        head_m: sign * read.value / weight + height_m.unwrap_or(0.0),
        common_u_m,
        own_u_m: (u_m * u_m - common_u_m * common_u_m).max(0.0).sqrt(),
        meter: knobs.meter(column, meter.id.as_deref()),
        height,
    }
}
