//! What each reading should be by the other rows: for a person who is about to type it, or has just done so.
//!
//! Where the other rows have a law, it says. Before that there are rough bands, marked as such: they are wide enough to
//! hold every sound pad, and still show a reading in kilowatts under watts on the second row of a test.

mod coarse;

pub(crate) use coarse::{Neighbour, band_by_neighbours, band_of_such_pumps};

use crate::examine;
use crate::explain::candidates;
use crate::finding::{Reading, Slip};
use metrology::Estimate;
use records::{Site, Test};

/// What a reading should be.
#[derive(Clone, Debug, PartialEq)]
pub struct Expectation {
    /// The row, from 0.
    pub row: usize,
    /// The column, from 0.
    pub column: usize,
    /// What is expected, SI. Of a rough band only the ends say anything.
    pub si: Estimate,
    /// Who says so.
    pub by: ExpectedBy,
    /// Where a reading lies outside a rough band, or outside its meter's range too: what was typed, and what would explain
    /// it. A reading that counts and can be held against a law is judged by [`crate::analyze`] alone.
    pub doubt: Option<RoughDoubt>,
}

/// Who says what is expected.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ExpectedBy {
    /// The law of the other rows.
    Law,
    /// The rows with the nearest speeds, by the affinity laws.
    Neighbours,
    /// The stated plumbing and the maker's curve, or the flow of an earlier test.
    Plumbing,
    /// The maker's curve.
    MakersCurve,
    /// What such pumps do.
    SuchPumps,
}

impl ExpectedBy {
    /// Whether only the ends of the band say anything.
    pub fn is_rough(self) -> bool {
        !matches!(self, Self::Law | Self::Plumbing)
    }
}

/// A reading outside a rough band.
#[derive(Clone, Debug, PartialEq)]
pub struct RoughDoubt {
    /// As typed.
    pub read: Reading,
    /// What would explain it, and the value to accept then, SI.
    pub slip: Option<(Slip, f64)>,
}

/// Says of every cell of a test what is to be expected there, whether it was read yet or not.
///
/// # Inputs
/// The site, and the test as it stands; rows and columns may be half empty.
///
/// # Returns
/// The cells of which something can be said, row by row. Standby rows are left out, as are quantities that follow no
/// speed. A reading that is doubted says nothing of the others.
pub fn expectations(site: &Site, test: &Test) -> Vec<Expectation> {
    examine::expectations(site, test)
}

/// Looks for a slip that brings a reading into a band.
pub(crate) fn rough_doubt(read: Reading, low_si: f64, high_si: f64) -> Option<RoughDoubt> {
    let is_inside = |si: f64| (low_si..=high_si).contains(&si);
    if is_inside(read.si) {
        return None;
    }
    // The band is wide, so that several slips may lead into it: another unit first, then the smallest shift of the point.
    let likelihood = |slip: &Slip| match slip {
        Slip::Unit(_) => 0,
        Slip::DecimalPlaces(places) => places.unsigned_abs(),
    };
    let slip = candidates(&read)
        .filter(|(_, factor)| is_inside(read.si / factor))
        .min_by_key(|(slip, _)| likelihood(slip))
        .map(|(slip, factor)| (slip, read.si / factor));
    Some(RoughDoubt { read, slip })
}
