//! ASTM B88: seamless copper water tube, type L.

use super::size::Row;

/// Outside diameters and nominal walls, from memory. The outside diameter is 1/8 in more than the nominal size.
pub(super) const TYPE_L: [Row; 9] = [
    Row::inches(("1/2 in", 500), 625, 40),
    Row::inches(("3/4 in", 750), 875, 45),
    Row::inches(("1 in", 1000), 1125, 50),
    Row::inches(("1-1/4 in", 1250), 1375, 55),
    Row::inches(("1-1/2 in", 1500), 1625, 60),
    Row::inches(("2 in", 2000), 2125, 70),
    Row::inches(("2-1/2 in", 2500), 2625, 80),
    Row::inches(("3 in", 3000), 3125, 90),
    Row::inches(("4 in", 4000), 4125, 110),
];
