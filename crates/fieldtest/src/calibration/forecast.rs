//! What a pad would do at a speed, before it is read: flow by the maker's curve and the plumbing, heads at the taps, with what
//! each is uncertain by. Of a calibrated pad the numbers are those found, of any other what is stated.

use super::OpenCalibration;
use super::knobs::Knobs;
use super::line_up::LineUp;
use super::operating::Operating;
use super::problem::DISCREPANCY;
use super::taps::tap_place;
use crate::network::NetworkProblem;
use crate::pump_curve::pump_curve;
use crate::surroundings::Surroundings;
use hydraulics::pump::PumpCurve;
use metrology::Estimate;
use numerics::elementary::{exp, ln};
use numerics::linear::{Matrix, quadratic_form};
use numerics::roots::bracketed;
use records::{Site, Tap, Test};
use std::cell::RefCell;

/// A flow is found to this closeness, m³/s.
const FLOW_TOLERANCE_M3S: f64 = 1e-9;
/// No flow of a pump at a pad is below this, m³/s.
const LEAST_FLOW_M3S: f64 = 1e-6;
/// A curve mostly ends before the pump does, as for the bands of a test. Common practice, no source.
const BEYOND_THE_CURVE: f64 = 1.3;

/// A pad that can be asked what it would do.
pub(crate) struct Forecaster<'a> {
    site: &'a Site,
    line_up: RefCell<LineUp>,
    knobs: Knobs,
    parameters: Vec<f64>,
    covariance: Matrix,
    curve: Option<(PumpCurve, usize)>,
    around: Surroundings,
}

/// A flow with how it hangs on what is sought, and what it is off by besides, in the logarithm.
#[derive(Clone, Debug)]
pub(crate) struct FlowForecast {
    /// The flow, m³/s.
    pub(crate) flow_m3s: f64,
    slopes: Vec<f64>,
    own_u_ln: f64,
}

/// A head with its standard uncertainty, m above the pool.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct HeadForecast {
    /// The head.
    pub(crate) head_m: f64,
    /// Its standard uncertainty.
    pub(crate) u_m: f64,
}

impl<'a> Forecaster<'a> {
    /// Takes the pad with the valves of a test, by what an earlier calibration found where there is one.
    pub(crate) fn of(
        site: &'a Site,
        test: &Test,
        known: Option<&OpenCalibration>,
    ) -> Result<Self, NetworkProblem> {
        let mut knobs = known.map_or_else(Knobs::default, |known| known.problem.knobs.clone());
        let found = known.map_or(0, |known| known.fitted.parameters.len());
        let (mut line_up, _) = LineUp::of(site, (test, test), &mut knobs)?;
        let curve = pump_curve(site).and_then(Result::ok);
        let curve = curve.map(|curve| (curve, knobs.pump()));
        let priors = &knobs.priors;
        let mut parameters = known.map_or_else(Vec::new, |known| known.fitted.parameters.clone());
        parameters.extend(priors[found..].iter().map(|prior| prior.mean));
        let p = parameters.len();
        let covariance = Matrix::from_fn(p, p, |i, j| match known {
            Some(known) if i < found && j < found => known.fitted.covariance[(i, j)],
            _ if i == j => priors[i].sd * priors[i].sd,
            _ => 0.0,
        });
        line_up.turn(&parameters).ok_or(NetworkProblem::NoLines)?;
        let around = line_up.around;
        Ok(Self {
            site,
            line_up: RefCell::new(line_up),
            knobs,
            parameters,
            covariance,
            curve,
            around,
        })
    }

    /// What stands around the pad.
    pub(crate) fn around(&self) -> &Surroundings {
        &self.around
    }

    /// Takes a flow that a law foresees.
    pub(crate) fn given(&self, flow: Estimate) -> FlowForecast {
        FlowForecast {
            flow_m3s: flow.value,
            slopes: vec![0.0; self.parameters.len()],
            own_u_ln: flow.relative_u(),
        }
    }

