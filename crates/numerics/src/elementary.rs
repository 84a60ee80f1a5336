//! Elementary functions that return the same bits natively and in WebAssembly.
//!
//! Thin names over `libm`, so that one place decides how a power or a logarithm is computed.

/// Computes e to the power `x`.
#[inline]
pub fn exp(x: f64) -> f64 {
    libm::exp(x)
}

/// Computes e to the power `x`, less one, without loss of digits near zero.
#[inline]
pub fn exp_m1(x: f64) -> f64 {
    libm::expm1(x)
}

/// Computes the natural logarithm.
#[inline]
pub fn ln(x: f64) -> f64 {
    libm::log(x)
}

/// Computes the natural logarithm of one plus `x`, without loss of digits near zero.
#[inline]
pub fn ln_1p(x: f64) -> f64 {
    libm::log1p(x)
}

/// Computes the decimal logarithm.
#[inline]
pub fn log10(x: f64) -> f64 {
    libm::log10(x)
}

/// Raises `x` to the power `y`, correct to the last place or two.
#[inline]
pub fn pow(x: f64, y: f64) -> f64 {
    libm::pow(x, y)
}

/// Raises a positive `x` to the power `y` by way of its logarithm.
///
/// # Accuracy
/// The relative error grows with |y ln x|: below 1e-15 (1 + |y ln x|). It is about a third of the
/// price of [`pow`], and is meant for regression models, where the data carry three or four digits.
#[inline]
pub fn pow_fast(x: f64, y: f64) -> f64 {
    libm::exp(y * libm::log(x))
}

/// Raises `x` to a whole power by repeated multiplication.
#[inline]
pub fn pow_whole(x: f64, n: u32) -> f64 {
    let (mut result, mut base, mut rest) = (1.0, x, n);
    while rest > 0 {
        if rest & 1 == 1 {
            result *= base;
        }
        base *= base;
        rest >>= 1;
    }
    result
}

/// Computes the sine of an angle in radians.
#[inline]
pub fn sin(x: f64) -> f64 {
    libm::sin(x)
}

/// Computes the cosine of an angle in radians.
#[inline]
pub fn cos(x: f64) -> f64 {
    libm::cos(x)
}

/// Computes the angle between −π/2 and π/2 whose tangent is `x`.
#[inline]
pub fn atan(x: f64) -> f64 {
    libm::atan(x)
}

/// Computes the logarithm of the gamma function of `x`.
#[inline]
pub fn ln_gamma(x: f64) -> f64 {
    libm::lgamma(x)
}

/// Computes the complementary error function.
#[inline]
pub fn erfc(x: f64) -> f64 {
    libm::erfc(x)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn powers_agree_with_one_another() {
        for x in [0.013_f64, 0.5, 1.0, 1.75, 88.0] {
            for n in 0..12_u32 {
                let whole = pow_whole(x, n);
                // Eleven multiplications of half a unit in the last place each.
                assert!((pow(x, f64::from(n)) / whole - 1.0).abs() < 4e-15);
                assert!((pow_fast(x, f64::from(n)) / whole - 1.0).abs() < 1e-13);
            }
        }
    }
}
