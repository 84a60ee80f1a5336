//! Head, required suction head and shaft power of a pump over flow, at any speed.
//!
//! What the motor draws for it stands in `drive`. A pump does not run backwards here: what a curve says of negative
//! flow only leads a search back.

use super::error::CurveError;
use super::interpolation::{Knot, MonotoneCubic};
use super::points::{CurvePoint, Tables};
use crate::constants::STANDARD_GRAVITY_M_S2;
use crate::element::HeadAndSlope;
use crate::error::HydraulicsError;
use crate::quantity::Quantity;
use crate::warning::{Answer, Warning};
use crate::water::Water;

/// The curve of a pump.
///
/// # Equation
/// At the speed of the curve head is, by points, a monotone piecewise cubic in flow; or H = H₀ − b Q − c Q². At another
/// speed, with r = n/n₀: H(Q, n) = r² H(Q/r, n₀), NPSHr likewise, P(Q, n) = r³ P(Q/r, n₀), η(Q, n) = η(Q/r, n₀).
///
/// # Validity
/// Below the first point and above the last one head goes on as H = H₁ + s₁ (Q² − Q₁²) / (2 Q₁), the parabola with the
/// slope of that point: it lies level at no flow and falls ever more steeply. Required suction head stays as at the
/// first point below it, and grows with the square of flow beyond the last; shaft power stays as at the first point and
/// goes on straight beyond the last; efficiency falls straight to zero at no flow, and stays as at the last point beyond.
/// Each answer of that kind carries a [`Warning::OutsideRange`]. Speeds: as [`at_speed`](crate::affinity::at_speed).
///
/// # Accuracy
/// Exact at the points. Between them, some per cent of the fall from one to the next.
///
/// # Source
/// F. N. Fritsch, R. E. Carlson, "Monotone piecewise cubic interpolation", SIAM J. Numer. Anal. 17 (1980) 238-246;
/// similarity of pumps, as in Crane Technical Paper 410, example 7-33. The laws beyond the points are common practice,
/// no source.
///
/// # Example
/// ```
/// use hydraulics::pump::{CurvePoint, PumpCurve};
/// let point = |flow_m3s, head_m| CurvePoint { flow_m3s, head_m, ..CurvePoint::default() };
/// let points = [point(0.0, 28.0), point(4e-3, 24.0), point(8e-3, 12.0)];
/// let curve = PumpCurve::from_points(&points, 3450.0).unwrap();
/// let half = curve.head_m(2e-3, 1725.0).unwrap();
/// assert!((half.value - 6.0).abs() < 1e-12); // m: a quarter of 24 m at half of 4 L/s
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct PumpCurve {
    shape: Shape,
    curve_rpm: f64,
}

#[derive(Clone, Debug, PartialEq)]
enum Shape {
    Points(Tables),
    Quadratic {
        shutoff_m: f64,
        linear: f64,
        square: f64,
    },
}

impl PumpCurve {
    /// Lays a curve through a maker's points, by rising flow, that hold at a speed.
    ///
    /// # Errors
    /// [`CurveError`], with the place of the point. Heads may be equal, but not the last two.
    pub fn from_points(points: &[CurvePoint], curve_rpm: f64) -> Result<Self, CurveError> {
        Ok(Self {
            shape: Shape::Points(Tables::new(points)?),
            curve_rpm: Quantity::Speed.above_zero(curve_rpm)?,
        })
    }

    /// Takes a fit H = H₀ − b Q − c Q² in m and m³/s that holds at a speed: H₀ in m, b in s/m² and c in s²/m⁵.
    ///
    /// # Errors
    /// [`CurveError::Whole`] for a coefficient below zero, a speed that is none, and a curve that does not fall.
    pub fn quadratic(
        [shutoff_m, linear, square]: [f64; 3],
        curve_rpm: f64,
    ) -> Result<Self, CurveError> {
        let shape = Shape::Quadratic {
            shutoff_m: Quantity::Head.zero_or_more(shutoff_m)?,
            linear: Quantity::CurveFall.zero_or_more(linear)?,
            square: Quantity::CurveFall.zero_or_more(square)?,
        };
        Quantity::CurveFall.above_zero(linear + square)?;
        let curve_rpm = Quantity::Speed.above_zero(curve_rpm)?;
        Ok(Self { shape, curve_rpm })
    }

    /// Returns the speed at which the curve was given, rpm.
    pub fn curve_rpm(&self) -> f64 {
        self.curve_rpm
    }

