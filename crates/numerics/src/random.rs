//! Random deviates by number rather than in sequence: draw k of a seed is a function of k.
//!
//! So a simulation may be cut into blocks and spread over threads in any way, and gives the same bits. The generator is
//! the counter-based Philox 4x32-10, whose blocks hold twice 64 bits. Normal deviates come two to a block; the others
//! are functions of one uniform deviate each, half a block.

#![expect(
    clippy::inline_always,
    reason = "a kernel takes on the instructions of the loop that it is called from"
)]

mod normal;
mod philox;

pub use philox::philox;

use crate::elementary::sin;
use crate::vector::{Instructions, Task};
use normal::normal_pair;
use philox::{block, halves};

/// The number in the middle of the part of (0, 1) that the first 52 of 64 random bits name.
#[inline(always)]
fn middle_of_part(bits: u64) -> f64 {
    /// Half of 2⁻⁵².
    const HALF_PART: f64 = 0.5 * f64::EPSILON;
    // The 52 bits are the fraction of a number from 1 up to 2: exact, and no conversion.
    const ONE: u64 = 1.0_f64.to_bits();
    (f64::from_bits(bits >> 12 | ONE) - 1.0) + HALF_PART
}

/// All the draws of one seed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Draws {
    key: [u64; 2],
}

impl Draws {
    /// The draws of a seed.
    pub fn new(seed: u64) -> Self {
        Self { key: halves(seed) }
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
            kept_normal: None,
        }
    }

    /// Writes two neighbouring normal deviates of consecutive draws, with the bits that each draw gives for itself if
    /// it is asked for normal deviates alone.
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
        Instructions::Detected.run(NormalPairs {
            key: self.key,
            place,
            first,
            even,
            odd,
        });
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

impl Task for NormalPairs<'_> {
    type Output = ();

    #[inline(always)]
    fn run(self) {
        let pairs = self.even.iter_mut().zip(self.odd);
        for (by, (even, odd)) in (0_u64..).zip(pairs) {
            let index = self.first.wrapping_add(by);
            [*even, *odd] = normal_pair(block([self.place, index], self.key));
        }
    }
}

/// One draw: as many deviates as are asked for.
#[derive(Clone, Debug)]
pub struct Draw {
    key: [u64; 2],
    index: u64,
    place: u64,
    /// The half of a block that was not asked for yet.
    kept: Option<u64>,
    /// The normal deviate of a block that was not asked for yet.
    kept_normal: Option<f64>,
}

impl Draw {
    fn block(&mut self) -> [u64; 2] {
        let block = block([self.place, self.index], self.key);
        self.place = self.place.wrapping_add(1);
        block
    }

    /// Returns the next 64 random bits.
    pub fn bits(&mut self) -> u64 {
        if let Some(bits) = self.kept.take() {
            return bits;
        }
        let [even, odd] = self.block();
        self.kept = Some(odd);
        even
    }

    /// Returns a deviate that is even between 0 and 1: the middle of one of 2⁵² equal parts, so never an end.
    pub fn uniform(&mut self) -> f64 {
        middle_of_part(self.bits())
    }

    /// Returns a standard normal deviate.
    pub fn normal(&mut self) -> f64 {
        if let Some(deviate) = self.kept_normal.take() {
            return deviate;
        }
        let [even, odd] = normal_pair(self.block());
        self.kept_normal = Some(odd);
        even
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
    fn deviates_of_two_kinds_share_no_bits() {
        // Mixed, a draw gives the normal deviates of its blocks 0 and 2, and the halves of block 1.
        let draws = Draws::new(4);
        let (mut mixed, mut normals, mut halves) = (draws.at(8), draws.at(8), draws.at(8));
        let given = [(); 3].map(|()| (mixed.normal(), mixed.uniform()));
        let normals = [(); 6].map(|()| normals.normal());
        let halves = [(); 8].map(|()| halves.uniform());
        let expected = [
            (normals[0], halves[2]),
            (normals[1], halves[3]),
            (normals[4], halves[6]),
        ];
        assert_eq!(given, expected);
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
