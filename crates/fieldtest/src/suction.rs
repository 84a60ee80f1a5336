//! What is left above boiling at the pump's inlet at each step, and what the pump asks for there.

use crate::bores::suction_bore_m;
use crate::conditions::Conditions;
use crate::result::Step;
use hydraulics::head::{velocity_head_m, velocity_m_s};
use hydraulics::pump::PumpCurve;
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
        .zip(conditions.around.pump_m)
        .map_or(0.0, |(gauge_m, pump_m)| gauge_m - pump_m);
    let absolute_pa = conditions.around.atmosphere_pa + read.value;
    let above_boiling_m = boiling_margin_m(absolute_pa, &conditions.around.water).ok()?;
    let in_pipe = suction_bore_m(site).filter(|_| gauge.tap == Some(Tap::SuctionPipe));
    let velocity_m = in_pipe
        .zip(step.flow_m3s)
        .and_then(|(bore_m, flow)| velocity_head_m(velocity_m_s(flow.value, bore_m).ok()?).ok());
    Estimate::normal(
        above_boiling_m + rise_m + velocity_m.unwrap_or(0.0),
        read.u / conditions.around.specific_weight(),
    )
}

/// Reads NPSH required at a step off the maker's curve; `None` where there is no usable curve or it does not reach so far.
pub(crate) fn npsh_required_of_step_m(curve: &PumpCurve, step: &Step) -> Option<f64> {
    let flow_m3s = step.flow_m3s?.value;
    let required = curve.npsh_required_m(flow_m3s, step.speed_rpm).ok()??;
    required.warnings.is_empty().then_some(required.value)
}
