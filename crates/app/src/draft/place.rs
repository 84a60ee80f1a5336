//! Where the cursor stands in a draft, and where it goes next.

use super::TestDraft;
use records::unit::Unit;
use records::{Column, Measured};

/// What stands at a place of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Spot {
    /// The speed.
    Speed,
    /// The cell of a column.
    Cell(usize),
    /// The note.
    Note,
}

/// A cell of a draft.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// The row, from 0.
    pub row: usize,
    /// What of it.
    pub spot: Spot,
}

impl TestDraft {
    /// Returns what is typed at a place.
    pub fn text(&self, place: Place) -> Option<&str> {
        let row = self.rows.get(place.row)?;
        match place.spot {
            Spot::Speed => Some(&row.speed),
            Spot::Cell(column) => row.cells.get(column).map(String::as_str),
            Spot::Note => Some(&row.note),
        }
    }

    /// Returns the column that stands at a spot, the speed's included; `None` for the note.
    pub(super) fn column_at(&self, spot: Spot) -> Option<Column> {
        match spot {
            Spot::Speed => Some(Column {
                heading: self.layout.speed_heading.clone(),
                measured: Measured::Speed,
                meter: None,
                unit: Unit::find(Measured::Speed.dimension(), "rpm"),
            }),
            Spot::Cell(column) => Some(self.columns.get(column)?.column()),
            Spot::Note => None,
        }
    }

    /// Finds the spot of a column by the name that rulings and findings give it.
    pub fn spot_named(&self, name: &str) -> Option<Spot> {
        let cells = (0..self.columns.len()).map(Spot::Cell);
        let mut spots = std::iter::once(Spot::Speed).chain(cells);
        spots.find(|spot| {
            let column = self.column_at(*spot);
            column.is_some_and(|column| column.is_named(name))
        })
    }

    /// Returns the place after one: along the row, without its note, and to the next row; `None` after the last.
    pub fn after(&self, place: Place) -> Option<Place> {
        let along = match place.spot {
            Spot::Speed => Some(0),
            Spot::Cell(column) => Some(column + 1),
            Spot::Note => None,
        };
        let next = along.filter(|column| *column < self.columns.len());
        let place = match next {
            Some(column) => Place {
                spot: Spot::Cell(column),
                ..place
            },
            None => Place {
                row: place.row + 1,
                spot: Spot::Speed,
            },
        };
        (place.row < self.rows.len()).then_some(place)
    }

    /// Returns the place before one, as [`TestDraft::after`] walks.
    pub fn before(&self, place: Place) -> Option<Place> {
        let last = self.columns.len().checked_sub(1);
        let (row, column) = match place.spot {
            Spot::Speed => (place.row.checked_sub(1)?, last),
            Spot::Cell(column) => (place.row, column.checked_sub(1)),
            Spot::Note => (place.row, last),
        };
        let spot = column.map_or(Spot::Speed, Spot::Cell);
        Some(Place { row, spot })
    }

    /// Returns the first place of a row where nothing is typed, so that a test is taken up where it was left.
    pub fn first_empty(&self, row: usize) -> Option<Place> {
        let typed = self.rows.get(row)?;
        let speed = typed.speed.trim().is_empty().then_some(Spot::Speed);
        let cells = typed.cells.iter().enumerate();
        let mut empty = cells.filter(|(_, text)| text.trim().is_empty());
        let spot = speed.or_else(|| empty.next().map(|(column, _)| Spot::Cell(column)))?;
        Some(Place { row, spot })
    }
}