    /// Returns the flows at a speed that the points span; `None` for a fit, which does not know its range.
    pub fn range_m3s(&self, speed_rpm: f64) -> Option<(f64, f64)> {
        let Shape::Points(tables) = &self.shape else {
            return None;
        };
        let ratio = speed_rpm / self.curve_rpm;
        Some((ratio * tables.head.first().x, ratio * tables.head.last().x))
    }

    /// Computes head and its slope over flow at a flow of either sign and a speed above 0, without a check and without
    /// allocating: for the inner loop of a solver.
    ///
    /// Backwards the curve goes on as its mirror about the shutoff point: H(−Q) = 2 H(0) − H(Q).
    #[inline]
    pub fn head_and_slope(&self, flow_m3s: f64, speed_rpm: f64) -> HeadAndSlope {
        let ratio = speed_rpm / self.curve_rpm;
        let (head_m, slope_s_m2) = self.at_curve_speed(flow_m3s.abs() / ratio);
        let head_m = if flow_m3s < 0.0 {
            2.0 * self.at_curve_speed(0.0).0 - head_m
        } else {
            head_m
        };
        HeadAndSlope {
            head_m: ratio * ratio * head_m,
            slope_s_m2: ratio * slope_s_m2,
        }
    }

    fn at_curve_speed(&self, flow: f64) -> (f64, f64) {
        match &self.shape {
            Shape::Points(tables) => {
                let (first, last) = (tables.head.first(), tables.head.last());
                if flow < first.x {
                    parabola(first, flow)
                } else if flow > last.x {
                    parabola(last, flow)
                } else {
                    tables.head.value_and_slope(flow)
                }
            }
            Shape::Quadratic {
                shutoff_m,
                linear,
                square,
            } => (
                shutoff_m - (linear + square * flow) * flow,
                -linear - 2.0 * square * flow,
            ),
        }
    }

    /// Computes the head in m at a flow of 0 or more and a speed above 0. It is negative beyond the flow that the pump
    /// moves without any resistance.
    ///
    /// # Errors
    /// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotAboveZero`], [`HydraulicsError::NotFinite`].
    pub fn head_m(&self, flow_m3s: f64, speed_rpm: f64) -> Result<Answer<f64>, HydraulicsError> {
        self.ratio(flow_m3s, speed_rpm)?;
        let head_m = Quantity::Head.finite(self.head_and_slope(flow_m3s, speed_rpm).head_m)?;
        Ok(Answer::new(head_m, self.warning(flow_m3s, speed_rpm)))
    }

    /// Computes the required net positive suction head in m at a flow of 0 or more and a speed above 0; `None` where no
    /// point states it.
    ///
    /// # Errors
    /// As [`PumpCurve::head_m`].
    pub fn npsh_required_m(
        &self,
        flow_m3s: f64,
        speed_rpm: f64,
    ) -> Result<Option<Answer<f64>>, HydraulicsError> {
        let ratio = self.ratio(flow_m3s, speed_rpm)?;
        let Shape::Points(Tables {
            npsh_required: Some(table),
            ..
        }) = &self.shape
        else {
            return Ok(None);
        };
        let flow = flow_m3s / ratio;
        let last = table.last();
        let required_m = if flow > last.x && last.x > 0.0 {
            last.y * (flow / last.x) * (flow / last.x)
        } else {
            held(table, flow)
        };
        let required_m = Quantity::Head.finite(ratio * ratio * required_m)?;
        let warning = outside("required suction head", table, flow_m3s, ratio);
        Ok(Some(Answer::new(required_m, warning)))
    }

    /// Computes the shaft power in W at a flow of 0 or more and a speed above 0: from printed power, else from printed
    /// efficiency; `None` where no point states either. Printed power is taken for the water at hand.
    ///
    /// # Errors
    /// As [`PumpCurve::head_m`].
    pub fn shaft_power_w(
        &self,
        flow_m3s: f64,
        speed_rpm: f64,
        water: &Water,
    ) -> Result<Option<Answer<f64>>, HydraulicsError> {
        let ratio = self.ratio(flow_m3s, speed_rpm)?;
        let Shape::Points(tables) = &self.shape else {
            return Ok(None);
        };
        let flow = flow_m3s / ratio;
        let (power_w, table) = match (&tables.shaft_power, &tables.efficiency) {
            (Some(power), _) => (straight_beyond(power, flow), power),
            (None, Some(efficiency)) => {
                let (head_m, _) = self.at_curve_speed(flow);
                let weight =
                    Quantity::Density.above_zero(water.density_kg_m3)? * STANDARD_GRAVITY_M_S2;
                (
                    weight * head_m.max(0.0) / per_flow(efficiency, flow),
                    efficiency,
                )
            }
            (None, None) => return Ok(None),
        };
        let power_w = Quantity::Power.finite(ratio * ratio * ratio * power_w)?;
        let warning = outside("shaft power", table, flow_m3s, ratio);
        Ok(Some(Answer::new(power_w, warning)))
    }

