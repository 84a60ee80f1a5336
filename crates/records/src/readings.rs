//! The readings of a test as a table: what each column measures, and each cell as typed.

use crate::unit::Unit;

/// What a column of readings measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Measured {
    /// Pump speed.
    Speed,
    /// Volume flow.
    Flow,
    /// Electrical power.
    Power,
    /// Electrical current.
    Current,
    /// Voltage at the pump.
    Voltage,
    /// Gauge pressure at the filter, signed.
    FilterPressure,
    /// Vacuum at the pump inlet, positive below the atmosphere.
    InletVacuum,
    /// Gauge pressure at the pump inlet, signed.
    InletPressure,
    /// Total head of the pump as somebody states it, to be held against the readings.
    Head,
    /// Time since the start of the test.
    Time,
}

/// One column of readings.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// The heading as typed, such as `flow A [gpm]`; for steps typed inline, the name of the column alone.
    pub heading: String,
    /// What it measures.
    pub measured: Measured,
    /// The meter that it names, where it names one.
    pub meter: Option<String>,
    /// The unit of the heading; `None` where each cell carries its own (steps typed inline).
    pub unit: Option<&'static Unit>,
}

/// One cell as typed.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Not read.
    Empty,
    /// A reading.
    Value {
        /// The text as typed.
        text: String,
        /// The value in SI.
        si: f64,
    },
    /// Below what the meter shows: `<8`.
    Below {
        /// The text as typed.
        text: String,
        /// The lowest value that the meter shows, in SI.
        si: f64,
    },
}

/// One row of readings.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// The line of the file that it starts on, from 1; for steps typed inline, the line of the step in the test file.
    pub line: usize,
    /// The speed in revolutions per minute; 0 is standby.
    pub speed_rpm: f64,
    /// One cell for each column, in their order.
    pub cells: Vec<Cell>,
    /// The note as typed, empty where there is none.
    pub note: String,
}

/// The readings of one test.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Readings {
    /// The columns, in the order of the file; the note is no column.
    pub columns: Vec<Column>,
    /// The rows, in the order of the file.
    pub rows: Vec<Row>,
}
