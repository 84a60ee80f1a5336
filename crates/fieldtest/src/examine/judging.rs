//! The stage of trust: what cannot count is struck, each column is judged, and what is refuted is explained.

use super::Examination;
use crate::agreement::Comparison;
use crate::cells::{Cell, value};
use crate::column_slip::column_slip;
use crate::electrical;
use crate::explain::{Context, explain, reading};
use crate::finding::{Matter, Severity};
use crate::laws::{FittedLaw, Shape};
use crate::settling::unsettled;
use crate::speed::{Suspect, wrong_speed};
use crate::trust::{Judgement, judge};
use crate::zero::gauges_off_zero;
use metrology::Estimate;
use numerics::elementary::{exp, ln};
use records::{Cell as Typed, Measured};
use std::collections::BTreeMap;

/// The quantities that follow a law of speed, with the law's shape.
const LAWFUL: [(Measured, Shape); 3] = [
    (Measured::Flow, Shape::Flow),
    (Measured::Power, Shape::Power),
    (Measured::Current, Shape::Current),
];

/// A speed this share outside the pump's range may be the drive's own rounding; one further outside is not run.
const NEAR_RANGE: f64 = 0.05;
/// The lowest speed of a variable-speed pump, as a share of its highest, where the site does not state it. Common
/// practice, no source.
const USUAL_LOWEST: f64 = 0.12;
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
    fn say_strays(&mut self, strays: &[usize], judged: &[(usize, Judgement<'_>)]) {
        let column = self
            .ledger
            .columns_of(Measured::Speed)
            .first()
            .copied()
            .unwrap_or(0);
        for row in strays {
            let read_rpm = self.test.readings.rows[*row].speed_rpm;
            let place = self.ledger.place(&self.test.name, *row, column);
            if let Some(speed) = self.power_of_ten_speed(*row, judged)
                && let Some(expected_rpm) = Estimate::normal(speed, 0.0)
            {
                let matter = Matter::WrongSpeed {
                    read_rpm,
                    expected_rpm,
                };
                self.say(Severity::Error, place, matter);
                continue;
            }
            let matter = Matter::SpeedOutsidePump {
                speed_rpm: read_rpm,
                min_rpm: self.site.pump.speed.min.as_ref().map(|speed| speed.si),
                max_rpm: self.top_speed_rpm(),
            };
            self.say(Severity::Warning, place, matter);
        }
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
        let inside = candidates
            .into_iter()
            .filter(|speed| (low..=high * (1.0 + NEAR_RANGE)).contains(speed));
        inside.filter(explained).next()
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
    pub(super) fn judge_columns(&mut self, strays: &[usize]) {
        let mut judged: Vec<(usize, Judgement<'_>)> = Vec::new();
        for (measured, shape) in LAWFUL {
            for column in self.ledger.columns_of(measured) {
                let found = self.ledger.cells(column);
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
        self.say_strays(strays, &judged);
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

    /// Strikes the columns that are right in another unit.
    pub(super) fn check_columns(&mut self) {
        let steps = self.steps();
        for (index, column) in self.test.readings.columns.iter().enumerate() {
            let slip = column_slip(&steps, column);
            let Some(matter) = slip.filter(|_| self.ledger.meters[index].excluded.is_none()) else {
                continue;
            };
            let mut place = self.of_test();
            place.column = Some(column.name());
            // A flow unusual for its speed is a doubt; a power that no volts and amperes carry cannot be.
            if column.measured == Measured::Power {
                self.say(Severity::Error, place, matter);
                self.ledger.strike_column(index, "unit-slip");
            } else {
                self.say(Severity::Warning, place, matter);
            }
        }
    }

    /// Compares the meters of one quantity, all before any is widened, and widens those that disagree.
    pub(super) fn compare_meters(&mut self) {
        for (measured, _) in LAWFUL {
            let columns = self.ledger.columns_of(measured);
            let mut apart = Vec::new();
            for (rank, first) in columns.iter().enumerate() {
                for second in &columns[rank + 1..] {
                    let compared =
                        Comparison::of(&self.ledger.cells(*first), &self.ledger.cells(*second));
                    apart.extend(compared.filter(Comparison::disagrees));
                }
            }
            for comparison in apart {
                self.say_disagreement(measured, &comparison);
            }
        }
    }

    fn say_disagreement(&mut self, measured: Measured, comparison: &Comparison) {
        let names = comparison
            .columns
            .map(|column| self.test.readings.columns[column].name());
        let mut place = self.of_test();
        place.column = Some(names[1].clone());
        if let Some(matter) = comparison.matter(measured, names) {
            self.say(Severity::Warning, place, matter);
        }
        for column in comparison.columns {
            self.ledger.widen(column, comparison.widening());
        }
    }

    /// Looks for readings that had not settled.
    pub(super) fn check_settling(&mut self) {
        let (test, readings) = (&self.test.name, &self.test.readings);
        for (column, meter) in self.ledger.meters.iter().enumerate() {
            if readings.columns[column].measured.is_read_on_a_meter() {
                let in_use = |row| self.ledger.in_use(row, column);
                let found = unsettled(test, readings, column, meter, in_use);
                self.findings.extend(found);
            }
        }
    }

    /// Looks for gauges that do not come to rest with the pump off.
    pub(super) fn check_gauges_at_rest(&mut self) {
        if let Some(water) = &self.water {
            let (test, readings) = (&self.test.name, &self.test.readings);
            let found = gauges_off_zero(test, readings, self.ledger.meters, water);
            self.findings.extend(found);
        }
    }

    /// Says whether a reading is part of what had not settled.
    fn is_unsettled(&self, rows: &[usize], column: usize) -> bool {
        let name = self.test.readings.columns[column].name();
        let lines = rows.iter().map(|row| self.test.readings.rows[*row].line);
        let lines: Vec<usize> = lines.collect();
        self.findings.iter().any(|finding| {
            matches!(finding.matter, Matter::Unsettled { .. })
                && finding.place.column.as_ref() == Some(&name)
                && lines.iter().any(|line| finding.place.rows.contains(line))
        })
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
