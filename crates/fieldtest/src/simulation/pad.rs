//! A pad's truth: what flows, and what is drawn, at a speed.

use hydraulics::HydraulicsError;
use hydraulics::constants::STANDARD_GRAVITY_M_S2;
use hydraulics::loss::{PipeRun, pipe_loss};
use hydraulics::water::Water;
use numerics::elementary::{exp, pow};
use numerics::roots::bracketed;

/// Flows are found to this closeness, m³/s: a millionth of a gallon per minute.
const FLOW_TOLERANCE_M3S: f64 = 1e-10;

/// What is true of a pad at one speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Operation {
    /// Speed, rpm.
    pub speed_rpm: f64,
    /// Flow, m³/s.
    pub flow_m3s: f64,
    /// Electrical power, W.
    pub power_w: f64,
    /// Current, A.
    pub current_a: f64,
    /// Total head, m; 0 where the truth has no circuit.
    pub head_m: f64,
    /// Gauge pressure at the filter's inlet, Pa.
    pub filter_pressure_pa: f64,
    /// Vacuum at the pump's pot, Pa.
    pub inlet_vacuum_pa: f64,
}

/// A pump's head at its reference speed: shutoff less a linear and a square part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PumpCurve {
    /// The speed of the curve, rpm.
    pub reference_rpm: f64,
    /// Head at no flow, m.
    pub shutoff_m: f64,
    /// Fall per flow, s/m².
    pub linear: f64,
    /// Fall per square of flow, s²/m⁵.
    pub square: f64,
    /// Best efficiency, water power over shaft power.
    pub best_efficiency: f64,
    /// The flow of best efficiency at the reference speed, m³/s.
    pub best_flow_m3s: f64,
}

/// Motor and drive: what they draw beside the shaft power.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drive {
    /// Electronics, W.
    pub electronics_w: f64,
    /// Rated shaft power, W.
    pub rated_w: f64,
    /// Loss at no load and no speed, as a share of the rated power.
    pub no_load: f64,
    /// Loss that grows with the square of speed, as a share of the rated power at the reference speed.
    pub iron: f64,
    /// Efficiency at full load, these losses apart.
    pub efficiency: f64,
    /// Power factor at no load and at full load.
    pub power_factor: (f64, f64),
    /// The power over which the power factor rises, W.
    pub power_factor_scale_w: f64,
    /// Supply, V.
    pub supply_v: f64,
}

/// The plumbing, as losses before and behind the pump.
#[derive(Clone, Debug, PartialEq)]
pub struct Circuit {
    /// Pipes before the pump, each with the share of the flow that it carries.
    pub suction: Vec<(PipeRun, f64)>,
    /// Pipes behind the filter.
    pub discharge: Vec<(PipeRun, f64)>,
    /// Loss in the filter's media per flow, s/m², the loading included.
    pub filter_media: f64,
    /// Loss in the filter's passages and the equipment per square of flow, s²/m⁵.
    pub passages: f64,
    /// Head that opens the check valve, m.
    pub check_valve_m: f64,
    /// Height of the filter gauge above the water, m.
    pub filter_gauge_m: f64,
    /// Height of the pump above the water, m.
    pub pump_m: f64,
}

/// A pad of pump, drive and circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct Pad {
    /// The pump.
    pub pump: PumpCurve,
    /// Motor and drive.
    pub drive: Drive,
    /// The plumbing.
    pub circuit: Circuit,
    /// The water.
    pub water: Water,
}

/// A truth that follows the fitted laws exactly.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LawfulPad {
    /// The reference speed, rpm.
    pub reference_rpm: f64,
    /// Flow per speed far above the intercept, m³/s per rpm.
    pub slope_m3s_per_rpm: f64,
    /// The speed at which flow starts, rpm.
    pub intercept_rpm: f64,
    /// Draw that does not depend on speed, W.
    pub fixed_w: f64,
    /// Draw that does, at the reference speed, W.
    pub dynamic_w: f64,
    /// Its exponent.
    pub exponent: f64,
    /// Fixed current, A.
    pub fixed_a: f64,
    /// Current that grows with speed, at the reference speed, A.
    pub dynamic_a: f64,
}

/// A truth of either kind.
#[derive(Clone, Debug, PartialEq)]
pub enum Truth {
    /// A pad.
    Rich(Pad),
    /// The laws themselves.
    Lawful(LawfulPad),
}

impl Truth {
    /// Returns what is true at a speed.
    ///
    /// # Errors
    /// Those of the hydraulics; a pad in the range of [`super::Uniform`]'s draws has none.
    pub fn at(&self, speed_rpm: f64) -> Result<Operation, HydraulicsError> {
        match self {
            Self::Rich(pad) => pad.at(speed_rpm),
            Self::Lawful(pad) => Ok(pad.at(speed_rpm)),
        }
    }

