//! What is to be said of a reading as soon as it is typed.
//!
//! The engine judges; here its findings are laid beside the cells that they are about. One pass gives the verdicts of all
//! cells, since a new reading may put an old one in doubt.

mod findings;
mod pass;

pub use pass::{Judged, judged, verdicts};

use crate::draft::{Place, Spot};
use records::Problem;

/// What is to be said of a cell.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Verdict {
    /// What is to be said of what is typed.
    pub state: State,
    /// What is to be expected there by the other rows; `None` where they do not say, and of a speed.
    pub expected: Option<Band>,
    /// Whether a person has ruled on the reading, and how.
    pub ruling: Option<records::Verdict>,
}

/// What is to be said of what is typed in a cell.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum State {
    /// Nothing is typed.
    #[default]
    Empty,
    /// It is no number yet; it is kept, and the engine does not see it.
    NotANumber {
        /// What was found, and what is accepted.
        says: String,
        /// What to type instead, where that is known.
        accept: Option<String>,
    },
    /// It fits.
    Fine,
    /// It may be wrong.
    Doubted(Doubt),
    /// It cannot be.
    Impossible(Doubt),
}

/// A doubt in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Doubt {
    /// The code of the finding; `None` where the records refuse the reading.
    pub code: Option<&'static str>,
    /// What was found, what was expected and why.
    pub says: String,
    /// What to do next.
    pub action: String,
    /// What to type instead, where something explains the reading.
    pub accept: Option<String>,
}

/// What is to be expected of a reading, in the unit of its column.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// The lower end, without unit.
    pub low: String,
    /// The upper end.
    pub high: String,
    /// The best value; `None` where there is only a band.
    pub best: Option<String>,
    /// The unit.
    pub unit: &'static str,
    /// The band in words: "46–50 gpm".
    pub text: String,
    /// Whether it is a rough one, by the affinity laws or by what such pumps do, and no law of this test.
    pub is_coarse: bool,
}

/// The verdicts on a row.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RowVerdict {
    /// On the speed.
    pub speed: Verdict,
    /// On each cell.
    pub cells: Vec<Verdict>,
    /// On the note.
    pub note: Verdict,
}

/// The verdicts on a draft.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Verdicts {
    /// On each row.
    pub rows: Vec<RowVerdict>,
    /// On each column as a whole: two meters apart, a unit that does not fit.
    pub columns: Vec<Option<Doubt>>,
    /// What keeps the engine from the test: the texts must be mended first. No cell is judged then but whether it is a
    /// number.
    pub problems: Vec<Problem>,
}

impl Verdicts {
    /// Returns the verdict on what stands at a place.
    pub fn at(&self, place: Place) -> Option<&Verdict> {
        let row = self.rows.get(place.row)?;
        match place.spot {
            Spot::Speed => Some(&row.speed),
            Spot::Cell(column) => row.cells.get(column),
            Spot::Note => Some(&row.note),
        }
    }

    fn at_mut(&mut self, place: Place) -> Option<&mut Verdict> {
        let row = self.rows.get_mut(place.row)?;
        match place.spot {
            Spot::Speed => Some(&mut row.speed),
            Spot::Cell(column) => row.cells.get_mut(column),
            Spot::Note => Some(&mut row.note),
        }
    }
}
