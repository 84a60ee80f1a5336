//! The site: the pool, the pump, the meters and the plumbing, as the site file states them.

use crate::{Operation, Part, Quantity};
use serde::Serialize;

/// How results are printed; input always names its unit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum UnitSystem {
    /// Gallons per minute, feet, psi.
    #[default]
    Us,
    /// Cubic metres per hour, metres, kilopascal.
    Si,
}

/// A site file. Only `name` and the pump's highest speed are required.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Site {
    /// Counts breaking changes of the format; 1.
    pub format: u32,
    /// What the person calls the site.
    pub name: String,
    /// How to print.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub units: Option<UnitSystem>,
    /// The water of the pool.
    #[serde(skip_serializing_if = "Water::is_empty")]
    pub water: Water,
    /// Where it stands.
    #[serde(skip_serializing_if = "Place::is_empty")]
    pub place: Place,
    /// Other levels of water; the pool is 0.
    #[serde(rename = "body", skip_serializing_if = "Vec::is_empty")]
    pub bodies: Vec<Body>,
    /// The pump.
    pub pump: Pump,
    /// The meters.
    #[serde(rename = "meter", skip_serializing_if = "Vec::is_empty")]
    pub meters: Vec<Meter>,
    /// The lines of the circuit; two are parallel when they share both ends.
    #[serde(rename = "line", skip_serializing_if = "Vec::is_empty")]
    pub lines: Vec<Line>,
    /// Where three lines meet in a tee or a wye; at any other junction nothing is lost.
    #[serde(rename = "tee", skip_serializing_if = "Vec::is_empty")]
    pub tees: Vec<JoiningTee>,
    /// The rule set and what overrides it.
    #[serde(skip_serializing_if = "Limits::is_empty")]
    pub limits: Limits,
    /// How the pool is run and what it costs.
    #[serde(skip_serializing_if = "Operation::is_empty")]
    pub operation: Operation,
}

/// The water of the pool.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Water {
    /// Volume of the pool.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub volume: Option<Quantity>,
    /// Temperature for planning, K; each test has its own.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub temperature: Option<Quantity>,
    /// Salinity, kg/m³.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub salinity: Option<Quantity>,
}

/// Where the pool stands.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Place {
    /// Height above sea level, m, for atmospheric pressure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub elevation: Option<Quantity>,
}

/// A body of water at another level than the pool.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Body {
    /// Its name, which lines may start or end at.
    pub name: String,
    /// Its level above the pool, m.
    pub level: Quantity,
}

/// The pump.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Pump {
    /// What the person calls it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// The speeds that it can run at.
    pub speed: SpeedRange,
    /// Supply voltage, V.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub supply: Option<Quantity>,
    /// Height of the pump's centre above the water, m; negative when below.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub height: Option<Quantity>,
    /// Speed and time of priming at each start.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub prime: Option<Prime>,
    /// The speed of the maker's curve, rpm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub curve_speed: Option<Quantity>,
    /// The maker's curve at that speed.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub curve: Vec<CurvePoint>,
}

/// The speeds that a pump can run at.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SpeedRange {
    /// The lowest, rpm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub min: Option<Quantity>,
    /// The highest, rpm.
    pub max: Quantity,
}

/// Priming at each start.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Prime {
    /// Speed, rpm.
    pub speed: Quantity,
    /// Duration, s.
    pub time: Quantity,
}

/// One point of a maker's curve.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CurvePoint {
    /// Flow, m³/s.
    pub flow: Quantity,
    /// Total head, m.
    pub head: Quantity,
    /// Net positive suction head required, m.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub npshr: Option<Quantity>,
    /// Electrical power, W.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub power: Option<Quantity>,
    /// Efficiency of the pump, water power over shaft power.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub efficiency: Option<Quantity>,
}

/// What a meter measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum MeterOf {
    /// Volume flow.
    Flow,
    /// Electrical power.
    Power,
    /// Current.
    Current,
    /// Voltage.
    Voltage,
    /// Gauge pressure.
    Pressure,
    /// Vacuum below the atmosphere.
    Vacuum,
}

