//! What tees take of the head, beside the parts of the lines that meet in them.

use super::Block;
use crate::language::say;
use crate::units::Printing;
use fieldtest::{Budget, LineBudget, TeeBudget};

/// A tee that takes or gives less than this share is left to the rest of its line.
const LEAST_SHOWN: f64 = 0.005;

/// Lists the tees of a line that are worth a row.
pub(super) fn told(line: &LineBudget) -> impl Iterator<Item = &TeeBudget> {
    let tees = line.tees.iter();
    tees.filter(|tee| tee.share.value.abs() > LEAST_SHOWN)
}

/// Says what a head below zero is, where a row may have one.
pub(super) fn note(budget: &Budget, printing: Printing) -> Option<Block> {
    let mut told = budget.lines.iter().flat_map(told);
    told.any(|tee| tee.head_m.low < 0.0).then(|| {
        Block::Note(
            say!(printing, "A tee below zero gives head to its line: the faster stream there drags this one along, and pays for it in its own.")
                .to_owned(),
        )
    })
}
