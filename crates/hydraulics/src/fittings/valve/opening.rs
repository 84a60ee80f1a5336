//! Valves that stand partly open, after Weisbach.
//!
//! Weisbach's coefficients of 1855 are what handbooks still print for a cock, a throttle disc and a
//! gate in a round pipe. No relation of like standing is known for globe, diaphragm and check valves.

use super::{Valve, ValveLaw};
use crate::error::HydraulicsError;
use crate::fittings::{along, answer};
use crate::quantity::Quantity;
use crate::warning::{Answer, Warning};

/// Weisbach's K over how far a valve is shut, 0 to 1, and where it is shut altogether.
struct Throttle {
    measured: &'static [(f64, f64)],
    shut: f64,
}

/// A cock over its angle of 5 to 65 degrees of 90; it shuts at 82.
const COCK: Throttle = Throttle {
    measured: &[
        (0.0, 0.0),
        (5.0 / 90.0, 0.05),
        (10.0 / 90.0, 0.29),
        (15.0 / 90.0, 0.75),
        (20.0 / 90.0, 1.56),
        (25.0 / 90.0, 3.10),
        (30.0 / 90.0, 5.47),
        (35.0 / 90.0, 9.68),
        (40.0 / 90.0, 17.3),
        (45.0 / 90.0, 31.2),
        (50.0 / 90.0, 52.6),
        (55.0 / 90.0, 106.0),
        (60.0 / 90.0, 206.0),
        (65.0 / 90.0, 486.0),
    ],
    shut: 82.0 / 90.0,
};

/// A throttle disc over its angle of 5 to 70 degrees of 90.
const DISC: Throttle = Throttle {
    measured: &[
        (0.0, 0.0),
        (5.0 / 90.0, 0.24),
        (10.0 / 90.0, 0.52),
        (15.0 / 90.0, 0.90),
        (20.0 / 90.0, 1.54),
        (25.0 / 90.0, 2.51),
        (30.0 / 90.0, 3.91),
        (35.0 / 90.0, 6.22),
        (40.0 / 90.0, 10.8),
        (45.0 / 90.0, 18.7),
        (50.0 / 90.0, 32.6),
        (55.0 / 90.0, 58.8),
        (60.0 / 90.0, 118.0),
        (65.0 / 90.0, 256.0),
        (70.0 / 90.0, 751.0),
    ],
    shut: 1.0,
};

/// A gate over the part of the bore that it has come down.
const GATE: Throttle = Throttle {
    measured: &[
        (0.0, 0.0),
        (0.125, 0.07),
        (0.25, 0.26),
        (0.375, 0.81),
        (0.5, 2.06),
        (0.625, 5.52),
        (0.75, 17.0),
        (0.875, 97.8),
    ],
    shut: 1.0,
};

impl Throttle {
    const fn of(valve: Valve) -> Option<Self> {
        match valve {
            Valve::Ball | Valve::Plug => Some(COCK),
            Valve::Butterfly => Some(DISC),
            Valve::Gate => Some(GATE),
            _ => None,
        }
    }

    /// Weisbach's K between his points. 1/√(1 + K) is read along straight lines: it falls gently from 1 and is 0 where
    /// the valve is shut, so that K goes to its infinity by itself.
    fn k(&self, closure: f64) -> f64 {
        let passing = |&(closure, k): &(f64, f64)| (closure, 1.0 / (1.0_f64 + k).sqrt());
        let mut points: Vec<_> = self.measured.iter().map(passing).collect();
        points.push((self.shut, 0.0));
        let passes = along(&points, closure);
        1.0 / (passes * passes) - 1.0
    }
}

/// Whether a law of the opening is known.
pub(super) const fn knows(valve: Valve) -> bool {
    Throttle::of(valve).is_some()
}

