//! What a person does to a test that is typed: each edit makes another draft of one.

use super::{DraftColumn, Place, RowKey, Spot, TestDraft, paste};
use crate::lineup::{self, HeadEdit, HeadError, RulingPlace};
use records::Verdict;
use std::collections::BTreeMap;
use std::sync::Arc;

/// One thing that is done to a draft. Rows and columns count from 0.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Types a text in place of another. A ruling on a reading that changes falls with it.
    Set {
        /// Where.
        place: Place,
        /// The text.
        text: String,
    },
    /// Adds a step behind the others.
    AddRow {
        /// Its speed, as typed.
        speed: String,
    },
    /// Adds a row of the same speed below a row: another reading of the step.
    RepeatRow {
        /// The row.
        row: usize,
    },
    /// Takes a row out, with the rulings on it.
    RemoveRow {
        /// The row.
        row: usize,
    },
    /// Puts a text of several cells in, from a place downwards and to the right.
    Paste {
        /// Where the first cell goes.
        place: Place,
        /// The text as it was copied.
        text: String,
    },
    /// Adds a column of readings behind the others.
    AddColumn(DraftColumn),
    /// Gives a column another quantity, meter or unit; what was typed in it stays.
    SetColumn {
        /// The column.
        column: usize,
        /// What it is now.
        to: DraftColumn,
    },
    /// Takes a column out, with what was typed in it.
    RemoveColumn {
        /// The column.
        column: usize,
    },
    /// Changes what the test file states.
    Head(HeadEdit),
    /// Takes another text for the test file.
    HeadText(String),
    /// Rules on a reading that is doubted, or takes the ruling back.
    Rule {
        /// Where the reading stands, or the speed that is doubted.
        place: Place,
        /// What the person says; `None` takes the ruling back.
        say: Option<Verdict>,
    },
}

/// Why an edit cannot be done.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum EditError {
    /// The draft has no such row, column or place.
    #[error("the test has no such cell")]
    NoSuchPlace,
    /// The text of the test file does not let it.
    #[error(transparent)]
    Head(#[from] HeadError),
}

impl TestDraft {
    /// Does one thing to a draft, and returns what comes of it.
    ///
    /// # Errors
    /// That the place is not there, or the text of the test file cannot be read.
    pub fn edited(&self, edit: &Edit) -> Result<Self, EditError> {
        let mut draft = self.clone();
        draft.edit(edit)?;
        draft.settle_separator();
        draft.move_rulings(self);
        Ok(draft)
    }

    fn edit(&mut self, edit: &Edit) -> Result<(), EditError> {
        match edit {
            Edit::Set { place, text } => self.set(*place, text),
            Edit::AddRow { speed } => {
                self.push_row(speed.clone());
                Ok(())
            }
            Edit::RepeatRow { row } => {
                let typed = self.rows.get(*row).ok_or(EditError::NoSuchPlace)?;
                self.insert_row(row + 1, typed.speed.clone());
                Ok(())
            }
            Edit::RemoveRow { row } => {
                if *row >= self.rows.len() {
                    return Err(EditError::NoSuchPlace);
                }
                self.rows.remove(*row);
                Ok(())
            }
            Edit::Paste { place, text } => paste::paste(self, *place, text),
            Edit::AddColumn(column) => {
                self.columns.push(column.clone());
                for row in &mut self.rows {
                    row.cells.push(String::new());
                }
                self.lay_out_anew();
                Ok(())
            }
            Edit::SetColumn { column, to } => {
                let at = self.columns.get(*column);
                if at.ok_or(EditError::NoSuchPlace)?.name() != to.name() {
                    self.drop_rulings_on(*column);
                }
                self.columns[*column] = to.clone();
                Ok(())
            }
            Edit::RemoveColumn { column } => self.remove_column(*column),
            Edit::Head(edit) => self.edit_head(|head| lineup::edited(head, edit)),
            Edit::HeadText(text) => {
                self.head_text.clone_from(text);
                Ok(())
            }
            Edit::Rule { place, say } => self.rule(*place, *say),
        }
    }

    /// Types a text at a place.
    pub(super) fn set(&mut self, place: Place, text: &str) -> Result<(), EditError> {
        let row = self.rows.get_mut(place.row);
        let row = row.ok_or(EditError::NoSuchPlace)?;
        let cell = match place.spot {
            Spot::Speed => &mut row.speed,
            Spot::Note => &mut row.note,
            Spot::Cell(column) => row.cells.get_mut(column).ok_or(EditError::NoSuchPlace)?,
        };
        if cell == text {
            return Ok(());
        }
        text.clone_into(cell);
        if place.spot != Spot::Note {
            // Where the test file cannot be read, a ruling in it cannot be found, and neither does it count.
            let _ = self.rule(place, None);
        }
        Ok(())
    }

    fn remove_column(&mut self, column: usize) -> Result<(), EditError> {
        if column >= self.columns.len() {
            return Err(EditError::NoSuchPlace);
        }
        self.drop_rulings_on(column);
        self.columns.remove(column);
        for row in &mut self.rows {
            row.cells.remove(column);
        }
        self.lay_out_anew();
        Ok(())
    }

    /// Takes back what was ruled on the readings of a column, which rulings call by its name.
    fn drop_rulings_on(&mut self, column: usize) {
        for row in 0..self.rows.len() {
            let spot = Spot::Cell(column);
            // As in `set`.
            let _ = self.rule(Place { row, spot }, None);
        }
    }

    fn lay_out_anew(&mut self) {
        self.layout = Arc::new(self.layout.with_columns(self.columns.len()));
    }

    fn rule(&mut self, place: Place, say: Option<Verdict>) -> Result<(), EditError> {
        if say.is_none() && !lineup::may_have_rulings(&self.head_text) {
            return Ok(());
        }
        let line = *self.lines().get(place.row).ok_or(EditError::NoSuchPlace)?;
        let column = self.column_at(place.spot).ok_or(EditError::NoSuchPlace)?;
        let column = &column;
        self.edit_head(|head| lineup::ruled(head, RulingPlace { line, column }, say))
    }

    fn edit_head(
        &mut self,
        change: impl FnOnce(&str) -> Result<String, HeadError>,
    ) -> Result<(), EditError> {
        self.head_text = change(&self.head_text)?;
        Ok(())
    }

    /// Points the rulings at the lines on which their rows stand now; those on rows that are gone fall.
    fn move_rulings(&mut self, before: &Self) {
        if !lineup::may_have_rulings(&self.head_text) {
            return;
        }
        let after: BTreeMap<RowKey, usize> = self.lines_by_key().collect();
        let moved: BTreeMap<usize, Option<usize>> = before
            .lines_by_key()
            .map(|(key, line)| (line, after.get(&key).copied()))
            .filter(|(line, now)| *now != Some(*line))
            .collect();
        if let Ok(head) = lineup::rulings_moved(&self.head_text, &moved) {
            self.head_text = head;
        }
    }

    fn lines_by_key(&self) -> impl Iterator<Item = (RowKey, usize)> {
        let keys = self.rows.iter().map(|row| row.key);
        keys.zip(self.lines()).collect::<Vec<_>>().into_iter()
    }
}
