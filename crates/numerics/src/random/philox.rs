//! The generator: a block of random bits for each number and key.

#![expect(
    clippy::inline_always,
    reason = "a kernel takes on the instructions of the loop that it is called from"
)]

/// Rounds of the generator, as in its name.
const ROUNDS: u32 = 10;
/// Multipliers of Philox 4x32.
const MULTIPLIERS: [u64; 2] = [0xD251_1F53, 0xCD9E_8D57];
/// What the key grows by at each round: the golden ratio and √3 − 1.
const KEY_STEPS: [u64; 2] = [0x9E37_79B9, 0xBB67_AE85];
/// The lower half of a number.
const LOW: u64 = 0xFFFF_FFFF;

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

/// Computes a block as twice 64 bits: that of two numbers and a key in its two halves.
#[inline(always)]
pub(super) fn block(numbers: [u64; 2], key: [u64; 2]) -> [u64; 2] {
    let [[a, b], [c, d]] = numbers.map(halves);
    let [a, b, c, d] = rounds([a, b, c, d], key);
    [b << 32 | a, d << 32 | c]
}

/// The lower and the upper half of a number.
#[inline(always)]
pub(super) fn halves(number: u64) -> [u64; 2] {
    [number & LOW, number >> 32]
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
}
