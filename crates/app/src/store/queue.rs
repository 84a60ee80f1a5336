//! The writings of one record in their order: each goes out in the task that asked for it, and none is lost.
//!
//! A plain state machine: it writes nothing itself. Whoever drives it starts each [`Write`] at once, in the task that
//! got it, and reports what came of it. Several may be under way, each on top of the one before; a store keeps their
//! order. Where many are, the next ones wait, and of what waits the latest wins.

use super::{Durability, StoreError};
use crate::library::Revision;
use std::collections::VecDeque;

/// The most writings of one record that are under way at once: more would only make the last one later.
const MOST_UNDER_WAY: usize = 4;

/// What is to be written now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Write<T> {
    /// What.
    pub value: T,
    /// The revision that the store must have for it; `None` where it must have none.
    pub expected: Option<Revision>,
    /// The revision that it becomes.
    pub revision: Revision,
    /// How sure it must be.
    pub durability: Durability,
}

/// The writings of one record.
#[derive(Clone, Debug)]
pub struct Queue<T> {
    /// The revision that the store is known to have.
    stored: Option<Revision>,
    /// The oldest first.
    under_way: VecDeque<Write<T>>,
    waiting: Option<(T, Durability)>,
    trouble: Option<StoreError>,
}

impl<T: Clone> Queue<T> {
    /// Starts with the revision that was loaded; `None` for a record that is not kept yet.
    pub fn new(stored: Option<Revision>) -> Self {
        Self {
            stored,
            under_way: VecDeque::new(),
            waiting: None,
            trouble: None,
        }
    }

    /// Takes what is to be kept now. Returns what to write at once; `None` where it has to wait, for those under way or
    /// for trouble to be settled.
    pub fn push(&mut self, value: T, durability: Durability) -> Option<Write<T>> {
        self.wait(value, durability);
        self.start()
    }

    /// Takes what came of the writing of a revision, and returns what to write next.
    pub fn done(
        &mut self,
        revision: Revision,
        outcome: Result<(), StoreError>,
    ) -> Option<Write<T>> {
        let at = self
            .under_way
            .iter()
            .position(|write| write.revision == revision)?;
        let written = self.under_way.remove(at)?;
        match outcome {
            Ok(()) => self.stored = self.stored.max(Some(revision)),
            Err(error) => {
                // The first trouble is the cause of those behind it.
                self.trouble.get_or_insert(error);
                if self.waiting.is_none()
                    && self.under_way.iter().all(|later| later.revision < revision)
                {
                    self.waiting = Some((written.value, written.durability));
                }
            }
        }
        self.start()
    }

    /// Tries again after trouble. After a conflict this overwrites what the other tab wrote, so that the person must have
    /// been asked. `None` where nothing waits, or writings are under way still.
    pub fn again(&mut self) -> Option<Write<T>> {
        if !self.under_way.is_empty() {
            return None;
        }
        if let Some(StoreError::Conflict { kept }) = self.trouble.take() {
            self.stored = kept;
        }
        self.start()
    }

    /// What went wrong, and is not settled.
    pub fn trouble(&self) -> Option<&StoreError> {
        self.trouble.as_ref()
    }

    /// The newest of what was pushed and is not kept yet, with the revision that it has or will have.
    pub fn latest(&self) -> Option<(&T, Revision)> {
        let last = self.under_way.back();
        let Some((waiting, _)) = &self.waiting else {
            return last.map(|write| (&write.value, write.revision));
        };
        let before = last.map(|write| write.revision).or(self.stored);
        Some((waiting, before.unwrap_or_default().next()))
    }

    /// Whether everything that was pushed is kept.
    pub fn is_settled(&self) -> bool {
        self.under_way.is_empty() && self.waiting.is_none()
    }

    fn wait(&mut self, value: T, durability: Durability) {
        let sure = match self.waiting {
            Some((_, Durability::Strict)) => Durability::Strict,
            _ => durability,
        };
        self.waiting = Some((value, sure));
    }

    fn start(&mut self) -> Option<Write<T>> {
        if self.trouble.is_some() || self.under_way.len() >= MOST_UNDER_WAY {
            return None;
        }
        let (value, durability) = self.waiting.take()?;
        let last = self.under_way.back().map(|write| write.revision);
        let expected = last.or(self.stored);
        let write = Write {
            value,
            expected,
            revision: expected.unwrap_or_default().next(),
            durability,
        };
        self.under_way.push_back(write.clone());
        Some(write)
    }
}
