//! The points of a maker's curve as they are printed, and the tables that are made of them.

use super::error::CurveError;
use super::interpolation::MonotoneCubic;
use crate::error::HydraulicsError;
use crate::quantity::Quantity;

/// One point of a maker's curve, at the speed of the curve.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct CurvePoint {
    /// Flow in m³/s.
    pub flow_m3s: f64,
    /// Total head in m.
    pub head_m: f64,
    /// Required net positive suction head in m, where it is printed.
    pub npsh_required_m: Option<f64>,
    /// Shaft power in W, where it is printed.
    pub shaft_power_w: Option<f64>,
    /// Efficiency of the wet end, water power over shaft power, where it is printed.
    pub efficiency: Option<f64>,
}

/// What a curve of points knows.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Tables {
    pub(super) head: MonotoneCubic,
    pub(super) npsh_required: Option<MonotoneCubic>,
    pub(super) shaft_power: Option<MonotoneCubic>,
    pub(super) efficiency: Option<MonotoneCubic>,
}

impl Tables {
    /// Checks points and lays curves through them.
    pub(super) fn new(points: &[CurvePoint]) -> Result<Self, CurveError> {
        for (index, point) in points.iter().enumerate() {
            check(point).map_err(|source| CurveError::Point { index, source })?;
        }
        check_shape(points)?;
        let head: Vec<_> = points.iter().map(|p| (p.flow_m3s, p.head_m)).collect();
        Ok(Self {
            head: MonotoneCubic::new(&head),
            npsh_required: table(points, |p| p.npsh_required_m),
            shaft_power: table(points, |p| p.shaft_power_w),
            // At no flow no water power is given, whatever is printed there.
            efficiency: table(points, |p| p.efficiency.filter(|_| p.flow_m3s > 0.0)),
        })
    }
}

/// A curve through the points that have a value.
fn table(
    points: &[CurvePoint],
    value: impl Fn(&CurvePoint) -> Option<f64>,
) -> Option<MonotoneCubic> {
    let known: Vec<_> = points
        .iter()
        .filter_map(|point| value(point).map(|value| (point.flow_m3s, value)))
        .collect();
    (!known.is_empty()).then(|| MonotoneCubic::new(&known))
}

fn check(point: &CurvePoint) -> Result<(), HydraulicsError> {
    Quantity::Flow.zero_or_more(point.flow_m3s)?;
    Quantity::Head.zero_or_more(point.head_m)?;
    if let Some(required_m) = point.npsh_required_m {
        Quantity::Head.zero_or_more(required_m)?;
    }
    if let Some(power_w) = point.shaft_power_w {
        Quantity::Power.above_zero(power_w)?;
    }
    if let Some(efficiency) = point.efficiency {
        Quantity::Efficiency.within(efficiency, (0.0, 1.0))?;
        if point.flow_m3s > 0.0 {
            Quantity::Efficiency.above_zero(efficiency)?;
        }
    }
    Ok(())
}

fn check_shape(points: &[CurvePoint]) -> Result<(), CurveError> {
    for (at, pair) in points.windows(2).enumerate() {
        let &[before, point] = pair else { continue };
        let index = at + 1;
        if point.flow_m3s <= before.flow_m3s {
            return Err(CurveError::FlowDoesNotRise {
                index,
                flow_m3s: point.flow_m3s,
                before_m3s: before.flow_m3s,
            });
        }
        if point.head_m > before.head_m {
            return Err(CurveError::HeadRises {
                index,
                head_m: point.head_m,
                before_m: before.head_m,
            });
        }
    }
    match points {
        [.., before, last] if last.head_m < before.head_m => Ok(()),
        [.., _, _] => Err(CurveError::EndDoesNotFall {
            index: points.len() - 1,
        }),
        _ => Err(CurveError::TooFewPoints {
            given: points.len(),
        }),
    }
}
