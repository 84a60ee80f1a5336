//! What counts of a test's readings: a ledger of the cells that do not, each with its reason.

use crate::cells::{Cell, UsedColumn, cells, value};
use crate::explain::reading;
use crate::finding::{Finding, Matter, Place, Severity};
use crate::meters::ColumnMeter;
use crate::result::ReadingUse;
use records::{Cell as Typed, Measured, Readings, Test, Verdict};
use std::collections::{BTreeMap, BTreeSet};

/// Why a reading does not count that its meter cannot show.
const OUTSIDE_METER_RANGE: &str = "outside-meter-range";

/// The columns of a test with their meters, and the readings that do not count.
#[derive(Clone, Debug)]
pub(crate) struct Ledger<'a> {
    /// The readings as typed.
    pub readings: &'a Readings,
    /// The meter of each column.
    pub meters: &'a [ColumnMeter],
    widening: Vec<f64>,
    unused: BTreeMap<(usize, usize), &'static str>,
    confirmed: BTreeSet<(usize, usize)>,
}

impl<'a> Ledger<'a> {
    /// Opens the ledger: the person's rulings are entered first.
    pub(crate) fn open(test: &'a Test, meters: &'a [ColumnMeter]) -> Self {
        let readings = &test.readings;
        let mut ledger = Self {
            readings,
            meters,
            widening: vec![1.0; meters.len()],
            unused: BTreeMap::new(),
            confirmed: BTreeSet::new(),
        };
        for (index, meter) in meters.iter().enumerate() {
            if let Some(why) = meter.excluded {
                ledger.strike_column(index, why);
            }
        }
        for ruling in &test.head.rulings {
            let row = readings.rows.iter().position(|row| row.line == ruling.row);
            let column = readings
                .columns
                .iter()
                .position(|column| column.is_named(&ruling.column));
            if let Some(cell) = row.zip(column) {
                match ruling.say {
                    Verdict::Confirmed => {
                        ledger.confirmed.insert(cell);
                    }
                    Verdict::Drop => ledger.strike(cell.0, cell.1, "ruled-out"),
                }
            }
        }
        ledger
    }

    /// Enters a reading that does not count; the first reason stands.
    pub(crate) fn strike(&mut self, row: usize, column: usize, why: &'static str) {
        self.unused.entry((row, column)).or_insert(why);
    }

    /// Enters a whole column that does not count.
    pub(crate) fn strike_column(&mut self, column: usize, why: &'static str) {
        for row in 0..self.readings.rows.len() {
            if self.readings.rows[row].speed_rpm > 0.0 {
                self.strike(row, column, why);
            }
        }
    }

    /// Says whether a row was struck for a reason.
    pub(crate) fn is_struck_for(&self, row: usize, why: &str) -> bool {
        (0..self.readings.columns.len()).any(|column| self.unused.get(&(row, column)) == Some(&why))
    }

    /// Takes back what was entered of a row for a reason.
    pub(crate) fn restore(&mut self, row: usize, why: &str) {
        for column in 0..self.readings.columns.len() {
            if self.unused.get(&(row, column)) == Some(&why) {
                self.unused.remove(&(row, column));
            }
        }
    }

    /// Says whether a reading counts.
    pub(crate) fn in_use(&self, row: usize, column: usize) -> bool {
        !self.unused.contains_key(&(row, column))
    }

    /// Says whether a reading counts, or does not because its meter cannot show it: another number was meant then.
    pub(crate) fn may_be_mistyped(&self, row: usize, column: usize) -> bool {
        let why = self.unused.get(&(row, column));
        why.is_none_or(|why| *why == OUTSIDE_METER_RANGE) && !self.is_confirmed(row, column)
    }

    /// Says whether a person has confirmed a reading.
    pub(crate) fn is_confirmed(&self, row: usize, column: usize) -> bool {
        self.confirmed.contains(&(row, column))
    }

