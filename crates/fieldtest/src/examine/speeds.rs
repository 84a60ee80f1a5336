//! The stage of speeds: rows that were hardly run at the speed that was typed.

use super::Examination;
use crate::cells::{cells, value};
use crate::finding::{Finding, Matter, Severity};
use crate::laws::{FittedLaw, LnPrediction};
use crate::speed::{Suspect, wrong_speed};
use crate::trust::{Judgement, Refuted};
use metrology::Estimate;
use numerics::elementary::ln;
use records::Measured;
use std::collections::BTreeMap;

/// A speed this share outside the pump's range may be the drive's own rounding; one further outside is not run.
const NEAR_RANGE: f64 = 0.05;
/// The lowest speed of a variable-speed pump, as a share of its highest, where the site does not state it. Common
/// practice, no source.
const USUAL_LOWEST: f64 = 0.12;
/// So many rows whose speed lies outside the pump's range are looked into one by one.
const MOST_LOOKED_INTO: usize = 20;
/// A wrong speed is looked for up to this multiple of the pump's top speed: the top step itself may be the one.
const HIGHEST_SPEED: f64 = 1.1;

impl Examination<'_> {
    /// Lists the rows whose speed lies outside what the pump runs at, and strikes those that lie far outside: their speed
    /// is hardly the one that was run.
    pub(super) fn strike_stray_speeds(&mut self) -> Vec<usize> {
        let (low, high) = self.speed_range_rpm();
        let rows = &self.test.readings.rows;
        let stray = |row: &usize| {
            let speed = rows[*row].speed_rpm;
            speed > high || (speed > 0.0 && speed < low)
        };
        let strays: Vec<usize> = (0..rows.len()).filter(stray).collect();
        for row in &strays {
            let speed = rows[*row].speed_rpm;
            if speed > high * (1.0 + NEAR_RANGE) || speed < low * (1.0 - NEAR_RANGE) {
                for column in 0..self.test.readings.columns.len() {
                    self.ledger.strike(*row, column, "speed-outside-pump");
                }
            }
        }
        strays
    }

    /// Returns the speeds between which the pump runs, as stated or as is usual.
    fn speed_range_rpm(&self) -> (f64, f64) {
        let high = self.top_speed_rpm();
        let low = self.site.pump.speed.min.as_ref().map(|speed| speed.si);
        (low.unwrap_or(USUAL_LOWEST * high), high)
    }

    /// Says what is with the rows whose speed lies outside: one that fits a whole power of ten of it, or only that it does.
    pub(super) fn say_strays(&mut self, strays: &[usize], judged: &[(usize, Judgement<'_>)]) {
        let column = self
            .ledger
            .columns_of(Measured::Speed)
            .first()
            .copied()
            .unwrap_or(0);
        // A log of another pump has thousands: they are told together, and not looked into one by one.
        let (few, many) = strays.split_at(strays.len().min(MOST_LOOKED_INTO));
        let mut unexplained = Vec::new();
        for row in few {
            match self.right_speed(*row, column, judged) {
                Some(finding) => self.findings.push(finding),
                None => unexplained.push(*row),
            }
        }
        unexplained.extend(many);
        self.say_outside(&unexplained, column);
    }

    /// Finds the speed that a stray row was run at: a power of ten of what was typed, or another at which all readings fit.
    fn right_speed(
        &self,
        row: usize,
        column: usize,
        judged: &[(usize, Judgement<'_>)],
    ) -> Option<Finding> {
        let of_ten = self.power_of_ten_speed(row, judged).and_then(|speed| {
            Some(Finding {
                severity: Severity::Error,
                place: self.ledger.place(&self.test.name, row, column),
                matter: Matter::WrongSpeed {
                    read_rpm: self.test.readings.rows[row].speed_rpm,
                    expected_rpm: Estimate::normal(speed, 0.0)?,
                },
            })
        });
        of_ten.or_else(|| self.other_speed(row, judged))
    }

    /// Says, of all rows at once, that their speed lies outside.
    fn say_outside(&mut self, rows: &[usize], column: usize) {
        let readings = &self.test.readings;
        let Some(first) = rows.first() else {
            return;
        };
        let speeds = rows.iter().map(|row| readings.rows[*row].speed_rpm);
        let (min_rpm, max_rpm) = self.speed_range_rpm();
        let matter = Matter::SpeedOutsidePump {
            slowest_rpm: speeds.clone().fold(f64::INFINITY, f64::min),
            fastest_rpm: speeds.clone().fold(0.0, f64::max),
            min_rpm,
            max_rpm,
        };
        let mut place = self.ledger.place(&self.test.name, *first, column);
        place.rows = rows.iter().map(|row| readings.rows[*row].line).collect();
        place.steps_rpm = speeds.collect();
        place.steps_rpm.dedup();
        self.say(Severity::Warning, place, matter);
    }

    /// Looks for one speed inside the pump's range at which all readings of a row lie on their laws.
    fn other_speed(&self, row: usize, judged: &[(usize, Judgement<'_>)]) -> Option<Finding> {
        let readings = &self.test.readings;
        let mut read: Vec<(Refuted<'_>, &FittedLaw)> = Vec::new();
        for (column, judgement) in judged {
            let found = cells(readings, self.ledger.used(*column), |other| other == row);
            if let (Some(law), Some(cell)) = (&judgement.law, found.into_iter().next()) {
                let expected = LnPrediction {
                    ln_value: cell.ln_value,
                    u_ln: cell.own_u_ln(),
                    rectangular_u_ln: 0.0,
                };
                read.push((Refuted { cell, expected }, law));
            }
        }
        let suspects: Vec<Suspect<'_>> = read
            .iter()
            .map(|(refuted, law)| Suspect { refuted, law })
            .collect();
        wrong_speed(
            &self.test.name,
            readings,
            row,
            &suspects,
            self.top_speed_rpm(),
        )
    }

    /// Finds the power of ten of a row's speed at which all of its readings lie on their laws.
    fn power_of_ten_speed(&self, row: usize, judged: &[(usize, Judgement<'_>)]) -> Option<f64> {
        /// A reading lies on its law within this many standard uncertainties.
        const EXPLAINED_Z: f64 = 3.5;
        let (low, high) = self.speed_range_rpm();
        let read = self.test.readings.rows[row].speed_rpm;
        let explained = |speed: &f64| {
            let mut any = false;
            let all = judged.iter().all(|(column, judgement)| {
                let (Some(law), Some(si)) =
                    (&judgement.law, value(&self.test.readings, row, *column))
                else {
                    return true;
                };
                any = true;
                let prediction = law.predict_ln(*speed);
                let own = self.ledger.meters[*column].instrument.independent_u(si) / si;
                let u = (prediction.u_ln * prediction.u_ln + own * own).sqrt();
                (ln(si) - prediction.ln_value).abs() <= EXPLAINED_Z * u
            });
            any && all
        };
        let candidates = [10.0, 0.1, 100.0, 0.01].map(|factor| factor * read);
        let mut inside = candidates
            .into_iter()
            .filter(|speed| (low..=high * (1.0 + NEAR_RANGE)).contains(speed));
        inside.find(explained)
    }

    /// Finds the rows that fit another speed, and strikes them whole.
    pub(super) fn wrong_speeds(&mut self, judged: &[(usize, Judgement<'_>)]) -> Vec<usize> {
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
            if let Some(finding) = wrong_speed(
                test,
                readings,
                row,
                &suspects,
                HIGHEST_SPEED * self.top_speed_rpm(),
            ) {
                self.findings.push(finding);
                moved.push(row);
                for column in 0..readings.columns.len() {
                    self.ledger.strike(row, column, "off-curve");
                }
            }
        }
        moved
    }
}
