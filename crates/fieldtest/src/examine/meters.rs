//! The stage of meters: columns against their units, meters against each other, against time and against rest.

use super::{Examination, LAWFUL};
use crate::agreement::Comparison;
use crate::column_slip::column_slip;
use crate::finding::{Matter, Severity};
use crate::settling::unsettled;
use crate::zero::gauges_off_zero;
use records::Measured;

impl Examination<'_> {
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
        if let Some(conditions) = &self.conditions {
            let (test, readings) = (&self.test.name, &self.test.readings);
            let found =
                gauges_off_zero(test, readings, self.ledger.meters, &conditions.around.water);
            self.findings.extend(found);
        }
    }

    /// Strikes what no gauge at the pump's inlet can show under the air of the site.
    pub(super) fn strike_impossible_vacuum(&mut self) {
        if let Some(conditions) = &self.conditions {
            let atmosphere_pa = conditions.around.atmosphere_pa;
            let found = self
                .ledger
                .strike_impossible_vacuum(&self.test.name, atmosphere_pa);
            self.findings.extend(found);
        }
    }

    /// Says whether a reading is part of what had not settled.
    pub(super) fn is_unsettled(&self, rows: &[usize], column: usize) -> bool {
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
