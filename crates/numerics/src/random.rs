//! Random deviates by number rather than in sequence: draw k of a seed is a function of k.
//!
//! So a simulation may be cut into blocks and spread over threads in any way, and gives the same bits. The generator is
//! the counter-based Philox 4x32-10; deviates invert the distribution function, one uniform deviate each (Student's t
//! takes one more than its degrees of freedom), so that every deviate knows its place.

#![expect(
    clippy::inline_always,
    reason = "a kernel takes on the instructions of the loop that it is called from"
)]

use crate::elementary::sin;
use crate::normal::{normal_quantile, normal_quantile_inside};

/// Rounds of the generator, as in its name.
const ROUNDS: u32 = 10;
/// Multipliers of Philox 4x32.
const MULTIPLIERS: [u64; 2] = [0xD251_1F53, 0xCD9E_8D57];
/// What the key grows by at each round: the golden ratio and √3 − 1.
const KEY_STEPS: [u64; 2] = [0x9E37_79B9, 0xBB67_AE85];
/// The lower half of a number.
const LOW: u64 = 0xFFFF_FFFF;
/// 2⁻⁵².
const STEP: f64 = f64::EPSILON;

/// Computes a block of the counter-based generator Philox 4x32-10.
///
/// # Source
/// J. Salmon, M. Moraes, R. Dror, D. Shaw, "Parallel random numbers: as easy as 1, 2, 3", SC11 (2011), section 3.3.
///
/// # Checked against
/// The known answers that the authors publish with their code, in the tests of this file.
pub fn philox(counter: [u32; 4], key: [u32; 2]) -> [u32; 4] {
    rounds(counter.map(u64::from), key.map(u64::from)).map(low)
}

/// The rounds of Philox, each word of 32 bits in a lane of 64: a product then needs no widening, whatever the width of the registers.
#[inline(always)]
fn rounds([mut c0, mut c1, mut c2, mut c3]: [u64; 4], [mut k0, mut k1]: [u64; 2]) -> [u64; 4] {
    for _ in 0..ROUNDS {
        let (p0, p1) = (MULTIPLIERS[0] * c0, MULTIPLIERS[1] * c2);
        (c0, c1, c2, c3) = (
            (p1 >> 32) ^ c1 ^ k0,
            p1 & LOW,
            (p0 >> 32) ^ c3 ^ k1,
            p0 & LOW,
        );
        k0 = (k0 + KEY_STEPS[0]) & LOW;
        k1 = (k1 + KEY_STEPS[1]) & LOW;
    }
    [c0, c1, c2, c3]
}

/// The lower half of a number.
#[expect(
    clippy::cast_possible_truncation,
    reason = "the half is what is wanted"
)]
fn low(x: u64) -> u32 {
    x as u32
}

/// The number in the middle of the part of (0, 1) that the first 52 of 64 random bits name.
#[inline(always)]
fn middle_of_part(bits: u64) -> f64 {
    // The 52 bits are the fraction of a number from 1 up to 2: exact, and no conversion.
    const ONE: u64 = 1.0_f64.to_bits();
    (f64::from_bits(bits >> 12 | ONE) - 1.0) + 0.5 * STEP
}

/// All the draws of one seed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Draws {
    key: [u64; 2],
}

impl Draws {
    /// The draws of a seed.
    pub fn new(seed: u64) -> Self {
        Self {
            key: [seed & LOW, seed >> 32],
        }
    }

    /// Goes to draw `index`, whose deviates do not depend on those of any other draw.
    ///
    /// # Example
    /// ```
    /// let draws = numerics::random::Draws::new(7);
    /// let (mut once, mut again) = (draws.at(41), draws.at(41));
    /// assert_eq!(once.uniform().to_bits(), again.uniform().to_bits());
    /// ```
    pub fn at(&self, index: u64) -> Draw {
        Draw {
            key: self.key,
            index,
            place: 0,
            kept: None,
        }
    }
}

/// Twice 64 random bits: those at two neighbouring places of a draw.
#[inline(always)]
fn pair(key: [u64; 2], index: u64, place: u64) -> [u64; 2] {
    let [a, b, c, d] = rounds([place & LOW, place >> 32, index & LOW, index >> 32], key);
    [b << 32 | a, d << 32 | c]
}

