//! The 95 % interval of a sum of a normal and a rectangular error.
//!
//! A meter's accuracy is a rectangular limit, and what all of its readings share does not average out: taken as
//! normal, it would make intervals a fifth too wide, and never wrong where they should be wrong once in twenty.

use crate::COVERAGE;
use numerics::distributions::{coverage_factor, normal_upper_tail};
use numerics::elementary::exp;
use numerics::roots::bracketed;

/// Computes the half-width of the interval that holds the sum of two independent errors with probability 0.95.
///
/// # Equation
/// With a = √3 u_rect and G(x) = x Φ(x/s) + s φ(x/s): P(|X| ≤ h) = (G(h + a) − G(h − a))/a − 1.
///
/// # Inputs
/// `u_normal`, `u_rect`: standard uncertainties of the normal and of the rectangular error, not negative.
///
/// # Accuracy
/// 1e-9 of the half-width.
///
/// # Source
/// Convolution of the two densities; the combination is that of JCGM 101:2008, 9.2.4, in closed form.
///
/// # Checked against
/// `validation/uncertainty/sums`
pub fn half_width(u_normal: f64, u_rect: f64) -> f64 {
    let normal = coverage_factor(COVERAGE, f64::INFINITY);
    let limit = 3.0_f64.sqrt() * u_rect;
    // Below these shares the smaller of the two moves the half-width by less than a part in a million.
    if u_rect <= 1e-3 * u_normal {
        return normal * (u_normal * u_normal + u_rect * u_rect).sqrt();
    }
    if u_normal <= 1e-6 * u_rect {
        return COVERAGE * limit;
    }
    let probability =
        |h: f64| (spread(h + limit, u_normal) - spread(h - limit, u_normal)) / limit - 1.0;
    let most = limit + 4.0 * u_normal;
    bracketed(|h| probability(h) - COVERAGE, 0.0, most, 1e-9 * most).unwrap_or(most)
}

/// G(x) = x Φ(x/s) + s φ(x/s), the integral of the normal distribution function.
fn spread(x: f64, s: f64) -> f64 {
    let z = x / s;
    let density = exp(-0.5 * z * z) / (2.0 * std::f64::consts::PI).sqrt();
    x * normal_upper_tail(-z) + s * density
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ends_are_the_normal_and_the_rectangle() {
        assert!((half_width(1.0, 0.0) - 1.959_964).abs() < 1e-6); // any normal table
        assert!((half_width(0.0, 1.0) - 0.95 * 3.0_f64.sqrt()).abs() < 1e-12);
        // Continuous where the approximations take over.
        assert!((half_width(1.0, 1.001e-3) - half_width(1.0, 0.999e-3)).abs() < 1e-6);
        assert!((half_width(1.001e-6, 1.0) - half_width(0.999e-6, 1.0)).abs() < 1e-5);
    }

    #[test]
    fn the_reference_sum_is_met() {
        // Rectangle of half-width 2.0 and normal of 0.5: 2.24644366360341 at 95 %, exact by quadrature at 30 digits
        // (mpmath 1.4.1, set rect_plus_normal of the reference sums).
        let found = half_width(0.5, 2.0 / 3.0_f64.sqrt());
        assert!((found / 2.246_443_663_603_41 - 1.0).abs() < 1e-8, "{found}");
    }
}
