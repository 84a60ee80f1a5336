//! The normal quantile in closed form: what turns an even deviate into a normal one.
//!
//! The bracketed search of [`crate::distributions`] is an independent road to the same number; a simulation needs one
//! that costs a few nanoseconds and has no loop.

#![expect(
    clippy::inline_always,
    reason = "a kernel takes on the instructions of the loop that it is called from"
)]

use crate::vector::ln;

/// Coefficients of the ratio of polynomials near the middle, |p − ½| ≤ 0.425, in 0.425² − (p − ½)².
const MIDDLE: Ratio = Ratio {
    above: [
        3.387_132_872_796_366_608,
        133.141_667_891_784_377_45,
        1_971.590_950_306_551_442_7,
        13_731.693_765_509_461_125,
        45_921.953_931_549_871_457,
        67_265.770_927_008_700_853,
        33_430.575_583_588_128_105,
        2_509.080_928_730_122_672_7,
    ],
    below: [
        42.313_330_701_600_911_252,
        687.187_007_492_057_908_3,
        5_394.196_021_424_751_107_7,
        21_213.794_301_586_595_867,
        39_307.895_800_092_710_61,
        28_729.085_735_721_942_674,
        5_226.495_278_852_854_561,
    ],
};

/// Coefficients for the tails, in √(−ln p) − 1.6.
const TAIL: Ratio = Ratio {
    above: [
        1.423_437_110_749_683_577_34,
        4.630_337_846_156_545_295_9,
        5.769_497_221_460_691_405_5,
        3.647_848_324_763_204_605_04,
        1.270_458_252_452_368_382_58,
        0.241_780_725_177_450_611_77,
        0.022_723_844_989_269_184_583_3,
        7.745_450_142_783_414_076_4e-4,
    ],
    below: [
        2.053_191_626_637_758_821_87,
        1.676_384_830_183_803_849_4,
        0.689_767_334_985_100_004_55,
        0.148_103_976_427_480_074_59,
        0.015_198_666_563_616_457_196_6,
        5.475_938_084_995_344_946e-4,
        1.050_750_071_644_416_843_24e-9,
    ],
};

/// Coefficients for the far tails, √(−ln p) > 5, in √(−ln p) − 5.
const FAR_TAIL: Ratio = Ratio {
    above: [
        6.657_904_643_501_103_777_2,
        5.463_784_911_164_114_369_9,
        1.784_826_539_917_291_335_8,
        0.296_560_571_828_504_891_23,
        0.026_532_189_526_576_123_093,
        0.001_242_660_947_388_078_438_6,
        2.711_555_568_743_487_578_15e-5,
        2.010_334_399_292_288_132_65e-7,
    ],
    below: [
        0.599_832_206_555_887_937_69,
        0.136_929_880_922_735_805_31,
        0.014_875_361_290_850_614_852_5,
        7.868_691_311_456_132_591e-4,
        1.846_318_317_510_054_681_8e-5,
        1.421_511_758_316_445_888_7e-7,
        2.044_263_103_389_939_785_64e-15,
    ],
};

/// A ratio of two polynomials of degree seven, the constant of the lower one being 1.
struct Ratio {
    above: [f64; 8],
    below: [f64; 7],
}

impl Ratio {
    #[inline(always)]
    fn at(&self, x: f64) -> f64 {
        let above = self.above.iter().rev().fold(0.0, |sum, c| sum * x + c);
        let below = self.below.iter().rev().fold(0.0, |sum, c| sum * x + c);
        above / (below * x + 1.0)
    }
}

/// Computes the value below which a standard normal deviate lies with probability `p`.
///
/// # Equation
/// Φ⁻¹(p) by three ratios of polynomials: near the middle in (p − ½)², in the tails in √(−ln min(p, 1 − p)).
///
/// # Inputs
/// `p`: in (0, 1); 0 and 1 give infinities, anything else is not a number.
///
/// # Accuracy
/// About 1e-15 of the quantile, as the source states; in the upper tail the rounding of 1 − p comes on top.
///
/// # Source
/// M. Wichura, "Algorithm AS 241: the percentage points of the normal distribution", Appl. Statist. 37 (1988) 477-484, PPND16.
///
/// # Checked against
/// Search in [`crate::distributions`] and `statrs`, in the tests of this file.
///
/// # Example
/// ```
/// let z = numerics::normal::normal_quantile(0.975);
/// assert!((z - 1.959_963_984_540_054).abs() < 1e-14);
/// ```
#[inline]
pub fn normal_quantile(p: f64) -> f64 {
    let q = p - 0.5;
    if q.abs() <= NEAR {
        return middle(q);
    }
    let outside = outside(p, q);
    if outside == 0.0 {
        return f64::INFINITY.copysign(q);
    }
    if outside.is_nan() || outside < 0.0 {
        return f64::NAN;
    }
    let r = depth(outside);
    let size = if r <= FAR { tail(r) } else { far_tail(r) };
    size.copysign(q)
}

