//! Where a lane lies from left to right.

/// Which ends a lane has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Turn {
    /// One at each side.
    Straight,
    /// Both at the left: it comes back below itself.
    OpenLeft,
    /// Both at the right.
    OpenRight,
}

/// The room of a lane and the places of its ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Span {
    /// The room for words and symbols.
    pub(super) left: f64,
    pub(super) right: f64,
    /// Where the line begins and ends.
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) turn: Turn,
}

impl Span {
    pub(super) fn width(&self) -> f64 {
        self.right - self.left
    }

    /// Returns from where to where anything of the lane reaches.
    pub(super) fn reach(&self) -> (f64, f64) {
        (
            self.left.min(self.from).min(self.to),
            self.right.max(self.from).max(self.to),
        )
    }

    /// Whether the first part of the line stands at the right.
    pub(super) fn runs_left(&self) -> bool {
        match self.turn {
            Turn::Straight => self.from > self.to,
            Turn::OpenLeft => false,
            Turn::OpenRight => true,
        }
    }
}
