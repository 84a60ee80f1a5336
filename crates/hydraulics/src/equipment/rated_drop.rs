//! An appliance that is known by points of its maker: a flow and the drop that belongs to it.

use crate::error::HydraulicsError;
use crate::quantity::Quantity;
use crate::warning::{Answer, Warning};

/// Points of flow and drop, by rising flow; built by [`RatedDrops::new`], which checks them.
#[derive(Clone, Debug, PartialEq)]
pub struct RatedDrops {
    points: Vec<RatedPoint>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct RatedPoint {
    flow_m3s: f64,
    drop_pa: f64,
}

impl RatedDrops {
    /// Takes points of flow, m³/s, and drop, Pa, in any order.
    ///
    /// # Errors
    /// [`HydraulicsError::NotAboveZero`] for a flow, [`HydraulicsError::BelowZero`] for a drop,
    /// [`HydraulicsError::DropDoesNotRise`] where a higher flow has the smaller drop or one flow has two, and
    /// [`HydraulicsError::NoPoints`].
    pub fn new(points: &[(f64, f64)]) -> Result<Self, HydraulicsError> {
        let mut checked = Vec::with_capacity(points.len());
        for &(flow_m3s, drop_pa) in points {
            checked.push(RatedPoint {
                flow_m3s: Quantity::Flow.above_zero(flow_m3s)?,
                drop_pa: Quantity::PressureDrop.zero_or_more(drop_pa)?,
            });
        }
        numerics::order::sort_by(&mut checked, |a, b| a.flow_m3s.total_cmp(&b.flow_m3s));
        let falls = |pair: &[RatedPoint]| match pair {
            [low, high] => (low.flow_m3s >= high.flow_m3s || low.drop_pa > high.drop_pa)
                .then_some((*low, *high)),
            _ => None,
        };
        if let Some((low, high)) = checked.windows(2).find_map(falls) {
            return Err(HydraulicsError::DropDoesNotRise {
                flow_m3s: [low.flow_m3s, high.flow_m3s],
                drop_pa: [low.drop_pa, high.drop_pa],
            });
        }
        if checked.is_empty() {
            return Err(HydraulicsError::NoPoints);
        }
        Ok(Self { points: checked })
    }

    /// Multiplies every drop; `None` for a factor that leaves one below 0 or not finite.
    #[must_use]
    pub fn times(&self, factor: f64) -> Option<Self> {
        let sound = |drop_pa: f64| drop_pa.is_finite() && drop_pa >= 0.0;
        let mut points = self.points.clone();
        for point in &mut points {
            point.drop_pa *= factor;
        }
        let all_sound = points.iter().all(|point| sound(point.drop_pa));
        all_sound.then_some(Self { points })
    }

    /// Finds the ends of the piece of the law that holds at a flow. Before the first point it starts at rest; beyond
    /// the last one the last piece goes on.
    fn piece(&self, flow_m3s: f64) -> (RatedPoint, RatedPoint) {
        let mut low = RatedPoint {
            flow_m3s: 0.0,
            drop_pa: 0.0,
        };
        let mut high = low;
        for &point in &self.points {
            low = high;
            high = point;
            if flow_m3s <= point.flow_m3s {
                break;
            }
        }
        (low, high)
    }

    /// Takes the points of another table, in the room that is there where it is enough.
    pub(crate) fn become_like(&mut self, other: &Self) {
        self.points.clone_from(&other.points);
    }

    /// The drop in Pa at a flow, and its slope in Pa s/m³ at that flow, or at one that is not less.
    pub(crate) fn drop_and_slope(&self, flow_m3s: f64, slope_at_m3s: f64) -> (f64, f64) {
        let (low, high) = self.piece(flow_m3s);
        let square = |flow: f64| flow * flow;
        let width = square(high.flow_m3s) - square(low.flow_m3s);
        let rise = high.drop_pa - low.drop_pa;
        let along = (square(flow_m3s) - square(low.flow_m3s)) / width;
        let slope = 2.0 * slope_at_m3s * rise / width;
        (low.drop_pa + along * rise, slope)
    }

    /// Warns of a flow beyond the highest of several points.
    pub(crate) fn warning(&self, flow_m3s: f64) -> Option<Warning> {
        let (_, highest) = self.range()?;
        Warning::outside("rated drop", Quantity::Flow, flow_m3s, (0.0, highest))
    }

