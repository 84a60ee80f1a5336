//! Quantiles of the distributions that coverage intervals and consistency checks rest on.
//!
//! Tail probabilities come from `libm` (normal) and from the textbook expansions of the incomplete
//! gamma and beta functions; quantiles invert them by a bracketed search, so a quantile is as good as
//! its tail probability.

use crate::elementary::{erfc, exp, ln, ln_1p, ln_gamma};
use crate::roots::bracketed;

/// The most terms of a series or a continued fraction: both need about the root of the shape, and a shape here counts readings.
const MAX_TERMS: u32 = 10_000;

/// Computes the probability that a standard normal deviate exceeds `z`.
pub fn normal_upper_tail(z: f64) -> f64 {
    0.5 * erfc(z * std::f64::consts::FRAC_1_SQRT_2)
}

/// Computes the value that a standard normal deviate exceeds with probability `upper`.
///
/// # Inputs
/// `upper`: in (0, 1); outside, the result is an infinity of the proper sign, or not a number for not a number.
///
/// # Checked against
/// `statrs` in the tests of this file, 1e-9 absolute.
pub fn normal_upper_quantile(upper: f64) -> f64 {
    invert_upper_tail(normal_upper_tail, upper, -40.0, 40.0)
}

/// Computes the probability that Student's t with `dof` degrees of freedom exceeds `t`.
///
/// # Equation
/// P(T > t) = I_x(ν/2, ½)/2 with x = ν/(ν + t²) for t ≥ 0.
///
/// # Source
/// M. Abramowitz, I. Stegun, Handbook of Mathematical Functions (1964), 26.7.1.
pub fn student_t_upper_tail(t: f64, dof: f64) -> f64 {
    let half = 0.5 * regularized_beta(dof / (dof + t * t), 0.5 * dof, 0.5);
    if t >= 0.0 { half } else { 1.0 - half }
}

/// Computes the half-width, in standard uncertainties, of the interval that holds Student's t with probability `coverage`.
///
/// # Inputs
/// `coverage`: in (0, 1). `dof`: degrees of freedom above 0; infinity gives the normal factor.
///
/// # Checked against
/// `validation/uncertainty/scipy/t_factors.csv` and GUM table G.2.
///
/// # Example
/// ```
/// let k = numerics::distributions::coverage_factor(0.95, 10.0);
/// assert!((k - 2.228139).abs() < 1e-6);
/// ```
pub fn coverage_factor(coverage: f64, dof: f64) -> f64 {
    let upper = 0.5 * (1.0 - coverage);
    // Above this, the factor differs from the normal one by less than 1e-7 of itself.
    if dof > 1e7 {
        return normal_upper_quantile(upper);
    }
    invert_upper_tail(|t| student_t_upper_tail(t, dof), upper, 0.0, 1e12)
}

/// Computes the probability that chi-squared with `dof` degrees of freedom exceeds `x`.
///
/// # Source
/// M. Abramowitz, I. Stegun, Handbook of Mathematical Functions (1964), 26.4.19.
pub fn chi_squared_upper_tail(x: f64, dof: f64) -> f64 {
    if x <= 0.0 {
        return 1.0;
    }
    1.0 - regularized_lower_gamma(0.5 * dof, 0.5 * x)
}

/// Computes the regularised lower incomplete gamma function P(a, x), by series below a + 1 and by continued fraction above.
///
/// # Source
/// M. Abramowitz, I. Stegun, Handbook of Mathematical Functions (1964), 6.5.29 and 6.5.31.
fn regularized_lower_gamma(a: f64, x: f64) -> f64 {
    let scale = exp(a * ln(x) - x - ln_gamma(a));
    if x < a + 1.0 {
        let (mut term, mut sum) = (1.0 / a, 1.0 / a);
        for n in 1..MAX_TERMS {
            term *= x / (a + f64::from(n));
            sum += term;
            if term < sum * f64::EPSILON {
                break;
            }
        }
        return scale * sum;
    }
    let coefficients = |n: u32| {
        let n = f64::from(n);
        (-n * (n - a), x + 2.0 * n + 1.0 - a)
    };
    1.0 - scale / continued_fraction(x + 1.0 - a, coefficients)
}

/// Computes the regularised incomplete beta function `I_x(a, b)`.
///
/// # Source
/// M. Abramowitz, I. Stegun, Handbook of Mathematical Functions (1964), 26.5.8.
fn regularized_beta(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    if x > (a + 1.0) / (a + b + 2.0) {
        return 1.0 - regularized_beta(1.0 - x, b, a);
    }
    let ln_scale = a * ln(x) + b * ln_1p(-x) + ln_gamma(a + b) - ln_gamma(a) - ln_gamma(b);
    let coefficients = |n: u32| {
        let m = f64::from(n / 2);
        let numerator = if n.is_multiple_of(2) {
            m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m))
        } else {
            -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0))
        };
        (numerator, 1.0)
    };
    exp(ln_scale) / (a * continued_fraction(1.0, coefficients))
}

