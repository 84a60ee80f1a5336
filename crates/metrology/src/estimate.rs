//! A best value with its standard uncertainty and its 95 % coverage interval.

use numerics::distributions::coverage_factor;

/// The coverage probability of every interval.
pub const COVERAGE: f64 = 0.95;

/// What is known of one quantity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// The best value.
    pub value: f64,
    /// The standard uncertainty.
    pub u: f64,
    /// The lower end of the 95 % coverage interval.
    pub low: f64,
    /// The upper end of the 95 % coverage interval.
    pub high: f64,
}

impl Estimate {
    /// Builds an estimate whose distribution is normal, or `None` where a number is not finite.
    pub fn normal(value: f64, u: f64) -> Option<Self> {
        Self::student(value, u, f64::INFINITY)
    }

    /// Builds an estimate whose uncertainty rests on `dof` effective degrees of freedom.
    ///
    /// # Source
    /// JCGM 100:2008 (GUM), annex G.3.
    pub fn student(value: f64, u: f64, dof: f64) -> Option<Self> {
        let half_width = coverage_factor(COVERAGE, dof) * u;
        Self {
            value,
            u,
            low: value - half_width,
            high: value + half_width,
        }
        .finite()
    }

    /// Builds an estimate of a positive quantity from that of its logarithm: a log-normal distribution.
    pub fn log_normal(ln_value: f64, u_ln: f64) -> Option<Self> {
        use numerics::elementary::{exp, exp_m1};
        let half_width = coverage_factor(COVERAGE, f64::INFINITY) * u_ln;
        let value = exp(ln_value);
        Self {
            value,
            u: value * (exp(u_ln * u_ln) * exp_m1(u_ln * u_ln)).sqrt(),
            low: exp(ln_value - half_width),
            high: exp(ln_value + half_width),
        }
        .finite()
    }

    /// Builds an estimate whose error is the sum of a normal and a rectangular one.
    pub fn mixed(value: f64, u_normal: f64, u_rect: f64) -> Option<Self> {
        let half_width = crate::half_width(u_normal, u_rect);
        Self {
            value,
            u: (u_normal * u_normal + u_rect * u_rect).sqrt(),
            low: value - half_width,
            high: value + half_width,
        }
        .finite()
    }

    /// Builds an estimate of a positive quantity whose logarithm has the sum of a normal and a rectangular error.
    pub fn log_mixed(ln_value: f64, u_normal: f64, u_rect: f64) -> Option<Self> {
        use numerics::elementary::exp;
        let half_width = crate::half_width(u_normal, u_rect);
        let whole = Self::log_normal(ln_value, (u_normal * u_normal + u_rect * u_rect).sqrt())?;
        Self {
            low: exp(ln_value - half_width),
            high: exp(ln_value + half_width),
            ..whole
        }
        .finite()
    }

    /// Builds an estimate from the ends of its 95 % interval, its standard uncertainty being the one
    /// that a normal distribution of that width has.
    pub fn from_interval(value: f64, low: f64, high: f64) -> Option<Self> {
        let u = 0.5 * (high - low) / coverage_factor(COVERAGE, f64::INFINITY);
        Self {
            value,
            u,
            low,
            high,
        }
        .finite()
    }

    /// Cuts what lies below `floor`, for a quantity that cannot be there.
    #[must_use]
    pub fn not_below(self, floor: f64) -> Self {
        Self {
            value: self.value.max(floor),
            low: self.low.max(floor),
            high: self.high.max(floor),
            ..self
        }
    }

    /// Changes the sign.
    #[must_use]
    pub fn negated(self) -> Self {
        Self {
            value: -self.value,
            u: self.u,
            low: -self.high,
            high: -self.low,
        }
    }

    /// Multiplies by an exact factor above zero.
    #[must_use]
    pub fn scaled(self, factor: f64) -> Self {
        Self {
            value: self.value * factor,
            u: self.u * factor,
            low: self.low * factor,
            high: self.high * factor,
        }
    }

    /// Returns the uncertainty as a share of the value.
    pub fn relative_u(&self) -> f64 {
        self.u / self.value
    }

    /// Lets an estimate through whose numbers are finite and in order.
    fn finite(self) -> Option<Self> {
        let numbers = [self.value, self.u, self.low, self.high];
        let is_finite = numbers.iter().all(|x| x.is_finite());
        let is_ordered = self.u >= 0.0 && self.low <= self.value && self.value <= self.high;
        (is_finite && is_ordered).then_some(self)
    }
}

/// Computes the effective degrees of freedom of a combined standard uncertainty.
///
/// # Equation
/// ν = u⁴ / Σ uᵢ⁴/νᵢ over independent components; components known exactly have νᵢ infinite.
///
/// # Source
/// JCGM 100:2008 (GUM), equation G.2b (Welch-Satterthwaite).
///
/// # Example
/// ```
/// // GUM H.1.6: 25 nm with 18, 9.7 nm with 25.6, 2.9 nm with 50 and 16.6 nm with 2 degrees of freedom.
/// let dof = metrology::effective_dof(&[(25.0, 18.0), (9.7, 25.6), (2.9, 50.0), (16.6, 2.0)]);
/// assert!((dof - 16.7).abs() < 0.1);
/// ```
pub fn effective_dof(components: &[(f64, f64)]) -> f64 {
    let variance: f64 = components.iter().map(|(u, _)| u * u).sum();
    let spread: f64 = components.iter().map(|(u, dof)| u * u * u * u / dof).sum();
    if spread > 0.0 {
        variance * variance / spread
    } else {
        f64::INFINITY
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn intervals_widen_with_few_degrees_of_freedom() {
        let many = Estimate::normal(10.0, 1.0).unwrap();
        // The normal 95 % factor, 1.959964, any statistical table.
        assert!((many.high - 11.959_964).abs() < 1e-6);
        let few = Estimate::student(10.0, 1.0, 2.0).unwrap();
        // GUM table G.2, 2 degrees of freedom, 95 %: 4.30.
        assert!((few.high - 14.30).abs() < 0.005);
    }

    #[test]
    fn a_number_that_is_not_finite_is_no_estimate() {
        assert_eq!(Estimate::normal(f64::NAN, 1.0), None);
        assert_eq!(Estimate::normal(1.0, f64::INFINITY), None);
        assert_eq!(Estimate::student(1.0, 1.0, 0.0), None);
    }

    #[test]
    fn a_narrow_log_normal_is_a_normal() {
        let narrow = Estimate::log_normal(numerics::elementary::ln(250.0), 1e-4).unwrap();
        assert!((narrow.value - 250.0).abs() < 1e-10);
        assert!((narrow.u - 0.025).abs() < 1e-8);
    }
}