    /// The flows that the points span; a single point stands for a law of its own and spans none.
    fn range(&self) -> Option<(f64, f64)> {
        match self.points.as_slice() {
            [first, .., last] => Some((first.flow_m3s, last.flow_m3s)),
            _ => None,
        }
    }
}

/// Computes the drop of an appliance between and beyond its rated points.
///
/// # Equation
/// Δp is linear in Q² from rest to the first point and from point to point. One point alone gives Δp = Δp₁ (Q/Q₁)².
///
/// # Inputs
/// `rated`: the points. `flow_m3s`: 0 or more.
///
/// # Returns
/// Pressure drop in Pa; it never falls with flow.
///
/// # Validity
/// Above the highest of several points the last piece is continued and a warning says so. Below the lowest the square law
/// down to rest holds for turbulent flow. A maker's water is colder than a pool's: in such passages that does not show.
///
/// # Accuracy
/// Exact at the points. A square law through one point is off by the departure of the true exponent from 2: with 1.8, by
/// 15 % at half the flow.
///
/// # Errors
/// [`HydraulicsError::BelowZero`] for the flow.
///
/// # Source
/// Loss with the square of velocity, as in Crane Technical Paper 410, equation 2-2 (number from memory).
///
/// # Checked against
/// Properties: points are met, drop rises with flow, one point gives the square law.
///
/// # Example
/// ```
/// use hydraulics::equipment::{RatedDrops, rated_pressure_pa};
/// let heater = RatedDrops::new(&[(4e-3, 20_000.0)]).unwrap();
/// let half = rated_pressure_pa(&heater, 2e-3).unwrap();
/// assert!((half.value - 5_000.0).abs() < 1e-9); // Pa
/// ```
pub fn rated_pressure_pa(
    rated: &RatedDrops,
    flow_m3s: f64,
) -> Result<Answer<f64>, HydraulicsError> {
    Quantity::Flow.zero_or_more(flow_m3s)?;
    let (drop_pa, _) = rated.drop_and_slope(flow_m3s, flow_m3s);
    Ok(Answer::new(drop_pa, rated.warning(flow_m3s)))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn table() -> RatedDrops {
        RatedDrops::new(&[(6e-3, 30_000.0), (2e-3, 4_000.0), (4e-3, 15_000.0)]).unwrap()
    }

    #[test]
    fn the_points_are_met_in_any_order() {
        for (flow, drop) in [(2e-3, 4_000.0), (4e-3, 15_000.0), (6e-3, 30_000.0)] {
            let answer = rated_pressure_pa(&table(), flow).unwrap();
            assert!((answer.value - drop).abs() < 1e-9 && answer.warnings.is_empty());
        }
        assert!(rated_pressure_pa(&table(), 0.0).unwrap().value.abs() < f64::MIN_POSITIVE);
    }

    #[test]
    fn beyond_the_last_point_the_law_goes_on_and_says_so() {
        let answer = rated_pressure_pa(&table(), 8e-3).unwrap();
        // The last piece in Q²: 15 kPa over 20e-6, so 21 kPa over the 28e-6 beyond.
        assert!((answer.value - 51_000.0).abs() < 1e-6, "{answer:?}");
        assert!(matches!(
            answer.warnings[..],
            [Warning::OutsideRange { .. }]
        ));
        let single = RatedDrops::new(&[(4e-3, 20_000.0)]).unwrap();
        assert!(
            rated_pressure_pa(&single, 9e-3)
                .unwrap()
                .warnings
                .is_empty()
        );
    }

    #[test]
    fn points_that_are_no_law_are_refused() {
        let refused = |points: &[(f64, f64)]| RatedDrops::new(points).unwrap_err().to_string();
        assert!(refused(&[]).contains("no rated point"));
        assert!(refused(&[(0.0, 1.0)]).starts_with("the flow is 0 m3/s"));
        assert!(refused(&[(1e-3, -1.0)]).starts_with("the pressure drop is -1 Pa"));
        assert!(
            refused(&[(1e-3, 9.0), (2e-3, 4.0)]).contains("falls from 9 Pa at 0.001 m3/s to 4 Pa")
        );
        assert!(refused(&[(1e-3, 9.0), (1e-3, 9.0)]).contains("0.001 m3/s"));
    }

    proptest! {
        #[test]
        fn the_drop_never_falls_with_flow(flow in 0.0_f64..1e-2, more in 0.0_f64..1e-2) {
            let drop = |flow: f64| rated_pressure_pa(&table(), flow).unwrap().value;
            prop_assert!(drop(flow + more) >= drop(flow));
        }

        #[test]
        fn one_point_is_a_square_law(flow in 1e-4_f64..1e-2, factor in 0.1_f64..5.0) {
            let rated = RatedDrops::new(&[(4e-3, 20_000.0)]).unwrap();
            let drop = |flow: f64| rated_pressure_pa(&rated, flow).unwrap().value;
            // A few roundings.
            prop_assert!((drop(factor * flow) / drop(flow) / (factor * factor) - 1.0).abs() < 1e-13);
        }
    }
}
