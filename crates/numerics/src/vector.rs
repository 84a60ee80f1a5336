//! Functions over whole slices, as wide as the registers of the machine, with the bits of one value at a time.
//!
//! A kernel is ordinary code for one value, without a branch and without a call. [`map`] and [`map_pairs`] run it
//! in a loop that the compiler turns into vector instructions: once for what every machine of the target has, and
//! once for AVX2, which is looked for when the program runs. IEEE 754 fixes the result of every operation, and the
//! compiler may neither reorder nor fuse them, so a lane computes what a call for that value alone computes. Not a
//! number stays not a number; its sign and payload are the machine's own.
//!
//! A kernel is marked `#[inline(always)]`: a call that is left standing keeps its bits and loses its width. No
//! test sees that; the bench of `hydraulics` and `cargo xtask peers` do.

mod exponential;
mod logarithm;
mod map;

pub use exponential::exp;
pub(crate) use logarithm::ln_of_normal;
pub use logarithm::{chords, ln, ln_absolute, ln_rough};
pub use map::{Instructions, Task, UnequalLengths, map, map_pairs};