/// Evaluates b₀ + a₁/(b₁ + a₂/(b₂ + …)) with (aₙ, bₙ) = `coefficients`(n), by the recurrence that cannot divide by zero.
///
/// # Source
/// I. Thompson, A. Barnett, "Coulomb and Bessel functions of complex arguments and order", J. Comput. Phys. 64 (1986) 490-509 (the modified Lentz method).
fn continued_fraction(b0: f64, coefficients: impl Fn(u32) -> (f64, f64)) -> f64 {
    const TINY: f64 = 1e-300;
    let away_from_zero = |x: f64| if x == 0.0 { TINY } else { x };
    let mut value = away_from_zero(b0);
    let (mut c, mut d) = (value, 0.0);
    for n in 1..MAX_TERMS {
        let (an, bn) = coefficients(n);
        d = 1.0 / away_from_zero(bn + an * d);
        c = away_from_zero(bn + an / c);
        value *= c * d;
        if (c * d - 1.0).abs() < f64::EPSILON {
            break;
        }
    }
    value
}

/// Finds the argument at which a falling tail probability is `upper`, within the given ends.
fn invert_upper_tail(tail: impl Fn(f64) -> f64, upper: f64, low: f64, high: f64) -> f64 {
    if upper.is_nan() {
        return f64::NAN;
    }
    // Logarithms make the far tail as steep as the middle.
    let target = ln(upper);
    let mut top = if low < 0.0 { high } else { 1.0 };
    while top < high && ln(tail(top)) > target {
        top *= 4.0;
    }
    let distance = |x: f64| ln(tail(x).max(f64::MIN_POSITIVE)) - target;
    match bracketed(distance, low, top, 1e-13 * top.max(1.0)) {
        Ok(quantile) => quantile,
        Err(_) if upper >= tail(low) => low,
        Err(_) => f64::INFINITY,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use statrs::distribution::{ChiSquared, ContinuousCDF, Normal, StudentsT};

    #[test]
    fn quantiles_agree_with_an_independent_library() {
        let normal = Normal::standard();
        for upper in [1e-6, 0.001, 0.025, 0.3, 0.5, 0.8, 0.999] {
            // The library states its inverse to about 1e-11.
            let theirs = normal.inverse_cdf(1.0 - upper);
            assert!(
                (normal_upper_quantile(upper) - theirs).abs() < 1e-9,
                "{upper}"
            );
            for dof in [1.0, 2.0, 4.5, 30.0, 1e4] {
                let student = StudentsT::new(0.0, 1.0, dof).unwrap();
                let t = 1.7;
                assert!((student_t_upper_tail(t, dof) - student.sf(t)).abs() < 1e-12);
                let chi = ChiSquared::new(dof).unwrap();
                let x = dof * (0.4 + upper);
                assert!(
                    (chi_squared_upper_tail(x, dof) - chi.sf(x)).abs() < 1e-11,
                    "{dof} {x}"
                );
            }
        }
    }

    #[test]
    fn coverage_factors_are_those_of_the_guide() {
        // JCGM 100:2008, table G.2, column 95.45 %, as printed to two decimals.
        for (dof, printed) in [
            (1.0, 13.97),
            (2.0, 4.53),
            (5.0, 2.65),
            (10.0, 2.28),
            (50.0, 2.05),
        ] {
            assert!((coverage_factor(0.9545, dof) - printed).abs() < 0.0051);
        }
        assert!((coverage_factor(0.9545, f64::INFINITY) - 2.0).abs() < 0.0051);
    }

    #[test]
    fn coverage_factors_are_those_of_the_reference_table() {
        let path = concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/../../validation/uncertainty/scipy/t_factors.csv"
        );
        let mut reader = csv::ReaderBuilder::new()
            .comment(Some(b'#'))
            .from_path(path)
            .unwrap();
        let rows: Vec<(f64, f64, f64)> = reader.deserialize().map(Result::unwrap).collect();
        assert!(rows.len() >= 60);
        for (dof, coverage, expected) in rows {
            // The table carries 15 digits; the search ends at 1e-13 of the bracket.
            let relative = coverage_factor(coverage, dof) / expected - 1.0;
            assert!(relative.abs() < 1e-9, "{dof} {coverage}: {relative:e}");
        }
    }
}
