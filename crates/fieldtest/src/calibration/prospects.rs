//! What readings to come would take off the numbers of a calibrated circuit: gauges, line-ups, speeds, and the pump at rest.
//!
//! The readings to come are put beside those that were taken as further rows of the same problem, so that what they share with
//! them, a meter's error, the flow of one step, the smooth distance of the pad from its laws, is carried.

use super::data::{Branched, Data, Gauged, Stepped};
use super::knobs::Knobs;
use super::line_up::LineUp;
use super::problem::{Problem, RowOf};
use super::taps::tap_place;
use super::{OpenCalibration, media_of};
use crate::blank::{blank_test, column};
use crate::laws::FlowLaw;
use crate::meters::column_meters;
use crate::next_reading::gain::{RowsTaken, RowsToCome};
use crate::next_reading::{BORROWED_PA, ReadingToCome, TAPS, lies_before_pump};
use metrology::{AccuracyLimit, Instrument};
use numerics::linear::{Matrix, PositiveFactor};
use numerics::roots::bracketed;
use records::{Measured, MeterOf, Site, Tap, Test};

/// The part of the variance of a gauge that one would borrow that all its readings share. Common practice, no source.
const SHARE_COMMON: f64 = 0.7;
/// A flow is found to this closeness, m³/s.
const FLOW_TOLERANCE_M3S: f64 = 1e-9;

/// A calibration with the readings that it rests on, ready to be asked about others.
pub(crate) struct Asking<'a> {
    pub(crate) site: &'a Site,
    pub(crate) tests: &'a [Test],
    pub(crate) open: &'a OpenCalibration,
    pub(crate) flow: Option<&'a FlowLaw>,
}

/// A problem with readings to come among its rows.
struct Extended {
    knobs: Knobs,
    data: Data,
    line_ups: Vec<LineUp>,
    /// The reading to come that each step is for; `None` of one that was read.
    of_step: Vec<Option<usize>>,
    of_gauge: Vec<Option<usize>>,
}

