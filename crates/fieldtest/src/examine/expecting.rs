//! What each cell should hold: the examination stops once doubted readings are struck, and asks the law of the others.

use super::{Examination, LAWFUL};
use crate::cells::{Cell, single, value};
use crate::expectation::{
    Expectation, ExpectedBy, Neighbour, band_by_neighbours, band_of_such_pumps, rough_doubt,
};
use crate::explain::reading;
use crate::laws::{FittedLaw, Shape};
use crate::trust::{expected, speeds};
use metrology::Estimate;
use records::Measured;

impl Examination<'_> {
    /// Says of every cell what is expected there.
    pub(super) fn expectations(&self) -> Vec<Expectation> {
        let readings = &self.test.readings;
        let columns: Vec<ColumnOfRows<'_>> = (0..readings.columns.len())
            .filter_map(|column| self.column_of_rows(column))
            .collect();
        let mut expectations = Vec::new();
        for (row, typed) in readings.rows.iter().enumerate() {
            let speed_rpm = typed.speed_rpm;
            if speed_rpm > 0.0 && speed_rpm.is_finite() {
                let of_row = columns
                    .iter()
                    .filter_map(|column| self.expectation(column, row, speed_rpm));
                expectations.extend(of_row);
            }
        }
        expectations
    }

    fn column_of_rows(&self, column: usize) -> Option<ColumnOfRows<'_>> {
        let measured = self.test.readings.columns[column].measured;
        let counts = self.ledger.meters[column].excluded.is_none();
        counts.then(|| {
            let shape = LAWFUL.iter().find(|(lawful, _)| *lawful == measured);
            ColumnOfRows {
                column,
                measured,
                shape: shape.map(|(_, shape)| *shape),
                cells: self.ledger.cells(column),
                neighbours: self.neighbours(column, measured),
            }
        })
    }

    /// Lists the readings of a column that may stand for their speeds: those that count and that such pumps have.
    fn neighbours(&self, column: usize, measured: Measured) -> Vec<(usize, Neighbour)> {
        let readings = &self.test.readings;
        let neighbour = |row: usize| {
            let speed_rpm = readings.rows[row].speed_rpm;
            let si = value(readings, row, column).filter(|_| self.ledger.in_use(row, column))?;
            let ((low, high), _) = band_of_such_pumps(self.site, measured, speed_rpm)?;
            (low..=high)
                .contains(&si)
                .then_some((row, Neighbour { speed_rpm, si }))
        };
        (0..readings.rows.len()).filter_map(neighbour).collect()
    }

    fn expectation(
        &self,
        column: &ColumnOfRows<'_>,
        row: usize,
        speed_rpm: f64,
    ) -> Option<Expectation> {
        let index = column.column;
        let (si, by) = match self.by_law(column, row, speed_rpm) {
            Some(si) => (si, ExpectedBy::Law),
            None => self.rough_band(column, row, speed_rpm)?,
        };
        // What counts and can be held against a law is judged already.
        let is_judged = by == ExpectedBy::Law && self.ledger.in_use(row, index);
        let may_doubt = !is_judged
            && self.ledger.may_be_mistyped(row, index)
            && value(&self.test.readings, row, index).is_some();
        let read = reading(&self.test.readings, row, index).filter(|_| may_doubt);
        Some(Expectation {
            row,
            column: index,
            si,
            by,
            doubt: read.and_then(|read| rough_doubt(read, si.low, si.high)),
        })
    }

    /// Predicts a reading by the law of the other rows, its meter's own error included.
    fn by_law(&self, column: &ColumnOfRows<'_>, row: usize, speed_rpm: f64) -> Option<Estimate> {
        let shape = column.shape?;
        let others: Vec<Cell<'_>> = column
            .cells
            .iter()
            .filter(|cell| !cell.rows.contains(&row))
            .cloned()
            .collect();
        if speeds(&others) < shape.least_speeds() {
            return None;
        }
        let law = FittedLaw::new(shape, shape.discrepancy(), self.top_speed_rpm(), &others).ok()?;
        // What the cell holds does not matter: its instrument is asked at the value that the law predicts.
        let cell = single(self.ledger.used(column.column), speed_rpm, (1.0, row));
        expected(&law, &cell).estimate()
    }

    fn rough_band(
        &self,
        column: &ColumnOfRows<'_>,
        row: usize,
        speed_rpm: f64,
    ) -> Option<(Estimate, ExpectedBy)> {
        let of = |(low, high)| Estimate::from_interval(0.5 * (low + high), low, high);
        let others: Vec<Neighbour> = column
            .neighbours
            .iter()
            .filter(|(other, _)| *other != row)
            .map(|(_, neighbour)| *neighbour)
            .collect();
        let top_rpm = self.top_speed_rpm();
        let near = band_by_neighbours(column.measured, &others, speed_rpm, top_rpm);
        if let Some(band) = near {
            return Some((of(band)?, ExpectedBy::Neighbours));
        }
        let (band, is_makers) = band_of_such_pumps(self.site, column.measured, speed_rpm)?;
        let by = if is_makers {
            ExpectedBy::MakersCurve
        } else {
            ExpectedBy::SuchPumps
        };
        Some((of(band)?, by))
    }
}

/// A column with what its rows say.
struct ColumnOfRows<'a> {
    column: usize,
    measured: Measured,
    /// The law that it follows, where it follows one.
    shape: Option<Shape>,
    cells: Vec<Cell<'a>>,
    neighbours: Vec<(usize, Neighbour)>,
}
