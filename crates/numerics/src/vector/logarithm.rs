//! Logarithms without a branch, in four grades of exactness.
//!
//! A positive number is 2^e m with m between √½ and √2. With f = m − 1 and s = f/(2 + f),
//! ln m = 2 artanh s = 2s + s z P(z), where z = s² is below 0.0295 and P is a polynomial.
//!
//! # Source
//! The reduction and the use of s: the `log` of FDLIBM 5.3, as described there in its comments; P. T. P. Tang,
//! "Table-driven implementation of the logarithm function", ACM Trans. Math. Softw. 16 (1990) 378-400, for the
//! split of ln 2. The coefficients are our own, by the exchange algorithm of Remez at 40 digits.

#![expect(
    clippy::inline_always,
    reason = "a kernel takes on the instructions of the loop that it stands in"
)]

/// The bits of √½, rounded to nearest.
const SQRT_HALF_BITS: u64 = 0x3fe6_a09e_667f_3bcd;
/// The bits of 1.
const ONE_BITS: u64 = 0x3ff0_0000_0000_0000;
/// The bits of a significand.
const SIGNIFICAND: u64 = 0x000f_ffff_ffff_ffff;
/// The bits of 2^52: a whole number below 2^52 that is written into them is added to 2^52.
const TWO_TO_52_BITS: u64 = 0x4330_0000_0000_0000;
/// 2^52.
const TWO_TO_52: f64 = 4_503_599_627_370_496.0;
/// What is added to the exponent of 2 in the bits of a number.
const BIAS: f64 = 1023.0;

/// ln 2 without its last 20 bits, so that its product with any exponent is exact.
pub(super) const LN_2_HIGH: f64 = 6.931_471_803_691_238e-1;
/// The rest of ln 2.
pub(super) const LN_2_LOW: f64 = 1.908_214_929_270_587_7e-10;

/// Computes the natural logarithm of any number.
///
/// # Returns
/// Minus infinity of zero, not a number of what is below.
///
/// # Accuracy
/// 0.55 units in the last place in 99 cases of a hundred and 0.82 at most, in four million.
///
/// # Checked against
/// `libm` in the tests of this file, for two million numbers. The accuracy is against logarithms of 80 bits.
///
/// # Example
/// ```
/// assert!((numerics::vector::ln(10.0) - core::f64::consts::LN_10).abs() < 4.5e-16);
/// ```
#[inline(always)]
pub fn ln(x: f64) -> f64 {
    /// 2^54.
    const RAISE: f64 = 18_014_398_509_481_984.0;
    let is_subnormal = x < f64::MIN_POSITIVE;
    let raised = if is_subnormal { x * RAISE } else { x };
    let lowered = if is_subnormal { 54.0 } else { 0.0 };
    let (significand, exponent) = split(raised);
    let result = ln_of_parts(significand, exponent - lowered);
    let edge = if x < 0.0 {
        f64::NAN
    } else {
        f64::NEG_INFINITY - x // minus infinity of either zero, and not a number of what is none
    };
    let from_zero_up = if x > 0.0 { result } else { edge };
    if x < f64::INFINITY { from_zero_up } else { x }
}

/// Computes the natural logarithm of a number that is positive, normal and finite, for use in a sum.
///
/// # Accuracy
/// Within 3e-16 of the larger of the logarithm and 1. Near 1 the logarithm is small and the error is not: see [`ln`].
#[inline(always)]
pub fn ln_absolute(x: f64) -> f64 {
    let (significand, exponent) = split(x);
    let s = (significand - 1.0) / (significand + 1.0);
    let z = s * s;
    let w = z * z;
    // P to 2^-52 of the logarithm.
    let p = (0.666_666_666_665_872_1 + z * 0.400_000_000_522_749_5)
        + w * ((0.285_714_171_295_839_6 + z * 0.222_233_716_981_581_3)
            + w * (0.181_236_420_861_546_03 + z * 0.168_198_276_645_083_44));
    exponent * LN_2_HIGH + ((s * z) * p + (exponent * LN_2_LOW + (s + s)))
}

/// Computes [`ln`] of a number that is positive, normal and finite, with the same bits.
#[inline(always)]
pub(crate) fn ln_of_normal(x: f64) -> f64 {
    let (significand, exponent) = split(x);
    ln_of_parts(significand, exponent)
}

/// Computes a rough natural logarithm of a number that is positive, normal and finite, without a division.
///
/// # Accuracy
/// Within 9e-6.
#[inline(always)]
pub fn ln_rough(x: f64) -> f64 {
    let m = f64::from_bits((x.to_bits() & SIGNIFICAND) | ONE_BITS);
    let g = m * m;
    // What the chords miss, as a polynomial in m from 1 to 2.
    let low =
        chords(x, core::f64::consts::LN_2, -1.247_917_317_345_088_4) + m * 2.836_158_040_717_257_3;
    let middle = -2.461_222_432_739_137 + m * 1.130_626_398_817_849_8;
    let high = -0.288_740_025_778_048_75 + m * 0.031_104_027_498_256_06;
    low + g * (middle + g * high)
}

