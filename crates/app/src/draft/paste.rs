//! A column or a block of a spreadsheet, put into a draft cell by cell.

use super::{EditError, Place, Spot, TestDraft};
use records::{Measured, Separator, read_cell};

/// The most cells that are taken of one text: more is no test, and a slip of the clipboard.
const MOST_CELLS: usize = 20_000;

/// A copied text as rows of cells.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pasted {
    /// The cells of each row.
    pub rows: Vec<Vec<String>>,
}

impl Pasted {
    /// Cuts a text into rows at line ends, and into cells at tabs, or at semicolons where it has no tab. A comma cuts
    /// nothing: it may stand before decimals.
    pub fn of(text: &str) -> Self {
        let separator = if text.contains('\t') { '\t' } else { ';' };
        let text = text.strip_suffix(['\n', '\r']).unwrap_or(text);
        let text = text.strip_suffix('\r').unwrap_or(text);
        let mut left = MOST_CELLS;
        let mut rows = Vec::new();
        for line in text.replace("\r\n", "\n").split(['\n', '\r']) {
            let cells: Vec<String> = line
                .split(separator)
                .take(left)
                .map(|cell| unquoted(cell.trim()).to_owned())
                .collect();
            left -= cells.len();
            rows.push(cells);
            if left == 0 {
                break;
            }
        }
        Self { rows }
    }
}

/// A cell without the quotes that a spreadsheet puts around some.
fn unquoted(cell: &str) -> &str {
    let inner = cell
        .strip_prefix('"')
        .and_then(|rest| rest.strip_suffix('"'));
    inner.unwrap_or(cell)
}

/// Puts a text into a draft from a place on. Rows that it reaches beyond the last are added; cells that would stand
/// right of the note are not taken.
pub(super) fn paste(draft: &mut TestDraft, place: Place, text: &str) -> Result<(), EditError> {
    if draft.text(place).is_none() {
        return Err(EditError::NoSuchPlace);
    }
    let pasted = Pasted::of(text);
    for (down, cells) in pasted.rows.iter().enumerate() {
        let row = place.row + down;
        if row >= draft.rows.len() {
            draft.push_row(String::new());
        }
        let spots = draft.spots_from(place.spot);
        for (spot, cell) in spots.into_iter().zip(cells) {
            draft.set(Place { row, spot }, cell)?;
        }
    }
    Ok(())
}

impl TestDraft {
    /// Lists the spots of a row from one on, from the left.
    fn spots_from(&self, spot: Spot) -> Vec<Spot> {
        let cells = (0..self.columns.len()).map(Spot::Cell);
        let all = std::iter::once(Spot::Speed)
            .chain(cells)
            .chain([Spot::Note]);
        all.skip_while(|other| *other != spot).collect()
    }

    /// Parts the cells by semicolons from the first decimal comma on, so that it can stand as it was typed: `records`
    /// reads decimal commas between semicolons only. Not where a point was typed before, nor for a comma that may stand
    /// between thousands.
    pub(super) fn settle_separator(&mut self) {
        if self.separator == Separator::Semicolon {
            return;
        }
        let readings = || self.readings();
        let is_decimal_comma = |(text, measured, unit): (&str, Measured, _)| {
            text.contains(',')
                && read_cell(text, measured, unit, self.separator)
                    .is_err_and(|problem| problem.accept.is_some_and(|mend| mend.contains('.')))
        };
        let has_point = readings().any(|(text, ..)| text.contains('.'));
        if !has_point && readings().any(is_decimal_comma) {
            self.separator = Separator::Semicolon;
        }
    }

    /// Walks through every cell but the notes, with what it measures and its unit.
    pub(super) fn readings(
        &self,
    ) -> impl Iterator<Item = (&str, Measured, &'static records::unit::Unit)> {
        let speed_unit = records::unit::Unit::find(Measured::Speed.dimension(), "rpm");
        self.rows.iter().flat_map(move |row| {
            let speed = speed_unit.map(|unit| (row.speed.as_str(), Measured::Speed, unit));
            let cells = row.cells.iter().zip(&self.columns);
            let cells = cells.map(|(cell, of)| (cell.as_str(), of.measured, of.unit));
            speed.into_iter().chain(cells)
        })
    }
}
