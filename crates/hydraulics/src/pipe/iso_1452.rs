//! EN ISO 1452-2: PVC-U pressure pipe in metric sizes, which are named by the outside diameter.
//!
//! A rated pressure changes its pipe series at 90 mm, because the overall design coefficient falls from 2.5 to 2.0
//! there: PN 10 is S 10 (SDR 21) up to 90 mm and S 12.5 (SDR 26) above, PN 16 is S 6.3 (SDR 13.6) and S 8 (SDR 17).
//! Pipe of the older rule, S 10 throughout, is still sold as PN 10 in some countries; it has a bore of its own,
//! which is then to be stated.

use super::size::Row;

/// PN 10: outside diameters and nominal walls, from memory; they are the minimum walls too. Confirmed by the
/// arithmetic of ISO 4065 and, for 63 and 90 mm, by the Python package pandapipes 0.11.0 (its library of PVC pipe).
/// The standard lists no smaller pipe of PN 10.
pub(super) const PN_10: [Row; 13] = [
    Row::millimetres("32 mm", 32, 16),
    Row::millimetres("40 mm", 40, 19),
    Row::millimetres("50 mm", 50, 24),
    Row::millimetres("63 mm", 63, 30),
    Row::millimetres("75 mm", 75, 36),
    Row::millimetres("90 mm", 90, 43),
    Row::millimetres("110 mm", 110, 42),
    Row::millimetres("125 mm", 125, 48),
    Row::millimetres("140 mm", 140, 54),
    Row::millimetres("160 mm", 160, 62),
    Row::millimetres("180 mm", 180, 69),
    Row::millimetres("200 mm", 200, 77),
    Row::millimetres("225 mm", 225, 86),
];

/// PN 16: as [`PN_10`]. From 110 mm on confirmed by pandapipes 0.11.0 too: polyethylene pipe of the same series,
/// whose walls follow the same ISO 4065.
pub(super) const PN_16: [Row; 15] = [
    Row::millimetres("20 mm", 20, 15),
    Row::millimetres("25 mm", 25, 19),
    Row::millimetres("32 mm", 32, 24),
    Row::millimetres("40 mm", 40, 30),
    Row::millimetres("50 mm", 50, 37),
    Row::millimetres("63 mm", 63, 47),
    Row::millimetres("75 mm", 75, 56),
    Row::millimetres("90 mm", 90, 67),
    Row::millimetres("110 mm", 110, 66),
    Row::millimetres("125 mm", 125, 74),
    Row::millimetres("140 mm", 140, 83),
    Row::millimetres("160 mm", 160, 95),
    Row::millimetres("180 mm", 180, 107),
    Row::millimetres("200 mm", 200, 119),
    Row::millimetres("225 mm", 225, 134),
];

#[cfg(test)]
mod tests {
    use numerics::elementary::pow;

    use super::*;

    /// ISO 4065 (from memory): wall = diameter / (2 S + 1), S the exact number of the series R10 of which the
    /// printed one is the rounding, taken to 0.01 mm and then up to 0.1 mm.
    fn wall_tenth_mm(outside_mm: f64, r10: f64) -> f64 {
        let series = pow(10.0, r10 / 10.0);
        let hundredths = (100.0 * outside_mm / (2.0 * series + 1.0)).round();
        (hundredths / 10.0).ceil()
    }

    #[test]
    fn every_wall_is_that_of_its_series() {
        // S 10, 12.5, 6.3 and 8 are the 10th, 11th, 8th and 9th number of R10.
        for (rows, small, large) in [(&PN_10[..], 10.0, 11.0), (&PN_16[..], 8.0, 9.0)] {
            for row in rows {
                let size = row.size();
                let outside_mm = (1e3 * size.outside_diameter_m).round();
                let r10 = if outside_mm > 90.0 { large } else { small };
                let ours = (1e4 * size.wall_m).round();
                let theirs = wall_tenth_mm(outside_mm, r10);
                assert!(
                    (ours - theirs).abs() < 0.5,
                    "{}: {ours} or {theirs}",
                    size.nominal
                );
            }
        }
    }
}
