//! The stage of speeds: rows that were hardly run at the speed that was typed.

use super::Examination;
use crate::cells::{Cell, cells};
use crate::finding::{Finding, Matter, Severity};
use crate::laws::FittedLaw;
use crate::speed::{Suspect, wrong_speed};
use crate::trust::Judgement;
use metrology::Estimate;
use records::Measured;
use std::collections::BTreeMap;

/// A speed this share outside the pump's range may be the drive's own rounding; one further outside is not run.
const NEAR_RANGE: f64 = 0.05;
/// The lowest speed of a variable-speed pump, as a share of its highest, where the site does not state it. Common
/// practice, no source.
const USUAL_LOWEST: f64 = 0.12;
/// Why a row far outside the pump's range does not count.
const STRAY: &str = "speed-outside-pump";
/// So many rows whose speed lies outside the pump's range are looked into one by one.
const MOST_LOOKED_INTO: usize = 20;
/// A wrong speed is looked for up to this multiple of the pump's top speed: the top step itself may be the one.
const HIGHEST_SPEED: f64 = 1.1;

impl<'a> Examination<'a> {
    /// Lists the rows whose speed lies outside what the pump runs at, and strikes those that lie far outside: their speed
    /// is hardly the one that was run.
    pub(super) fn strike_stray_speeds(&mut self) -> Vec<usize> {
        let (low, high) = self.speed_range_rpm();
        let rows = &self.test.readings.rows;
        let stray = |row: &usize| {
            let speed = rows[*row].speed_rpm;
            (speed > high || (speed > 0.0 && speed < low)) && !self.speed_is_confirmed(*row)
        };
        let strays: Vec<usize> = (0..rows.len()).filter(stray).collect();
        for row in &strays {
            let speed = rows[*row].speed_rpm;
            if speed > high * (1.0 + NEAR_RANGE) || speed < low * (1.0 - NEAR_RANGE) {
                for column in 0..self.test.readings.columns.len() {
                    self.ledger.strike(*row, column, STRAY);
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

    /// Says whether a person has confirmed the speed of a row.
    fn speed_is_confirmed(&self, row: usize) -> bool {
        let columns = self.ledger.columns_of(Measured::Speed);
        columns
            .iter()
            .any(|column| self.ledger.is_confirmed(row, *column))
    }

    /// Says what is with the rows whose speed lies outside: one at which all readings lie on their laws after all, one
    /// that was mistyped, or only that it does. `moved` rows have been told already.
    pub(super) fn say_strays(
        &mut self,
        strays: &[usize],
        moved: &[usize],
        judged: &[(usize, Judgement<'_>)],
    ) {
        let column = self
            .ledger
            .columns_of(Measured::Speed)
            .first()
            .copied()
            .unwrap_or(0);
        let strays: Vec<usize> = strays
            .iter()
            .copied()
            .filter(|row| !moved.contains(row))
            .collect();
        // A log of another pump has thousands: they are told together, and not looked into one by one.
        let (few, many) = strays.split_at(strays.len().min(MOST_LOOKED_INTO));
        let mut unexplained = Vec::new();
        for row in few {
            let is_struck = self.ledger.is_struck_for(*row, STRAY);
            if is_struck && self.lies_on_laws(*row, judged) {
                self.ledger.restore(*row, STRAY);
                // A lowest speed that is only usual is no reason to say anything.
                if self.is_outside_what_is_stated(*row) {
                    unexplained.push(*row);
                }
                continue;
            }
            let right = if is_struck {
                self.right_speed(*row, column, judged)
            } else {
                None
            };
            match right {
                Some(finding) => self.findings.push(finding),
                None if is_struck || self.is_outside_what_is_stated(*row) => unexplained.push(*row),
                None => {}
            }
        }
        unexplained.extend(many);
        self.say_outside(&unexplained, column);
    }

    fn is_outside_what_is_stated(&self, row: usize) -> bool {
        let speed = self.test.readings.rows[row].speed_rpm;
        let low = self.site.pump.speed.min.as_ref().map(|speed| speed.si);
        speed > self.top_speed_rpm() || low.is_some_and(|low| speed < low)
    }

    /// Says whether all readings of a row lie on their laws at the speed that was typed.
    fn lies_on_laws(&self, row: usize, judged: &[(usize, Judgement<'_>)]) -> bool {
        let speed = self.test.readings.rows[row].speed_rpm;
        self.all_lie_on_laws(row, speed, judged)
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

    /// Makes the readings of a row, each with the law of its column.
    fn readings_of<'j>(
        &self,
        row: usize,
        judged: &'j [(usize, Judgement<'_>)],
    ) -> Vec<(Cell<'a>, &'j FittedLaw)> {
        let readings = &self.test.readings;
        let read = judged.iter().filter_map(|(column, judgement)| {
            let mut found = cells(readings, self.ledger.used(*column), |other| other == row);
            Some((found.pop()?, judgement.law.as_ref()?))
        });
        read.collect()
    }

    /// Says whether a row has readings and all of them lie on their laws at a speed.
    fn all_lie_on_laws(
        &self,
        row: usize,
        speed_rpm: f64,
        judged: &[(usize, Judgement<'_>)],
    ) -> bool {
        let read = self.readings_of(row, judged);
        let mut suspects = read.iter().map(|(cell, law)| Suspect { cell, law });
        !read.is_empty() && suspects.all(|suspect| suspect.lies_on_law(speed_rpm, 0.0))
    }

    /// Looks for one speed inside the pump's range at which all readings of a row lie on their laws.
    fn other_speed(&self, row: usize, judged: &[(usize, Judgement<'_>)]) -> Option<Finding> {
        let read = self.readings_of(row, judged);
        let suspects: Vec<Suspect<'_>> = read
            .iter()
            .map(|(cell, law)| Suspect { cell, law })
            .collect();
        let (test, readings) = (&self.test.name, &self.test.readings);
        wrong_speed(test, readings, row, &suspects, self.top_speed_rpm())
    }

    /// Finds the power of ten of a row's speed at which all of its readings lie on their laws.
    fn power_of_ten_speed(&self, row: usize, judged: &[(usize, Judgement<'_>)]) -> Option<f64> {
        let (low, high) = self.speed_range_rpm();
        let read = self.test.readings.rows[row].speed_rpm;
        let candidates = [10.0, 0.1, 100.0, 0.01].map(|factor| factor * read);
        let mut inside = candidates
            .into_iter()
            .filter(|speed| (low..=high * (1.0 + NEAR_RANGE)).contains(speed));
        inside.find(|speed| self.all_lie_on_laws(row, *speed, judged))
    }

    /// Finds the rows that fit another speed, and strikes them whole.
    pub(super) fn wrong_speeds(&mut self, judged: &[(usize, Judgement<'_>)]) -> Vec<usize> {
        let mut by_row: BTreeMap<usize, Vec<Suspect<'_>>> = BTreeMap::new();
        for (_, judgement) in judged {
            for refuted in &judgement.refuted {
                if let (Some(law), [row]) = (&judgement.law, refuted.cell.rows.as_slice())
                    && !self.speed_is_confirmed(*row)
                {
                    let cell = &refuted.cell;
                    by_row.entry(*row).or_default().push(Suspect { cell, law });
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
                // What had not settled there is the wrong speed again.
                let line = readings.rows[row].line;
                self.findings.retain(|other| {
                    !(matches!(other.matter, Matter::Unsettled { .. })
                        && other.place.rows.contains(&line))
                });
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
