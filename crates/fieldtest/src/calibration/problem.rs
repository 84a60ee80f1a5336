//! The calibration as a least-squares problem: what the circuit says of each reading, with its slope in each sought number, and
//! what the readings are worth.
//!
//! The circuit is driven by the flow that was read, so suction and discharge stay apart and no curve is needed. What the flow
//! meter is off by everywhere is a sought number; what each of its readings is off by widens the heads of that step.

use super::data::{Data, Gauged};
use super::knobs::Knobs;
use super::line_up::LineUp;
use super::operating::Seen;
use hydraulics::circuit::Start;
use hydraulics::pump::PumpCurve;
use metrology::Curve;
use numerics::elementary::{exp, ln};
use numerics::linear::Matrix;
use records::Tap;
use std::cell::{Ref, RefCell};

/// Standard deviation of the smooth distance of a real pad from the laws of its parts, as a share of head; and how far it stays
/// alike, in the logarithm of flow. As for the law of the circuit: common practice, no source.
pub(crate) const DISCREPANCY: f64 = 0.02;
pub(crate) const LENGTH: f64 = 0.7;
/// No head is read closer than this, m: what a needle or a last digit can be held still.
const LEAST_OWN_M: f64 = 5e-3;

/// The least flow of a line whose logarithm is taken, m³/s.
const TRICKLE_M3S: f64 = 1e-7;

/// What a row of the problem is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum RowOf {
    /// A gauge, by its place in the data.
    Gauge(usize),
    /// The flow in one line, by its place in the data: its logarithm stands in for a head.
    Branch(usize),
    /// Head of the maker's curve against that of the circuit.
    Curve,
}

/// The place whose smooth distance from the laws a row has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Alike {
    At(Tap),
    In(usize),
    Pump,
}

/// A change of the pump between visits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct PumpChange {
    /// The test in which it stands.
    pub(crate) test: usize,
    /// The number: the logarithm of the head over what it was, at the reference speed.
    pub(crate) knob: usize,
    /// The speed of reference where it grows with the square of speed, rpm; `None` where it is the same at every speed.
    pub(crate) growing_to_rpm: Option<f64>,
}

impl PumpChange {
    /// What of the change shows at a speed.
    fn share(&self, speed_rpm: f64) -> f64 {
        self.growing_to_rpm
            .map_or(1.0, |top| speed_rpm * speed_rpm / (top * top))
    }
}

/// A row: a head that was read at a step.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Row {
    /// Which of the steps.
    pub(crate) step: usize,
    /// What it is of.
    pub(crate) of: RowOf,
}

/// What the circuit says at one set of numbers.
#[derive(Clone, Debug, Default)]
pub(crate) struct Said {
    parameters: Vec<f64>,
    /// Each row, m; not a number where the pad has no answer.
    pub(crate) heads_m: Vec<f64>,
    /// Its slope in each number, row after row.
    pub(crate) slopes: Vec<f64>,
    /// Its slope in the logarithm of the flow.
    pub(crate) flow_slopes: Vec<f64>,
    /// The head that laws of parts stand behind, m.
    pub(crate) lost_m: Vec<f64>,
}

/// The problem.
pub(crate) struct Problem {
    /// The sought numbers.
    pub(crate) knobs: Knobs,
    /// What was read.
    pub(crate) data: Data,
    /// The rows, step by step.
    pub(crate) rows: Vec<Row>,
    /// What was read of each row, m.
    pub(crate) read_m: Vec<f64>,
    /// Changes of the pump between visits.
    pub(crate) pump_changes: Vec<PumpChange>,
    curve: Option<(PumpCurve, usize)>,
    line_ups: RefCell<Vec<LineUp>>,
    said: RefCell<Said>,
    /// The flows of each step as they were said last, from where the next search begins: numbers move a little only.
    last_m3s: RefCell<Vec<Vec<f64>>>,
}

impl Problem {
    /// Sets up the rows.
    pub(crate) fn new(
        line_ups: Vec<LineUp>,
        mut knobs: Knobs,
        data: Data,
        curve: Option<PumpCurve>,
    ) -> Self {
        let curve = curve.map(|curve| (curve, knobs.pump()));
        let mut rows = Vec::new();
        for (step, of) in data.steps.iter().enumerate() {
            let gauges = data.gauges.iter().enumerate();
            let gauges = gauges.filter(|(_, gauge)| gauge.step == step);
            rows.extend(gauges.map(|(index, _)| Row {
                step,
                of: RowOf::Gauge(index),
            }));
            let branches = data.branches.iter().enumerate();
            let branches = branches.filter(|(_, branch)| branch.step == step);
            rows.extend(branches.map(|(index, _)| Row {
                step,
                of: RowOf::Branch(index),
            }));
            let within = curve.as_ref().is_some_and(|(curve, _)| {
                let range = curve.range_m3s(of.speed_rpm);
                range.is_some_and(|(_, most)| of.flow_m3s <= most)
            });
            rows.extend(within.then_some(Row {
                step,
                of: RowOf::Curve,
            }));
        }
        let read_m = rows.iter().map(|row| match row.of {
            RowOf::Gauge(gauge) => data.gauges[gauge].head_m,
            RowOf::Branch(branch) => data.branches[branch].ln_m3s,
            RowOf::Curve => 0.0,
        });
        Self {
            read_m: read_m.collect(),
            knobs,
            data,
            rows,
            curve,
            pump_changes: Vec::new(),
            line_ups: RefCell::new(line_ups),
            said: RefCell::default(),
            last_m3s: RefCell::default(),
        }
    }

