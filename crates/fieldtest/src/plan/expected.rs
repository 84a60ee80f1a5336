//! What is foreseen at a speed with some lines shut: by an earlier test's laws, by the plumbing and the maker's curve, or, where
//! neither says anything, roughly by what such pumps do.

use super::refusal::PlanNote;
use super::{PlanQuestion, PlannedColumn};
use crate::blank::blank_test;
use crate::calibration::{
    FlowForecast, Forecaster, HeadForecast, OpenCalibration, calibrate_openly,
};
use crate::expectation::{Expectation, ExpectedBy, expectations};
use crate::limits::pad_rules;
use crate::meters::{ColumnMeter, column_meters};
use crate::network::NetworkProblem;
use crate::pump_curve::pump_curve;
use crate::result::{Analysis, TestResult};
use crate::rules::Rule;
use crate::surroundings::Surroundings;
use metrology::Estimate;
use records::{Cell, Column, Measured, Row, Site, Tap, Test};
use std::cell::RefCell;
use std::collections::BTreeMap;

/// The name of a test that is planned.
pub(super) const PLANNED: &str = "plan";
/// Standard uncertainty of the height of a gauge that is not stated, m: ±1 m. Common practice, no source.
const HEIGHT_U_M: f64 = 1.0 / 1.732_050_807_568_877_2;
/// How much more than its maker's curve a pump may lift. Common practice, no source.
const ABOVE_CURVE: f64 = 1.1;
/// Standard uncertainties to the end of a 95 % interval.
const REACH: f64 = 1.959_963_984_540_054;
/// Wire-to-water efficiencies between which a pump runs in the middle of its curve, and what electronics and an idling motor draw at
/// most, W. Common practice, no source.
const BEST_EFFICIENCY: f64 = 0.75;
const WORST_EFFICIENCY: f64 = 0.2;
const MOST_FIXED_W: f64 = 250.0;
/// Two foreseen flows further apart than this, in standard uncertainties of the difference, cannot both be.
const CONTRADICTION: f64 = 3.0;

/// What can be foreseen of a site.
pub(super) struct Foresight<'a> {
    pub(super) site: &'a Site,
    pub(super) tests: &'a [Test],
    pub(super) columns: &'a [PlannedColumn],
    pub(super) analysis: Option<Analysis>,
    pub(super) meters: Vec<ColumnMeter>,
    /// The rating of the vessels.
    pub(super) rating: Option<Rule>,
    pub(super) around: Option<Surroundings>,
    question: PlanQuestion<'a>,
    open: Option<OpenCalibration>,
    base: Result<Forecaster<'a>, NetworkProblem>,
    /// What was foreseen before, by speed and shut lines: a step is looked at from several sides.
    seen: RefCell<BTreeMap<(u64, Vec<String>), At>>,
}

/// What is foreseen of one step.
#[derive(Clone)]
pub(super) struct At {
    /// What each meter should read.
    pub(super) expected: Vec<Expectation>,
    /// Gauge pressure in the filter vessel at the height of the water, Pa.
    pub(super) vessel: Option<Estimate>,
    /// Flow of the pump, m³/s.
    pub(super) flow: Option<Estimate>,
    /// Head of the pump, m.
    pub(super) head: Option<HeadForecast>,
    /// Head at the pump's inlet, m above the water.
    pub(super) inlet: Option<HeadForecast>,
    /// The part of the flow in each line.
    pub(super) divided: Option<Vec<f64>>,
    /// What the pump asks for above boiling, m.
    pub(super) npsh_required_m: Option<f64>,
}

impl<'a> Foresight<'a> {
    pub(super) fn of(
        site: &'a Site,
        tests: &'a [Test],
        columns: &'a [PlannedColumn],
        question: &PlanQuestion<'a>,
    ) -> Self {
        let analysis = (!tests.is_empty()).then(|| crate::analyze(site, tests));
        let highest = analysis
            .as_ref()
            .and_then(|it| Some(it.tests.last()?.steps.last()?.speed_rpm));
        let open = analysis.as_ref().zip(highest);
        let open = open.and_then(|(it, at_rpm)| calibrate_openly(site, tests, it, at_rpm).ok());
        let typed: Vec<Column> = columns.iter().map(|column| column.column.clone()).collect();
        let around = Surroundings::of(site, None).ok().map(|(around, _)| around);
        let planned = planned_test(question.closed, question.throttled, typed.clone());
        Self {
            site,
            tests,
            columns,
            meters: column_meters(site, &planned),
            rating: around.and_then(|around| pad_rules(site, &around).vessel_pressure),
            around,
            base: Forecaster::of(site, &planned, open.as_ref()),
            question: *question,
            seen: RefCell::default(),
            analysis,
            open,
        }
    }

