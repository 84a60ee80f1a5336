//! The answer: plain data, from which every renderer draws.

use crate::electrical::StepVoltage;
use crate::finding::{Basis, Finding};
use crate::laws::{FlowLaw, PowerLaw};
use crate::least_energy::{above_standby, energy};
use crate::system::SystemLaw;
use metrology::Estimate;
use records::Measured;

/// What a site and its tests say.
#[derive(Clone, Debug)]
pub struct Analysis {
    /// One result per test, in the order given.
    pub tests: Vec<TestResult>,
    /// The limits that the site's plumbing and equipment set, against the last test.
    pub limits: Vec<Limit>,
    /// All that there is to say, most serious first.
    pub findings: Vec<Finding>,
}

impl Analysis {
    /// Puts more findings among the others, by their weight.
    pub fn add_findings(&mut self, more: Vec<Finding>) {
        self.findings.extend(more);
        numerics::order::sort_by_key(&mut self.findings, |finding| {
            std::cmp::Reverse(finding.severity)
        });
    }
}

/// What one test says.
#[derive(Clone, Debug)]
pub struct TestResult {
    /// The name of the test.
    pub name: String,
    /// The lines that were shut.
    pub closed: Vec<String>,
    /// The headings of the columns of readings, without their units.
    pub columns: Vec<String>,
    /// The steps, by rising speed; standby is none.
    pub steps: Vec<Step>,
    /// The laws.
    pub laws: Laws,
    /// The cheapest speed per volume; `None` without both laws.
    pub least_energy: Option<LeastEnergy>,
    /// Every reading that was typed, and whether it is used.
    pub readings: Vec<ReadingUse>,
}

/// One step: all rows of one speed.
#[derive(Clone, Debug, Default)]
pub struct Step {
    /// The speed, rpm.
    pub speed_rpm: f64,
    /// The lines of the file that it was read on.
    pub rows: Vec<usize>,
    /// Volume flow, m³/s.
    pub flow_m3s: Option<Estimate>,
    /// Electrical power, W.
    pub power_w: Option<Estimate>,
    /// Current, A.
    pub current_a: Option<Estimate>,
    /// Voltage: as read, or that of the supply.
    pub voltage: Option<StepVoltage>,
    /// Power over volts times amperes.
    pub power_factor: Option<Estimate>,
    /// Gauge pressure between pump and filter, Pa.
    pub filter_pressure_pa: Option<Estimate>,
    /// Gauge pressure at the pump's inlet, Pa; negative below the atmosphere.
    pub inlet_pressure_pa: Option<Estimate>,
    /// Total head, m.
    pub head_m: Option<Estimate>,
    /// Where the total head comes from.
    pub head_from: Option<HeadFrom>,
    /// The highest head that the power drawn can lift, m.
    pub head_bound_m: Option<Estimate>,
    /// Water power over electrical power.
    pub efficiency: Option<Estimate>,
    /// Electrical energy per volume, W h/m³.
    pub energy_wh_per_m3: Option<Estimate>,
    /// Net positive suction head at the pump's inlet, by the gauge there, m.
    pub npsh_available_m: Option<Estimate>,
    /// Net positive suction head that the maker's curve asks for at this flow and speed, m.
    pub npsh_required_m: Option<f64>,
}

impl Step {
    /// What NPSH available has over what is required, m.
    pub fn npsh_margin_m(&self) -> Option<f64> {
        Some(self.npsh_available_m?.value - self.npsh_required_m?)
    }
}

/// Where a total head comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeadFrom {
    /// Gauges on both sides of the pump.
    Gauges,
    /// It was stated in the readings.
    Stated,
}

/// The laws of a test.
#[derive(Clone, Debug, Default)]
pub struct Laws {
    /// Flow against speed.
    pub flow: Option<FlowLaw>,
    /// Power against speed.
    pub power: Option<PowerLaw>,
    /// Total head against flow.
    pub system: Option<SystemLaw>,
    /// The draw at rest, W.
    pub standby_w: Option<Estimate>,
}

/// The cheapest speed per volume of water moved.
#[derive(Clone, Debug, PartialEq)]
pub struct LeastEnergy {
    /// The speed, where the tested speeds bracket it, rpm.
    pub speed_rpm: Option<Estimate>,
    /// The flow there, m³/s.
    pub flow_m3s: Option<Estimate>,
    /// Energy above standby per volume there, W h/m³.
    pub energy_wh_per_m3: Option<Estimate>,
    /// The speeds between which it costs at most 3 % more, rpm.
    pub within_3_percent_rpm: Option<(f64, f64)>,
    /// The end of the tested speeds at which it lies, where they do not bracket it.
    pub at_edge: Option<Edge>,
    /// What a whole day there moves, m³.
    pub volume_24h_m3: Option<f64>,
    /// The tasks and the equipment that need more flow than it gives, and `turnover` where a day there is too little.
    pub below: Vec<String>,
}

