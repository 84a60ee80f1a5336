//! How much is tried. There is no clock on this floor, so work is counted: the same problem ends at the same point on
//! every machine.

/// Work that may still be done, in steps of the search.
#[derive(Clone, Copy, Debug)]
pub struct Effort {
    left: u64,
}

/// About a second's work of one core.
const SECOND: u64 = 200_000_000;

impl Effort {
    /// About as much as one core does in a second.
    pub fn a_second() -> Self {
        Self { left: SECOND }
    }

    /// So many steps.
    pub fn steps(steps: u64) -> Self {
        Self { left: steps }
    }

    /// Returns a part of it, for an answer beside the main one.
    #[must_use]
    pub fn part(self, of: u64) -> Self {
        Self {
            left: self.left / of.max(1),
        }
    }

    pub(super) fn spend(&mut self, steps: usize) {
        self.left = self.left.saturating_sub(steps as u64);
    }

    pub(super) fn is_spent(self) -> bool {
        self.left == 0
    }
}