    /// Returns a column as the cells and the steps take it.
    pub(crate) fn used(&self, index: usize) -> UsedColumn<'a> {
        UsedColumn {
            index,
            measured: self.readings.columns[index].measured,
            meter: &self.meters[index],
            widening: self.widening[index],
        }
    }

    /// Widens the accuracy of a column's meter; of several reasons the greatest counts.
    pub(crate) fn widen(&mut self, index: usize, factor: f64) {
        self.widening[index] = self.widening[index].max(factor);
    }

    /// Makes the cells of a column from the readings that count.
    pub(crate) fn cells(&self, index: usize) -> Vec<Cell<'a>> {
        cells(self.readings, self.used(index), |row| {
            self.in_use(row, index)
        })
    }

    /// Lists the columns that measure a quantity of the whole pump: a meter on one of several lines is none.
    pub(crate) fn columns_of(&self, measured: Measured) -> Vec<usize> {
        let columns = self.readings.columns.iter().enumerate();
        columns
            .filter(|(index, column)| {
                column.measured == measured && self.meters[*index].excluded.is_none()
            })
            .map(|(index, _)| index)
            .collect()
    }

    /// Strikes the readings outside the range of their meter, and says so.
    pub(crate) fn strike_outside_range(&mut self, test: &str) -> Vec<Finding> {
        self.strike_where(test, Severity::Warning, |ledger, row, column| {
            let (low_si, high_si) = ledger.meters[column].instrument.range?;
            let si = value(ledger.readings, row, column)?;
            let counts = ledger.readings.rows[row].speed_rpm > 0.0
                && !ledger.is_confirmed(row, column)
                && ledger.in_use(row, column);
            if !counts || (low_si..=high_si).contains(&si) {
                return None;
            }
            Some(Matter::OutsideMeterRange {
                read: reading(ledger.readings, row, column)?,
                low_si,
                high_si,
            })
        })
    }

    /// Strikes the readings of a gauge at the pump's inlet that lie below a perfect vacuum, and says so.
    pub(crate) fn strike_impossible_vacuum(
        &mut self,
        test: &str,
        atmosphere_pa: f64,
    ) -> Vec<Finding> {
        self.strike_where(test, Severity::Error, |ledger, row, column| {
            let sign = match ledger.readings.columns[column].measured {
                Measured::InletVacuum => 1.0,
                Measured::InletPressure => -1.0,
                _ => return None,
            };
            if sign * value(ledger.readings, row, column)? <= atmosphere_pa {
                return None;
            }
            Some(Matter::VacuumBeyondAtmosphere {
                read: reading(ledger.readings, row, column)?,
                atmosphere_pa,
            })
        })
    }

    /// Strikes the cells that hold what their meter cannot show, and says so.
    fn strike_where(
        &mut self,
        test: &str,
        severity: Severity,
        wrong: impl Fn(&Self, usize, usize) -> Option<Matter>,
    ) -> Vec<Finding> {
        let mut findings = Vec::new();
        for column in 0..self.readings.columns.len() {
            for row in 0..self.readings.rows.len() {
                let Some(matter) = wrong(self, row, column) else {
                    continue;
                };
                self.strike(row, column, OUTSIDE_METER_RANGE);
                findings.push(Finding {
                    severity,
                    place: self.place(test, row, column),
                    matter,
                });
            }
        }
        findings
    }

    /// Says where a reading stands.
    pub(crate) fn place(&self, test: &str, row: usize, column: usize) -> Place {
        Place {
            test: Some(test.to_owned()),
            steps_rpm: vec![self.readings.rows[row].speed_rpm],
            rows: vec![self.readings.rows[row].line],
            column: Some(self.readings.columns[column].name()),
        }
    }

    /// Lists every reading that was typed, with whether it counts.
    pub(crate) fn uses(&self) -> Vec<ReadingUse> {
        let mut uses = Vec::new();
        for (row_index, row) in self.readings.rows.iter().enumerate() {
            for (index, (column, cell)) in self.readings.columns.iter().zip(&row.cells).enumerate()
            {
                let (si, below) = match cell {
                    Typed::Empty => continue,
                    Typed::Value { si, .. } => (*si, false),
                    Typed::Below { si, .. } => (*si, true),
                };
                if column.measured == Measured::Speed {
                    continue;
                }
                let why = self.unused.get(&(row_index, index)).copied();
                let why = why.or(below.then_some("below-meter-range"));
                uses.push(ReadingUse {
                    row: row.line,
                    column: column.name(),
                    measured: column.measured,
                    si,
                    used: why.is_none(),
                    why,
                });
            }
        }
        uses
    }
}
