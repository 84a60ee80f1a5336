//! Whether two results of the same quantity agree within what both say of themselves.

/// A value with an expanded uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Expanded {
    /// The value.
    pub value: f64,
    /// The half-width of its interval.
    pub expanded_u: f64,
}

/// Computes the normalised error E_n of a result against a reference.
///
/// # Equation
/// Eₙ = (x − X)/√(U(x)² + U(X)²).
///
/// # Inputs
/// Both uncertainties expanded, at the same coverage, and independent of each other.
///
/// # Returns
/// The two agree where |Eₙ| ≤ 1. An infinity where they differ and neither is uncertain; 0 where they do not differ.
///
/// # Source
/// ISO 13528:2015, E_n score: the formula as printed in a software manual that quotes it, the limit of 1 from memory.
///
/// # Example
/// ```
/// use metrology::{Expanded, normalized_error};
/// let result = Expanded { value: 52.3, expanded_u: 1.5 };
/// let reference = Expanded { value: 50.1, expanded_u: 2.0 };
/// assert!((normalized_error(result, reference) - 0.880).abs() < 5e-4);
/// ```
pub fn normalized_error(result: Expanded, reference: Expanded) -> f64 {
    let difference = result.value - reference.value;
    let (a, b) = (result.expanded_u, reference.expanded_u);
    if difference == 0.0 {
        0.0
    } else {
        difference / (a * a + b * b).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sign_follows_the_result_and_certainty_is_not_divided_by() {
        let of = |value, expanded_u| Expanded { value, expanded_u };
        // 2.2/2.5, by hand.
        assert!((normalized_error(of(52.3, 1.5), of(50.1, 2.0)) - 0.88).abs() < 1e-12);
        assert!((normalized_error(of(50.1, 2.0), of(52.3, 1.5)) + 0.88).abs() < 1e-12);
        assert!(normalized_error(of(2.0, 0.0), of(2.0, 0.0)).abs() < f64::MIN_POSITIVE);
        assert!(normalized_error(of(2.0, 0.0), of(1.0, 0.0)).is_infinite());
    }
}