/// Computes [`normal_quantile`] without a branch, for a loop over many: the same bits for every `p` in (0, 1).
#[inline(always)]
pub(crate) fn normal_quantile_inside(p: f64) -> f64 {
    let q = p - 0.5;
    let r = depth(outside(p, q));
    let size = if r <= FAR { tail(r) } else { far_tail(r) };
    let (near, beyond) = (middle(q), size.copysign(q));
    if q.abs() <= NEAR { near } else { beyond }
}

/// The distance from ½ up to which the middle holds.
const NEAR: f64 = 0.425;
/// The depth in the tail beyond which it is far.
const FAR: f64 = 5.0;

#[inline(always)]
fn middle(q: f64) -> f64 {
    q * MIDDLE.at(0.180_625 - q * q)
}

/// The probability of the nearer tail.
#[inline(always)]
fn outside(p: f64, q: f64) -> f64 {
    if q < 0.0 { p } else { 1.0 - p }
}

/// How deep a tail of that probability is: √(−ln p).
#[inline(always)]
fn depth(outside: f64) -> f64 {
    (-ln(outside)).sqrt()
}

#[inline(always)]
fn tail(r: f64) -> f64 {
    TAIL.at(r - 1.6)
}

#[inline(always)]
fn far_tail(r: f64) -> f64 {
    FAR_TAIL.at(r - FAR)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::distributions::{normal_upper_quantile, normal_upper_tail};
    use statrs::distribution::{ContinuousCDF, Normal};

    /// Probabilities from 1e-300 to ½, even in their logarithm, with the joints of the three ratios among them.
    fn probabilities() -> impl Iterator<Item = f64> {
        let even = (0..=300).map(|i| crate::elementary::pow(10.0, -f64::from(i)) * 0.499);
        even.chain([
            0.075,
            0.074_999,
            0.075_001,
            1.388_794_386_496_402e-11,
            0.25,
            0.5,
        ])
    }

    #[test]
    fn the_tail_probability_comes_back() {
        for p in probabilities() {
            let z = normal_quantile(p);
            let back = normal_upper_tail(-z);
            // d ln p/dz is about z in the tail, at most 37 here: rounding of z is 37² units in the last place of p.
            let most = 1e-15 * (4.0 + 2.0 * z * z);
            assert!((back / p - 1.0).abs() < most, "{p:e}: {:e}", back / p - 1.0);
        }
    }

    #[test]
    fn search_and_an_independent_library_agree() {
        let library = Normal::standard();
        for p in probabilities().filter(|p| *p > 1e-12) {
            let z = normal_quantile(p);
            // The search ends at 4e-12; the library states about 1e-11 for its inverse.
            assert!((z + normal_upper_quantile(p)).abs() < 5e-12, "{p:e}");
            assert!((z - library.inverse_cdf(p)).abs() < 1e-9, "{p:e}");
            // Its error function is good to about 1e-11, its tails to as much in absolute terms.
            assert!((library.cdf(z) - p).abs() < 1e-11, "{p:e}");
        }
    }

    #[test]
    fn without_a_branch_the_bits_are_the_same() {
        for p in probabilities() {
            for p in [p, 1.0 - p].into_iter().filter(|p| *p < 1.0) {
                let (one, other) = (normal_quantile(p), normal_quantile_inside(p));
                assert_eq!(one.to_bits(), other.to_bits(), "{p:e}");
            }
        }
    }

    #[test]
    fn the_two_tails_mirror_each_other_and_the_ends_are_infinite() {
        for p in [0.01, 0.2, 0.45] {
            assert!((normal_quantile(p) + normal_quantile(1.0 - p)).abs() < 1e-14);
        }
        assert!(normal_quantile(0.0).is_infinite() && normal_quantile(0.0) < 0.0);
        assert!(normal_quantile(1.0).is_infinite() && normal_quantile(1.0) > 0.0);
        assert!(normal_quantile(-0.1).is_nan() && normal_quantile(1.1).is_nan());
        assert!(normal_quantile(f64::NAN).is_nan());
    }
}
