//! Money and water in whole numbers.
//!
//! Equal days must come out equal whatever the order in which their slots are added up: only so do the many days that
//! differ by nothing but order fall together. Sums of floating-point numbers do not; sums of whole ones do. One count is a
//! part in 2^50 of the most that a day can come to, which is finer than the numbers of the problem themselves are known.

use crate::problem::{Problem, SECONDS_PER_HOUR};

/// Counts of the most that a day can come to: three bits are left of the 53 in which a number is exact.
const MOST: f64 = (1_u64 << 50) as f64;

/// How many counts a unit has.
#[derive(Clone, Copy, Debug)]
pub(super) struct Counts {
    /// Counts per unit of what is to be least.
    pub(super) per_weight: f64,
    /// Counts per cubic metre.
    pub(super) per_m3: f64,
}

impl Counts {
    pub(super) fn of(problem: &Problem) -> Self {
        let top =
            |of: fn(&crate::Speed) -> f64| problem.speeds.iter().map(of).fold(0.0_f64, f64::max);
        let power_w = top(|speed| speed.power_w).max(problem.off_power_w);
        let flow_m3s = top(|speed| speed.flow_m3s);
        let (mut weight, mut volume_m3) = (0.0, 0.0);
        for slot in &problem.slots {
            let wh = slot.hours * power_w + problem.start_energy_wh;
            weight += problem.weight_per_wh(slot).abs() * wh;
            volume_m3 += slot.hours * SECONDS_PER_HOUR * flow_m3s + problem.start_volume_m3;
        }
        let per = |most: f64| if most > 0.0 { MOST / most } else { 0.0 };
        Self {
            per_weight: per(weight),
            // Where nothing can flow, any volume is beyond all measure, and not nothing.
            per_m3: if volume_m3 > 0.0 {
                per(volume_m3)
            } else {
                MOST
            },
        }
    }

    pub(super) fn weight(&self, weight: f64) -> i64 {
        whole(weight * self.per_weight)
    }

    pub(super) fn volume(&self, volume_m3: f64) -> i64 {
        whole(volume_m3 * self.per_m3)
    }

    /// Returns what is to be least from its counts.
    pub(super) fn to_weight(self, counts: f64) -> f64 {
        if self.per_weight > 0.0 {
            counts / self.per_weight
        } else {
            0.0
        }
    }
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "no sum of a day passes 2^50; a demand beyond all measure is cut to the largest number"
)]
fn whole(counts: f64) -> i64 {
    counts.round() as i64
}
