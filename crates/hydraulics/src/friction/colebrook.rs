//! The Colebrook equation, solved for one pipe or for many at once with the same bits.

#![expect(
    clippy::inline_always,
    reason = "the kernel takes on the instructions of the loop that it stands in"
)]

use numerics::vector::{UnequalLengths, chords, ln_absolute, ln_rough};

/// Computes Darcy's friction factor of turbulent flow in a rough pipe.
///
/// # Equation
/// 1/√f = −2 log₁₀(ε/(3.7 D) + 2.51 / (Re √f))
///
/// # Inputs
/// `reynolds`: Reynolds number above 0. `relative_roughness`: ε/D, 0 to 0.05.
///
/// # Returns
/// Darcy's friction factor, the one root of the equation.
///
/// # Validity
/// The correlation is meant for Re from 4000 to 1e8 and ε/D up to 0.05. Outside, the equation is
/// still solved, for Re from 10 to 1e15 and ε/D up to 0.5, but it describes no pipe; below Re = 10 the
/// result means nothing. The arguments are not checked.
///
/// # Accuracy
/// Of the method: some 5 to 10 % against measured pipes (usual statement, from memory). Of the
/// numerics, for Re from 500 to 1e8: a relative error of 1.9e-16 in three cases of four, 4.0e-16 in 99 of a hundred,
/// and 6.8e-16 at most, in ten million; below 1e-12 beyond. The work is the same for every argument: a logarithm and
/// a rough one, no branch, and no loop that waits for convergence.
///
/// # Source
/// C. F. Colebrook, J. Inst. Civ. Eng. 11 (1939) 133-156. The form in natural logarithms and the few steps of high
/// order follow D. Clamond, "Efficient resolution of the Colebrook equation", Ind. Eng. Chem. Res. 48 (2009) 3665-3671.
///
/// # Checked against
/// `validation/friction/colebrook-mpmath`
///
/// # Example
/// ```
/// let factor = hydraulics::friction::darcy_colebrook(1e5, 1e-4);
/// assert!((factor - 0.018513866077).abs() < 1e-12);
/// ```
#[inline]
pub fn darcy_colebrook(reynolds: f64, relative_roughness: f64) -> f64 {
    kernel(reynolds, relative_roughness)
}

/// Computes Darcy's friction factor of turbulent flow in many rough pipes.
///
/// # Equation
/// As [`darcy_colebrook`].
///
/// # Inputs
/// `reynolds` and `relative_roughness`: as [`darcy_colebrook`], one of each per pipe. `out`: as many places.
///
/// # Returns
/// Darcy's friction factors in `out`, each with the bits of [`darcy_colebrook`], on every machine.
///
/// # Validity
/// As [`darcy_colebrook`].
///
/// # Accuracy
/// As [`darcy_colebrook`].
///
/// # Errors
/// [`UnequalLengths`] where the slices are not of one length; nothing is written then.
///
/// # Source
/// As [`darcy_colebrook`].
///
/// # Checked against
/// [`darcy_colebrook`], bit for bit, and with it `validation/friction/colebrook-mpmath`
///
/// # Example
/// ```
/// use hydraulics::friction::{darcy_colebrook, darcy_colebrook_batch};
/// let mut factors = [0.0; 2];
/// darcy_colebrook_batch(&[1e5, 2e5], &[1e-4, 1e-4], &mut factors).unwrap();
/// assert_eq!(factors, [darcy_colebrook(1e5, 1e-4), darcy_colebrook(2e5, 1e-4)]);
/// ```
pub fn darcy_colebrook_batch(
    reynolds: &[f64],
    relative_roughness: &[f64],
    out: &mut [f64],
) -> Result<(), UnequalLengths> {
    numerics::vector::map_pairs(kernel, reynolds, relative_roughness, out)
}

#[inline(always)]
fn kernel(reynolds: f64, relative_roughness: f64) -> f64 {
    Colebrook::solve(reynolds, relative_roughness).factor()
}