/// How a meter works, which fixes what it is worth where its accuracy is not stated.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum MeterKind {
    /// A float in a tapered or slotted tube.
    Float,
    /// A paddle wheel.
    Paddle,
    /// Ultrasound through the pipe wall.
    ClampOn,
    /// An electromagnetic tube.
    Magnetic,
    /// The pump's own display.
    #[serde(rename = "pump display")]
    PumpDisplay,
    /// A dial or digital gauge.
    Gauge,
    /// An electrical meter of the true effective value.
    #[serde(rename = "true rms")]
    TrueRms,
    /// An electrical meter of the rectified mean.
    #[serde(rename = "average rms")]
    AverageRms,
}

/// Where a gauge is tapped.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Tap {
    /// The strainer pot of the pump.
    #[serde(rename = "pump pot")]
    PumpPot,
    /// The suction pipe before the pump.
    #[serde(rename = "suction pipe")]
    SuctionPipe,
    /// The pump outlet.
    #[serde(rename = "pump outlet")]
    PumpOutlet,
    /// The filter inlet.
    #[serde(rename = "filter inlet")]
    FilterInlet,
    /// The filter outlet.
    #[serde(rename = "filter outlet")]
    FilterOutlet,
    /// The end of the equipment.
    #[serde(rename = "pad outlet")]
    PadOutlet,
}

/// A meter of the site.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Meter {
    /// The name by which a column of readings calls it.
    pub id: String,
    /// What it measures.
    pub measures: MeterOf,
    /// How it works.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kind: Option<MeterKind>,
    /// Its accuracy: limits that are independent of one another.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub accuracy: Vec<Accuracy>,
    /// How many standard uncertainties the accuracy is; where absent it is the half-width of a rectangular distribution.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub coverage: Option<f64>,
    /// The smallest difference it shows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub resolution: Option<Quantity>,
    /// The lowest and the highest value it measures.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub range: Option<[Quantity; 2]>,
    /// The part of the variance that is one draw per meter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub share_common: Option<f64>,
    /// A flow meter: the line it sits on; absent, the whole flow.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub on: Option<String>,
    /// A flow meter: the pipe that it was set up for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub scaled_for: Option<String>,
    /// A gauge: where it is tapped.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tap: Option<Tap>,
    /// A gauge: its height above the water, m.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub height: Option<Quantity>,
    /// A float: the edge that is read, `top`, `middle` or `bottom`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub read_at: Option<String>,
}

/// One limit of a meter's accuracy, such as `2 % of reading + 0.5 gpm`: its terms add up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Accuracy {
    /// The text as typed.
    pub text: String,
    /// Share of the reading.
    pub of_reading: f64,
    /// Share of the full scale, which is the upper end of the range.
    pub of_full_scale: f64,
    /// A fixed amount, in the SI unit of what is measured.
    pub absolute_si: f64,
}

/// A line of the circuit: parts in series between two ends.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Line {
    /// Its name.
    pub name: String,
    /// The end that water comes from.
    pub from: String,
    /// The end that water goes to.
    pub to: String,
    /// Nothing is known of what is in it.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub unknown: bool,
    /// Its parts, along the flow.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<Part>,
}

/// A tee or a wye in which three lines meet: how the flow divides says what each loses there.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct JoiningTee {
    /// The end at which the lines meet.
    pub at: String,
    /// The two in one straight line, by name; `pump` for the pump itself. The branch of a wye leans away from the first.
    pub run: [String; 2],
    /// The one at the side.
    pub branch: String,
    /// Its shape; absent, a tee.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shape: Option<TeeShape>,
    /// Bore of the run, m; absent, that of the pipe nearest to it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub run_bore: Option<Quantity>,
    /// Bore of the branch, m; absent, that of the pipe nearest to it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub branch_bore: Option<Quantity>,
}

/// The word for the pump among the legs of a tee.
pub const PUMP_LEG: &str = "pump";

/// How the branch of a tee leaves the run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum TeeShape {
    /// At a right angle.
    Tee,
    /// At 45 degrees.
    Wye,
}

/// The rule set and what overrides it.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Limits {
    /// The name of the rule set.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rules: Option<String>,
    /// Highest velocity before the pump, m/s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub suction_velocity: Option<Quantity>,
    /// Highest velocity after the pump, m/s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub return_velocity: Option<Quantity>,
    /// Highest pressure in the equipment, Pa.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pressure: Option<Quantity>,
    /// Highest vacuum at the pump inlet, Pa.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub inlet_vacuum: Option<Quantity>,
    /// Least margin of NPSH available over required, m.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub npsh_margin: Option<Quantity>,
}