    /// Finds the flow at which the circuit takes the head of the maker's curve; `None` without a curve, or where nothing flows.
    pub(crate) fn flow(&self, speed_rpm: f64) -> Option<FlowForecast> {
        let (curve, pump) = self.curve.as_ref()?;
        let (curve, pump) = (curve, *pump);
        let wear = exp(self.parameters[pump]);
        let (_, most_m3s) = curve.range_m3s(speed_rpm)?;
        let excess = |flow: f64| {
            let mut line_up = self.line_up.borrow_mut();
            let taken = line_up.total_head_m(flow);
            taken.map_or(f64::NAN, |taken| {
                taken - wear * curve.head_and_slope(flow, speed_rpm).head_m
            })
        };
        let highest = BEYOND_THE_CURVE * most_m3s;
        let flow_m3s = bracketed(excess, LEAST_FLOW_M3S, highest, FLOW_TOLERANCE_M3S).ok()?;
        let mut line_up = self.line_up.borrow_mut();
        let operating = line_up.at(flow_m3s)?;
        let given = curve.head_and_slope(flow_m3s, speed_rpm);
        let by_flow =
            operating.total_moved_m(&operating.moved(None)) - wear * given.slope_s_m2 * flow_m3s;
        let mut slopes: Vec<f64> = self
            .moved(&operating, |moved| operating.total_moved_m(moved))
            .iter()
            .map(|by_knob| -by_knob / by_flow)
            .collect();
        slopes[pump] += wear * given.head_m / by_flow;
        let own = DISCREPANCY * given.head_m / by_flow;
        let sound = by_flow > 0.0 && slopes.iter().all(|slope| slope.is_finite());
        sound.then_some(FlowForecast {
            flow_m3s,
            slopes,
            own_u_ln: own.abs(),
        })
    }

    /// Slopes in all sought numbers that the circuit hangs on.
    fn moved(
        &self,
        operating: &Operating<'_>,
        of: impl Fn(&super::operating::Moved) -> f64,
    ) -> Vec<f64> {
        let knobs = self.knobs.of.iter().enumerate();
        let slope = |(knob, what): (usize, &super::ParameterOf)| {
            if what.turns(operating.test()) {
                of(&operating.moved(Some(knob)))
            } else {
                0.0
            }
        };
        knobs.map(slope).collect()
    }

    /// The flow as an estimate.
    pub(crate) fn estimate(&self, flow: &FlowForecast) -> Option<Estimate> {
        let variance =
            quadratic_form(&flow.slopes, &self.covariance) + flow.own_u_ln * flow.own_u_ln;
        Estimate::log_normal(ln(flow.flow_m3s), variance.sqrt())
    }

    /// The heads at taps, and, first, that of the pump.
    pub(crate) fn heads(
        &self,
        flow: &FlowForecast,
        taps: &[Tap],
    ) -> Option<(HeadForecast, Vec<Option<HeadForecast>>)> {
        let mut line_up = self.line_up.borrow_mut();
        let places: Vec<_> = taps
            .iter()
            .map(|tap| tap_place(self.site, &line_up.network, *tap))
            .collect();
        let operating = line_up.at(flow.flow_m3s)?;
        let by_flow = operating.moved(None);
        let forecast = |head_m: f64, slopes: Vec<f64>, by_flow_m: f64| {
            let whole: Vec<f64> = slopes
                .iter()
                .zip(&flow.slopes)
                .map(|(own, by)| own + by_flow_m * by)
                .collect();
            let own = by_flow_m * flow.own_u_ln;
            let smooth = DISCREPANCY * head_m;
            let variance = quadratic_form(&whole, &self.covariance) + own * own + smooth * smooth;
            HeadForecast {
                head_m,
                u_m: variance.max(0.0).sqrt(),
            }
        };
        let total = forecast(
            operating.total_head_m()?,
            self.moved(&operating, |moved| operating.total_moved_m(moved)),
            operating.total_moved_m(&by_flow),
        );
        let at_taps = places.iter().map(|place| {
            let place = place.as_ref()?;
            let slopes = self.moved(&operating, |moved| {
                operating.tap_moved_m(place, moved, flow.flow_m3s)
            });
            let by_flow_m = operating.tap_moved_m(place, &by_flow, flow.flow_m3s);
            Some(forecast(
                operating.tap_head_m(place, flow.flow_m3s)?,
                slopes,
                by_flow_m,
            ))
        });
        Some((total, at_taps.collect()))
    }

    /// What part of the pump's flow each line carries, in the order of the site.
    pub(crate) fn divided(&self, flow: &FlowForecast) -> Option<Vec<f64>> {
        let mut line_up = self.line_up.borrow_mut();
        let operating = line_up.at(flow.flow_m3s)?;
        let lines = 0..self.site.lines.len();
        Some(
            lines
                .map(|line| operating.line_flow_m3s(line).abs() / flow.flow_m3s)
                .collect(),
        )
    }

    /// What the maker's curve asks for above boiling at the pump's inlet, m.
    pub(crate) fn npsh_required_m(&self, flow_m3s: f64, speed_rpm: f64) -> Option<f64> {
        let (curve, _) = self.curve.as_ref()?;
        let required = curve.npsh_required_m(flow_m3s, speed_rpm).ok()??;
        Some(required.value)
    }
}