/// The Colebrook equation and its root, in natural logarithms.
///
/// With y = (ln 10 / 2) / √f the equation reads y + ln(k + γ y) = 0, where k = (ε/D) / 3.7 and
/// γ = 2.51 (2 / ln 10) / Re.
pub(super) struct Colebrook {
    /// The root y.
    root: f64,
    /// k + γ y at the root, to five digits: the argument of the logarithm.
    argument: f64,
    /// γ, the viscous part of the argument per unit of y.
    viscous: f64,
}

impl Colebrook {
    #[inline(always)]
    pub(super) fn solve(reynolds: f64, relative_roughness: f64) -> Self {
        /// 2.51 · 2 / ln 10.
        const VISCOUS: f64 = 2.180_158_299_154_324;
        let rough = relative_roughness * (1.0 / 3.7);
        let viscous = VISCOUS / reynolds;

        let start = smooth_root(reynolds);
        let argument = rough + viscous * start;
        let share = viscous / (argument + viscous);
        let close = third_order(start, ln_rough(argument), share);

        // `close` is within 2e-5 of the root.
        let argument = rough + viscous * close;
        let share = viscous / (argument + viscous);
        let root = second_order(close, ln_absolute(argument), share);
        Self {
            root,
            argument,
            viscous,
        }
    }

    #[inline(always)]
    pub(super) fn factor(&self) -> f64 {
        /// (ln 10 / 2)².
        const HALF_LN_10_SQUARED: f64 = 1.325_474_527_619_599_5;
        HALF_LN_10_SQUARED / (self.root * self.root)
    }

    /// The logarithmic slope d(ln f)/d(ln Re), by the implicit function theorem: −0.3 to 0 from Re = 4000 up.
    pub(super) fn logarithmic_slope(&self) -> f64 {
        -2.0 * self.viscous / (self.argument + self.viscous)
    }
}

/// Estimates the root y in a smooth pipe, within 6 % for Re from 10 to 1e15.
///
/// Where the wall is rough the estimate is far off, and y is little in the argument of the logarithm.
#[inline(always)]
fn smooth_root(reynolds: f64) -> f64 {
    let high = chords(reynolds, 0.614, -1.5);
    let low = chords(reynolds, 0.437, -0.156);
    // Not `f64::max`, which takes three instructions to say what becomes of not-a-number.
    if high > low { high } else { low }
}

/// Computes the root y from a guess a, given λ = ln u at u = k + γ a, and the share m = γ / (u + γ).
///
/// The way d from the guess to the root obeys d + (a + λ) + ln(1 + (γ/u) d) = 0. Its expansion in t = m (a + λ) gives
/// y = −λ + t + (1 − m) t² (½ + t (⅓ − m/2)), to order t³. The share is at most 0.2 in turbulent flow.
#[inline(always)]
fn third_order(guess: f64, logarithm: f64, share: f64) -> f64 {
    let t = share * (guess + logarithm);
    (t - logarithm) + (1.0 - share) * (t * t) * (0.5 + t * (1.0 / 3.0 - 0.5 * share))
}

/// As [`third_order`], to order t².
#[inline(always)]
fn second_order(guess: f64, logarithm: f64, share: f64) -> f64 {
    let t = share * (guess + logarithm);
    t * (1.0 + (0.5 - 0.5 * share) * t) - logarithm
}

#[cfg(test)]
mod tests {
    use core::hint::black_box;

    use numerics::vector::Instructions;
    use proptest::prelude::*;

    use super::*;

    /// Pipes all over the range and beyond, in no order: a lattice of two irrational steps.
    fn pipes(count: u32) -> (Vec<f64>, Vec<f64>) {
        let fraction = |i: u32, step: f64| (f64::from(i) * step).fract();
        let reynolds =
            |i| numerics::elementary::exp(2.31 + 32.2 * fraction(i, 0.618_033_988_749_894_9));
        let rough = |i| match i % 8 {
            0 => 0.0,
            _ => numerics::elementary::exp(-16.0 + 15.3 * fraction(i, 0.414_213_562_373_095)),
        };
        (
            (0..count).map(reynolds).collect(),
            (0..count).map(rough).collect(),
        )
    }

