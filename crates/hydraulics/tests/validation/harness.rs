//! Reads cases and tallies deviations, so that a topic states only what is compared and how closely.
//!
//! A tally fails on a deviation above its tolerance, on a known exception that agrees after all, and
//! when no case ran. `cargo test -- --nocapture` shows the worst deviation of each.

use std::collections::BTreeMap;
use std::path::Path;

/// A foot in metres, exact.
pub(crate) const FOOT_M: f64 = 0.3048;

/// A US gallon in m³, exact.
pub(crate) const US_GALLON_M3: f64 = 3.785411784e-3;

/// One US gallon per minute in m³/s, exact.
pub(crate) const GPM_M3S: f64 = US_GALLON_M3 / 60.0;

/// An inch in metres, exact.
pub(crate) const INCH_M: f64 = 0.0254;

/// A pound-force per square inch in Pa (NIST SP 811, appendix B.8).
pub(crate) const PSI_PA: f64 = 6894.757;

/// An inch of mercury at 0 °C in Pa (NIST SP 811, appendix B.8: 3.386389e3).
pub(crate) const INHG_PA: f64 = 3386.389;

/// A pound per cubic foot in kg/m³: 0.45359237 kg over 0.3048³ m³.
pub(crate) const LB_FT3_KG_M3: f64 = 0.45359237 / (FOOT_M * FOOT_M * FOOT_M);

/// A horsepower of 550 foot-pounds per second in W (NIST SP 811, appendix B.8).
pub(crate) const HORSEPOWER_W: f64 = 745.6999;

/// 0 °C in K, exact.
pub(crate) const ZERO_CELSIUS_K: f64 = 273.15;

/// Converts °F to K.
pub(crate) fn fahrenheit_k(temperature_f: f64) -> f64 {
    (temperature_f - 32.0) / 1.8 + ZERO_CELSIUS_K
}

/// One line of a file of cases, by column.
pub(crate) struct Case(BTreeMap<String, String>);

impl Case {
    /// The text of a column, empty where the cell is.
    pub(crate) fn text(&self, column: &str) -> &str {
        self.0
            .get(column)
            .unwrap_or_else(|| panic!("no column {column}"))
    }

    /// The number in a column.
    pub(crate) fn number(&self, column: &str) -> f64 {
        self.number_if_any(column)
            .unwrap_or_else(|| panic!("column {column} is empty"))
    }

    /// The number in a column, `None` where the cell is empty.
    pub(crate) fn number_if_any(&self, column: &str) -> Option<f64> {
        let text = self.text(column);
        (!text.is_empty()).then(|| text.parse().unwrap_or_else(|_| panic!("{column}: {text}")))
    }
}

/// Reads a file below `validation/` as it is.
pub(crate) fn text(path: &str) -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../validation");
    std::fs::read_to_string(root.join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// Reads a CSV file below `validation/`; lines that start with `#` are its provenance.
pub(crate) fn cases(path: &str) -> Vec<Case> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../validation");
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_path(root.join(path))
        .unwrap_or_else(|error| panic!("{path}: {error}"));
    reader
        .deserialize()
        .map(|row| Case(row.unwrap_or_else(|error| panic!("{path}: {error}"))))
        .collect()
}

/// How two numbers are compared.
#[derive(Clone, Copy)]
pub(crate) enum Tolerance {
    /// |ours / theirs − 1|.
    Relative(f64),
    /// |ours − theirs|, in the unit of the numbers.
    Absolute(f64),
    /// |ours − theirs| within the larger of an absolute and a relative bound; measured as a share of it.
    Either {
        /// In the unit of the numbers.
        absolute: f64,
        /// Of their value.
        relative: f64,
    },
}

impl Tolerance {
    /// The most that a deviation may be.
    fn allowed(self) -> f64 {
        match self {
            Self::Relative(most) | Self::Absolute(most) => most,
            Self::Either { .. } => 1.0,
        }
    }

    /// The deviation and the most that it may be.
    fn judge(self, ours: f64, theirs: f64) -> (f64, f64) {
        let apart = (ours - theirs).abs();
        match self {
            Self::Relative(most) => (apart / theirs.abs(), most),
            Self::Absolute(most) => (apart, most),
            Self::Either { absolute, relative } => {
                (apart / absolute.max(relative * theirs.abs()), 1.0)
            }
        }
    }
}

/// The deviations of one topic.
pub(crate) struct Tally {
    topic: &'static str,
    tolerance: Tolerance,
    count: u32,
    worst: (f64, String),
    complaints: Vec<String>,
}

impl Tally {
    pub(crate) fn new(topic: &'static str, tolerance: Tolerance) -> Self {
        Self {
            topic,
            tolerance,
            count: 0,
            worst: (0.0, String::from("nowhere")),
            complaints: Vec::new(),
        }
    }

    /// Compares one value.
    pub(crate) fn compare(&mut self, label: impl Into<String>, ours: f64, theirs: f64) {
        let label = label.into();
        let (deviation, most) = self.tolerance.judge(ours, theirs);
        self.count += 1;
        if deviation > most || deviation.is_nan() {
            self.complaints
                .push(format!("{label}: {ours} against {theirs}"));
        }
        if deviation > self.worst.0 || deviation.is_nan() {
            self.worst = (deviation, label);
        }
    }

    /// Looks whether a case that is known to disagree still does.
    pub(crate) fn expect_disagreement(&mut self, label: impl Into<String>, ours: f64, theirs: f64) {
        let (deviation, most) = self.tolerance.judge(ours, theirs);
        self.count += 1;
        if deviation <= most {
            let label = label.into();
            self.complaints
                .push(format!("{label}: a known exception agrees; strike it off"));
        }
    }

    /// Ends the tally: panics on any complaint and on an empty topic.
    pub(crate) fn finish(self) {
        let Self {
            topic,
            count,
            worst: (worst, label),
            complaints,
            tolerance,
        } = self;
        let allowed = tolerance.allowed();
        let summary =
            format!("{topic}: {count} cases, worst {worst:.2e} of {allowed:.3e} at {label}");
        assert!(count > 0, "{topic}: no case ran");
        assert!(
            complaints.is_empty(),
            "{summary}\n{}",
            complaints.join("\n")
        );
        println!("{summary}");
    }
}

#[test]
#[should_panic(expected = "no case ran")]
fn an_empty_topic_fails() {
    Tally::new("nothing", Tolerance::Relative(0.1)).finish();
}

#[test]
#[should_panic(expected = "strike it off")]
fn a_known_exception_that_agrees_fails() {
    let mut tally = Tally::new("exceptions", Tolerance::Absolute(0.1));
    tally.expect_disagreement("one", 1.0, 1.05);
    tally.finish();
}

#[test]
#[should_panic(expected = "one: NaN against 1")]
fn what_is_not_a_number_fails() {
    let mut tally = Tally::new("numbers", Tolerance::Relative(0.1));
    tally.compare("one", f64::NAN, 1.0);
    tally.finish();
}
