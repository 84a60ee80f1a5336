//! What is left above boiling at the pump's inlet at each step, and what the pump asks for there.

use crate::bores::suction_bore_m;
use crate::conditions::Conditions;
use crate::result::Step;
use hydraulics::affinity::{SpeedChange, npsh_required_m};
use hydraulics::head::{velocity_head_m, velocity_m_s};
use hydraulics::suction::boiling_margin_m;
use metrology::Estimate;
use records::{Site, Tap};

/// Computes NPSH available at a step from the gauge at the pump's inlet.
///
/// # Equation
/// NPSH = (p_atm + p − p_v)/(ρ g) + z − z_pump + v²/(2 g), the velocity head where the gauge is tapped into the pipe.
/// A height that is not stated counts as that of the pump.
///
/// # Source
/// ISO 9906:2012, 3.2.22 (number from memory), as in [`hydraulics::suction`].
pub(crate) fn npsh_available_m(
    site: &Site,
    step: &Step,
    conditions: &Conditions,
) -> Option<Estimate> {
    let read = step.inlet_pressure_pa?;
    let gauge = conditions.inlet?;
    let rise_m = gauge
        .height_m
        .zip(conditions.pump_m)
        .map_or(0.0, |(gauge_m, pump_m)| gauge_m - pump_m);
    let absolute_pa = conditions.atmosphere_pa + read.value;
    let above_boiling_m = boiling_margin_m(absolute_pa, &conditions.water).ok()?;
    let in_pipe = suction_bore_m(site).filter(|_| gauge.tap == Some(Tap::SuctionPipe));
    let velocity_m = in_pipe
        .zip(step.flow_m3s)
        .and_then(|(bore_m, flow)| velocity_head_m(velocity_m_s(flow.value, bore_m).ok()?).ok());
    Estimate::normal(
        above_boiling_m + rise_m + velocity_m.unwrap_or(0.0),
        read.u / conditions.specific_weight(),
    )
}

/// Reads NPSH required at a step off the maker's curve, moved to the speed of the step.
///
/// Between its points the curve is straight. Below the lowest flow with a value that value is kept, which asks for too
/// much rather than too little; above the highest nothing is known.
pub(crate) fn npsh_required_of_step_m(site: &Site, step: &Step) -> Option<f64> {
    let change = SpeedChange {
        from_rpm: site.pump.curve_speed.as_ref()?.si,
        to_rpm: step.speed_rpm,
    };
    let flow_on_curve = step.flow_m3s?.value * change.from_rpm / change.to_rpm;
    let points = site.pump.curve.iter();
    let mut points: Vec<(f64, f64)> = points
        .filter_map(|point| Some((point.flow.si, point.npshr.as_ref()?.si)))
        .collect();
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    npsh_required_m(between(&points, flow_on_curve)?, change).ok()
}

/// Interpolates by straight lines: the first value below the points, nothing above them.
fn between(points: &[(f64, f64)], at: f64) -> Option<f64> {
    let (first, first_value) = points.first()?;
    if at <= *first {
        return Some(*first_value);
    }
    points.windows(2).find_map(|pair| match pair {
        [low, high] if at <= high.0 => {
            Some(low.1 + (high.1 - low.1) * (at - low.0) / (high.0 - low.0))
        }
        _ => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_curve_is_kept_below_its_points_and_ends_above_them() {
        let points = [(1.0, 2.0), (3.0, 6.0)];
        for (at, expected) in [
            (0.0, Some(2.0)),
            (1.0, Some(2.0)),
            (2.0, Some(4.0)),
            (3.0, Some(6.0)),
            (3.1, None),
        ] {
            assert_eq!(between(&points, at), expected);
        }
        assert_eq!(between(&[], 1.0), None);
    }
}