    /// Looks at the pads with the valves of the tests, as the last numbers turned them.
    pub(crate) fn line_ups(&self) -> &RefCell<Vec<LineUp>> {
        &self.line_ups
    }

    /// Returns the maker's curve, where there is one.
    pub(super) fn curve(&self) -> Option<&PumpCurve> {
        self.curve.as_ref().map(|(curve, _)| curve)
    }

    /// The numbers of which nothing is known but what was known before.
    pub(crate) fn start(&self) -> Vec<f64> {
        self.knobs.priors.iter().map(|prior| prior.mean).collect()
    }

    /// Returns what the circuit says at a set of numbers.
    pub(crate) fn said(&self, parameters: &[f64]) -> Ref<'_, Said> {
        let same = |said: &Said| {
            let pairs = said.parameters.iter().zip(parameters);
            said.parameters.len() == parameters.len()
                && pairs.into_iter().all(|(a, b)| a.to_bits() == b.to_bits())
        };
        if !same(&self.said.borrow()) {
            self.say(parameters);
        }
        self.said.borrow()
    }

    fn say(&self, parameters: &[f64]) {
        let said = &mut *self.said.borrow_mut();
        let (rows, columns) = (self.rows.len(), parameters.len());
        said.parameters = parameters.to_vec();
        for numbers in [&mut said.heads_m, &mut said.flow_slopes, &mut said.lost_m] {
            numbers.clear();
            numbers.resize(rows, f64::NAN);
        }
        said.slopes.clear();
        said.slopes.resize(rows * columns, 0.0);
        self.last_m3s
            .borrow_mut()
            .resize(self.data.steps.len(), Vec::new());
        let mut line_ups = self.line_ups.borrow_mut();
        if line_ups.iter_mut().any(|it| it.turn(parameters).is_none()) {
            return;
        }
        let mut first = 0;
        while let Some(row) = self.rows.get(first) {
            let of_step = self.rows[first..].iter();
            let count = of_step.take_while(|other| other.step == row.step).count();
            let test = self.data.steps[row.step].test;
            self.say_step(&mut line_ups[test], first..first + count, parameters, said);
            first += count;
        }
    }

    /// The flow of a step where the meter is off as the numbers say, m³/s.
    pub(crate) fn flow_m3s(&self, step: usize, parameters: &[f64]) -> f64 {
        let step = &self.data.steps[step];
        step.flow_m3s * exp(-parameters[step.meter] * step.common_u_ln)
    }

    /// Says the rows of one step; leaves them no numbers where the pad has no answer.
    fn say_step(
        &self,
        line_up: &mut LineUp,
        rows: core::ops::Range<usize>,
        parameters: &[f64],
        said: &mut Said,
    ) -> Option<()> {
        let columns = parameters.len();
        let index = self.rows[rows.start].step;
        let step = &self.data.steps[index];
        let flow = self.flow_m3s(index, parameters);
        let mut last_m3s = self.last_m3s.borrow_mut();
        let last_m3s = &mut last_m3s[index];
        let start = if last_m3s.is_empty() {
            Start::Last
        } else {
            Start::Beside(last_m3s)
        };
        let operating = line_up.at_from(flow, start)?;
        last_m3s.clone_from(operating.flows_m3s());
        let by_flow = operating.moved(None);
        for row in rows {
            let slopes = &mut said.slopes[row * columns..(row + 1) * columns];
            let flow_slope = match self.rows[row].of {
                RowOf::Gauge(gauge) => {
                    let gauge = &self.data.gauges[gauge];
                    let head_m = operating.tap_head_m(&gauge.place, flow)?;
                    operating.write_slopes(Seen::Tap(&gauge.place), slopes);
                    said.heads_m[row] = head_m + gauge.off_m(parameters, slopes);
                    said.lost_m[row] = head_m.abs();
                    operating.tap_moved_m(&gauge.place, &by_flow, flow)
                }
                RowOf::Branch(branch) => {
                    let branch = &self.data.branches[branch];
                    // What runs backwards has no logarithm; the search is led back from a trickle.
                    let of_line = operating.line_flow_m3s(branch.line).max(TRICKLE_M3S);
                    operating.write_slopes(Seen::Flow(branch.line), slopes);
                    for slope in slopes.iter_mut() {
                        *slope /= of_line;
                    }
                    slopes[branch.meter] += branch.common_u_ln;
                    said.heads_m[row] = ln(of_line) + parameters[branch.meter] * branch.common_u_ln;
                    // What a law is off by in head, it is off by half of that in flow.
                    said.lost_m[row] = 0.5;
                    by_flow.flows[branch.line] / of_line
                }
                RowOf::Curve => {
                    let (curve, pump) = self.curve.as_ref()?;
                    let total_m = operating.total_head_m()?;
                    operating.write_slopes(Seen::Total, slopes);
                    let stated = curve.head_and_slope(flow, step.speed_rpm);
                    let mut ln_wear = parameters[*pump];
                    for change in self.pump_changes.iter().filter(|it| it.test == step.test) {
                        ln_wear += parameters[change.knob] * change.share(step.speed_rpm);
                    }
                    let wear = exp(ln_wear);
                    slopes[*pump] -= wear * stated.head_m;
                    for change in self.pump_changes.iter().filter(|it| it.test == step.test) {
                        slopes[change.knob] -= wear * stated.head_m * change.share(step.speed_rpm);
                    }
                    said.heads_m[row] = total_m - wear * stated.head_m;
                    said.lost_m[row] = total_m.abs();
                    operating.total_moved_m(&by_flow) - wear * stated.slope_s_m2 * flow
                }
            };
            slopes[step.meter] -= flow_slope * step.common_u_ln;
            said.flow_slopes[row] = flow_slope;
        }
        Some(())
    }

    /// What the readings are worth: what is each one's own, what the reading of the flow adds to all heads of its step, and the
    /// smooth distance of the pad from its laws.
    ///
    /// # Source
    /// Effective variance: J. Orear, "Least squares when both variables have uncertainties", Am. J. Phys. 50 (1982) 912-916.
    pub(crate) fn covariance(&self, parameters: &[f64]) -> Matrix {
        let said = self.said(parameters);
        let ln_flows: Vec<f64> = self.data.steps.iter().map(|it| ln(it.flow_m3s)).collect();
        let n = self.rows.len();
        let mut covariance = Matrix::zeros(n, n);
        let of_pair = |i: usize, j: usize| {
            let (a, b) = (&self.rows[i], &self.rows[j]);
            let mut covariance = 0.0;
            if a.step == b.step {
                let own = self.data.steps[a.step].own_u_ln;
                covariance += said.flow_slopes[i] * said.flow_slopes[j] * own * own;
            }
            if self.alike(*a) == self.alike(*b) {
                let distance = (ln_flows[a.step] - ln_flows[b.step]) / LENGTH;
                let smooth = DISCREPANCY * DISCREPANCY * said.lost_m[i] * said.lost_m[j];
                covariance += smooth * exp(-0.5 * distance * distance);
            }
            if i == j {
                let own = match a.of {
                    RowOf::Gauge(gauge) => self.data.gauges[gauge].own_u_m,
                    RowOf::Branch(branch) => self.data.branches[branch].own_u_ln,
                    RowOf::Curve => 0.0,
                };
                covariance += own * own + LEAST_OWN_M * LEAST_OWN_M;
            }
            covariance
        };
        for i in 0..n {
            for j in 0..=i {
                covariance[(i, j)] = of_pair(i, j);
                covariance[(j, i)] = covariance[(i, j)];
            }
        }
        covariance
    }

    /// The place whose smooth distance from the laws a row has.
    fn alike(&self, row: Row) -> Alike {
        match row.of {
            RowOf::Gauge(gauge) => Alike::At(self.data.gauges[gauge].tap),
            RowOf::Branch(branch) => Alike::In(self.data.branches[branch].line),
            RowOf::Curve => Alike::Pump,
        }
    }
}

impl Gauged {
    /// What the gauge shows too much, m; writes the slopes.
    fn off_m(&self, parameters: &[f64], slopes: &mut [f64]) -> f64 {
        slopes[self.meter] += self.common_u_m;
        let mut off_m = parameters[self.meter] * self.common_u_m;
        if let Some((knob, u_m)) = self.height {
            slopes[knob] -= u_m;
            off_m -= parameters[knob] * u_m;
        }
        off_m
    }
}

impl Curve for Problem {
    fn evaluate(&self, row: f64, parameters: &[f64], gradient: &mut [f64]) -> f64 {
        // Rows are asked for by their own small numbers.
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a row is a small whole number"
        )]
        let row = row as usize;
        let said = self.said(parameters);
        let columns = parameters.len();
        gradient.copy_from_slice(&said.slopes[row * columns..(row + 1) * columns]);
        said.heads_m[row]
    }
}
