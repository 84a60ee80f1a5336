//! What the analysis has to say, as codes and numbers. A finding holds no sentence: words are the renderer's.

mod code;
mod matter;

pub use matter::Matter;

use records::{Measured, unit::Unit};

/// How much a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Worth knowing.
    Note,
    /// To be settled before the result is relied on.
    Warning,
    /// Cannot be true, or must not be.
    Error,
}

/// One thing that the analysis has to say.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// How much it weighs.
    pub severity: Severity,
    /// Where in the readings it stands.
    pub place: Place,
    /// What it is.
    pub matter: Matter,
}

/// Where a finding stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Place {
    /// The test; `None` where the site is meant.
    pub test: Option<String>,
    /// The steps that it concerns, by speed.
    pub steps_rpm: Vec<f64>,
    /// The lines of the file of readings that it concerns.
    pub rows: Vec<usize>,
    /// The heading of the column, without its unit.
    pub column: Option<String>,
}

/// A reading as it was typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// What it measures.
    pub measured: Measured,
    /// The unit of its column; `None` where the text carries its own.
    pub unit: Option<&'static Unit>,
    /// The text.
    pub text: String,
    /// Its value in SI.
    pub si: f64,
}

/// What would explain a reading that is a whole factor off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Slip {
    /// The decimal point stands so many places too far to the right (negative: to the left).
    DecimalPlaces(i8),
    /// The number is right in this other unit.
    Unit(&'static Unit),
}

/// How it shows that a reading had not settled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unrest {
    /// It moves one way over its repeats.
    Trend,
    /// It reads otherwise when its speed is met again.
    Drift,
}

/// What a slip of a whole column shows against.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// The flow that pumps of this kind give per speed.
    FlowPerSpeed,
    /// The power that volts and amperes allow.
    PowerFactor,
}

/// Where a voltage comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Voltage {
    /// It was read.
    Read,
    /// It is that of the supply, ± 10 %.
    Supply,
}

/// How well a rule is founded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// Seen in print, in the source named.
    Printed,
    /// Recalled by the trade: to be confirmed locally.
    UsualPractice,
    /// Stated in the site file.
    SiteFile,
}

/// A law of a test.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Law {
    /// Flow against speed.
    Flow,
    /// Power against speed.
    Power,
}

/// What cannot be known, and which reading would tell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unknown {
    /// How head grows with flow: too few steps have a total head.
    SystemLaw,
    /// The exponent of that growth, or the head at rest: the gauges do not tell them apart.
    SystemNumbers,
    /// The cheapest speed lies at or below the slowest step.
    LeastEnergyBelow {
        /// The slowest step, rpm.
        slowest_rpm: f64,
        /// The speed to read next, rpm.
        read_next_rpm: f64,
    },
    /// The cheapest speed lies at or above the fastest step.
    LeastEnergyAbove {
        /// The fastest step, rpm.
        fastest_rpm: f64,
    },
    /// A law did not settle on these readings.
    LawDidNotSettle(Law),
    /// Only lines that carry part of the flow have a meter.
    WholeFlow,
}
