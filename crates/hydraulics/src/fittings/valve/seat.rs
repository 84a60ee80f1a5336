//! Full-open valves whose seat is narrower than the pipe, after Crane.

use core::f64::consts::PI;

use numerics::elementary::{pow_whole, sin};

use super::{Valve, ValveLaw};
use crate::error::HydraulicsError;
use crate::fittings::answer;
use crate::quantity::Quantity;
use crate::warning::Answer;

/// A valve with its seat in a pipe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeatedValve {
    /// The kind of valve.
    pub valve: Valve,
    /// Bore of the pipe in m.
    pub bore_m: f64,
    /// Bore of the seat in m, at most that of the pipe.
    pub seat_m: f64,
    /// Total angle of the cones from pipe to seat, in degrees: 180 where the bore steps. It counts for ball, gate and
    /// plug only.
    pub cone_angle_deg: f64,
}

/// How the way through a valve narrows and widens.
enum Passage {
    /// Cones before and behind the seat (Crane's formulas 5 and 6).
    Cones,
    /// Steps before and behind the seat, whatever the cone (formula 6).
    Steps,
    /// The winding way of a globe (formula 7).
    Globe,
}

impl Passage {
    const fn of(valve: Valve) -> Option<Self> {
        match valve {
            Valve::Ball | Valve::Gate => Some(Self::Cones),
            Valve::Plug => Some(Self::Steps),
            Valve::Globe
            | Valve::Angle
            | Valve::StreamlinedAngle
            | Valve::LiftCheck
            | Valve::AngleLiftCheck => Some(Self::Globe),
            _ => None,
        }
    }

    /// What narrowing and widening add, on the velocity in the seat, with `half_sine` = sin(θ/2) and `lost` = 1 − β².
    fn added(&self, ratio: f64, half_sine: f64, is_narrow: bool) -> f64 {
        let lost = (1.0 - ratio) * (1.0 + ratio);
        match self {
            Self::Cones if is_narrow => half_sine * lost * (0.8 + 2.6 * lost),
            Self::Cones | Self::Steps => lost * (0.5 * half_sine.sqrt() + lost),
            Self::Globe => ratio * lost * (0.5 + lost),
        }
    }
}

/// Whether a law of the reduced seat is known.
pub(super) const fn knows(valve: Valve) -> bool {
    Passage::of(valve).is_some()
}

