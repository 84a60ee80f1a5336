//! The loops over slices, and the choice of instructions.

#![expect(
    clippy::inline_always,
    reason = "a loop takes on the instructions of the function that it is called from"
)]

use thiserror::Error;

/// The slices of a batch do not have one length.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
#[error("a batch has room for {results} results, but {arguments} values of an argument")]
pub struct UnequalLengths {
    /// How many results there is room for.
    pub results: usize,
    /// How many values the first argument that differs has.
    pub arguments: usize,
}

/// Writes `kernel(x)` to `out` for each value of `x`.
///
/// # Errors
/// [`UnequalLengths`]; nothing is written then.
///
/// # Example
/// ```
/// use numerics::vector::{ln, map};
/// let mut logarithms = [0.0; 3];
/// map(ln, &[1.0, 2.0, 4.0], &mut logarithms).unwrap();
/// assert_eq!(logarithms, [1.0, 2.0, 4.0].map(ln));
/// ```
pub fn map(kernel: impl Fn(f64) -> f64, x: &[f64], out: &mut [f64]) -> Result<(), UnequalLengths> {
    Instructions::Detected.map(kernel, x, out)
}

/// Writes `kernel(x, y)` to `out` for each pair of values of `x` and `y`.
///
/// # Errors
/// [`UnequalLengths`]; nothing is written then.
pub fn map_pairs(
    kernel: impl Fn(f64, f64) -> f64,
    x: &[f64],
    y: &[f64],
    out: &mut [f64],
) -> Result<(), UnequalLengths> {
    Instructions::Detected.map_pairs(kernel, x, y, out)
}

/// With which instructions a loop runs. The choice changes its speed, never a bit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Instructions {
    /// The widest that the machine turns out to have.
    Detected,
    /// What every machine of the target has: on x86-64 SSE2, in WebAssembly what the module was built for.
    Baseline,
}

impl Instructions {
    /// As [`map`](fn@map).
    pub fn map(
        self,
        kernel: impl Fn(f64) -> f64,
        x: &[f64],
        out: &mut [f64],
    ) -> Result<(), UnequalLengths> {
        check(x, out)?;
        self.run(Map { kernel, x, out });
        Ok(())
    }

    /// As [`map_pairs`].
    pub fn map_pairs(
        self,
        kernel: impl Fn(f64, f64) -> f64,
        x: &[f64],
        y: &[f64],
        out: &mut [f64],
    ) -> Result<(), UnequalLengths> {
        check(x, out)?;
        check(y, out)?;
        self.run(MapPairs { kernel, x, y, out });
        Ok(())
    }

    /// Runs a task that is compiled for these instructions.
    #[cfg(target_arch = "x86_64")]
    pub fn run<T: Task>(self, task: T) -> T::Output {
        match self {
            Self::Detected => pulp::Arch::new().dispatch(Compiled(task)),
            Self::Baseline => task.run(),
        }
    }

    /// Runs a task. Nothing is left to be found: NEON is part of its target, and WebAssembly cannot ask.
    #[cfg(not(target_arch = "x86_64"))]
    pub fn run<T: Task>(self, task: T) -> T::Output {
        task.run()
    }
}

/// Work made of loops over plain numbers, to be compiled once for each set of instructions.
///
/// # Example
/// ```
/// use numerics::vector::{Instructions, Task};
/// struct Double<'a>(&'a mut [f64]);
/// impl Task for Double<'_> {
///     type Output = ();
///     #[inline(always)]
///     fn run(self) {
///         self.0.iter_mut().for_each(|x| *x += *x);
///     }
/// }
/// let mut numbers = [1.0, 2.0, 3.0];
/// Instructions::Detected.run(Double(&mut numbers));
/// assert_eq!(numbers, [2.0, 4.0, 6.0]);
/// ```
pub trait Task {
    /// What the work gives.
    type Output;

    /// Does the work. Marked `#[inline(always)]`, and so is every function below it that holds a loop.
    fn run(self) -> Self::Output;
}

/// A task where the token of the instruction set is not used: a loop that is inlined where the set is enabled is compiled for it.
#[cfg(target_arch = "x86_64")]
struct Compiled<T>(T);

#[cfg(target_arch = "x86_64")]
impl<T: Task> pulp::WithSimd for Compiled<T> {
    type Output = T::Output;

    #[inline(always)]
    fn with_simd<S: pulp::Simd>(self, _: S) -> T::Output {
        self.0.run()
    }
}

fn check(argument: &[f64], out: &[f64]) -> Result<(), UnequalLengths> {
    if argument.len() == out.len() {
        return Ok(());
    }
    Err(UnequalLengths {
        results: out.len(),
        arguments: argument.len(),
    })
}

/// The loop of [`Instructions::map`].
struct Map<'a, K> {
    kernel: K,
    x: &'a [f64],
    out: &'a mut [f64],
}

/// The loop of [`Instructions::map_pairs`].
struct MapPairs<'a, K> {
    kernel: K,
    x: &'a [f64],
    y: &'a [f64],
    out: &'a mut [f64],
}

impl<K: Fn(f64) -> f64> Task for Map<'_, K> {
    type Output = ();

    #[inline(always)]
    fn run(self) {
        for (out, x) in self.out.iter_mut().zip(self.x) {
            *out = (self.kernel)(*x);
        }
    }
}

impl<K: Fn(f64, f64) -> f64> Task for MapPairs<'_, K> {
    type Output = ();

    #[inline(always)]
    fn run(self) {
        for ((out, x), y) in self.out.iter_mut().zip(self.x).zip(self.y) {
            *out = (self.kernel)(*x, *y);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn unequal_lengths_are_refused_and_nothing_is_written() {
        let mut out = [7.0; 3];
        let error = map_pairs(|x, y| x + y, &[1.0; 3], &[2.0; 4], &mut out).unwrap_err();
        assert_eq!((error.results, error.arguments), (3, 4));
        let error = map(|x| x, &[1.0; 2], &mut out).unwrap_err();
        assert_eq!((error.results, error.arguments), (3, 2));
        assert!(out.iter().all(|value| value.to_bits() == 7.0_f64.to_bits()));
    }

    #[test]
    fn every_place_gets_its_own_result() {
        for length in 0..40_u8 {
            let x: Vec<f64> = (0..length).map(f64::from).collect();
            let y: Vec<f64> = x.iter().map(|x| 100.0 * x).collect();
            for instructions in [Instructions::Detected, Instructions::Baseline] {
                let mut out = vec![-1.0; x.len()];
                instructions
                    .map_pairs(|x, y| x + y, &x, &y, &mut out)
                    .unwrap();
                assert!(out.iter().zip(&x).all(|(sum, x)| *sum - 101.0 * x == 0.0));
            }
        }
    }
}
