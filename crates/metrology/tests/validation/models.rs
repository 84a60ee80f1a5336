//! The curves of the reference problems, each with its slopes.

use metrology::Curve;
use numerics::elementary::{atan, exp, ln, pow, pow_whole};

/// A polynomial in ascending powers.
pub(crate) struct Polynomial;

impl Curve for Polynomial {
    fn evaluate(&self, x: f64, parameters: &[f64], gradient: &mut [f64]) -> f64 {
        let mut power = 1.0;
        for slope in gradient.iter_mut() {
            *slope = power;
            power *= x;
        }
        parameters
            .iter()
            .zip(gradient)
            .map(|(c, power)| c * *power)
            .sum()
    }
}

/// A model of the NIST problems. NIST prints the formulas; the slopes are derived by hand, and a wrong one fails the
/// standard errors.
pub(crate) enum Nist {
    Misra1a,
    Misra1b,
    Chwirut,
    /// Sums of decaying exponentials, amplitude and rate in turn.
    Lanczos3,
    Gauss1,
    DanWood,
    /// A ratio of polynomials with so many coefficients above the line.
    Ratio(usize),
    /// The place is the number of the row; the pairs are the two independent variables.
    Nelson(Vec<(f64, f64)>),
    Mgh17,
    Roszman1,
    Rat42,
    Mgh10,
    Bennett5,
}

impl Curve for Nist {
    fn evaluate(&self, x: f64, b: &[f64], g: &mut [f64]) -> f64 {
        match self {
            Self::Misra1a => {
                let e = exp(-b[1] * x);
                g.copy_from_slice(&[1.0 - e, b[0] * x * e]);
                b[0] * (1.0 - e)
            }
            Self::Misra1b => {
                let base = 1.0 + 0.5 * b[1] * x;
                let square = 1.0 / (base * base);
                g.copy_from_slice(&[1.0 - square, b[0] * x * square / base]);
                b[0] * (1.0 - square)
            }
            Self::Chwirut => {
                let below = b[1] + b[2] * x;
                let value = exp(-b[0] * x) / below;
                g.copy_from_slice(&[-x * value, -value / below, -x * value / below]);
                value
            }
            Self::Lanczos3 => decays(x, b, g),
            Self::Gauss1 => {
                let decay = decays(x, &b[..2], &mut g[..2]);
                decay + peak(x, &b[2..5], &mut g[2..5]) + peak(x, &b[5..], &mut g[5..])
            }
            Self::DanWood => {
                let power = pow(x, b[1]);
                g.copy_from_slice(&[power, b[0] * power * ln(x)]);
                b[0] * power
            }
            Self::Ratio(above) => ratio(x, b, *above, g),
            Self::Nelson(pairs) => {
                // The place is a whole number by construction.
                let (_, (x1, x2)) = (0..).zip(pairs).find(|(i, _)| f64::from(*i) >= x).unwrap();
                let e = exp(-b[2] * x2);
                g.copy_from_slice(&[1.0, -x1 * e, b[1] * x1 * x2 * e]);
                b[0] - b[1] * x1 * e
            }
            Self::Mgh17 => {
                let (e4, e5) = (exp(-x * b[3]), exp(-x * b[4]));
                g.copy_from_slice(&[1.0, e4, e5, -x * b[1] * e4, -x * b[2] * e5]);
                b[0] + b[1] * e4 + b[2] * e5
            }
            Self::Roszman1 => {
                let (pi, distance) = (std::f64::consts::PI, x - b[3]);
                let square = pi * (distance * distance + b[2] * b[2]);
                g.copy_from_slice(&[1.0, -x, -distance / square, -b[2] / square]);
                b[0] - b[1] * x - atan(b[2] / distance) / pi
            }
            Self::Rat42 => {
                let e = exp(b[1] - b[2] * x);
                let value = b[0] / (1.0 + e);
                let slope = value * e / (1.0 + e);
                g.copy_from_slice(&[1.0 / (1.0 + e), -slope, x * slope]);
                value
            }
            Self::Mgh10 => {
                let below = x + b[2];
                let e = exp(b[1] / below);
                let value = b[0] * e;
                g.copy_from_slice(&[e, value / below, -value * b[1] / (below * below)]);
                value
            }
            Self::Bennett5 => {
                let base = b[1] + x;
                let power = pow(base, -1.0 / b[2]);
                let value = b[0] * power;
                let log = ln(base);
                g.copy_from_slice(&[power, -value / (b[2] * base), value * log / (b[2] * b[2])]);
                value
            }
        }
    }
}

/// Σ a e^(−k x) over pairs (a, k).
fn decays(x: f64, b: &[f64], g: &mut [f64]) -> f64 {
    let mut sum = 0.0;
    for (pair, slopes) in b.chunks_exact(2).zip(g.chunks_exact_mut(2)) {
        let e = exp(-pair[1] * x);
        slopes.copy_from_slice(&[e, -x * pair[0] * e]);
        sum += pair[0] * e;
    }
    sum
}

/// b₀ e^(−((x − b₁)/b₂)²).
fn peak(x: f64, b: &[f64], g: &mut [f64]) -> f64 {
    let z = (x - b[1]) / b[2];
    let e = exp(-z * z);
    let slope = 2.0 * b[0] * e * z / b[2];
    g.copy_from_slice(&[e, slope, slope * z]);
    b[0] * e
}

/// (b₀ + b₁ x + …)/(1 + c₁ x + …) with `above` coefficients above the line.
fn ratio(x: f64, b: &[f64], above: usize, g: &mut [f64]) -> f64 {
    let (top, bottom) = b.split_at(above);
    let power = |n: usize| pow_whole(x, u32::try_from(n).unwrap());
    let sum = |b: &[f64], from: usize| -> f64 {
        b.iter().enumerate().map(|(n, c)| c * power(n + from)).sum()
    };
    let below = 1.0 + sum(bottom, 1);
    let value = sum(top, 0) / below;
    for (n, slope) in g.iter_mut().enumerate() {
        *slope = if n < above {
            power(n) / below
        } else {
            -value * power(n - above + 1) / below
        };
    }
    value
}