    /// Returns the highest speed, rpm.
    pub fn top_rpm(&self) -> f64 {
        match self {
            Self::Rich(pad) => pad.pump.reference_rpm,
            Self::Lawful(pad) => pad.reference_rpm,
        }
    }
}

impl LawfulPad {
    fn at(&self, speed_rpm: f64) -> Operation {
        let ratio = speed_rpm / self.reference_rpm;
        let square = speed_rpm * speed_rpm - self.intercept_rpm * self.intercept_rpm;
        Operation {
            speed_rpm,
            flow_m3s: self.slope_m3s_per_rpm * square.max(0.0).sqrt(),
            power_w: self.fixed_w + self.dynamic_w * pow(ratio, self.exponent),
            current_a: self.fixed_a + self.dynamic_a * pow(ratio, self.exponent),
            head_m: 0.0,
            filter_pressure_pa: 0.0,
            inlet_vacuum_pa: 0.0,
        }
    }
}

/// Heads at a flow, m.
struct Heads {
    pump: f64,
    suction: f64,
    /// Behind the pump, lift of the check valve included.
    discharge: f64,
}

impl Pad {
    /// Returns what is true at a speed.
    pub(super) fn at(&self, speed_rpm: f64) -> Result<Operation, HydraulicsError> {
        let ratio = speed_rpm / self.pump.reference_rpm;
        let flow = self.flow_m3s(ratio)?;
        let heads = self.heads(flow, ratio)?;
        let power = self.power_w(flow, heads.pump, ratio);
        let weight = self.water.density_kg_m3 * STANDARD_GRAVITY_M_S2;
        Ok(Operation {
            speed_rpm,
            flow_m3s: flow,
            power_w: power,
            current_a: power / (self.drive.supply_v * self.power_factor(power)),
            head_m: heads.pump,
            filter_pressure_pa: weight * (heads.discharge - self.circuit.filter_gauge_m),
            inlet_vacuum_pa: weight * (heads.suction + self.circuit.pump_m),
        })
    }

    /// Finds the flow at which the pump's head is the circuit's; none below the speed that opens the check valve.
    fn flow_m3s(&self, ratio: f64) -> Result<f64, HydraulicsError> {
        let excess = |flow: f64| {
            self.heads(flow, ratio)
                .map(|heads| heads.pump - heads.suction - heads.discharge)
        };
        if excess(0.0)? <= 0.0 {
            return Ok(0.0);
        }
        // The pump alone, without a circuit, moves no more than this.
        let most = ratio * (self.pump.shutoff_m / self.pump.square).sqrt();
        // An error at one flow would be one at every flow, and was returned above.
        let function = |flow: f64| excess(flow).unwrap_or(f64::NAN);
        Ok(bracketed(function, 0.0, most, FLOW_TOLERANCE_M3S).unwrap_or(0.0))
    }

    fn heads(&self, flow: f64, ratio: f64) -> Result<Heads, HydraulicsError> {
        let lost = |runs: &[(PipeRun, f64)]| {
            runs.iter()
                .map(|(run, share)| {
                    pipe_loss(run, flow * share, &self.water).map(|loss| loss.head_m)
                })
                .sum::<Result<f64, _>>()
        };
        let circuit = &self.circuit;
        let pump = &self.pump;
        Ok(Heads {
            pump: ratio * ratio * pump.shutoff_m
                - ratio * pump.linear * flow
                - pump.square * flow * flow,
            suction: lost(&circuit.suction)?,
            discharge: lost(&circuit.discharge)?
                + circuit.filter_media * flow
                + circuit.passages * flow * flow
                + circuit.check_valve_m,
        })
    }

    /// Computes the electrical power: electronics, shaft and the losses of motor and drive.
    fn power_w(&self, flow: f64, head: f64, ratio: f64) -> f64 {
        let off = flow / (ratio * self.pump.best_flow_m3s) - 1.0;
        let efficiency = (self.pump.best_efficiency * (1.0 - 0.75 * off * off)).max(0.08);
        let weight = self.water.density_kg_m3 * STANDARD_GRAVITY_M_S2;
        let shaft = weight * flow * head / efficiency;
        let drive = &self.drive;
        let load = shaft / drive.rated_w;
        let lost = drive.no_load + drive.iron * ratio * ratio + 0.02 * load * load;
        drive.electronics_w + (shaft + drive.rated_w * lost) / drive.efficiency
    }

    fn power_factor(&self, power_w: f64) -> f64 {
        let (low, high) = self.drive.power_factor;
        let load = pow(power_w / self.drive.power_factor_scale_w, 0.8);
        low + (high - low) * (1.0 - exp(-load))
    }
}