    /// The lines that are shut.
    pub(super) fn closed(&self) -> &'a [String] {
        self.question.closed
    }

    pub(super) fn throttled(&self) -> &'a [String] {
        self.question.throttled
    }

    /// The last test, where its valves stood as those of the plan.
    pub(super) fn like(&self, closed: &[String]) -> Option<(&'a Test, &TestResult)> {
        let test = self.tests.last()?;
        let result = self.analysis.as_ref()?.tests.last()?;
        let same = |a: &[String], b: &[String]| {
            a.len() == b.len() && a.iter().all(|line| b.contains(line))
        };
        let is_like =
            same(&test.head.closed, closed) && same(&test.head.throttled, self.question.throttled);
        is_like.then_some((test, result))
    }

    /// Foresees a step with these lines shut; `row` is its place.
    pub(super) fn at(&self, speed_rpm: f64, closed: &[String], row: usize) -> At {
        let key = (speed_rpm.to_bits(), closed.to_vec());
        let seen = self.seen.borrow().get(&key).cloned();
        let mut at = seen.unwrap_or_else(|| {
            let at = self.look(speed_rpm, closed);
            self.seen.borrow_mut().insert(key, at.clone());
            at
        });
        for expected in &mut at.expected {
            expected.row = row;
        }
        at
    }

    fn look(&self, speed_rpm: f64, closed: &[String]) -> At {
        let row = 0;
        let other = (closed != self.question.closed).then(|| {
            let test = planned_test(closed, self.question.throttled, Vec::new());
            Forecaster::of(self.site, &test, self.open.as_ref())
        });
        let forecaster = other.as_ref().unwrap_or(&self.base).as_ref().ok();
        let flow = forecaster.and_then(|it| Some((it, self.flow(it, speed_rpm, closed)?)));
        let mut at = At {
            expected: self.by_readings(speed_rpm, closed, row),
            vessel: None,
            flow: flow.as_ref().and_then(|(it, flow)| it.estimate(flow)),
            head: None,
            inlet: None,
            divided: flow.as_ref().and_then(|(it, flow)| it.divided(flow)),
            npsh_required_m: None,
        };
        if let Some((forecaster, flow)) = &flow {
            self.by_plumbing(forecaster, flow, (speed_rpm, row), &mut at);
        }
        at.vessel = at
            .vessel
            .or_else(|| self.vessel_otherwise(speed_rpm, &at.expected));
        at
    }

    /// The flow at a speed: by the law of an earlier test with the same valves, else by curve and plumbing.
    fn flow(
        &self,
        forecaster: &Forecaster<'_>,
        speed_rpm: f64,
        closed: &[String],
    ) -> Option<FlowForecast> {
        let law = self
            .like(closed)
            .and_then(|(_, result)| result.laws.flow.as_ref());
        let by_law = law.and_then(|law| law.law.predict(speed_rpm));
        match by_law {
            Some(flow) => Some(forecaster.given(flow)),
            None => forecaster.flow(speed_rpm),
        }
    }

    /// What the readings of an earlier test foresee, or what such pumps do.
    fn by_readings(&self, speed_rpm: f64, closed: &[String], row: usize) -> Vec<Expectation> {
        let like = self.like(closed).map(|(test, _)| test.clone());
        let typed = self.columns.iter().map(|column| column.column.clone());
        let mut test =
            like.unwrap_or_else(|| planned_test(closed, self.question.throttled, typed.collect()));
        let line = test
            .readings
            .rows
            .iter()
            .map(|row| row.line)
            .max()
            .unwrap_or(1)
            + 1;
        test.readings.rows.push(Row {
            line,
            speed_rpm,
            cells: vec![Cell::Empty; test.readings.columns.len()],
            note: String::new(),
        });
        let last = test.readings.rows.len() - 1;
        let found = expectations(self.site, &test)
            .into_iter()
            .filter(|it| it.row == last);
        let placed = found.filter_map(|it| {
            let of = &test.readings.columns[it.column];
            let mut columns = self.columns.iter();
            let column = columns.position(|column| {
                column.column.measured == of.measured && column.column.meter == of.meter
            })?;
            Some(Expectation { row, column, ..it })
        });
        placed.collect()
    }

    /// Puts what the plumbing foresees in the place of what is only rough.
    fn by_plumbing(
        &self,
        forecaster: &Forecaster<'_>,
        flow: &FlowForecast,
        (speed_rpm, row): (f64, usize),
        at: &mut At,
    ) {
        let gauges: Vec<(usize, Tap)> = (0..self.columns.len())
            .filter_map(|column| Some((column, self.tap(column)?)))
            .collect();
        let mut taps: Vec<Tap> = gauges.iter().map(|(_, tap)| *tap).collect();
        taps.extend([Tap::FilterInlet, Tap::PumpPot]);
        let Some((total, heads)) = forecaster.heads(flow, &taps) else {
            return;
        };
        let weight = forecaster.around().specific_weight();
        let [.., vessel, inlet] = heads.as_slice() else {
            return;
        };
        at.head = Some(total);
        at.inlet = *inlet;
        at.vessel = vessel.and_then(|it| Estimate::normal(weight * it.head_m, weight * it.u_m));
        at.npsh_required_m = forecaster.npsh_required_m(flow.flow_m3s, speed_rpm);
        let mut put = |column: usize, si: Option<Estimate>| {
            let Some(si) = si else { return };
            let known = at.expected.iter().position(|it| it.column == column);
            if known.is_some_and(|known| at.expected[known].by == ExpectedBy::Law) {
                return;
            }
            let by = Expectation {
                row,
                column,
                si,
                by: ExpectedBy::Plumbing,
                doubt: None,
            };
            match known {
                Some(known) => at.expected[known] = by,
                None => at.expected.push(by),
            }
        };
        for ((column, _), head) in gauges.iter().zip(&heads) {
            put(
                *column,
                head.and_then(|head| self.gauge(*column, head, weight)),
            );
        }
        for column in 0..self.columns.len() {
            if self.columns[column].column.measured == Measured::Flow {
                let part = self.part(column, at.divided.as_deref());
                let si = part.and_then(|part| Some(at.flow?.scaled(part)));
                put(column, si.and_then(|si| self.metered(column, si)));
            }
        }
        self.bound_power(total, at);
        numerics::order::sort_by_key(&mut at.expected, |it| it.column);
    }

    /// Narrows a rough band of power by what the water takes.
    fn bound_power(&self, total: HeadForecast, at: &mut At) {
        let Some((flow, around)) = at.flow.zip(self.around) else {
            return;
        };
        let weight = around.specific_weight();
        let (low_m, high_m) = (
            total.head_m - REACH * total.u_m,
            total.head_m + REACH * total.u_m,
        );
        let least_w = weight * flow.low * low_m.max(0.0) / BEST_EFFICIENCY;
        let most_w = weight * flow.high * high_m / WORST_EFFICIENCY + MOST_FIXED_W;
        for it in &mut at.expected {
            let is_power = self.columns[it.column].column.measured == Measured::Power;
            if !is_power || it.by == ExpectedBy::Law {
                continue;
            }
            let (low, high) = (it.si.low.max(least_w), it.si.high.min(most_w));
            let narrowed = Estimate::from_interval(0.5 * (low + high), low, high);
            it.si = narrowed.filter(|_| low < high).unwrap_or(it.si);
        }
    }

    /// The part of the flow that a flow meter sees; `None` where its line carries none.
    fn part(&self, column: usize, divided: Option<&[f64]>) -> Option<f64> {
        let Some(on) = &self.meters[column].on else {
            return Some(1.0);
        };
        let line = self.site.lines.iter().position(|line| line.name == *on)?;
        divided?.get(line).copied().filter(|part| *part > 0.0)
    }

    /// The tap of a gauge.
    fn tap(&self, column: usize) -> Option<Tap> {
        let usual = match self.columns[column].column.measured {
            Measured::FilterPressure => Tap::FilterInlet,
            Measured::InletVacuum | Measured::InletPressure => Tap::PumpPot,
            _ => return None,
        };
        Some(self.meters[column].tap.unwrap_or(usual))
    }

    /// What a gauge shows of a head, its own error and that of its height included.
    fn gauge(&self, column: usize, head: HeadForecast, weight: f64) -> Option<Estimate> {
        let meter = &self.meters[column];
        let near_pump = matches!(
            self.tap(column)?,
            Tap::PumpPot | Tap::SuctionPipe | Tap::PumpOutlet
        );
        let of_pump = self
            .around
            .and_then(|around| around.pump_m)
            .filter(|_| near_pump);
        let height_m = meter.height_m.or(of_pump);
        let sign = if self.columns[column].column.measured == Measured::InletVacuum {
            -1.0
        } else {
            1.0
        };
        let si = sign * weight * (head.head_m - height_m.unwrap_or(0.0));
        let by_height = if height_m.is_some() { 0.0 } else { HEIGHT_U_M };
        let of_pad = weight * (head.u_m * head.u_m + by_height * by_height).sqrt();
        let of_meter = meter.instrument.accuracy_u(si);
        Estimate::normal(si, (of_pad * of_pad + of_meter * of_meter).sqrt())
    }

    /// What a flow meter shows of a flow, its own error included.
    fn metered(&self, column: usize, flow: Estimate) -> Option<Estimate> {
        let of_meter = self.meters[column].instrument.accuracy_u(flow.value) / flow.value;
        let of_pad = numerics::elementary::ln(flow.high / flow.low) / (2.0 * REACH);
        Estimate::log_normal(
            numerics::elementary::ln(flow.value),
            (of_pad * of_pad + of_meter * of_meter).sqrt(),
        )
    }

    /// The pressure in the vessel where the plumbing says nothing: by the gauge of an earlier test, else by the shutoff head of the
    /// maker's curve, which no flow exceeds.
    fn vessel_otherwise(&self, speed_rpm: f64, expected: &[Expectation]) -> Option<Estimate> {
        let weight = self.around?.specific_weight();
        let read = expected.iter().find(|it| {
            it.by == ExpectedBy::Neighbours
                && self.columns[it.column].column.measured == Measured::FilterPressure
        });
        if let Some(read) = read {
            let rise = weight * self.meters[read.column].height_m.unwrap_or(0.0).max(0.0);
            return Estimate::from_interval(
                read.si.value + rise,
                read.si.low + rise,
                read.si.high + rise,
            );
        }
        let curve = pump_curve(self.site)?.ok()?;
        let highest = weight * ABOVE_CURVE * curve.head_and_slope(0.0, speed_rpm).head_m;
        Estimate::from_interval(0.5 * highest, 0.0, highest)
    }

    /// What stands in the way of foresight.
    pub(super) fn notes(&self) -> Vec<PlanNote> {
        let mut notes = Vec::new();
        let has_law = self
            .like(self.closed())
            .is_some_and(|(_, result)| result.laws.flow.is_some());
        match &self.base {
            Err(problem) => notes.push(PlanNote::NotForeseen(Box::new(problem.clone()))),
            Ok(base) if !has_law && base.flow(self.site.pump.speed.max.si).is_none() => {
                notes.push(PlanNote::NoCurve);
            }
            Ok(_) => {}
        }
        notes.extend(self.contradiction());
        let reads = |measured: Measured| {
            self.columns
                .iter()
                .any(|column| column.column.measured == measured)
        };
        notes.extend((!reads(Measured::Flow)).then_some(PlanNote::NothingReads { flow: true }));
        notes.extend((!reads(Measured::Power)).then_some(PlanNote::NothingReads { flow: false }));
        notes
    }

    /// Finds whether the last test and the stated plumbing foresee flows that cannot both be.
    fn contradiction(&self) -> Option<PlanNote> {
        let (test, result) = self.like(self.closed())?;
        let speed_rpm = result.steps.last()?.speed_rpm;
        let by_test = result.laws.flow.as_ref()?.law.predict(speed_rpm)?;
        let stated = planned_test(&test.head.closed, &test.head.throttled, Vec::new());
        let stated = Forecaster::of(self.site, &stated, None).ok()?;
        let by_plumbing = stated.estimate(&stated.flow(speed_rpm)?)?;
        let apart = numerics::elementary::ln(by_test.value / by_plumbing.value).abs();
        let (a, b) = (by_test.relative_u(), by_plumbing.relative_u());
        (apart > CONTRADICTION * (a * a + b * b).sqrt()).then_some(PlanNote::Contradiction {
            speed_rpm,
            by_test,
            by_plumbing,
        })
    }
}

/// Makes the test that is planned, without rows.
pub(super) fn planned_test(closed: &[String], throttled: &[String], columns: Vec<Column>) -> Test {
    let mut test = blank_test(PLANNED, closed, columns);
    test.head.throttled = throttled.to_vec();
    test
}
