//! Where the head is lost, by itself: what a page shows of it at any speed.

use super::{Block, budget};
use crate::units::Printing;
use fieldtest::{Calibration, Learning, NotLearnt};
use records::Site;

/// Composes where the head is lost and which reading would tell most, as they stand in the answer of `analyze --at`.
pub fn lost(
    site: &Site,
    (calibration, learning): (&Calibration, Result<&Learning, &NotLearnt>),
    printing: Printing,
) -> Vec<Block> {
    let mut blocks = budget::budget(site, calibration, printing);
    blocks.extend(budget::read_next(site, learning, printing));
    blocks
}