/// Computes the loss coefficient of a full-open valve with a reduced seat.
///
/// # Equation
/// With β = D_seat / D, s = sin(θ/2) and K₁ = (L/D) f_T of the pipe. Ball and gate: K = [K₁ + s (0.8 (1 − β²) + 2.6 (1 − β²)²)] / β⁴
/// up to θ = 45°, beyond and for the plug K = [K₁ + 0.5 √s (1 − β²) + (1 − β²)²] / β⁴. Globe, angle and lift check:
/// K = {K₁ + β [0.5 (1 − β²) + (1 − β²)²]} / β⁴
///
/// # Inputs
/// `seated`: a ball, gate, plug, globe, angle or lift check; bores above 0 m, the seat no wider than the pipe; cone angle
/// above 0° and up to 180°.
///
/// # Returns
/// K on the velocity in the bore of the pipe; that of the catalogue where the seat is as wide as the pipe.
///
/// # Validity
/// Turbulent flow. A narrow seat is no partly open valve: for that see
/// [`partly_open_k`](super::opening::partly_open_k).
///
/// # Accuracy
/// As [`k_of_length_ratio`](crate::fittings::crane::k_of_length_ratio).
///
/// # Errors
/// [`HydraulicsError::NoValveLaw`] for other valves, [`HydraulicsError::NotAboveZero`], [`HydraulicsError::OutOfRange`],
/// [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// Crane Technical Paper 410, 2009, formulas 5 to 7 of page A-27 (page from memory), as printed in the Python package
/// fluids 1.3.1 (`fluids.fittings`). For globe and angle that package writes 0.5 (1 − β)² where formula 7 and its own lift
/// check have 0.5 (1 − β²); this function follows formula 7.
///
/// # Checked against
/// `validation/fittings/fluids`
///
/// # Example
/// ```
/// use hydraulics::fittings::valve::{Valve, seat::{SeatedValve, reduced_seat_k}};
/// let ball = SeatedValve { valve: Valve::Ball, bore_m: 0.0525018, seat_m: 0.0420014, cone_angle_deg: 30.0 };
/// assert!((reduced_seat_k(&ball).unwrap().value - 0.53).abs() < 0.01);
/// ```
pub fn reduced_seat_k(seated: &SeatedValve) -> Result<Answer<f64>, HydraulicsError> {
    const WIDEST_NARROW_CONE_DEG: f64 = 45.0;
    let valve = seated.valve;
    let law = ValveLaw::ReducedSeat;
    let passage = Passage::of(valve).ok_or(HydraulicsError::NoValveLaw { valve, law })?;
    let full = valve.k(seated.bore_m)?;
    let seat_m = Quantity::SeatDiameter.above_zero(seated.seat_m)?;
    Quantity::SeatDiameter.within(seat_m, (0.0, seated.bore_m))?;
    let angle_deg = Quantity::Angle.above_zero(seated.cone_angle_deg)?;
    Quantity::Angle.within(angle_deg, (0.0, 180.0))?;
    let ratio = seat_m / seated.bore_m;
    let half_sine = sin(angle_deg * (0.5 * PI / 180.0));
    let added = passage.added(ratio, half_sine, angle_deg <= WIDEST_NARROW_CONE_DEG);
    answer((full.value + added) / pow_whole(ratio, 4), full.warnings)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::fittings::area_change::step_k;
    use crate::fittings::k_on_bore;

    const BALL: SeatedValve = SeatedValve {
        valve: Valve::Ball,
        bore_m: 0.05,
        seat_m: 0.04,
        cone_angle_deg: 30.0,
    };

    fn known() -> impl Iterator<Item = Valve> {
        Valve::ALL.into_iter().filter(|&valve| knows(valve))
    }

    #[test]
    fn the_impossible_is_refused() {
        let wrong: [fn(&mut SeatedValve); 6] = [
            |ball| ball.seat_m = 0.0,
            |ball| ball.seat_m = 0.051,
            |ball| ball.bore_m = f64::NAN,
            |ball| ball.cone_angle_deg = 0.0,
            |ball| ball.cone_angle_deg = 190.0,
            |ball| ball.valve = Valve::Butterfly,
        ];
        for change in wrong {
            let mut ball = BALL;
            change(&mut ball);
            assert!(reduced_seat_k(&ball).is_err());
        }
        assert_eq!(
            reduced_seat_k(&SeatedValve {
                seat_m: 1e-90,
                ..BALL
            }),
            Err(HydraulicsError::LossNotFinite)
        );
    }

    #[test]
    fn a_seat_as_wide_as_the_pipe_changes_nothing() {
        for valve in known() {
            let seated = SeatedValve {
                valve,
                seat_m: 0.05,
                ..BALL
            };
            let (k, full) = (reduced_seat_k(&seated).unwrap(), valve.k(0.05).unwrap());
            assert!((k.value - full.value).abs() < 1e-14);
        }
    }

    /// What formula 6 adds at 180 degrees is the step to the seat and the step from it, moved to the bore of the pipe.
    #[test]
    fn a_seat_is_made_of_the_steps_around_it() {
        let (bore_m, seat_m) = (0.0525018, 0.040894);
        let seated = SeatedValve {
            valve: Valve::Plug,
            bore_m,
            seat_m,
            cone_angle_deg: 180.0,
        };
        let around = step_k(bore_m, seat_m).unwrap() + step_k(seat_m, bore_m).unwrap();
        let own = Valve::Plug.k(bore_m).unwrap().value;
        let steps = k_on_bore(around + own, seat_m, bore_m).unwrap();
        // A dozen roundings.
        assert!((reduced_seat_k(&seated).unwrap().value / steps - 1.0).abs() < 1e-14);
    }

    proptest! {
        #[test]
        fn a_narrower_seat_takes_more(ratio in 0.2_f64..0.95, angle in 1.0_f64..180.0) {
            for valve in known() {
                let k = |ratio: f64| {
                    let seated = SeatedValve { valve, seat_m: ratio * 0.05, cone_angle_deg: angle, ..BALL };
                    reduced_seat_k(&seated).unwrap().value
                };
                prop_assert!(k(ratio) > k(ratio + 0.04) && k(ratio + 0.04) > 0.0);
            }
        }
    }
}
