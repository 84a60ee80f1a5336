//! Where water is cheapest: the speed of least energy above standby per volume.
//!
//! The optimum is flat, so it is given with the band of speeds that cost at most 3 % more.

use crate::laws::{FlowLaw, PowerLaw};
use crate::result::{Edge, LeastEnergy};
use metrology::Estimate;
use numerics::elementary::pow_fast;
use numerics::linear::Matrix;
use numerics::roots::bracketed;

/// How much more than the least a speed of the band may cost.
const BAND: f64 = 1.03;
/// Speeds are searched to this closeness, rpm: far below what a drive can hold.
const SEARCH_RPM: f64 = 1e-6;
/// Standard deviation of a draw at rest that nobody read, W. Common practice, no source.
pub(crate) const UNREAD_STANDBY_W: f64 = 5.0;
/// Seconds in an hour, exact.
const SECONDS_PER_HOUR: f64 = 3600.0;
/// Seconds in a day, exact.
const SECONDS_PER_DAY: f64 = 86_400.0;

/// The cost of moving water as the two laws state it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Cost {
    /// Fixed draw less standby, W.
    pub(crate) fixed_w: f64,
    pub(crate) dynamic_w: f64,
    pub(crate) exponent: f64,
    /// Square of the intercept over that of the reference speed.
    pub(crate) intercept: f64,
    /// Flow per ratio of speeds, m³/s.
    pub(crate) slope_m3s: f64,
    pub(crate) reference_rpm: f64,
}

impl Cost {
    pub(crate) fn of(flow: &FlowLaw, power: &PowerLaw, standby_w: f64) -> Self {
        let parameters = &power.law.fit().parameters;
        Self {
            fixed_w: parameters[0] - standby_w,
            dynamic_w: parameters[1],
            exponent: parameters[2],
            intercept: flow.intercept_ratio_squared(),
            slope_m3s: flow.slope_m3s_per_rpm.value * power.at_speed_rpm,
            reference_rpm: power.at_speed_rpm,
        }
    }

    /// Computes joules per cubic metre at a speed.
    fn energy_j_per_m3(&self, speed_rpm: f64) -> f64 {
        let ratio = speed_rpm / self.reference_rpm;
        let power = self.fixed_w + self.dynamic_w * pow_fast(ratio, self.exponent);
        power / (self.slope_m3s * (ratio * ratio - self.intercept).max(0.0).sqrt())
    }

    /// Computes the slope of the logarithm of energy per volume in the logarithm of speed.
    fn slope(&self, speed_rpm: f64) -> f64 {
        let ratio = speed_rpm / self.reference_rpm;
        let moving = self.dynamic_w * pow_fast(ratio, self.exponent);
        let square = ratio * ratio;
        self.exponent * moving / (self.fixed_w + moving) - square / (square - self.intercept)
    }

    /// Finds the cheapest speed between two, or the end at which it lies.
    pub(crate) fn cheapest(&self, low_rpm: f64, high_rpm: f64) -> Result<f64, Edge> {
        if self.slope(low_rpm) >= 0.0 {
            return Err(Edge::Low);
        }
        bracketed(|speed| self.slope(speed), low_rpm, high_rpm, SEARCH_RPM).map_err(|_| Edge::High)
    }

    /// Finds the speeds, within the tested ones, that cost at most [`BAND`] times the least.
    fn band(&self, best_rpm: f64, low_rpm: f64, high_rpm: f64) -> (f64, f64) {
        let limit = BAND * self.energy_j_per_m3(best_rpm);
        let above = |speed: f64| self.energy_j_per_m3(speed) - limit;
        let edge = |end: f64| bracketed(above, end, best_rpm, SEARCH_RPM).unwrap_or(end);
        (edge(low_rpm), edge(high_rpm))
    }

    /// Copies the cost with one of its five numbers moved.
    fn moved(mut self, number: usize, by: f64) -> Self {
        match number {
            0 => self.fixed_w += by,
            1 => self.dynamic_w += by,
            2 => self.exponent += by,
            _ => self.intercept += by,
        }
        self
    }
}

/// Finds the cheapest speed between the slowest and the fastest step.
pub(crate) fn least_energy(
    flow: &FlowLaw,
    power: &PowerLaw,
    standby_w: Option<Estimate>,
    tested_rpm: (f64, f64),
) -> LeastEnergy {
    let standby = standby_w.map_or(0.0, |estimate| estimate.value);
    let cost = Cost::of(flow, power, standby);
    let (low, high) = tested_rpm;
    match cost.cheapest(low, high) {
        Ok(best) => bracketed_optimum(&cost, flow, power, standby_w, best, tested_rpm),
        Err(edge) => LeastEnergy {
            speed_rpm: None,
            flow_m3s: None,
            energy_wh_per_m3: None,
            within_3_percent_rpm: None,
            at_edge: Some(edge),
            volume_24h_m3: None,
            below: Vec::new(),
        },
    }
}