impl Draws {
    /// Writes two neighbouring normal deviates of consecutive draws, with the bits that each draw gives for itself.
    ///
    /// # Inputs
    /// `place`: 0 for the first and second deviate of each draw, 1 for the third and fourth, and so on. `first`: the
    /// draw of the first elements. The shorter of `even` and `odd` says how many draws.
    ///
    /// # Example
    /// ```
    /// let draws = numerics::random::Draws::new(3);
    /// let (mut even, mut odd) = ([0.0; 5], [0.0; 5]);
    /// draws.fill_normal_pairs(0, 100, &mut even, &mut odd);
    /// let mut draw = draws.at(104);
    /// assert_eq!([draw.normal(), draw.normal()], [even[4], odd[4]]);
    /// ```
    pub fn fill_normal_pairs(&self, place: u64, first: u64, even: &mut [f64], odd: &mut [f64]) {
        let task = NormalPairs {
            key: self.key,
            place,
            first,
            even,
            odd,
        };
        #[cfg(target_arch = "x86_64")]
        pulp::Arch::new().dispatch(task);
        #[cfg(not(target_arch = "x86_64"))]
        pulp::WithSimd::with_simd(task, pulp::Scalar);
    }
}

/// The loop of [`Draws::fill_normal_pairs`].
struct NormalPairs<'a> {
    key: [u64; 2],
    place: u64,
    first: u64,
    even: &'a mut [f64],
    odd: &'a mut [f64],
}

impl pulp::WithSimd for NormalPairs<'_> {
    type Output = ();

    // The token of the instruction set is not used: a loop that is inlined where the set is enabled is compiled for it.
    #[inline(always)]
    fn with_simd<S: pulp::Simd>(self, _: S) {
        let pairs = self.even.iter_mut().zip(self.odd);
        for (by, (even, odd)) in (0_u64..).zip(pairs) {
            let bits = pair(self.key, self.first.wrapping_add(by), self.place);
            *even = normal_quantile_inside(middle_of_part(bits[0]));
            *odd = normal_quantile_inside(middle_of_part(bits[1]));
        }
    }
}

/// One draw: as many deviates as are asked for.
#[derive(Clone, Debug)]
pub struct Draw {
    key: [u64; 2],
    index: u64,
    place: u64,
    kept: Option<u64>,
}

impl Draw {
    /// Returns the next 64 random bits.
    pub fn bits(&mut self) -> u64 {
        if let Some(bits) = self.kept.take() {
            return bits;
        }
        let [even, odd] = pair(self.key, self.index, self.place);
        self.place = self.place.wrapping_add(1);
        self.kept = Some(odd);
        even
    }

    /// Returns a deviate that is even between 0 and 1: the middle of one of 2⁵² equal parts, so never an end.
    pub fn uniform(&mut self) -> f64 {
        middle_of_part(self.bits())
    }

    /// Returns a standard normal deviate.
    pub fn normal(&mut self) -> f64 {
        normal_quantile(self.uniform())
    }

    /// Returns a deviate of Student's t with whole degrees of freedom: a normal one over the root mean square of so
    /// many others. Not a number for none.
    pub fn student_t(&mut self, dof: u32) -> f64 {
        let above = self.normal();
        let squares: f64 = (0..dof).map(|_| self.normal()).map(|z| z * z).sum();
        above / (squares / f64::from(dof)).sqrt()
    }

    /// Returns a deviate that is even between −1 and 1.
    pub fn rectangular(&mut self) -> f64 {
        2.0 * self.uniform() - 1.0
    }

    /// Returns a deviate between −1 and 1 whose density falls evenly from 0 to both ends.
    pub fn triangular(&mut self) -> f64 {
        let from_low = self.uniform();
        if from_low < 0.5 {
            (2.0 * from_low).sqrt() - 1.0
        } else {
            1.0 - (2.0 * (1.0 - from_low)).sqrt()
        }
    }