    /// Warns of a flow that the points do not span.
    pub fn warning(&self, flow_m3s: f64, speed_rpm: f64) -> Option<Warning> {
        let range = self.range_m3s(speed_rpm)?;
        Warning::outside("pump curve", Quantity::Flow, flow_m3s, range)
    }

    fn ratio(&self, flow_m3s: f64, speed_rpm: f64) -> Result<f64, HydraulicsError> {
        Quantity::Flow.zero_or_more(flow_m3s)?;
        Ok(Quantity::Speed.above_zero(speed_rpm)? / self.curve_rpm)
    }
}

/// Head and slope of the parabola in flow that has the slope of a knot and lies level at no flow.
fn parabola(knot: Knot, flow: f64) -> (f64, f64) {
    let bend = knot.slope / knot.x;
    (
        knot.y + 0.5 * bend * (flow - knot.x) * (flow + knot.x),
        bend * flow,
    )
}

/// The value of a table, beyond its ends that of the end.
fn held(table: &MonotoneCubic, flow: f64) -> f64 {
    table
        .value_and_slope(flow.clamp(table.first().x, table.last().x))
        .0
}

/// The value of a table: before its first point as there, beyond its last one on with the slope of that.
fn straight_beyond(table: &MonotoneCubic, flow: f64) -> f64 {
    let last = table.last();
    let beyond = (flow - last.x).max(0.0);
    (held(table, flow) + beyond * last.slope).max(0.0)
}

/// Efficiency over flow, which before the first point is as there.
fn per_flow(efficiency: &MonotoneCubic, flow: f64) -> f64 {
    let flow = flow.max(efficiency.first().x);
    held(efficiency, flow) / flow
}