/// Computes `slope` (e + m − 1) + `offset` for a number 2^e m with m from 1 to 2: chords of the binary logarithm.
///
/// # Inputs
/// A number that is positive, normal and finite. `slope` and `offset` are best constants: they cost nothing then.
///
/// # Accuracy
/// e + m − 1 is below the binary logarithm by 0 to 0.0861.
#[inline(always)]
pub fn chords(x: f64, slope: f64, offset: f64) -> f64 {
    /// 2^-40.
    const UNIT: f64 = 1.0 / 1_099_511_627_776.0;
    // Read as a whole number, the bits are 2^52 (e + bias + m - 1). Twelve of them make room for the bits of 2^52.
    let shifted = f64::from_bits((x.to_bits() >> 12) | TWO_TO_52_BITS);
    shifted * (slope * UNIT) + (offset - slope * (TWO_TO_52 * UNIT + BIAS))
}

/// Parts a positive normal number 2^e m into m, from √½ to √2, and e.
#[inline(always)]
fn split(x: f64) -> (f64, f64) {
    let shifted = x.to_bits().wrapping_add(ONE_BITS - SQRT_HALF_BITS);
    let significand = f64::from_bits((shifted & SIGNIFICAND) + SQRT_HALF_BITS);
    // Through the bits of 2^52, since few machines turn 64-bit whole numbers to floating point side by side.
    let exponent = f64::from_bits((shifted >> 52) | TWO_TO_52_BITS) - (TWO_TO_52 + BIAS);
    (significand, exponent)
}

/// ln(2^e m), with f − f²/2 kept apart from the rest so that no digit is lost near 1.
#[inline(always)]
fn ln_of_parts(significand: f64, exponent: f64) -> f64 {
    let f = significand - 1.0;
    let s = f / (2.0 + f);
    let z = s * s;
    let w = z * z;
    // z P to 2^-59 of the logarithm.
    let odd = z
        * (0.666_666_666_666_673_4
            + w * (0.285_714_287_423_879_3
                + w * (0.181_835_643_264_662_87 + w * 0.147_959_494_671_152_96)));
    let even = w
        * (0.399_999_999_994_146_76
            + w * (0.222_221_985_731_653_75 + w * 0.153_140_505_479_778_92));
    let half_square = 0.5 * f * f;
    let rest = s * (half_square + (even + odd)) + exponent * LN_2_LOW;
    exponent * LN_2_HIGH - ((half_square - rest) - f)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::vector::{Instructions, map};

    /// Numbers of all sizes, evenly spread over the bits of the positive ones from zero to infinity.
    fn spread(count: u64) -> impl Iterator<Item = f64> {
        let most = f64::INFINITY.to_bits();
        (0..count).map(move |i| f64::from_bits(i * (most / count) + i % 4096))
    }

    /// Numbers near 1, where the logarithm is small.
    fn near_one(count: u32) -> impl Iterator<Item = f64> {
        (1..count).map(move |i| 0.5 + 1.5 * f64::from(i) / f64::from(count))
    }

    /// How many numbers lie between two of the same sign, one of them counted.
    fn places_apart(a: f64, b: f64) -> u64 {
        a.to_bits().abs_diff(b.to_bits())
    }

    #[test]
    fn the_logarithm_is_within_a_place_of_libm() {
        let mut worst = 0;
        for x in spread(1_000_000).skip(1).chain(near_one(1_000_000)) {
            worst = worst.max(places_apart(ln(x), libm::log(x)));
        }
        // Both are within one place of the logarithm, so neighbours at most.
        assert!(worst <= 1, "{worst}");
    }

    #[test]
    fn the_ends_of_the_logarithm_are_those_of_libm() {
        for x in [0.0, -0.0, 1.0, f64::INFINITY, f64::MIN_POSITIVE, 5e-324] {
            assert_eq!(ln(x).to_bits(), libm::log(x).to_bits(), "{x}");
        }
        for x in [-1.0, -5e-324, f64::NEG_INFINITY, f64::NAN] {
            assert!(ln(x).is_nan(), "{x}");
        }
    }

    #[test]
    fn the_cheaper_logarithms_keep_their_bounds() {
        let normal = spread(1_000_000).filter(|x| *x >= f64::MIN_POSITIVE);
        for x in normal.chain(near_one(1_000_000)) {
            let exact = libm::log(x);
            assert!(
                (ln_absolute(x) - exact).abs() <= 3e-16 * exact.abs().max(1.0),
                "{x}"
            );
            assert!((ln_rough(x) - exact).abs() < 9e-6, "{x}");
            let below = libm::log2(x) - chords(x, 1.0, 0.0);
            // Exponents reach 1024, so a rounding is 1.1e-13.
            assert!((-2e-13..0.0861).contains(&below), "{x}");
        }
    }

    #[test]
    fn a_lane_has_the_bits_of_a_single_call() {
        let x: Vec<f64> = spread(200_001).chain(near_one(100_000)).collect();
        let singly: Vec<u64> = x
            .iter()
            .map(|x| core::hint::black_box(ln(*x)).to_bits())
            .collect();
        let mut out = vec![0.0; x.len()];
        for instructions in [Instructions::Detected, Instructions::Baseline] {
            instructions.map(ln, &x, &mut out).unwrap();
            assert!(out.iter().map(|y| y.to_bits()).eq(singly.iter().copied()));
        }
        map(ln, &x, &mut out).unwrap();
        assert!(out.iter().map(|y| y.to_bits()).eq(singly));
    }
}