    /// Returns a deviate between −1 and 1 as a sine has it at a time drawn evenly: the arcsine or U-shaped distribution.
    pub fn arcsine(&mut self) -> f64 {
        sin(std::f64::consts::PI * (self.uniform() - 0.5))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_known_answers_are_met() {
        // Random123 1.x, file kat_vectors, the three lines of philox4x32 with 10 rounds; from memory, and no generator
        // that differed in any bit would return these 384.
        let ones = u32::MAX;
        let known = [
            (
                [0; 4],
                [0; 2],
                [0x6627_e8d5, 0xe169_c58d, 0xbc57_ac4c, 0x9b00_dbd8],
            ),
            (
                [ones; 4],
                [ones; 2],
                [0x408f_276d, 0x41c8_3b0e, 0xa20b_c7c6, 0x6d54_51fd],
            ),
            (
                [0x243f_6a88, 0x85a3_08d3, 0x1319_8a2e, 0x0370_7344],
                [0xa409_3822, 0x299f_31d0],
                [0xd16c_fe09, 0x94fd_cceb, 0x5001_e420, 0x2412_6ea1],
            ),
        ];
        for (counter, key, answer) in known {
            assert_eq!(philox(counter, key), answer);
        }
    }

    #[test]
    fn a_draw_is_reached_without_those_before_it() {
        let draws = Draws::new(0x0123_4567_89ab_cdef);
        let mut in_turn: Vec<u64> = Vec::new();
        for index in 0..50 {
            let mut draw = draws.at(index);
            in_turn.extend((0..5).map(|_| draw.bits()));
        }
        let mut last = draws.at(49);
        assert_eq!(in_turn[245..], [(); 5].map(|()| last.bits()));
        in_turn.sort_unstable();
        in_turn.dedup();
        assert_eq!(in_turn.len(), 250); // a repeat among 250 of 2⁶⁴ has probability 2e-15
        assert_ne!(draws.at(0).bits(), Draws::new(1).at(0).bits());
    }

    #[test]
    fn many_at_once_have_the_bits_of_each() {
        let draws = Draws::new(9);
        let (mut even, mut odd) = (vec![0.0; 1003], vec![0.0; 1003]);
        let first = u64::from(u32::MAX) - 500; // the index crosses into its upper half
        draws.fill_normal_pairs(1, first, &mut even, &mut odd);
        for (index, (even, odd)) in (first..).zip(even.iter().zip(&odd)) {
            let mut draw = draws.at(index);
            let four = [(); 4].map(|()| draw.normal().to_bits());
            assert_eq!(four[2..], [even.to_bits(), odd.to_bits()], "{index}");
        }
    }

    /// The mean of each of four powers over `count` draws.
    fn moments(deviate: impl Fn(&mut Draw) -> f64, count: u64) -> [f64; 4] {
        let draws = Draws::new(20);
        let mut sums = [0.0; 4];
        for index in 0..count {
            let x = deviate(&mut draws.at(index));
            for (sum, power) in sums.iter_mut().zip([x, x * x, x * x * x, x * x * x * x]) {
                *sum += power;
            }
        }
        sums.map(|sum| sum / count as f64)
    }

    #[test]
    fn moments_are_those_of_the_distributions() {
        // Second and fourth moments in closed form; odd ones are zero. Variances of the sample moments are below those of
        // the eighth moment of the normal, 105, of the others 1.
        const COUNT: u64 = 200_000;
        type Deviate = fn(&mut Draw) -> f64;
        let cases: [(&str, Deviate, f64, f64, f64); 4] = [
            ("normal", Draw::normal, 1.0, 3.0, 105.0),
            ("rectangular", Draw::rectangular, 1.0 / 3.0, 0.2, 1.0),
            ("triangular", Draw::triangular, 1.0 / 6.0, 1.0 / 15.0, 1.0),
            ("arcsine", Draw::arcsine, 0.5, 0.375, 1.0),
        ];
        for (name, deviate, second, fourth, eighth) in cases {
            let found = moments(deviate, COUNT);
            let most = 4.0 * (eighth / COUNT as f64).sqrt(); // four standard errors, one seed
            for (value, expected) in found.iter().zip([0.0, second, 0.0, fourth]) {
                assert!((value - expected).abs() < most, "{name}: {found:?}");
            }
        }
    }

    #[test]
    fn a_twentieth_of_students_t_lies_beyond_its_coverage_factor() {
        const COUNT: u64 = 100_000;
        let draws = Draws::new(21);
        for dof in [1, 3, 12] {
            let factor = crate::distributions::coverage_factor(0.95, f64::from(dof));
            let beyond = (0..COUNT)
                .filter(|k| draws.at(*k).student_t(dof).abs() > factor)
                .count();
            // Four standard deviations of a count.
            let most = 4.0 * (COUNT as f64 * 0.05 * 0.95).sqrt();
            assert!(
                (beyond as f64 - 0.05 * COUNT as f64).abs() < most,
                "{dof}: {beyond}"
            );
        }
        assert!(draws.at(0).student_t(0).is_nan());
    }

    #[test]
    fn a_uniform_deviate_is_never_an_end() {
        let ends = [0, u64::MAX].map(|bits| {
            let kept = Draw {
                kept: Some(bits),
                ..Draws::new(0).at(0)
            };
            kept.clone().uniform()
        });
        assert!(ends[0] > 0.0 && ends[1] < 1.0, "{ends:?}");
        assert!((ends[0] - (1.0 - ends[1])).abs() < f64::MIN_POSITIVE);
    }
}
