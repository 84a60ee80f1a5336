//! The words of a finding: what the reading is, what was expected and why, and the next move of a person at the pad.

pub(crate) mod calibration;
mod expected;
mod knowledge;
pub mod learning;
mod limits;
mod meters;
pub(crate) mod ranges;
mod system;
mod trust;

use crate::language::say;
pub use expected::{ExpectedWords, expected, rough_doubt, to_type};
pub use meters::usual_accuracy;

use crate::names;
use crate::units::Printing;
use fieldtest::{Basis, Finding, Matter, Place};

/// A finding in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Words {
    /// What was found, what was expected and why.
    pub says: String,
    /// What to do next.
    pub action: String,
    /// The rule or the physics behind it, where there is one.
    pub source: Option<String>,
}

impl Words {
    fn new(says: impl Into<String>, action: impl Into<String>) -> Self {
        Self {
            says: says.into(),
            action: action.into(),
            source: None,
        }
    }

    fn with_source(mut self, source: impl Into<String>) -> Self {
        self.source = Some(source.into());
        self
    }
}

/// Puts a finding into English.
pub fn finding(finding: &Finding, printing: Printing) -> Words {
    let place = &finding.place;
    match &finding.matter {
        Matter::UnitSlip { .. }
        | Matter::RepeatedEntry { .. }
        | Matter::OffCurve { .. }
        | Matter::WrongSpeed { .. }
        | Matter::Scattered { .. } => trust::words(&finding.matter, place, printing),
        Matter::MetersDisagree { .. }
        | Matter::Unsettled { .. }
        | Matter::GaugeZero { .. }
        | Matter::ColumnSlip { .. }
        | Matter::OutsideMeterRange { .. }
        | Matter::VacuumBeyondAtmosphere { .. } => meters::words(&finding.matter, place, printing),
        Matter::PowerFactorAboveOne { .. }
        | Matter::VoltAmperesAsWatts { .. }
        | Matter::PowerTooSmallForHead { .. }
        | Matter::EfficiencyImplausible { .. }
        | Matter::SpeedOutsidePump { .. } => system::words(&finding.matter, place, printing),
        Matter::FlowBeyond { .. }
        | Matter::ProgramBeyond { .. }
        | Matter::PressureAboveRating { .. }
        | Matter::InletVacuumHigh { .. }
        | Matter::NpshShort { .. } => limits::words(&finding.matter, place, printing),
        Matter::NotCalibrated(_)
        | Matter::NoGauge
        | Matter::NoInletGauge
        | Matter::HeadsMisfit { .. }
        | Matter::UnlikeStated { .. }
        | Matter::PartsNotTold { .. }
        | Matter::UnstatedDrops { .. }
        | Matter::HeadsDisagree { .. } => calibration::words(&finding.matter, place, printing),
        Matter::TooFewSteps { .. }
        | Matter::NoStandbyReading
        | Matter::StandbyTooHigh { .. }
        | Matter::DoesNotRise { .. }
        | Matter::NotIdentifiable(_)
        | Matter::UnknownPipe { .. }
        | Matter::UnknownPart { .. }
        | Matter::UnusableCurve { .. }
        | Matter::UnknownRules { .. }
        | Matter::UnknownCurrency { .. }
        | Matter::OutsideRange(_)
        | Matter::Refused(_)
        | Matter::AccuracyAssumed { .. } => knowledge::words(&finding.matter, printing),
    }
}

/// Says where a rule stands, and whether that was read in print.
pub(crate) fn sourced(source: &str, basis: Basis, printing: Printing) -> String {
    let source = names::name(source, printing);
    match basis {
        Basis::UsualPractice => say!(
            printing,
            "{source} (usual practice, confirm locally)",
            source
        ),
        Basis::Printed | Basis::SiteFile => source.into_owned(),
    }
}

/// Says where a rule stands, in a sentence below a table.
pub(crate) fn rule(source: &str, basis: Basis, printing: Printing) -> String {
    say!(
        printing,
        "Rule: {source}. Local codes decide.",
        source = sourced(source, basis, printing)
    )
}

/// Stands in for words that a family of findings does not have: the code, which is better than silence. No finding comes
/// here as long as [`finding`] sends each to its own family.
fn unsaid(matter: &Matter, printing: Printing) -> Words {
    debug_assert!(false, "no words for {}", matter.code());
    Words::new(
        matter.code(),
        say!(printing, "Tell the makers of this program."),
    )
}

/// Says where a reading stands: "Row 7, power at 2400 rpm".
fn place_words(place: &Place, printing: Printing) -> String {
    let column = column_words(place, printing);
    match place.steps_rpm.as_slice() {
        [] => column,
        [speed, ..] => say!(
            printing,
            "{column} at {speed} rpm",
            column,
            speed = crate::number::rpm(printing, *speed)
        ),
    }
}

/// Says which column a reading stands in, and in which rows: "Row 7, power".
fn column_words(place: &Place, printing: Printing) -> String {
    let rows = rows_words(&place.rows, printing);
    let column = match &place.column {
        Some(heading) => names::column(heading, printing),
        None => say!(printing, "reading" as "what a row holds").to_owned(),
    };
    format!("{rows}{column}")
}

/// Lists rows: one, a run without a gap, a few, or how many from where on.
fn rows_words(rows: &[usize], printing: Printing) -> String {
    let mut rows = rows.to_vec();
    rows.sort_unstable();
    rows.dedup();
    match rows.as_slice() {
        [] => String::new(),
        [row] => say!(printing, "Row {row}, ", row),
        [first, .., last] if last - first + 1 == rows.len() => {
            say!(printing, "Rows {first}–{last}, ", first, last)
        }
        [start @ .., last] if rows.len() <= 4 => {
            let start: Vec<String> = start.iter().map(ToString::to_string).collect();
            say!(
                printing,
                "Rows {start} and {last}, ",
                start = start.join(", "),
                last
            )
        }
        [first, ..] => say!(
            printing,
            "{count} rows from row {first} on, ",
            count = rows.len(),
            first
        ),
    }
}

/// Joins words as speech does: "a, b and c".
pub(crate) fn listed<Word: AsRef<str>>(words: &[Word], printing: Printing) -> String {
    let words: Vec<&str> = words.iter().map(AsRef::as_ref).collect();
    match words.as_slice() {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [start @ .., last] => say!(
            printing,
            "{start} and {last}",
            start = start.join(", "),
            last
        ),
    }
}
