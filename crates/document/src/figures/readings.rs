//! The readings that are left out, for the figures that keep them in view.

use super::Subject;
use crate::language::say;
use charts::LeftOut;
use fieldtest::ReadingUse;
use records::Measured;

/// How many are named in the figure; the description names all.
const MOST_NAMED: usize = 4;

/// Reasons for which a reading is set aside without being doubted.
const SET_ASIDE: [&str; 3] = ["below-meter-range", "part-of-the-flow", "not-independent"];

/// A reading that is left out, in words.
#[derive(Clone, Debug)]
pub(super) struct Refused {
    pub(super) drawn: LeftOut,
    /// Row, value and speed.
    pub(super) words: String,
}

impl Subject<'_> {
    /// Lists the readings of a quantity that were typed and are left out, by row.
    pub(super) fn left_out(&self, measured: Measured) -> Vec<Refused> {
        let doubted = |reading: &&ReadingUse| {
            let set_aside = reading.why.is_some_and(|why| SET_ASIDE.contains(&why));
            reading.measured == measured && !reading.used && !set_aside
        };
        let mut readings: Vec<&ReadingUse> = self.test.readings.iter().filter(doubted).collect();
        numerics::order::sort_by_key(&mut readings, |reading| reading.row);
        let rows = readings.into_iter();
        let found = rows.filter_map(|reading| self.refused(reading, measured));
        let mut found: Vec<Refused> = found.collect();
        for unnamed in found.iter_mut().skip(MOST_NAMED) {
            unnamed.drawn.label.clear();
        }
        found
    }

    fn refused(&self, reading: &ReadingUse, measured: Measured) -> Option<Refused> {
        let dimension = measured.dimension();
        // Rest is no step: its readings stand in no figure against speed.
        let steps = &self.test.steps;
        let step = steps.iter().find(|step| step.rows.contains(&reading.row))?;
        let value = self.printing.plain(reading.si, dimension);
        let label = say!(
            self.printing,
            "row {row}: {value}",
            row = reading.row,
            value
        );
        Some(Refused {
            words: say!(
                self.printing,
                "{label} at {speed} rpm",
                label,
                speed = crate::number::rpm(self.printing, step.speed_rpm)
            ),
            drawn: LeftOut {
                x: step.speed_rpm,
                y: self.printing.number(reading.si, dimension),
                label,
            },
        })
    }
}