/// Computes the loss coefficient of a valve that stands partly open.
///
/// # Equation
/// K = (L/D) f_T + ζ, ζ after Weisbach over the closure 1 − opening; between his points 1/√(1 + ζ) runs along straight
/// lines, to 0 where the valve is shut
///
/// # Inputs
/// `valve`: ball, plug, butterfly or gate. `bore_m`: above 0 m. `opening`: 1 full open, 0 shut; for a quarter turn 1 less the
/// angle from open over 90°, for a gate the part of the bore that is free.
///
/// # Returns
/// K on the velocity in the bore.
///
/// # Validity
/// A ball, a plug and a gate as wide as the pipe. Past Weisbach's last point (65° of a cock, 70° of a disc, 7/8 of a gate)
/// the answer carries a warning. A cock is shut from 82° on.
///
/// # Accuracy
/// The full-open valve's own loss is added, which Weisbach leaves out; handbooks that do not add it differ by that much. No
/// two valves of today agree with either: take it as right within a factor of two.
///
/// # Errors
/// [`HydraulicsError::NoValveLaw`] for other valves, [`HydraulicsError::ValveShut`], [`HydraulicsError::OutOfRange`],
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// J. Weisbach, Die Experimental-Hydraulik, 1855; the three tables from memory, as handbooks print them. Full open as
/// [`Valve::length_ratio`].
///
/// # Checked against
/// `validation/handbook-fittings/weisbach`, and for ball and gate `validation/handbook-fittings/textbook-openings`; the disc has
/// no second source
///
/// # Example
/// ```
/// use hydraulics::fittings::valve::{Valve, opening::partly_open_k};
/// let k = partly_open_k(Valve::Gate, 0.0525018, 0.5).unwrap().value;
/// assert!((k - 2.211).abs() < 1e-3);
/// ```
pub fn partly_open_k(
    valve: Valve,
    bore_m: f64,
    opening: f64,
) -> Result<Answer<f64>, HydraulicsError> {
    let law = ValveLaw::Opening;
    let throttle = Throttle::of(valve).ok_or(HydraulicsError::NoValveLaw { valve, law })?;
    let opening = Quantity::Opening.within(opening, (0.0, 1.0))?;
    let closure = 1.0 - opening;
    if closure >= throttle.shut {
        return Err(HydraulicsError::ValveShut {
            valve,
            opening,
            shut_at: 1.0 - throttle.shut,
        });
    }
    let open = valve.k(bore_m)?;
    let last = throttle
        .measured
        .last()
        .map_or(1.0, |&(closure, _)| closure);
    let range = (1.0 - last, 1.0);
    let warning = Warning::outside("partly open valve", Quantity::Opening, opening, range);
    answer(
        open.value + throttle.k(closure),
        open.warnings.into_iter().chain(warning),
    )
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const KNOWN: [Valve; 4] = [Valve::Ball, Valve::Gate, Valve::Butterfly, Valve::Plug];

    #[test]
    fn a_full_open_valve_is_the_one_of_the_catalogue() {
        for valve in KNOWN {
            let (open, full) = (
                partly_open_k(valve, 0.05, 1.0).unwrap(),
                valve.k(0.05).unwrap(),
            );
            assert!((open.value - full.value).abs() < 1e-15 && open.warnings.is_empty());
        }
    }

    #[test]
    fn the_impossible_is_refused() {
        for opening in [-0.1, 1.1, f64::NAN] {
            assert!(partly_open_k(Valve::Ball, 0.05, opening).is_err());
        }
        assert_eq!(
            partly_open_k(Valve::Ball, 0.05, 1.1)
                .unwrap_err()
                .to_string(),
            "the opening of the valve is 1.1; expected 0 to 1"
        );
        assert!(partly_open_k(Valve::Ball, 0.0, 0.5).is_err());
        for valve in [Valve::Globe, Valve::Diverter, Valve::Diaphragm] {
            assert!(matches!(
                partly_open_k(valve, 0.05, 0.5),
                Err(HydraulicsError::NoValveLaw { .. })
            ));
        }
    }

    #[test]
    fn a_shut_valve_says_where_it_opens() {
        for valve in KNOWN {
            assert!(matches!(
                partly_open_k(valve, 0.05, 0.0),
                Err(HydraulicsError::ValveShut { .. })
            ));
        }
        let shut = partly_open_k(Valve::Ball, 0.05, 0.08)
            .unwrap_err()
            .to_string();
        assert_eq!(
            shut,
            "the ball valve is shut at an opening of 0.08; it passes water above 0.089"
        );
    }

    #[test]
    fn an_opening_past_the_last_point_is_told() {
        for (valve, opening) in [
            (Valve::Ball, 0.2),
            (Valve::Butterfly, 0.2),
            (Valve::Gate, 0.1),
        ] {
            assert_eq!(
                partly_open_k(valve, 0.05, opening).unwrap().warnings.len(),
                1
            );
        }
    }

    proptest! {
        #[test]
        fn a_valve_takes_less_the_further_it_opens(opening in 0.1_f64..0.99, share in 0.01_f64..1.0, bore in 0.02_f64..0.2) {
            let further = opening + share * (1.0 - opening);
            for valve in KNOWN {
                let k = |opening: f64| partly_open_k(valve, bore, opening).unwrap().value;
                prop_assert!(k(opening) > k(further) && k(further) > 0.0);
            }
        }
    }
}