/// An end of the tested speeds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// The slowest step.
    Low,
    /// The fastest step.
    High,
}

/// One reading that was typed.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadingUse {
    /// The line of the file.
    pub row: usize,
    /// The heading of the column, without its unit.
    pub column: String,
    /// What it measures.
    pub measured: Measured,
    /// The value, SI.
    pub si: f64,
    /// Whether it counts.
    pub used: bool,
    /// The code of the finding, or the reason, for which it does not.
    pub why: Option<&'static str>,
}

/// How much of the flow passes a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Passage {
    /// All of it.
    Whole,
    /// A part, as large as the stated plumbing makes it.
    Divided,
    /// A part that is not known: the plumbing is not stated.
    Part,
    /// None: the line is shut.
    Shut,
}

/// A limit as a flow and a speed.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// The code of the finding that is raised beyond it.
    pub code: &'static str,
    /// The line; `None` for a limit of the whole pad.
    pub line: Option<String>,
    /// The line, or the part and its line.
    pub applies_to: String,
    /// What is limited.
    pub of: LimitOf,
    /// The flow at the limit, m³/s: that of the line or part; `None` where it is not known.
    pub flow_m3s: Option<f64>,
    /// How much of the flow passes there.
    pub passage: Passage,
    /// The speed at the limit, rpm, where it is known and the pump reaches it.
    pub speed_rpm: Option<f64>,
    /// Whether it is a highest or a lowest value.
    pub bound: Bound,
    /// The rule.
    pub source: String,
    /// How well the rule is founded.
    pub basis: Basis,
}

impl Limit {
    /// Returns the velocity of a flow where the limit is one of velocity, m/s.
    pub fn velocity_at_m_s(&self, flow_m3s: f64) -> Option<f64> {
        match self.of {
            LimitOf::Velocity { velocity_m_s } => Some(velocity_m_s * flow_m3s / self.flow_m3s?),
            _ => None,
        }
    }
}

/// What a limit limits, beside the flow that belongs to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LimitOf {
    /// The flow itself.
    Flow,
    /// The velocity in a line.
    Velocity {
        /// The limit, m/s.
        velocity_m_s: f64,
    },
    /// The flow through the area of a filter's media.
    FilterRate {
        /// The limit, m/s.
        rate_m_s: f64,
    },
    /// The gauge pressure in a vessel.
    Pressure {
        /// The limit, Pa.
        pressure_pa: f64,
    },
    /// The vacuum at the pump's inlet.
    Vacuum {
        /// The limit, Pa below the atmosphere.
        vacuum_pa: f64,
    },
    /// What NPSH available has over what is required.
    NpshMargin {
        /// The limit, m.
        margin_m: f64,
    },
    /// The height to which water must be lifted.
    Lift {
        /// The height above the pool, m.
        height_m: f64,
    },
}

/// Whether a limit is a highest or a lowest value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// A highest.
    Max,
    /// A lowest.
    Min,
}

impl Step {
    /// Computes electrical energy above a draw at rest per volume, W h/m³; `None` where flow or power is not known, or the
    /// draw at rest leaves nothing.
    pub fn energy_above_standby_wh_per_m3(&self, standby_w: Option<Estimate>) -> Option<Estimate> {
        let (power, flow) = (self.power_w?, self.flow_m3s?);
        above_standby(power, standby_w, flow.value, flow.relative_u())
    }
}

impl Laws {
    /// Predicts electrical energy above the draw at rest per volume at a speed, W h/m³: of this the cheapest
    /// speed is the least.
    pub fn energy_above_standby_wh_per_m3(&self, speed_rpm: f64) -> Option<Estimate> {
        let (flow, power) = (self.flow.as_ref()?, self.power.as_ref()?);
        energy(flow, power, self.standby_w, speed_rpm)
    }

    /// Predicts electrical energy per volume at a speed, W h/m³.
    pub fn energy_wh_per_m3(&self, speed_rpm: f64) -> Option<Estimate> {
        /// Seconds in an hour, exact.
        const SECONDS_PER_HOUR: f64 = 3600.0;
        let flow = self.flow.as_ref()?.law.predict_ln(speed_rpm);
        let power = self.power.as_ref()?.law.predict_ln(speed_rpm);
        // The larger of the two limits stays a rectangle; the smaller one joins what is normal.
        let [small, large] = if flow.rectangular_u_ln < power.rectangular_u_ln {
            [flow.rectangular_u_ln, power.rectangular_u_ln]
        } else {
            [power.rectangular_u_ln, flow.rectangular_u_ln]
        };
        let normal = [flow.normal_u_ln(), power.normal_u_ln(), small];
        let normal = normal.iter().map(|u| u * u).sum::<f64>().sqrt();
        let energy = Estimate::log_mixed(power.ln_value - flow.ln_value, normal, large)?;
        Some(energy.scaled(1.0 / SECONDS_PER_HOUR))
    }
}
