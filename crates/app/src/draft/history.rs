//! A draft with what it was before: every edit can be undone, and an undone one done again.

use super::{Edit, EditError, Place, TestDraft};
use std::collections::VecDeque;

/// The most edits that can be undone.
pub const MOST_UNDONE: usize = 200;

/// A draft while it is edited.
#[derive(Clone, Debug)]
pub struct Editing {
    present: TestDraft,
    past: VecDeque<TestDraft>,
    future: Vec<TestDraft>,
    /// The place that is typed in: further characters there are part of the same edit.
    open: Option<Place>,
}

impl Editing {
    /// Starts with a draft and nothing to undo.
    pub fn new(draft: TestDraft) -> Self {
        Self {
            present: draft,
            past: VecDeque::new(),
            future: Vec::new(),
            open: None,
        }
    }

    /// The draft as it stands.
    pub fn draft(&self) -> &TestDraft {
        &self.present
    }

    /// Does an edit. Texts typed one after the other at one place are one edit to undo, until [`Editing::seal`].
    ///
    /// # Errors
    /// Those of [`TestDraft::edited`]; nothing has changed then.
    pub fn apply(&mut self, edit: &Edit) -> Result<(), EditError> {
        let after = self.present.edited(edit)?;
        let place = match edit {
            Edit::Set { place, .. } => Some(*place),
            _ => None,
        };
        let goes_on = place.is_some() && place == self.open;
        self.open = place;
        if after == self.present {
            return Ok(());
        }
        let before = std::mem::replace(&mut self.present, after);
        self.future.clear();
        if !goes_on || self.past.is_empty() {
            self.past.push_back(before);
        }
        if self.past.len() > MOST_UNDONE {
            self.past.pop_front();
        }
        Ok(())
    }

    /// Ends what is typed at one place: to be called when the cursor leaves it.
    pub fn seal(&mut self) {
        self.open = None;
    }

    /// Undoes the last edit; says whether there was one.
    pub fn undo(&mut self) -> bool {
        self.open = None;
        let Some(before) = self.past.pop_back() else {
            return false;
        };
        self.future
            .push(std::mem::replace(&mut self.present, before));
        true
    }

    /// Does the edit again that was undone last; says whether there was one.
    pub fn redo(&mut self) -> bool {
        self.open = None;
        let Some(after) = self.future.pop() else {
            return false;
        };
        self.past
            .push_back(std::mem::replace(&mut self.present, after));
        true
    }

    /// Whether there is an edit to undo.
    pub fn can_undo(&self) -> bool {
        !self.past.is_empty()
    }

    /// Whether there is an undone edit to do again.
    pub fn can_redo(&self) -> bool {
        !self.future.is_empty()
    }
}
