//! The stage of trust: what cannot count is struck, each column is judged, and what is refuted is explained.

use super::Examination;
use crate::cells::{Cell, cells};
use crate::electrical;
use crate::explain::{Context, explain};
use crate::finding::{Matter, Severity};
use crate::laws::Shape;
use crate::speed::{Suspect, wrong_speed};
use crate::trust::{Judgement, judge};
use records::Measured;
use std::collections::BTreeMap;

/// The quantities that follow a law of speed, with the law's shape.
const LAWFUL: [(Measured, Shape); 3] = [
    (Measured::Flow, Shape::Flow),
    (Measured::Power, Shape::Power),
    (Measured::Current, Shape::Current),
];

impl Examination<'_> {
    /// Says which steps lie outside what the pump is said to run at.
    pub(super) fn check_speeds(&mut self) {
        let max_rpm = self.top_speed_rpm();
        let min_rpm = self.site.pump.speed.min.as_ref().map(|speed| speed.si);
        let column = self.ledger.columns_of(Measured::Speed).first().copied();
        let rows = &self.test.readings.rows;
        let outside: Vec<usize> = (0..rows.len())
            .filter(|row| {
                let speed = rows[*row].speed_rpm;
                speed > max_rpm || (speed > 0.0 && min_rpm.is_some_and(|min| speed < min))
            })
            .collect();
        for row in outside {
            let place = self.ledger.place(&self.test.name, row, column.unwrap_or(0));
            let speed_rpm = rows[row].speed_rpm;
            self.say(
                Severity::Warning,
                place,
                Matter::SpeedOutsidePump {
                    speed_rpm,
                    min_rpm,
                    max_rpm,
                },
            );
        }
    }

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
    pub(super) fn judge_columns(&mut self) {
        let meters = self.ledger.meters;
        let mut judged: Vec<(usize, Judgement<'_>)> = Vec::new();
        for (measured, shape) in LAWFUL {
            for column in self.ledger.columns_of(measured) {
                let found = cells(&self.test.readings, column, &meters[column], |row| {
                    self.ledger.in_use(row, column)
                });
                let may_doubt = |cell: &Cell<'_>| {
                    !cell
                        .rows
                        .iter()
                        .any(|row| self.ledger.is_confirmed(*row, column))
                };
                judged.push((
                    column,
                    judge(shape, self.top_speed_rpm(), &found, may_doubt),
                ));
            }
        }
        let moved_rows = self.wrong_speeds(&judged);
        for (column, judgement) in &judged {
            self.strike_refuted(*column, judgement, &moved_rows);
        }
    }

    /// Finds the rows that fit another speed, and strikes them whole.
    fn wrong_speeds(&mut self, judged: &[(usize, Judgement<'_>)]) -> Vec<usize> {
        let mut by_row: BTreeMap<usize, Vec<Suspect<'_>>> = BTreeMap::new();
        for (_, judgement) in judged {
            for refuted in &judgement.refuted {
                if let (Some(law), [row]) = (&judgement.law, refuted.cell.rows.as_slice()) {
                    by_row
                        .entry(*row)
                        .or_default()
                        .push(Suspect { refuted, law });
                }
            }
        }
        let (test, readings) = (&self.test.name, &self.test.readings);
        let mut moved = Vec::new();
        for (row, suspects) in by_row {
            if let Some(finding) = wrong_speed(test, readings, row, &suspects, self.top_speed_rpm())
            {
                self.findings.push(finding);
                moved.push(row);
                for column in 0..readings.columns.len() {
                    self.ledger.strike(row, column, "off-curve");
                }
            }
        }
        moved
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
        for refuted in &judgement.refuted {
            if refuted.cell.rows.iter().any(|row| moved_rows.contains(row)) {
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
}