impl Asking<'_> {
    /// Computes, for each reading to come, the variance that it takes off each number of the budget, but for what the flow is off
    /// by on its own; `None` for one that the circuit has no place for.
    pub(crate) fn taken_off(&self, readings: &[ReadingToCome]) -> Vec<Option<Vec<f64>>> {
        let mut extended = Extended::of(&self.open.problem);
        for (index, reading) in readings.iter().enumerate() {
            // One that has no place adds no row, and is told by that below.
            let _ = self.add(&mut extended, index, reading);
        }
        let Extended {
            knobs,
            data,
            line_ups,
            of_step,
            of_gauge,
        } = extended;
        let curve = self.open.problem.curve().cloned();
        let problem = Problem::new(line_ups, knobs, data, curve);
        let of_row = |row: &super::problem::Row| match row.of {
            RowOf::Gauge(gauge) => of_gauge[gauge].or(of_step[row.step]),
            RowOf::Branch(_) | RowOf::Curve => of_step[row.step],
        };
        let owners: Vec<Option<usize>> = problem.rows.iter().map(of_row).collect();
        let rows = Rows::of(&problem, &self.open.fitted, owners);
        let answers: Vec<Vec<f64>> = self
            .open
            .narrowable
            .iter()
            .map(|answer| rows.padded(&answer.slopes))
            .collect();
        let answers: Vec<&[f64]> = answers.iter().map(Vec::as_slice).collect();
        let taken = rows.taken();
        let of_reading = |index: usize| {
            let to_come = rows.to_come(index, taken.as_ref()?)?;
            to_come.taken_off(&rows.covariance, &answers)
        };
        (0..readings.len()).map(of_reading).collect()
    }

    fn add(&self, to: &mut Extended, index: usize, reading: &ReadingToCome) -> Option<()> {
        let last = self.tests.len().checked_sub(1)?;
        match reading {
            ReadingToCome::Gauge(tap) => self.add_gauge(to, index, *tap, last),
            ReadingToCome::Speed(speed) | ReadingToCome::Again(speed) => {
                let flow_m3s = self.flow?.flow_at_m3s(*speed);
                self.add_step(to, index, (last, last), (*speed, flow_m3s))
            }
            ReadingToCome::LineUp { shut, steps_rpm } => {
                let line_up = self.line_up(to, shut)?;
                to.line_ups.push(line_up);
                let new = to.line_ups.len() - 1;
                for speed in steps_rpm {
                    let flow_m3s = self.flow_with(to, new, *speed)?;
                    self.add_step(to, index, (last, new), (*speed, flow_m3s))?;
                }
                Some(())
            }
            // Whether the lines stay full at rest is not known, so that gauges tell the circuit nothing there.
            ReadingToCome::Standby => None,
        }
    }

    /// Puts a gauge at each step of the last test.
    fn add_gauge(&self, to: &mut Extended, index: usize, tap: Tap, last: usize) -> Option<()> {
        let place = tap_place(self.site, &to.line_ups[last].network, tap)?;
        let weight = to.line_ups[last].around.specific_weight();
        let instrument = gauge_at(self.site, tap);
        let meter = to.knobs.meter(format!("a gauge to come, {tap:?}"), None);
        for step in 0..to.data.steps.len() {
            if to.data.steps[step].test != last || to.of_step[step].is_some() {
                continue;
            }
            // Such a gauge is off by an amount, not by a share of what it shows.
            to.data.gauges.push(Gauged {
                step,
                tap,
                place: place.clone(),
                head_m: 0.0,
                common_u_m: instrument.common_u(0.0) / weight,
                own_u_m: instrument.independent_u(0.0) / weight,
                meter,
                height: None,
            });
            to.of_gauge.push(Some(index));
        }
        Some(())
    }

    /// Adds a step with a line-up, read on the meters of the last test.
    fn add_step(
        &self,
        to: &mut Extended,
        index: usize,
        (last, line_up): (usize, usize),
        (speed_rpm, flow_m3s): (f64, f64),
    ) -> Option<()> {
        let nearest = Self::nearest(to, last, speed_rpm)?;
        let like = to.data.steps[nearest].clone();
        let step = to.data.steps.len();
        to.data.steps.push(Stepped {
            test: line_up,
            speed_rpm,
            flow_m3s,
            ..like
        });
        to.of_step.push(Some(index));
        let read: Vec<Gauged> = to
            .data
            .gauges
            .iter()
            .zip(&to.of_gauge)
            .filter(|(gauge, owner)| gauge.step == nearest && owner.is_none())
            .map(|(gauge, _)| gauge.clone())
            .collect();
        for gauge in read {
            let place = tap_place(self.site, &to.line_ups[line_up].network, gauge.tap)?;
            to.data.gauges.push(Gauged {
                step,
                place,
                ..gauge
            });
            to.of_gauge.push(None);
        }
        let branches = to.data.branches.iter();
        let read = branches.filter(|branch| branch.step == nearest).cloned();
        let read: Vec<_> = read.map(|branch| Branched { step, ..branch }).collect();
        to.data.branches.extend(read);
        Some(())
    }

    fn nearest(to: &Extended, last: usize, speed_rpm: f64) -> Option<usize> {
        let away = |step: &usize| (to.data.steps[*step].speed_rpm - speed_rpm).abs();
        let read = |step: &usize| to.data.steps[*step].test == last && to.of_step[*step].is_none();
        (0..to.data.steps.len())
            .filter(read)
            .min_by(|a, b| away(a).total_cmp(&away(b)))
    }

    /// Shuts one more line than the last test did. The name of the test stays: filter and part-open valves are the same.
    fn line_up(&self, to: &mut Extended, shut: &str) -> Option<LineUp> {
        let last = self.tests.len().checked_sub(1)?;
        let (media_of, last) = (media_of(self.tests, last), &self.tests[last]);
        let mut head = last.head.clone();
        head.closed.push(shut.to_owned());
        let test = Test {
            head,
            ..blank_test(&last.name, &[], Vec::new())
        };
        let (line_up, _) = LineUp::of(self.site, (&test, media_of), &mut to.knobs).ok()?;
        Some(line_up)
    }

    /// Finds the flow at which a line-up takes the head that the pump gives at a speed; without the maker's curve, that which it
    /// gives with the valves of the last test.
    fn flow_with(&self, to: &mut Extended, line_up: usize, speed_rpm: f64) -> Option<f64> {
        let before_m3s = self.flow?.flow_at_m3s(speed_rpm);
        let mut parameters = self.open.fitted.parameters.clone();
        parameters.extend(
            to.knobs.priors[parameters.len()..]
                .iter()
                .map(|prior| prior.mean),
        );
        let last = self.tests.len().checked_sub(1)?;
        to.line_ups[last].turn(&parameters)?;
        let head_m = to.line_ups[last].total_head_m(before_m3s)?;
        let curve = self.open.problem.curve();
        let given_m = |flow: f64| match curve {
            Some(curve) => {
                let fall = curve.head_and_slope(before_m3s, speed_rpm).head_m
                    - curve.head_and_slope(flow, speed_rpm).head_m;
                head_m - fall
            }
            None => head_m,
        };
        let line_up = &mut to.line_ups[line_up];
        line_up.turn(&parameters)?;
        let line_up = std::cell::RefCell::new(line_up);
        let excess = |flow: f64| {
            let mut line_up = line_up.borrow_mut();
            let taken = line_up.total_head_m(flow);
            taken.map_or(f64::NAN, |taken| taken - given_m(flow))
        };
        bracketed(excess, 0.02 * before_m3s, before_m3s, FLOW_TOLERANCE_M3S).ok()
    }
}

