//! The power of another pump, from its maker's curve and what was measured of today's.

use fieldtest::{CarriedFlow, PowerLaw, TestResult};
use numerics::elementary::{exp, ln, pow};
use records::Pump;

/// Whether a pump has another curve than today's.
pub(super) fn is_another(today: &Pump, then: &Pump) -> bool {
    (&today.curve, &today.curve_speed) != (&then.curve, &then.curve_speed)
}

/// Computes, at each speed, the logarithm of the power of another pump above the fixed draw over that of today's.
///
/// The curve states electrical power at its own speed; at another one, what lies above the fixed draw goes with the measured
/// power of speed. The fixed draw is taken to stay: another motor's electronics draw about as much.
pub(super) fn another_power(
    pump: &Pump,
    test: &TestResult,
    flow: &CarriedFlow,
) -> Option<Vec<f64>> {
    let curve_rpm = pump.curve_speed.as_ref()?.si;
    let law: &PowerLaw = test.laws.power.as_ref()?;
    let flows = &test.laws.flow.as_ref()?.law;
    let fixed_w = law.fixed_w.value;
    let mut points: Vec<(f64, f64)> = pump
        .curve
        .iter()
        .filter_map(|point| Some((point.flow.si, point.power.as_ref()?.si)))
        .collect();
    numerics::order::sort_by(&mut points, |a, b| a.0.total_cmp(&b.0));
    let at_curve_speed = |flow_m3s: f64| interpolated(&points, flow_m3s);
    let steps = flow.speeds_rpm.iter().zip(&flow.ln_ratio);
    steps
        .map(|(speed_rpm, ln_ratio)| {
            let now_m3s = exp(flows.predict_ln(*speed_rpm).ln_value + ln_ratio);
            let curve_w = at_curve_speed(now_m3s * curve_rpm / speed_rpm)?;
            let scale = pow(speed_rpm / curve_rpm, law.exponent.value);
            let today_w = exp(law.law.predict_ln(*speed_rpm).ln_value);
            let (then, now) = ((curve_w - fixed_w) * scale, today_w - fixed_w);
            (then > 0.0 && now > 0.0).then(|| ln(then / now))
        })
        .collect()
}

/// Interpolates on straight lines between points, and on beyond their ends; `None` with fewer than two.
fn interpolated(points: &[(f64, f64)], x: f64) -> Option<f64> {
    let inner = points.len().checked_sub(2)?;
    let above = points.iter().position(|(known, _)| *known >= x);
    let first = above.map_or(inner, |above| above.saturating_sub(1).min(inner));
    let ((x0, y0), (x1, y1)) = (points[first], points[first + 1]);
    Some(y0 + (y1 - y0) * (x - x0) / (x1 - x0))
}
