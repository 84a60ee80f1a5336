//! The findings of the engine that are about readings, with where they belong in a table.

use super::Doubt;
use document::units::Printing;
use document::words::{finding as in_words, to_type};
use fieldtest::{Finding, Matter, Severity};

/// A finding with its place in a table.
pub(super) struct Placed<'f> {
    pub(super) doubt: Doubt,
    /// The lines of the file; none where the whole column is meant.
    pub(super) rows: Vec<usize>,
    /// The columns by their names.
    pub(super) columns: Vec<&'f str>,
    /// Whether it is about the speed of its rows.
    pub(super) is_of_the_speed: bool,
    /// Whether the reading cannot be.
    pub(super) is_impossible: bool,
}

impl<'f> Placed<'f> {
    /// Places a finding; `None` for one that is about no reading.
    pub(super) fn of(finding: &'f Finding, printing: Printing) -> Option<Self> {
        let matter = &finding.matter;
        let is_of_the_speed = matches!(
            matter,
            Matter::WrongSpeed { .. } | Matter::SpeedOutsidePump { .. }
        );
        let columns: Vec<&str> = match matter {
            Matter::MetersDisagree { columns, .. } => columns.iter().map(String::as_str).collect(),
            _ => finding.place.column.as_deref().into_iter().collect(),
        };
        let is_about_readings = matter.doubts_a_reading() || is_of_the_speed;
        if !is_about_readings || (columns.is_empty() && !is_of_the_speed) {
            return None;
        }
        let words = in_words(finding, printing);
        Some(Self {
            doubt: Doubt {
                code: Some(matter.code()),
                says: words.says,
                action: words.action,
                accept: accept(matter),
            },
            rows: if is_of_a_column(matter) {
                Vec::new()
            } else {
                finding.place.rows.clone()
            },
            columns,
            is_of_the_speed,
            is_impossible: finding.severity == Severity::Error && is_impossible(matter),
        })
    }
}

/// What to type instead, where something explains the reading.
fn accept(matter: &Matter) -> Option<String> {
    match matter {
        Matter::UnitSlip { read, .. } | Matter::OffCurve { read, .. } => {
            matter.accept_si().map(|si| to_type(read, si))
        }
        Matter::WrongSpeed { expected_rpm, .. } => {
            Some(document::number::rpm_about(expected_rpm.value))
        }
        _ => None,
    }
}

/// Whether a finding is about a column as a whole, whatever rows it names.
fn is_of_a_column(matter: &Matter) -> bool {
    matches!(
        matter,
        Matter::Scattered { .. }
            | Matter::ColumnSlip { .. }
            | Matter::MetersDisagree { .. }
            | Matter::VoltAmperesAsWatts { .. }
            | Matter::DoesNotRise { .. }
    )
}

/// Whether what a finding is about breaks a law of nature, rather than being unlikely.
fn is_impossible(matter: &Matter) -> bool {
    matches!(
        matter,
        Matter::VacuumBeyondAtmosphere { .. }
            | Matter::PowerFactorAboveOne { .. }
            | Matter::PowerTooSmallForHead { .. }
    )
}
