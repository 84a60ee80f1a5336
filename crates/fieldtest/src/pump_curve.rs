//! The maker's curve of a site's pump, as the hydraulics takes it.

use crate::finding::{Finding, Matter, Place, Severity};
use hydraulics::pump::{CurveError, CurvePoint, PumpCurve};
use records::Site;

/// Makes the curve of a site's pump; `None` where the site states none.
pub(crate) fn pump_curve(site: &Site) -> Option<Result<PumpCurve, CurveError>> {
    let curve_rpm = site.pump.curve_speed.as_ref()?.si;
    if site.pump.curve.is_empty() {
        return None;
    }
    let mut points: Vec<CurvePoint> = site.pump.curve.iter().map(point).collect();
    numerics::order::sort_by(&mut points, |a, b| a.flow_m3s.total_cmp(&b.flow_m3s));
    Some(PumpCurve::from_points(&points, curve_rpm))
}

fn point(stated: &records::CurvePoint) -> CurvePoint {
    CurvePoint {
        flow_m3s: stated.flow.si,
        head_m: stated.head.si,
        npsh_required_m: stated.npshr.as_ref().map(|head| head.si),
        shaft_power_w: None,
        efficiency: stated.efficiency.as_ref().map(|share| share.si),
    }
}

/// Says where the points that a site states are no curve.
pub(crate) fn unusable_curve(site: &Site) -> Option<Finding> {
    let error = pump_curve(site)?.err()?;
    Some(Finding {
        severity: Severity::Warning,
        place: Place::default(),
        matter: Matter::UnusableCurve { error },
    })
}