    #[test]
    fn a_batch_has_the_bits_of_single_calls_on_every_instruction_set() {
        let (reynolds, rough) = pipes(200_003); // no multiple of a register's width
        let singly: Vec<u64> = reynolds
            .iter()
            .zip(&rough)
            .map(|(re, rough)| black_box(darcy_colebrook(black_box(*re), *rough)).to_bits())
            .collect();
        assert!(singly.iter().all(|bits| f64::from_bits(*bits).is_normal()));
        let mut out = vec![0.0; reynolds.len()];
        for instructions in [Instructions::Detected, Instructions::Baseline] {
            instructions
                .map_pairs(kernel, &reynolds, &rough, &mut out)
                .unwrap();
            assert!(
                out.iter().map(|f| f.to_bits()).eq(singly.iter().copied()),
                "{instructions:?}"
            );
        }
        out.fill(0.0);
        darcy_colebrook_batch(&reynolds, &rough, &mut out).unwrap();
        assert!(out.iter().map(|f| f.to_bits()).eq(singly));
    }

    #[test]
    fn slices_of_unequal_length_are_refused() {
        let error = darcy_colebrook_batch(&[1e5; 3], &[1e-4; 2], &mut [0.0; 3]).unwrap_err();
        assert_eq!((error.results, error.arguments), (3, 2));
    }

    #[test]
    fn the_guess_is_as_close_as_it_says() {
        for i in 0..=3000_u32 {
            let reynolds = numerics::elementary::exp(2.303 + 0.01074 * f64::from(i)); // 10 to 1e15
            let ratio = smooth_root(reynolds) / Colebrook::solve(reynolds, 0.0).root;
            assert!((ratio - 1.0).abs() < 0.06, "{ratio} at {reynolds}");
        }
    }

    #[test]
    fn the_rough_limit_is_that_of_nikuradse() {
        for relative_roughness in [1e-4, 1e-3, 0.01, 0.05] {
            // 1/sqrt(f) = 2 log10(3.7 D/e), the limit of the equation for large Re.
            let x = 2.0 * numerics::elementary::log10(3.7 / relative_roughness);
            let factor = darcy_colebrook(1e15, relative_roughness);
            // At Re = 1e15 the viscous term is below 1e-9 of the rough one.
            assert!((factor * x * x - 1.0).abs() < 1e-9);
        }
    }

    proptest! {
        #[test]
        fn the_root_satisfies_the_equation(ln_re in 6.3_f64..18.4, ln_rough in -14.0_f64..-3.0) {
            let re = numerics::elementary::exp(ln_re);
            let rough = numerics::elementary::exp(ln_rough);
            let x = 1.0 / darcy_colebrook(re, rough).sqrt();
            let right = -2.0 * numerics::elementary::log10(rough / 3.7 + 2.51 * x / re);
            // A handful of roundings on either side.
            prop_assert!((right / x - 1.0).abs() < 2e-15);
        }

        #[test]
        fn the_root_is_found_far_outside_the_range(ln_re in 2.3_f64..34.5, rough in 0.0_f64..0.5) {
            let re = numerics::elementary::exp(ln_re); // 10 to 1e15
            let x = 1.0 / darcy_colebrook(re, rough).sqrt();
            let right = -2.0 * numerics::elementary::log10(rough / 3.7 + 2.51 * x / re);
            // No pipe is there: it is enough that nothing breaks. The residual may be several times the error of x.
            prop_assert!((right / x - 1.0).abs() < 5e-12);
        }

        #[test]
        fn friction_rises_with_roughness(ln_re in 8.3_f64..18.4, roughness in 0.0_f64..0.049) {
            let re = numerics::elementary::exp(ln_re);
            prop_assert!(darcy_colebrook(re, roughness + 1e-3) > darcy_colebrook(re, roughness));
        }
    }
}
