//! Two normal deviates from one block of random bits, without a branch.
//!
//! The transform of Box and Muller costs half of what an inverse of the distribution function does. The price is that
//! normal deviates come in pairs.

#![expect(
    clippy::inline_always,
    reason = "a kernel takes on the instructions of the loop that it is called from"
)]

use super::middle_of_part;
use crate::vector::ln_of_normal;
use core::f64::consts::FRAC_PI_2;

/// Random bits of a direction that are left over once its fraction of 52 bits is taken: the sign of the cosine,
const SIGN: u64 = 1 << 63;
/// and which deviate takes the sine.
const SWAP: u64 = 1 << 62;
/// The random bits in front of that fraction.
const BEFORE_FRACTION: u32 = 12;

/// Computes two independent standard normal deviates from random bits.
///
/// # Equation
/// √(−2 ln u) (cos a, sin a): u even in (0, 1), a even over the four right angles. Within a right angle a lies between
/// −π/4 and π/4; one bit turns the cosine's sign and one exchanges the two.
///
/// # Accuracy
/// 1.7 units in the last place of the deviate that the bits name in 99 cases of a hundred and 3.2 at most, in two
/// million. None is larger than 8.58; one of 1e17 should be.
///
/// # Source
/// G. Box, M. Muller, "A note on the generation of random normal deviates", Ann. Math. Statist. 29 (1958) 610-611.
///
/// # Checked against
/// `libm` in the tests of this file; the accuracy is against functions of 80 bits.
#[inline(always)]
pub(super) fn normal_pair([length, direction]: [u64; 2]) -> [f64; 2] {
    let radius = (-2.0 * ln_of_normal(middle_of_part(length))).sqrt();
    let turned = middle_of_part(direction << BEFORE_FRACTION) - 0.5;
    let (sine, cosine) = sine_and_cosine(FRAC_PI_2 * turned);
    let cosine = f64::from_bits(cosine.to_bits() ^ (direction & SIGN));
    let (along, across) = (radius * cosine, radius * sine);
    if direction & SWAP == 0 {
        [along, across]
    } else {
        [across, along]
    }
}

/// Computes sine and cosine of an angle between −π/4 and π/4.
///
/// # Source
/// FDLIBM 5.3, `k_sin.c` and `k_cos.c`, for the coefficients.
#[inline(always)]
fn sine_and_cosine(angle: f64) -> (f64, f64) {
    let z = angle * angle;
    let w = z * z;
    let sine = (-1.666_666_666_666_663_243_48e-1 + z * 8.333_333_333_322_489_461_24e-3)
        + w * ((-1.984_126_982_985_794_931_34e-4 + z * 2.755_731_370_707_006_767_89e-6)
            + w * (-2.505_076_025_340_686_341_95e-8 + z * 1.589_690_995_211_550_102_21e-10));
    let cosine = (4.166_666_666_666_660_190_37e-2 - z * 1.388_888_888_887_410_957_49e-3)
        + w * ((2.480_158_728_947_672_941_78e-5 - z * 2.755_731_435_139_066_330_35e-7)
            + w * (2.087_572_321_298_174_827_9e-9 - z * 1.135_964_755_778_819_482_65e-11));
    (angle + angle * (z * sine), 1.0 - (0.5 * z - w * cosine))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::distributions::normal_upper_tail;
    use crate::random::Draws;

    /// Blocks of random bits, with the ends of both halves among them.
    fn blocks(count: u64) -> impl Iterator<Item = [u64; 2]> {
        let ends = [0, u64::MAX, SIGN, SWAP, SIGN - 1, SIGN | SWAP];
        let ends = ends.into_iter().flat_map(move |a| ends.map(|b| [a, b]));
        let draws = Draws::new(17);
        let random = (0..count).map(move |index| {
            let mut draw = draws.at(index);
            [draw.bits(), draw.bits()]
        });
        ends.chain(random)
    }

    /// Asserts that two numbers agree to some units in the last place.
    #[track_caller]
    fn alike(a: f64, b: f64, places: f64) {
        assert!((a - b).abs() <= places * f64::EPSILON * b.abs(), "{a} {b}");
    }

    #[test]
    fn length_and_direction_are_those_that_the_bits_name() {
        for [length, direction] in blocks(200_000) {
            let [even, odd] = normal_pair([length, direction]);
            let radius = (-2.0 * libm::log(middle_of_part(length))).sqrt();
            let angle = FRAC_PI_2 * (middle_of_part(direction << 12) - 0.5);
            let sign = if direction & SIGN == 0 { 1.0 } else { -1.0 };
            let turned = [sign * libm::cos(angle), libm::sin(angle)];
            let [one, other] = if direction & SWAP == 0 {
                turned
            } else {
                [turned[1], turned[0]]
            };
            // Two units for each side's function, one for root and product.
            alike(even, radius * one, 5.0);
            alike(odd, radius * other, 5.0);
        }
    }

    #[test]
    fn tails_hold_as_many_as_they_should() {
        const COUNT: u32 = 1_000_000;
        let (mut even, mut odd) = (vec![0.0; COUNT as usize], vec![0.0; COUNT as usize]);
        Draws::new(18).fill_normal_pairs(0, 0, &mut even, &mut odd);
        for z in [-4.0, -3.0, -2.0, -1.0, -0.1, 0.0, 0.5, 1.5, 2.5, 3.5, 4.5] {
            let share = normal_upper_tail(z);
            let expected = f64::from(COUNT) * share;
            let deviation = (expected * (1.0 - share)).sqrt();
            for column in [&even, &odd] {
                let above = column.iter().filter(|x| **x > z).count() as f64;
                // Four standard deviations of a count, one seed.
                assert!((above - expected).abs() < 4.0 * deviation, "{z}: {above}");
            }
        }
    }

    #[test]
    fn the_two_of_a_pair_do_not_depend_on_each_other() {
        const COUNT: u32 = 1_000_000;
        let (mut even, mut odd) = (vec![0.0; COUNT as usize], vec![0.0; COUNT as usize]);
        Draws::new(19).fill_normal_pairs(0, 0, &mut even, &mut odd);
        let mean = |product: fn(f64, f64) -> f64| {
            let pairs = even.iter().zip(&odd);
            pairs.map(|(x, y)| product(*x, *y)).sum::<f64>() / f64::from(COUNT)
        };
        // Products of independent ones have the mean 0 or 1; their variances are 1, 8, 3 and 15. Four standard errors.
        let error = 4.0 / f64::from(COUNT).sqrt();
        assert!(mean(|x, y| x * y).abs() < error);
        assert!((mean(|x, y| x * x * y * y) - 1.0).abs() < 8.0_f64.sqrt() * error);
        assert!(mean(|x, y| x * x * y).abs() < 3.0_f64.sqrt() * error);
        assert!(mean(|x, y| x * x * x * y).abs() < 15.0_f64.sqrt() * error);
    }
}