fn outside(
    what: &'static str,
    table: &MonotoneCubic,
    flow_m3s: f64,
    ratio: f64,
) -> Option<Warning> {
    let range = (ratio * table.first().x, ratio * table.last().x);
    Warning::outside(what, Quantity::Flow, flow_m3s, range)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::affinity::{DutyPoint, SpeedChange, at_speed};

    fn point(flow_m3s: f64, head_m: f64) -> CurvePoint {
        CurvePoint {
            flow_m3s,
            head_m,
            ..CurvePoint::default()
        }
    }

    fn points() -> Vec<CurvePoint> {
        let with = |flow, head, npsh, power, efficiency| CurvePoint {
            npsh_required_m: Some(npsh),
            shaft_power_w: power,
            efficiency,
            ..point(flow, head)
        };
        vec![
            with(1e-3, 28.0, 1.0, Some(700.0), None),
            with(4e-3, 24.0, 1.6, Some(1500.0), Some(0.62)),
            with(8e-3, 12.0, 4.0, Some(1900.0), Some(0.5)),
        ]
    }

    fn curve() -> PumpCurve {
        PumpCurve::from_points(&points(), 3450.0).unwrap()
    }

    #[test]
    fn points_that_are_no_curve_are_refused_by_their_place() {
        let refused = |points: &[CurvePoint]| PumpCurve::from_points(points, 3450.0).unwrap_err();
        assert_eq!(
            refused(&[point(1e-3, 9.0)]),
            CurveError::TooFewPoints { given: 1 }
        );
        assert!(matches!(
            refused(&[point(0.0, 9.0), point(1e-3, 8.0), point(1e-3, 7.0)]),
            CurveError::FlowDoesNotRise { index: 2, .. }
        ));
        assert!(matches!(
            refused(&[point(0.0, 9.0), point(1e-3, 9.1), point(2e-3, 7.0)]),
            CurveError::HeadRises { index: 1, .. }
        ));
        assert_eq!(
            refused(&[point(0.0, 9.0), point(1e-3, 9.0)]),
            CurveError::EndDoesNotFall { index: 1 }
        );
        let error = refused(&[point(0.0, 9.0), point(1e-3, f64::NAN)]);
        assert!(
            error
                .to_string()
                .starts_with("point 1 of the pump curve: the head is NaN m"),
            "{error}"
        );
        assert!(PumpCurve::from_points(&points(), 0.0).is_err());
        for wrong in [
            [-1.0, 0.0, 1.0],
            [9.0, -1.0, 2.0],
            [9.0, 0.0, 0.0],
            [9.0, 0.0, f64::INFINITY],
        ] {
            assert!(PumpCurve::quadratic(wrong, 3450.0).is_err(), "{wrong:?}");
        }
    }

    #[test]
    fn beyond_the_points_it_goes_on_and_says_so() {
        let inside = curve().head_m(4e-3, 3450.0).unwrap();
        assert!((inside.value - 24.0).abs() < 1e-12 && inside.warnings.is_empty());
        for flow in [0.0, 9e-3] {
            let answer = curve().head_m(flow, 3450.0).unwrap();
            assert!(matches!(
                answer.warnings[..],
                [Warning::OutsideRange { .. }]
            ));
            let npsh = curve().npsh_required_m(flow, 3450.0).unwrap().unwrap();
            let power = curve().shaft_power_w(flow, 3450.0, &Water::fresh(293.15).unwrap());
            assert_eq!(
                (npsh.warnings.len(), power.unwrap().unwrap().warnings.len()),
                (1, 1)
            );
        }
        assert!(curve().head_and_slope(0.0, 3450.0).slope_s_m2.abs() < 1e-12);
        let npsh = curve().npsh_required_m(16e-3, 3450.0).unwrap().unwrap();
        assert!((npsh.value - 16.0).abs() < 1e-12); // four times 4 m at twice the flow
        let fit = PumpCurve::quadratic([28.0, 0.0, 2.5e5], 3450.0).unwrap();
        assert!(fit.head_m(1.0, 3450.0).unwrap().warnings.is_empty());
        assert_eq!(fit.npsh_required_m(1e-3, 3450.0).unwrap(), None);
    }

    #[test]
    fn power_is_what_is_printed_or_what_the_efficiency_says() {
        let water = Water::fresh(293.15).unwrap();
        let power = |curve: &PumpCurve, flow| {
            curve
                .shaft_power_w(flow, 3450.0, &water)
                .unwrap()
                .unwrap()
                .value
        };
        assert!((power(&curve(), 4e-3) - 1500.0).abs() < 1e-9);
        let mut points = points();
        for point in &mut points {
            point.shaft_power_w = None;
        }
        let by_efficiency = PumpCurve::from_points(&points, 3450.0).unwrap();
        let expected = water.density_kg_m3 * 9.80665 * 4e-3 * 24.0 / 0.62;
        assert!((power(&by_efficiency, 4e-3) / expected - 1.0).abs() < 1e-12);
        // At rest water is churned all the same.
        assert!(power(&by_efficiency, 0.0) > 0.0);
    }

    proptest! {
        #[test]
        fn head_falls_with_flow_on_either_side_of_rest_and_has_its_slope(
            flow in -1.2e-2_f64..1.2e-2, rpm in 600.0_f64..3450.0,
        ) {
            for curve in [curve(), PumpCurve::quadratic([28.0, 100.0, 2.5e5], 3000.0).unwrap()] {
                let step = 1e-7;
                let head = |flow: f64| curve.head_and_slope(flow, rpm).head_m;
                prop_assert!(head(flow + step) < head(flow));
                let secant = (head(flow + step) - head(flow - step)) / (2.0 * step);
                let own = curve.head_and_slope(flow, rpm).slope_s_m2;
                // Curvature is below 1e7 s²/m⁵, and it jumps at a point; 1e-14 of rounding in a step of 1e-7.
                prop_assert!((secant - own).abs() < 2.0, "{secant} against {own}");
            }
        }

        #[test]
        fn another_speed_follows_the_affinity_laws(flow in 1e-3_f64..8e-3, to_rpm in 600.0_f64..3450.0) {
            let water = Water::fresh(293.15).unwrap();
            let power = |flow, rpm| curve().shaft_power_w(flow, rpm, &water).unwrap().unwrap().value;
            let here = DutyPoint {
                flow_m3s: flow,
                head_m: curve().head_m(flow, 3450.0).unwrap().value,
                shaft_power_w: power(flow, 3450.0),
            };
            let there = at_speed(&here, SpeedChange { from_rpm: 3450.0, to_rpm }).unwrap();
            let head_m = curve().head_m(there.flow_m3s, to_rpm).unwrap().value;
            // A rounding of the flow moves the head by at most ten of its own.
            prop_assert!((head_m / there.head_m - 1.0).abs() < 1e-13);
            prop_assert!((power(there.flow_m3s, to_rpm) / there.shaft_power_w - 1.0).abs() < 1e-13);
        }
    }
}
