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
/// `sorted`: in ascending order; what lies between the lowest and the highest, as many as the interval leaves out at
/// most, is not looked at. `coverage`: in (0, 1).
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
    let inside = inside(sorted.len(), coverage)?;
    let first = match kind {
        IntervalKind::Symmetric => ((sorted.len() - inside).div_ceil(2)).saturating_sub(1),
        IntervalKind::Shortest => first_of_shortest(sorted, inside),
    };
    Some((*sorted.get(first)?, *sorted.get(first + inside)?))
}

/// Returns how many of `draws` lie between the ends of an interval.
fn inside(draws: usize, coverage: f64) -> Option<usize> {
    let inside = (coverage * draws as f64 + 0.5).floor();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "between 1 and the length of a slice"
    )]
    (inside >= 1.0 && inside < draws as f64).then_some(inside as usize)
}

/// Sorts draws as far as [`coverage_interval`] looks at them: the lowest and the highest, as many as an interval leaves out.
pub(crate) fn sort_ends(draws: &mut [f64], coverage: f64) {
    let outside = inside(draws.len(), coverage).map_or(0, |inside| draws.len() - inside);
    if 2 * outside >= draws.len() {
        draws.sort_unstable_by(f64::total_cmp);
        return;
    }
    let (low, _, rest) = draws.select_nth_unstable_by(outside, f64::total_cmp);
    low.sort_unstable_by(f64::total_cmp);
    let between = rest.len() - outside;
    let high = match between.checked_sub(1) {
        Some(last) => rest.select_nth_unstable_by(last, f64::total_cmp).2,
        None => rest,
    };
    high.sort_unstable_by(f64::total_cmp);
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
    fn sorted_ends_are_all_that_an_interval_takes() {
        // In no order, and with repeats where 8 and the count share a factor.
        for (count, coverage) in [(1000, 0.95), (40, 0.95), (21, 0.9), (11, 0.5), (9, 0.2)] {
            let residues = (0..count).map(|i| f64::from(8 * i % count));
            let mut draws: Vec<f64> = residues.map(|x| x * x).collect();
            let mut sorted = draws.clone();
            sorted.sort_unstable_by(f64::total_cmp);
            sort_ends(&mut draws, coverage);
            for kind in [IntervalKind::Symmetric, IntervalKind::Shortest] {
                let expected = coverage_interval(&sorted, coverage, kind);
                assert!(expected.is_some());
                assert_eq!(coverage_interval(&draws, coverage, kind), expected);
            }
        }
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
