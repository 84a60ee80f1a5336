//! ASTM D2846: CPVC tubing of SDR 11 for hot and cold water, in copper tube sizes.

use super::size::Row;

/// Outside diameters and minimum walls, from memory. Diameters, and walls from 3/4 in on, agree with the list of
/// SDR 11 PVC tubing in copper tube sizes (ASTM D2241) of the Python package fluids 1.3.1; the wall of 1/2 in,
/// 0.068 in here and 0.060 in there, is a minimum of D2846 (from memory).
pub(super) const SDR_11: [Row; 6] = [
    Row::inches(("1/2 in", 500), 625, 68),
    Row::inches(("3/4 in", 750), 875, 80),
    Row::inches(("1 in", 1000), 1125, 102),
    Row::inches(("1-1/4 in", 1250), 1375, 125),
    Row::inches(("1-1/2 in", 1500), 1625, 148),
    Row::inches(("2 in", 2000), 2125, 193),
];
