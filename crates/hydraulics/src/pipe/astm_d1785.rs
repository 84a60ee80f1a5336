//! ASTM D1785: PVC pipe of Schedules 40 and 80, in iron pipe sizes.

use super::size::Row;

/// Schedule 40: outside diameters and minimum walls, as printed in the Python package fluids 1.3.1
/// (`fluids.piping`, in mm; the inch values are recovered exactly).
pub(super) const SCHEDULE_40: [Row; 11] = [
    Row::inches(("1/2 in", 500), 840, 109),
    Row::inches(("3/4 in", 750), 1050, 113),
    Row::inches(("1 in", 1000), 1315, 133),
    Row::inches(("1-1/4 in", 1250), 1660, 140),
    Row::inches(("1-1/2 in", 1500), 1900, 145),
    Row::inches(("2 in", 2000), 2375, 154),
    Row::inches(("2-1/2 in", 2500), 2875, 203),
    Row::inches(("3 in", 3000), 3500, 216),
    Row::inches(("4 in", 4000), 4500, 237),
    Row::inches(("6 in", 6000), 6625, 280),
    Row::inches(("8 in", 8000), 8625, 322),
];

/// Schedule 80: as [`SCHEDULE_40`].
pub(super) const SCHEDULE_80: [Row; 11] = [
    Row::inches(("1/2 in", 500), 840, 147),
    Row::inches(("3/4 in", 750), 1050, 154),
    Row::inches(("1 in", 1000), 1315, 179),
    Row::inches(("1-1/4 in", 1250), 1660, 191),
    Row::inches(("1-1/2 in", 1500), 1900, 200),
    Row::inches(("2 in", 2000), 2375, 218),
    Row::inches(("2-1/2 in", 2500), 2875, 276),
    Row::inches(("3 in", 3000), 3500, 300),
    Row::inches(("4 in", 4000), 4500, 337),
    Row::inches(("6 in", 6000), 6625, 432),
    Row::inches(("8 in", 8000), 8625, 500),
];

/// Schedule 40 with the wall in the middle of its tolerance.
pub(super) const SCHEDULE_40_AVERAGE: [Row; 11] = average(SCHEDULE_40);

/// Schedule 80 with the wall in the middle of its tolerance.
pub(super) const SCHEDULE_80_AVERAGE: [Row; 11] = average(SCHEDULE_80);

const fn average<const N: usize>(mut rows: [Row; N]) -> [Row; N] {
    let mut index = 0;
    while index < N {
        let wall_mil = rows[index].two_walls_mil() / 2;
        rows[index] = rows[index].narrowed(tolerance_in_bore_mil(wall_mil));
        index += 1;
    }
    rows
}

/// Half of the wall tolerance on either side of the bore makes one whole: the larger of
/// 0.020 in and 12 % of the minimum wall, to the nearest 0.001 in (from memory of ASTM D1785).
const fn tolerance_in_bore_mil(minimum_wall_mil: u32) -> u32 {
    let twelve_percent = (12 * minimum_wall_mil + 50) / 100;
    if twelve_percent > 20 {
        twelve_percent
    } else {
        20
    }
}
