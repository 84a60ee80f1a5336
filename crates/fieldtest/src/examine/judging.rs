//! The stage of trust: each column is judged, and what is refuted is explained.

use super::{Examination, LAWFUL};
use crate::cells::{Cell, cells};
use crate::electrical;
use crate::explain::{Context, explain, reading};
use crate::finding::{Matter, Severity};
use crate::laws::{FittedLaw, Shape};
use crate::repeats::stray_repeats;
use crate::trust::{Judgement, beyond_affinity, judge};
use numerics::elementary::exp;
use records::{Cell as Typed, Measured};
use std::collections::BTreeSet;

impl<'a> Examination<'a> {
    /// Strikes the column of power where it holds volt-amperes.
    pub(super) fn check_volt_amperes(&mut self) {
        let Some(matter) = electrical::volt_amperes_as_watts(&self.steps()) else {
            return;
        };
        let columns = self.ledger.columns_of(Measured::Power);
        let mut place = self.of_test();
        place.column = columns
            .first()
            .map(|column| self.test.readings.columns[*column].name());
        self.say(Severity::Error, place, matter);
        for column in columns {
            self.ledger.strike_column(column, "volt-amperes-as-watts");
        }
    }

    /// Judges every column that follows a law, and strikes what does not belong.
    pub(super) fn judge_columns(&mut self, strays: &[usize]) {
        let mut judged: Vec<(usize, Judgement<'_>)> = Vec::new();
        for (measured, shape) in LAWFUL {
            for column in self.ledger.columns_of(measured) {
                judged.push((column, self.judge_column(column, shape)));
            }
        }
        let moved_rows = self.wrong_speeds(&judged);
        self.say_strays(strays, &moved_rows, &judged);
        for (column, judgement) in &judged {
            self.strike_refuted(*column, judgement, &moved_rows);
        }
    }

    /// Judges one column: repeats against each other, and what is left of them against the law.
    fn judge_column(&self, column: usize, shape: Shape) -> Judgement<'a> {
        let may_doubt = |cell: &Cell<'_>| {
            !cell
                .rows
                .iter()
                .any(|row| self.ledger.is_confirmed(*row, column))
        };
        let (readings, used) = (&self.test.readings, self.ledger.used(column));
        let mut strays = stray_repeats(readings, used, |row| self.ledger.in_use(row, column));
        strays.retain(|stray| may_doubt(&stray.cell));
        let rows: BTreeSet<usize> = strays
            .iter()
            .flat_map(|stray| stray.cell.rows.clone())
            .collect();
        let found = cells(readings, used, |row| {
            self.ledger.in_use(row, column) && !rows.contains(&row)
        });
        let mut judgement = judge(shape, self.top_speed_rpm(), &found, may_doubt);
        // Water of a raised body may fall through the pump, and then flow per speed rises as it slows.
        if shape == Shape::Flow && judgement.refuted.is_empty() && self.site.bodies.is_empty() {
            let beyond = beyond_affinity(self.top_speed_rpm(), &found, may_doubt);
            judgement = beyond.unwrap_or(judgement);
        }
        judgement.refuted.extend(strays);
        judgement
    }

    fn strike_refuted(&mut self, column: usize, judgement: &Judgement<'_>, moved_rows: &[usize]) {
        let measured = self.test.readings.columns[column].measured;
        if let Some(largest) = judgement.scattered {
            let mut place = self.of_test();
            place.column = Some(self.test.readings.columns[column].name());
            self.say(
                Severity::Warning,
                place,
                Matter::Scattered { measured, largest },
            );
        }
        let Some(law) = &judgement.law else {
            return;
        };
        self.strike_nothing(column, law);
        for refuted in &judgement.refuted {
            if refuted.cell.rows.iter().any(|row| moved_rows.contains(row)) {
                continue;
            }
            // What had not settled is said already, and one fault gives one finding.
            if self.is_unsettled(&refuted.cell.rows, column) {
                for row in &refuted.cell.rows {
                    self.ledger.strike(*row, column, "unsettled");
                }
                continue;
            }
            let context = Context {
                test: &self.test.name,
                readings: &self.test.readings,
                column,
                resolution_si: self.ledger.meters[column].instrument.resolution,
                law,
            };
            if let Some(finding) = explain(context, refuted) {
                for row in &refuted.cell.rows {
                    self.ledger.strike(*row, column, finding.matter.code());
                }
                self.findings.push(finding);
            }
        }
    }

    /// Strikes readings of nothing where the law says that there was something to read: a logarithm cannot judge them.
    fn strike_nothing(&mut self, column: usize, law: &FittedLaw) {
        /// Nothing is doubted where the law, less this many standard uncertainties, is still more than the display shows.
        const DOUBT_Z: f64 = 4.0;
        let readings = &self.test.readings;
        let resolution = self.ledger.meters[column].instrument.resolution;
        for (row, typed) in readings.rows.iter().enumerate() {
            let Some(most) = shows_nothing(typed.cells.get(column)) else {
                continue;
            };
            let may_doubt =
                self.ledger.in_use(row, column) && !self.ledger.is_confirmed(row, column);
            if !may_doubt || typed.speed_rpm <= 0.0 {
                continue;
            }
            let prediction = law.predict_ln(typed.speed_rpm);
            let least = exp(prediction.ln_value - DOUBT_Z * prediction.u_ln);
            if let (Some(read), Some(expected)) =
                (reading(readings, row, column), prediction.estimate())
                && least > most.max(3.0 * resolution)
            {
                let place = self.ledger.place(&self.test.name, row, column);
                let matter = Matter::OffCurve {
                    read,
                    expected,
                    accept_si: None,
                };
                self.ledger.strike(row, column, matter.code());
                self.say(Severity::Error, place, matter);
            }
        }
    }
}

/// Returns the most that a reading of nothing can stand for: 0, or the lowest value that its meter shows.
fn shows_nothing(cell: Option<&Typed>) -> Option<f64> {
    match cell? {
        Typed::Value { si, .. } if *si <= 0.0 => Some(0.0),
        Typed::Below { si, .. } => Some(*si),
        Typed::Value { .. } | Typed::Empty => None,
    }
}
