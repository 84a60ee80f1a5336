//! What a finding is about: each matter with the numbers that its words need.

use super::{Basis, Law, Reading, Seen, Slip, Unknown, Unrest, Voltage};
use crate::calibration::{HeadBy, HeadFit, NotCalibrated, ParameterOf};
use crate::plumbing::PartProblem;
use crate::result::{HeadFrom, Limit};
use hydraulics::pipe::PipeSpec;
use hydraulics::pump::CurveError;
use hydraulics::{HydraulicsError, Warning};
use metrology::Estimate;
use records::{Measured, Part, unit::Unit};

/// What a finding is about.
#[derive(Clone, Debug, PartialEq)]
pub enum Matter {
    /// A reading is a whole factor off what the other steps say.
    UnitSlip {
        /// As typed.
        read: Reading,
        /// What the other steps say, SI.
        expected: Estimate,
        /// Read over expected, as the slip makes it.
        factor: f64,
        /// What would explain it.
        slip: Slip,
        /// The value to accept, SI.
        accept_si: f64,
    },
    /// A reading is the same as the row beside it, and should not be.
    RepeatedEntry {
        /// As typed.
        read: Reading,
        /// What the other steps say, SI.
        expected: Estimate,
        /// The line that holds the same entry.
        same_as_row: usize,
    },
    /// A reading is off the curve of the other steps.
    OffCurve {
        /// As typed.
        read: Reading,
        /// What the other steps say, SI.
        expected: Estimate,
        /// The value to accept, SI, where swapping two neighbouring digits explains it.
        accept_si: Option<f64>,
    },
    /// A whole row fits another speed than the one that was typed.
    WrongSpeed {
        /// As typed, rpm.
        read_rpm: f64,
        /// The speed that the readings of the row fit.
        expected_rpm: Estimate,
    },
    /// The readings of a column do not follow one curve, and no few of them explain it.
    Scattered {
        /// What the column measures.
        measured: Measured,
        /// The largest distance from the curve, as a share of the reading.
        largest: f64,
    },
    /// Two meters of one quantity are further apart than their accuracies allow.
    MetersDisagree {
        /// What they measure.
        measured: Measured,
        /// The headings of their columns.
        columns: [String; 2],
        /// The second over the first.
        ratio: Estimate,
        /// The least and the most that their accuracies allow it to be.
        allowed: (f64, f64),
        /// The difference over the expanded uncertainties of both; satisfactory up to 1.
        e_n: f64,
    },
    /// A reading had not settled.
    Unsettled {
        /// What it measures.
        measured: Measured,
        /// The unit of its column.
        unit: Option<&'static Unit>,
        /// How it shows.
        unrest: Unrest,
        /// At first, SI.
        from_si: f64,
        /// At last, SI.
        to_si: f64,
    },
    /// A gauge does not come to rest with the pump off.
    GaugeZero {
        /// As typed.
        read: Reading,
        /// What it should show, Pa.
        expected: Estimate,
    },
    /// A whole column is right in another unit.
    ColumnSlip {
        /// What it measures.
        measured: Measured,
        /// The unit of its heading.
        typed: &'static Unit,
        /// Read over true.
        factor: f64,
        /// What would explain it.
        slip: Slip,
        /// What it shows against.
        seen: Seen,
    },
    /// A reading outside the range that its meter is good for.
    OutsideMeterRange {
        /// As typed.
        read: Reading,
        /// The lowest reading, SI.
        low_si: f64,
        /// The highest reading, SI.
        high_si: f64,
    },
    /// More real power than volts times amperes can carry.
    PowerFactorAboveOne {
        /// Power over volts times amperes.
        power_factor: Estimate,
        /// Power, W.
        power_w: f64,
        /// Volts times amperes.
        apparent_va: f64,
        /// Whether the voltage was read or is that of the supply.
        voltage: Voltage,
    },
    /// The column of power holds volts times amperes.
    VoltAmperesAsWatts {
        /// Mean of power over volts times amperes.
        mean_power_factor: f64,
        /// Largest difference from that mean.
        largest_difference: f64,
        /// Whether the voltage was read or is that of the supply.
        voltage: Voltage,
    },
    /// A head needs more power than was drawn.
    PowerTooSmallForHead {
        /// The head, m.
        head_m: f64,
        /// Where it comes from.
        from: HeadFrom,
        /// The highest head that the power can lift, m.
        bound_m: Estimate,
        /// The flow, m³/s.
        flow_m3s: f64,
        /// The power that was drawn, W.
        power_w: f64,
        /// The power that the water would carry, W.
        water_power_w: f64,
    },
    /// Speeds outside what the pump runs at.
    SpeedOutsidePump {
        /// The slowest of them, rpm.
        slowest_rpm: f64,
        /// The fastest of them, rpm.
        fastest_rpm: f64,
        /// The lowest that the pump runs at, as stated or as is usual, rpm.
        min_rpm: f64,
        /// The highest, rpm.
        max_rpm: f64,
    },
    /// A vacuum that is deeper than the atmosphere is high.
    VacuumBeyondAtmosphere {
        /// As typed.
        read: Reading,
        /// The atmosphere, Pa.
        atmosphere_pa: f64,
    },
    /// Steps ran more flow through a line or a part than its limit.
    FlowBeyond {
        /// The limit.
        limit: Limit,
        /// The highest flow, m³/s.
        flow_m3s: f64,
    },
    /// The program as found runs an appliance beyond the flow that it needs or that a rule allows.
    ProgramBeyond {
        /// The limit.
        limit: Limit,
        /// The flow of the program there, m³/s.
        flow_m3s: f64,
    },
    /// A vessel stood above its rated pressure, or so near that the gauge cannot tell.
    PressureAboveRating {
        /// The highest pressure read, Pa.
        pressure_pa: Estimate,
        /// The rating, Pa.
        rating_pa: f64,
    },
    /// The vacuum at the pump's inlet is higher than a sound suction makes.
    InletVacuumHigh {
        /// The highest vacuum read, Pa.
        vacuum_pa: Estimate,
        /// The limit, Pa.
        limit_pa: f64,
        /// The rule.
        source: &'static str,
        /// How well it is founded.
        basis: Basis,
    },
    /// Too little is left above boiling at the pump's inlet.
    NpshShort {
        /// NPSH available, m.
        available_m: Estimate,
        /// NPSH required, m.
        required_m: f64,
        /// The margin that the rule asks for, m.
        margin_m: f64,
        /// The rule.
        source: &'static str,
        /// How well it is founded.
        basis: Basis,
    },
    /// The water power over the electrical power is none of a pump's.
    EfficiencyImplausible {
        /// The efficiency, wire to water.
        efficiency: Estimate,
        /// Where the head comes from.
        from: HeadFrom,
        /// The efficiencies between which a pump near its top speed lies.
        plausible: (f64, f64),
    },
    /// Fewer speeds than a law needs.
    TooFewSteps {
        /// Which law.
        law: Law,
        /// Different speeds with a usable reading.
        have: usize,
        /// Different speeds that are needed.
        need: usize,
    },
    /// The draw at rest is more than what the electronics of the running pump can be.
    StandbyTooHigh {
        /// The draw at rest, W.
        standby_w: Estimate,
        /// The running draw that does not depend on speed, W.
        fixed_w: Estimate,
    },
    /// A quantity does not rise with speed.
    DoesNotRise {
        /// What does not rise.
        measured: Measured,
    },
    /// The pump's draw at rest was not read.
    NoStandbyReading,
    /// Something cannot be known from these data.
    NotIdentifiable(Unknown),
    /// A pipe whose bore the catalogue does not know.
    UnknownPipe {
        /// The line.
        line: String,
        /// The specification as typed.
        spec: String,
        /// The size as typed.
        size: String,
        /// The specification, where it is known and the size is not.
        known: Option<PipeSpec>,
    },
    /// A part of a line that has no law: a word that the catalogue does not hold, or numbers that cannot be.
    UnknownPart {
        /// The line.
        line: String,
        /// The part.
        part: Box<Part>,
        /// Why it has none.
        problem: PartProblem,
    },
    /// The points of the maker's curve are no curve.
    UnusableCurve {
        /// Why.
        error: CurveError,
    },
    /// A rule set that is not known; the residential one is used.
    UnknownRules {
        /// As typed.
        name: String,
    },
    /// A currency that ISO 4217 does not list; sums are written in it all the same.
    UnknownCurrency {
        /// As typed.
        code: String,
        /// What was probably meant.
        meant: Option<&'static str>,
        /// The change whose sums are in it; `None` where the site's are.
        change: Option<String>,
    },
    /// A property of the water is extrapolated.
    OutsideRange(Warning),
    /// Something of the water or the place cannot be, and a handbook's value stands in for it.
    Refused(HydraulicsError),
    /// Where the head is lost is not told.
    NotCalibrated(Box<NotCalibrated>),
    /// No gauge was read: where the head is lost rests on the stated plumbing alone.
    NoGauge,
    /// No gauge was read before the pump.
    NoInletGauge,
    /// Heads that were read fit the plumbing and one another less well than their uncertainties allow.
    HeadsMisfit {
        /// What is left over, in stated uncertainties.
        scatter: f64,
        /// The head that fits least.
        worst: Box<HeadFit>,
    },
    /// What parts take lies far from what is stated of them.
    UnlikeStated {
        /// The parts, each with what it takes over what is stated; the furthest first.
        parts: Vec<(ParameterOf, Estimate)>,
    },
    /// What the readings could not tell of the parts.
    PartsNotTold {
        /// What they hardly tell more of than was known before.
        unknown: Vec<ParameterOf>,
        /// What they tell together only.
        together: Vec<(ParameterOf, ParameterOf)>,
    },
    /// Parts whose drop is not stated, each with its line.
    UnstatedDrops {
        /// A usual drop stands in for it.
        assumed: Vec<(String, Part)>,
        /// It is left out.
        left_out: Vec<(String, Part)>,
    },
    /// Two ways to the head of the pump are further apart than their uncertainties allow.
    HeadsDisagree {
        /// The two, each with the way.
        heads: [(HeadBy, Estimate); 2],
    },
    /// A meter without a stated accuracy: the usual one of its kind is taken.
    AccuracyAssumed {
        /// The headings of the columns, each with its half-width as a share of the reading.
        columns: Vec<(String, f64)>,
    },
}
