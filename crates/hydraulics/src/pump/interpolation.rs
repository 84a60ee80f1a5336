//! A smooth curve through points that goes up and down where they do and nowhere else.

/// A piecewise cubic of rising arguments.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct MonotoneCubic {
    knots: Vec<Knot>,
}

/// A point with the slope that the curve has there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Knot {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) slope: f64,
}

impl MonotoneCubic {
    /// Lays the curve through points of rising x, at least one.
    ///
    /// Slopes within are the weighted harmonic mean of the secants on either side, and zero where these differ in sign;
    /// the first and the last are those of the parabola through three points, kept between nothing and three times
    /// the secant. So every piece is monotone.
    ///
    /// # Source
    /// F. N. Fritsch, R. E. Carlson, SIAM J. Numer. Anal. 17 (1980) 238-246; F. N. Fritsch, J. Butland, "A method for
    /// constructing local monotone piecewise cubic interpolants", SIAM J. Sci. Stat. Comput. 5 (1984) 300-304.
    pub(super) fn new(points: &[(f64, f64)]) -> Self {
        let secants: Vec<Secant> = points.windows(2).filter_map(Secant::of).collect();
        let last = points.len().saturating_sub(1);
        let slope = |at: usize| {
            let before = at.checked_sub(1).and_then(|before| secants.get(before));
            match (before, secants.get(at)) {
                (Some(before), Some(after)) => before.mean(*after),
                (None, Some(own)) => own.end(secants.get(1).copied()),
                (Some(own), None) => {
                    own.end(last.checked_sub(2).and_then(|i| secants.get(i)).copied())
                }
                (None, None) => 0.0,
            }
        };
        let knots = points
            .iter()
            .enumerate()
            .map(|(at, &(x, y))| Knot {
                x,
                y,
                slope: slope(at),
            })
            .collect();
        Self { knots }
    }

    pub(super) fn first(&self) -> Knot {
        self.knots.first().copied().unwrap_or(Knot::NONE)
    }

    pub(super) fn last(&self) -> Knot {
        self.knots.last().copied().unwrap_or(Knot::NONE)
    }

    /// Value and slope between the first point and the last.
    pub(super) fn value_and_slope(&self, x: f64) -> (f64, f64) {
        let above = self.knots.partition_point(|knot| knot.x < x).max(1);
        match (self.knots.get(above - 1), self.knots.get(above)) {
            (Some(low), Some(high)) => low.to(*high, x),
            (Some(only), None) => (only.y, only.slope),
            (None, _) => (0.0, 0.0),
        }
    }
}

impl Knot {
    /// A curve has at least one knot; this one is never reached.
    const NONE: Self = Self {
        x: 0.0,
        y: 0.0,
        slope: 0.0,
    };

    /// The cubic between two knots.
    fn to(self, high: Self, x: f64) -> (f64, f64) {
        let width = high.x - self.x;
        let t = (x - self.x) / width;
        let s = 1.0 - t;
        let value = s * s * ((1.0 + 2.0 * t) * self.y + t * width * self.slope)
            + t * t * ((1.0 + 2.0 * s) * high.y - s * width * high.slope);
        // The derivatives of the basis polynomials; 6, 1 - 3t and 1 - 3s are theirs.
        let slope = 6.0 * s * t * (high.y - self.y) / width
            + s * (1.0 - 3.0 * t) * self.slope
            + t * (1.0 - 3.0 * s) * high.slope;
        (value, slope)
    }
}

#[derive(Clone, Copy)]
struct Secant {
    width: f64,
    slope: f64,
}

impl Secant {
    fn of(pair: &[(f64, f64)]) -> Option<Self> {
        let &[(x, y), (next_x, next_y)] = pair else {
            return None;
        };
        let width = next_x - x;
        Some(Self {
            width,
            slope: (next_y - y) / width,
        })
    }

    /// The weighted harmonic mean of two neighbours (Fritsch and Butland; the 2 and the 3 are theirs).
    fn mean(self, after: Self) -> f64 {
        if self.slope * after.slope <= 0.0 {
            return 0.0;
        }
        let (near, far) = (
            2.0 * after.width + self.width,
            after.width + 2.0 * self.width,
        );
        3.0 * (self.width + after.width) / (near / self.slope + far / after.slope)
    }

    /// The slope at the free end of the first or the last piece, given its neighbour; 3 is Fritsch and Carlson's bound.
    fn end(self, neighbour: Option<Self>) -> f64 {
        let Some(next) = neighbour else {
            return self.slope;
        };
        let bend = (self.slope - next.slope) * self.width / (self.width + next.width);
        let (low, high) = if self.slope < 0.0 {
            (3.0 * self.slope, 0.0)
        } else {
            (0.0, 3.0 * self.slope)
        };
        (self.slope + bend).clamp(low, high)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_parabola_is_nearly_met() {
        let points: Vec<_> = (0..6_u8)
            .map(|i| (f64::from(i), -f64::from(i * i)))
            .collect();
        let curve = MonotoneCubic::new(&points);
        for i in 0..=50_u8 {
            let x = 0.1 * f64::from(i);
            // The harmonic mean departs from the arithmetic one by 1/8 at most for the secants 1 and 3, over a quarter.
            assert!((curve.value_and_slope(x).0 + x * x).abs() < 0.16, "{x}");
        }
        assert!((curve.last().slope + 10.0).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn it_meets_its_points_and_goes_where_they_go(
            widths in prop::collection::vec(0.1_f64..5.0, 1..8), falls in prop::collection::vec(0.0_f64..9.0, 8),
            along in 0.0_f64..1.0, step in 1e-3_f64..0.3,
        ) {
            let mut points = vec![(0.0, 50.0)];
            for (width, fall) in widths.iter().zip(&falls) {
                let (x, y) = points[points.len() - 1];
                points.push((x + width, y - fall));
            }
            let curve = MonotoneCubic::new(&points);
            for (x, y) in &points {
                prop_assert!((curve.value_and_slope(*x).0 - y).abs() < 1e-12);
            }
            let end = curve.last().x;
            let (x, next) = (along * end, (along * end + step).min(end));
            let ((here, slope), (there, _)) = (curve.value_and_slope(x), curve.value_and_slope(next));
            // A rounding of 50.
            prop_assert!(there <= here + 1e-13 && slope <= 1e-12);
        }
    }
}
