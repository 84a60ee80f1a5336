//! What a change of the pad makes of the measured laws: the flow as the circuit carries it, and the power that follows.

use fieldtest::CarriedFlow;
use numerics::elementary::{exp, ln};

/// By how many per cent the power above the fixed draw grows at one speed where the flow grows by one, and its standard
/// uncertainty: between a power that flow does not change and an efficiency that it does not. Common practice, no source.
const POWER_BY_FLOW: (f64, f64) = (0.5, 0.25);
/// How well a maker's curve of electrical power is known, as a share. Common practice, no source.
const MAKERS_POWER_U_LN: f64 = 0.05;
/// The fixed draw is at most this part of a power: the rest moves water.
const MOST_FIXED: f64 = 0.95;

/// How a change moves the laws of a line-up.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Carried {
    flow: CarriedFlow,
    power: PowerBy,
    ln_density: f64,
}

/// What the power follows.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum PowerBy {
    /// The flow.
    Flow,
    /// The curve of another pump: the logarithm of its power above the fixed draw over that of today, at each speed.
    Curve(Vec<f64>),
}

/// Standard deviates that a draw takes for what a change is uncertain by.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Chance {
    pub(crate) circuit: f64,
    pub(crate) fall: f64,
    pub(crate) power: f64,
}

impl Chance {
    /// The best estimate.
    pub(crate) const NONE: Self = Self {
        circuit: 0.0,
        fall: 0.0,
        power: 0.0,
    };
}

/// By how much flow and power move at a speed.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Moved {
    /// Logarithm of the flow over that of today.
    pub(crate) ln_flow: f64,
    /// Logarithm of the power above the fixed draw over that of today.
    ln_dynamic: f64,
}

impl Moved {
    /// Returns the power after the change, W.
    pub(crate) fn power_w(self, today_w: f64, fixed_w: f64) -> f64 {
        let fixed_w = fixed_w.clamp(0.0, MOST_FIXED * today_w);
        fixed_w + (today_w - fixed_w) * exp(self.ln_dynamic)
    }
}

impl Carried {
    /// Follows the flow, or the curve of another pump.
    pub(crate) fn new(flow: CarriedFlow, power: PowerBy) -> Self {
        Self {
            ln_density: ln(flow.density_ratio),
            flow,
            power,
        }
    }

    /// Returns the flow that was carried.
    pub(crate) fn flow(&self) -> &CarriedFlow {
        &self.flow
    }

    /// Whether the power follows the curve of another pump.
    pub(crate) fn is_by_curve(&self) -> bool {
        matches!(self.power, PowerBy::Curve(_))
    }

    /// Returns by how much flow and power move at a speed.
    pub(crate) fn moved(&self, speed_rpm: f64, chance: Chance) -> Moved {
        let at = |values: &[f64]| between(&self.flow.speeds_rpm, values, speed_rpm);
        let ln_flow = at(&self.flow.ln_ratio)
            + chance.circuit * at(&self.flow.by_circuit)
            + chance.fall * at(&self.flow.by_fall);
        let ln_dynamic = match &self.power {
            PowerBy::Flow => {
                let exponent = POWER_BY_FLOW.0 + chance.power * POWER_BY_FLOW.1;
                // The same head of heavier water takes as much more power.
                exponent * ln_flow + self.ln_density
            }
            PowerBy::Curve(values) => at(values) + chance.power * MAKERS_POWER_U_LN,
        };
        Moved {
            ln_flow,
            ln_dynamic,
        }
    }
}

/// Interpolates in the logarithm of speed; beyond the ends the last value stays.
fn between(speeds_rpm: &[f64], values: &[f64], speed_rpm: f64) -> f64 {
    let above = speeds_rpm
        .iter()
        .position(|known| *known >= speed_rpm)
        .unwrap_or(speeds_rpm.len());
    match (above.checked_sub(1), values.get(above)) {
        (None, Some(first)) => *first,
        (Some(below), None) => values.get(below).copied().unwrap_or(0.0),
        (Some(below), Some(high)) => {
            let (a, b) = (speeds_rpm[below], speeds_rpm[above]);
            let share = ln(speed_rpm / a) / ln(b / a);
            values[below] + share * (high - values[below])
        }
        (None, None) => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use fieldtest::FallBy;

    fn carried(ln_ratio: f64) -> Carried {
        let flow = CarriedFlow {
            test: "a".to_owned(),
            speeds_rpm: vec![1000.0, 2000.0],
            flow_ratio: vec![exp(ln_ratio); 2],
            ln_ratio: vec![ln_ratio; 2],
            by_circuit: vec![0.0; 2],
            by_fall: vec![0.0; 2],
            head_ratio: vec![1.0; 2],
            density_ratio: 1.0,
            fall: FallBy::UsualFall,
        };
        Carried::new(flow, PowerBy::Flow)
    }

    #[test]
    fn no_change_moves_nothing() {
        for speed in [500.0, 1000.0, 1500.0, 3000.0] {
            let moved = carried(0.0).moved(speed, Chance::NONE);
            assert!(moved.ln_flow.abs() < f64::EPSILON);
            assert!((moved.power_w(700.0, 80.0) - 700.0).abs() < 1e-12);
        }
    }

    #[test]
    fn heavier_water_takes_as_much_more_power() {
        let flow = CarriedFlow {
            density_ratio: 1.02,
            ..carried(0.0).flow
        };
        let moved = Carried::new(flow, PowerBy::Flow).moved(1500.0, Chance::NONE);
        // By hand: 100 + 400 · 1.02 = 508.
        assert!((moved.power_w(500.0, 100.0) - 508.0).abs() < 1e-9);
    }

    #[test]
    fn power_follows_flow_by_half_and_leaves_the_fixed_draw() {
        let moved = carried(ln(1.21)).moved(1500.0, Chance::NONE);
        // By hand: 100 + 400 · 1.21^0.5 = 540.
        assert!((moved.power_w(500.0, 100.0) - 540.0).abs() < 1e-9);
    }
}
