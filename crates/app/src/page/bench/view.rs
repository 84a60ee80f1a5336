//! What is shown of a test: plain texts and verdicts, taken from the draft after each edit.

use app::draft::{Editing, Place, Spot};
use app::lineup::Lineup;
use app::verdict::{Judged, RowVerdict, State, Verdict, Verdicts};
use records::Measured;

/// A column of readings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::page) struct ColumnView {
    /// The heading without its unit: `flow A`.
    pub(in crate::page) name: String,
    /// What it measures.
    pub(in crate::page) measured: Measured,
    /// The unit as files write it.
    pub(in crate::page) unit: &'static str,
}

/// A row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::page) struct RowView {
    /// The speed as typed.
    pub(in crate::page) speed: String,
    /// One text for each column.
    pub(in crate::page) cells: Vec<String>,
    /// The note.
    pub(in crate::page) note: String,
}

/// How a row stands as a whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::page) enum Standing {
    /// Nothing is read.
    Empty,
    /// Something is read, and all of it fits.
    Fine,
    /// Something in it is doubted.
    Doubted,
}

/// What is shown of a test.
#[derive(Clone, Debug, Default, PartialEq)]
pub(in crate::page) struct View {
    /// The columns.
    pub(in crate::page) columns: Vec<ColumnView>,
    /// The rows.
    pub(in crate::page) rows: Vec<RowView>,
    /// What the engine says.
    pub(in crate::page) verdicts: Verdicts,
    /// What the test file states.
    pub(in crate::page) lineup: Lineup,
    /// Whether there is an edit to undo.
    pub(in crate::page) can_undo: bool,
    /// Whether there is an undone one.
    pub(in crate::page) can_redo: bool,
}

impl View {
    /// Takes what is shown.
    pub(in crate::page) fn of(editing: &Editing, judged: Judged) -> Self {
        let draft = editing.draft();
        let column = |column: &app::draft::DraftColumn| ColumnView {
            name: column.name(),
            measured: column.measured,
            unit: column.unit.name,
        };
        let row = |row: &app::draft::DraftRow| RowView {
            speed: row.speed.clone(),
            cells: row.cells.clone(),
            note: row.note.clone(),
        };
        Self {
            columns: draft.columns.iter().map(column).collect(),
            rows: draft.rows.iter().map(row).collect(),
            verdicts: judged.verdicts,
            lineup: judged.lineup,
            can_undo: editing.can_undo(),
            can_redo: editing.can_redo(),
        }
    }

    /// What is typed at a place.
    pub(in crate::page) fn text(&self, place: Place) -> String {
        let Some(row) = self.rows.get(place.row) else {
            return String::new();
        };
        match place.spot {
            Spot::Speed => row.speed.clone(),
            Spot::Cell(column) => row.cells.get(column).cloned().unwrap_or_default(),
            Spot::Note => row.note.clone(),
        }
    }

    /// The verdict on it.
    pub(in crate::page) fn verdict(&self, place: Place) -> Verdict {
        self.verdicts.at(place).cloned().unwrap_or_default()
    }

    /// How a row stands.
    pub(in crate::page) fn standing(&self, row: usize) -> Standing {
        let Some(verdicts) = self.verdicts.rows.get(row) else {
            return Standing::Empty;
        };
        if verdicts_of(verdicts).any(is_doubted) {
            return Standing::Doubted;
        }
        let is_read = self
            .rows
            .get(row)
            .is_some_and(|row| row.cells.iter().any(|cell| !cell.trim().is_empty()));
        if is_read {
            Standing::Fine
        } else {
            Standing::Empty
        }
    }

    /// Lists what is doubted or ruled on.
    pub(in crate::page) fn doubted(&self) -> Vec<Place> {
        let mut places = Vec::new();
        for (row, verdicts) in self.verdicts.rows.iter().enumerate() {
            let speed = is_doubted(&verdicts.speed).then_some(Spot::Speed);
            let cells = verdicts.cells.iter().enumerate();
            let cells =
                cells.filter(|(_, verdict)| is_doubted(verdict) || verdict.ruling.is_some());
            let spots = speed
                .into_iter()
                .chain(cells.map(|(column, _)| Spot::Cell(column)));
            places.extend(spots.map(|spot| Place { row, spot }));
        }
        places
    }
}

impl View {
    /// The codes of what stands beside readings in doubt.
    pub(in crate::page) fn doubt_codes(&self) -> Vec<&'static str> {
        let code = |verdict: &Verdict| match &verdict.state {
            State::Doubted(doubt) | State::Impossible(doubt) => doubt.code,
            _ => None,
        };
        self.verdicts
            .rows
            .iter()
            .flat_map(verdicts_of)
            .filter_map(code)
            .collect()
    }
}

fn verdicts_of(row: &RowVerdict) -> impl Iterator<Item = &Verdict> {
    [&row.speed, &row.note].into_iter().chain(&row.cells)
}

fn is_doubted(verdict: &Verdict) -> bool {
    !matches!(verdict.state, State::Empty | State::Fine)
}