impl Extended {
    fn of(problem: &Problem) -> Self {
        Self {
            knobs: problem.knobs.clone(),
            data: problem.data.clone(),
            line_ups: problem.line_ups().borrow().clone(),
            of_step: vec![None; problem.data.steps.len()],
            of_gauge: vec![None; problem.data.gauges.len()],
        }
    }
}

/// The rows of an extended problem: slopes and covariance at the calibrated numbers.
struct Rows {
    owners: Vec<Option<usize>>,
    slopes: Matrix,
    noise: Matrix,
    /// Of the sought numbers before any reading to come.
    covariance: Matrix,
}

impl Rows {
    fn of(problem: &Problem, fitted: &metrology::Fit, owners: Vec<Option<usize>>) -> Self {
        let known = fitted.parameters.len();
        let priors = &problem.knobs.priors;
        let mut parameters = fitted.parameters.clone();
        parameters.extend(priors[known..].iter().map(|prior| prior.mean));
        let p = parameters.len();
        let noise = problem.covariance(&parameters);
        let said = problem.said(&parameters);
        let slopes = Matrix::from_fn(owners.len(), p, |i, j| said.slopes[i * p + j]);
        let covariance = Matrix::from_fn(p, p, |i, j| match (i < known, j < known) {
            (true, true) => fitted.covariance[(i, j)],
            _ if i == j => priors[i].sd * priors[i].sd,
            _ => 0.0,
        });
        Self {
            owners,
            slopes,
            noise,
            covariance,
        }
    }

    fn padded(&self, slopes: &[f64]) -> Vec<f64> {
        let mut padded = slopes.to_vec();
        padded.resize(self.covariance.ncols(), 0.0);
        padded
    }

    fn owned_by(&self, owner: Option<usize>) -> Vec<usize> {
        (0..self.owners.len())
            .filter(|row| self.owners[*row] == owner)
            .collect()
    }

    fn taken(&self) -> Option<RowsTaken> {
        let rows = self.owned_by(None);
        let noise = Matrix::from_fn(rows.len(), rows.len(), |i, j| {
            self.noise[(rows[i], rows[j])]
        });
        Some(RowsTaken {
            slopes: self.slopes.select_rows(&rows),
            factor: PositiveFactor::new(noise).ok()?,
        })
    }

    fn to_come(&self, owner: usize, taken: &RowsTaken) -> Option<RowsToCome> {
        let (old, new) = (self.owned_by(None), self.owned_by(Some(owner)));
        let slopes = self.slopes.select_rows(&new);
        let sound = slopes.iter().all(|slope| slope.is_finite());
        if new.is_empty() || !sound {
            return None;
        }
        let noise = Matrix::from_fn(new.len(), new.len(), |i, j| self.noise[(new[i], new[j])]);
        let shared = Matrix::from_fn(old.len(), new.len(), |i, j| self.noise[(old[i], new[j])]);
        Some(RowsToCome { slopes, noise }.given(taken, &shared))
    }
}

/// Lists the taps where no gauge of the last test sits and one would tell: the pump's inlet is read once.
pub(crate) fn free_taps(asking: &Asking<'_>) -> Vec<Tap> {
    let problem = &asking.open.problem;
    let last = asking.tests.len().saturating_sub(1);
    let read = |tap: Tap| {
        let mut gauges = problem.data.gauges.iter();
        gauges.any(|gauge| gauge.tap == tap && problem.data.steps[gauge.step].test == last)
    };
    let before_pump = TAPS
        .into_iter()
        .any(|tap| lies_before_pump(tap) && read(tap));
    let line_ups = problem.line_ups().borrow();
    let mut places = Vec::new();
    let mut free = Vec::new();
    for tap in TAPS {
        let place = line_ups
            .get(last)
            .and_then(|line_up| tap_place(asking.site, &line_up.network, tap));
        let Some(place) = place else { continue };
        // A pump without a filter has its outlet for both.
        let known = places.contains(&place);
        let useless = read(tap) || (before_pump && lies_before_pump(tap)) || known;
        places.push(place);
        if !useless {
            free.push(tap);
        }
    }
    free
}

/// What a gauge at a tap is worth: the site's own where it states one there, else one as one would borrow it.
fn gauge_at(site: &Site, tap: Tap) -> Instrument {
    let own = site.meters.iter().find(|meter| {
        meter.tap == Some(tap) && matches!(meter.measures, MeterOf::Pressure | MeterOf::Vacuum)
    });
    let Some(own) = own else {
        return Instrument {
            limits: vec![AccuracyLimit {
                of_reading: 0.0,
                absolute: BORROWED_PA,
            }],
            share_common: SHARE_COMMON,
            ..Instrument::default()
        };
    };
    let measured = match own.measures {
        MeterOf::Vacuum => Measured::InletVacuum,
        _ => Measured::FilterPressure,
    };
    let columns = vec![column(measured, Some(own.id.clone()))];
    let meters = column_meters(site, &blank_test("", &[], columns));
    meters
        .into_iter()
        .next()
        .map(|meter| meter.instrument)
        .unwrap_or_default()
}