fn bracketed_optimum(
    cost: &Cost,
    flow: &FlowLaw,
    power: &PowerLaw,
    standby_w: Option<Estimate>,
    best_rpm: f64,
    tested_rpm: (f64, f64),
) -> LeastEnergy {
    let predicted_flow = flow.law.predict(best_rpm);
    let standby_u_w = standby_w.map_or(UNREAD_STANDBY_W, |standby| standby.u);
    let of = CostUncertainty {
        power: &power.law.fit().covariance,
        intercept_variance: flow.law.fit().covariance[(1, 1)],
        standby_variance_w2: standby_u_w * standby_u_w,
    };
    LeastEnergy {
        speed_rpm: Estimate::normal(best_rpm, cost.speed_u_rpm(best_rpm, &of))
            .map(|speed| speed.not_below(0.0)),
        energy_wh_per_m3: energy(flow, power, standby_w, best_rpm),
        within_3_percent_rpm: Some(cost.band(best_rpm, tested_rpm.0, tested_rpm.1)),
        at_edge: None,
        volume_24h_m3: predicted_flow.map(|flow| flow.value * SECONDS_PER_DAY),
        flow_m3s: predicted_flow,
        below: Vec::new(),
    }
}

/// Predicts energy above standby per volume at a speed, with the uncertainty of both laws and of the draw at rest;
/// `None` where the draw at rest leaves nothing.
pub(crate) fn energy(
    flow: &FlowLaw,
    power: &PowerLaw,
    standby_w: Option<Estimate>,
    speed_rpm: f64,
) -> Option<Estimate> {
    let (q, p) = (
        flow.law.predict_ln(speed_rpm),
        power.law.predict(speed_rpm)?,
    );
    let flow_m3s = numerics::elementary::exp(q.ln_value);
    above_standby(p, standby_w, flow_m3s, q.u_ln)
}

/// Computes energy above standby per volume, W h/m³; `None` where the draw at rest leaves nothing.
pub(crate) fn above_standby(
    power_w: Estimate,
    standby_w: Option<Estimate>,
    flow_m3s: f64,
    flow_relative_u: f64,
) -> Option<Estimate> {
    let (standby, standby_u) = standby_w.map_or((0.0, 0.0), |standby| (standby.value, standby.u));
    let left_w = power_w.value - standby;
    let value = left_w / (flow_m3s * SECONDS_PER_HOUR);
    let relative = (power_w.u * power_w.u + standby_u * standby_u).sqrt() / left_w;
    let u = value * (relative * relative + flow_relative_u * flow_relative_u).sqrt();
    Estimate::normal(value, u).filter(|energy| energy.value > 0.0)
}

/// What the cost of moving water is uncertain by.
pub(crate) struct CostUncertainty<'a> {
    /// Covariance of the numbers of the law of power.
    pub(crate) power: &'a Matrix,
    /// Variance of the intercept of the law of flow.
    pub(crate) intercept_variance: f64,
    /// Variance of the draw at rest, W².
    pub(crate) standby_variance_w2: f64,
}

impl Cost {
    /// Computes the standard uncertainty of the cheapest speed from the covariances of the laws, by the implicit
    /// derivative of the condition that the slope is zero there.
    pub(crate) fn speed_u_rpm(&self, best_rpm: f64, of: &CostUncertainty<'_>) -> f64 {
        let curvature = derivative(|x| self.slope(best_rpm + x), 1e-4 * best_rpm);
        let sensitivity = |number: usize, sd: f64| {
            derivative(|x| self.moved(number, x).slope(best_rpm), 1e-4 * sd) / curvature
        };
        let by_power: Vec<f64> = (0..3)
            .map(|j| sensitivity(j, of.power[(j, j)].sqrt()))
            .collect();
        let by_intercept = sensitivity(3, of.intercept_variance.sqrt());
        // The draw at rest is taken off the fixed one.
        let by_standby = by_power[0];
        let variance = numerics::linear::quadratic_form(&by_power, of.power)
            + by_intercept * by_intercept * of.intercept_variance
            + by_standby * by_standby * of.standby_variance_w2;
        variance.sqrt()
    }
}

/// Computes a derivative at zero by a central difference.
fn derivative(function: impl Fn(f64) -> f64, step: f64) -> f64 {
    (function(step) - function(-step)) / (2.0 * step)
}
