//! Coverage intervals of a sorted sample.

/// Which of the intervals that hold a share of a sample is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum IntervalKind {
    /// As many draws lie below it as above.
    Symmetric,
    /// No other is shorter.
    Shortest,
}

/// Finds the interval that holds the share `coverage` of sorted draws.
///
/// # Inputs
/// `sorted`: in ascending order; `coverage`: in (0, 1).
///
/// # Returns
/// Two of the draws; `None` where there are too few for the share.
///
/// # Source
/// JCGM 101:2008, 7.7.
///
/// # Example
/// ```
/// use metrology::{IntervalKind, coverage_interval};
/// let draws: Vec<f64> = (1..=1000).map(f64::from).collect();
/// let interval = coverage_interval(&draws, 0.95, IntervalKind::Symmetric);
/// assert_eq!(interval, Some((25.0, 975.0)));
/// ```
pub fn coverage_interval(sorted: &[f64], coverage: f64, kind: IntervalKind) -> Option<(f64, f64)> {
    let inside = (coverage * sorted.len() as f64 + 0.5).floor();
    if !(inside >= 1.0 && inside < sorted.len() as f64) {
        return None;
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "between 1 and the length of a slice"
    )]
    let inside = inside as usize;
    let first = match kind {
        IntervalKind::Symmetric => ((sorted.len() - inside).div_ceil(2)).saturating_sub(1),
        IntervalKind::Shortest => first_of_shortest(sorted, inside),
    };
    Some((*sorted.get(first)?, *sorted.get(first + inside)?))
}

/// Where the shortest interval begins; of equals, the first.
fn first_of_shortest(sorted: &[f64], inside: usize) -> usize {
    let pairs = sorted.iter().zip(sorted.iter().skip(inside));
    let widths = pairs.map(|(low, high)| high - low).enumerate();
    let shortest = widths.reduce(|best, next| if next.1 < best.1 { next } else { best });
    shortest.map_or(0, |(first, _)| first)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shortest_interval_follows_the_crowd() {
        let mut draws: Vec<f64> = (0..90).map(|i| f64::from(i) * 0.01).collect();
        draws.extend((1..=10).map(|i| f64::from(i) * 100.0));
        let shortest = coverage_interval(&draws, 0.8, IntervalKind::Shortest).unwrap();
        assert!(shortest.1 < 1.0);
        let symmetric = coverage_interval(&draws, 0.9, IntervalKind::Symmetric).unwrap();
        assert!(symmetric.1 > 1.0);
    }

    #[test]
    fn too_few_draws_have_no_interval() {
        assert_eq!(coverage_interval(&[], 0.95, IntervalKind::Shortest), None);
        assert_eq!(
            coverage_interval(&[1.0, 2.0], 0.95, IntervalKind::Symmetric),
            None
        );
        assert_eq!(
            coverage_interval(&[1.0, 2.0], f64::NAN, IntervalKind::Symmetric),
            None
        );
    }
}
