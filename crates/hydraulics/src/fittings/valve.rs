//! The catalogue of valves under the names that a site file uses.
//!
//! A full-open valve is an equivalent length in bores after Crane. A partly open one, and one whose
//! seat is narrower than the pipe, have laws of their own in the files below, for the kinds for
//! which one is published; the others are refused by name rather than guessed.

pub mod opening;
pub mod seat;

use core::fmt;

use super::crane::k_of_length_ratio;
use super::reads_as;
use super::three_k::ThreeK;
use super::two_k::TwoK;
use crate::error::HydraulicsError;
use crate::warning::Answer;

/// A kind of valve.
#[derive(Clone, Copy, Debug, Eq, Hash, PartialEq)]
pub enum Valve {
    /// A ball whose hole is as wide as the pipe.
    Ball,
    /// A gate.
    Gate,
    /// A globe.
    Globe,
    /// A globe in a corner.
    Angle,
    /// A globe in a corner with a free way through.
    StreamlinedAngle,
    /// A disc on a centric stem.
    Butterfly,
    /// A hinged check on an angled seat.
    SwingCheck,
    /// A hinged check in a straight body.
    StraightSwingCheck,
    /// A check in the body of a globe.
    LiftCheck,
    /// A check in the body of a free corner valve.
    AngleLiftCheck,
    /// A check whose disc tilts by 5 degrees.
    TiltingCheck,
    /// A check with a spring, full open.
    SpringCheck,
    /// A plug, straight through.
    Plug,
    /// A plug with three ways, straight through.
    ThreeWayPlug,
    /// A plug with three ways, to the side.
    ThreeWayPlugSide,
    /// A pool valve with three ports, straight through.
    Diverter,
    /// A pool valve with three ports, to the side.
    DiverterSide,
    /// A diaphragm on a weir.
    Diaphragm,
    /// A diaphragm with a straight way.
    StraightDiaphragm,
    /// A foot valve with strainer and poppet disc.
    Foot,
    /// A foot valve with strainer and hinged disc.
    HingedFoot,
}

/// A relation that is published for some kinds of valve only.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum ValveLaw {
    /// K over the opening.
    Opening,
    /// K with a seat narrower than the pipe.
    ReducedSeat,
}

impl ValveLaw {
    /// Whether the relation is known for a kind of valve.
    const fn knows(self, valve: Valve) -> bool {
        match self {
            Self::Opening => opening::knows(valve),
            Self::ReducedSeat => seat::knows(valve),
        }
    }

    /// Names the valves for which the relation is known.
    pub(crate) fn known(self) -> String {
        let known = Valve::ALL.into_iter().filter(|&valve| self.knows(valve));
        known.map(Valve::name).collect::<Vec<_>>().join(", ")
    }
}

impl fmt::Display for ValveLaw {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Opening => "the opening",
            Self::ReducedSeat => "the reduced seat",
        })
    }
}

/// The largest bore of Crane's first and second class of size, in m: 9 in and 15 in, midway between his sizes.
const SIZE_CLASSES_M: (f64, f64) = (0.2286, 0.381);

impl Valve {
    /// Every valve, in the order in which a message lists them.
    pub const ALL: [Self; 21] = [
        Self::Ball,
        Self::Gate,
        Self::Globe,
        Self::Angle,
        Self::StreamlinedAngle,
        Self::Butterfly,
        Self::SwingCheck,
        Self::StraightSwingCheck,
        Self::LiftCheck,
        Self::AngleLiftCheck,
        Self::TiltingCheck,
        Self::SpringCheck,
        Self::Plug,
        Self::ThreeWayPlug,
        Self::ThreeWayPlugSide,
        Self::Diverter,
        Self::DiverterSide,
        Self::Diaphragm,
        Self::StraightDiaphragm,
        Self::Foot,
        Self::HingedFoot,
    ];

    /// Reads a name as [`Valve::name`] writes it, whatever the case and the spaces.
    ///
    /// # Example
    /// ```
    /// use hydraulics::fittings::valve::Valve;
    /// assert_eq!(Valve::parse("Swing  check"), Some(Valve::SwingCheck));
    /// assert_eq!(Valve::parse("tap"), None);
    /// ```
    pub fn parse(text: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|valve| reads_as(text, valve.name()))
    }

    /// Names the valve as a site file does.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Ball => "ball",
            Self::Gate => "gate",
            Self::Globe => "globe",
            Self::Angle => "angle",
            Self::StreamlinedAngle => "streamlined angle",
            Self::Butterfly => "butterfly",
            Self::SwingCheck => "swing check",
            Self::StraightSwingCheck => "straight swing check",
            Self::LiftCheck => "lift check",
            Self::AngleLiftCheck => "angle lift check",
            Self::TiltingCheck => "tilting check",
            Self::SpringCheck => "spring check",
            Self::Plug => "plug",
            Self::ThreeWayPlug => "three-way plug",
            Self::ThreeWayPlugSide => "three-way plug side",
            Self::Diverter => "diverter",
            Self::DiverterSide => "diverter side",
            Self::Diaphragm => "diaphragm",
            Self::StraightDiaphragm => "straight diaphragm",
            Self::Foot => "foot",
            Self::HingedFoot => "hinged foot",
        }
    }

    /// Says where the equivalent length comes from.
    pub const fn source(self) -> &'static str {
        match self {
            Self::SpringCheck => {
                "common practice, no source: taken as a swing check; the maker's curve is better"
            }
            Self::Diverter | Self::DiverterSide => {
                "common practice, no source: taken as Crane's three-way plug; the maker's curve is better"
            }
            _ => "Crane TP-410, 2009, as printed in the Python package fluids 1.3.1",
        }
    }

    /// Gives Crane's equivalent length of the full-open valve in bores.
    ///
    /// Discs of larger valves are thinner beside their bore: butterfly and tilting check change at 9 in and 15 in.
    ///
    /// # Checked against
    /// `validation/fittings/fluids`
    pub const fn length_ratio(self, bore_m: f64) -> f64 {
        let (small_m, middle_m) = SIZE_CLASSES_M;
        let (small, middle, large) = match self {
            Self::Ball => return 3.0,
            Self::Gate => return 8.0,
            Self::Plug => return 18.0,
            Self::ThreeWayPlug | Self::Diverter => return 30.0,
            Self::StraightDiaphragm => return 39.0,
            Self::StraightSwingCheck => return 50.0,
            Self::StreamlinedAngle | Self::AngleLiftCheck => return 55.0,
            Self::HingedFoot => return 75.0,
            Self::ThreeWayPlugSide | Self::DiverterSide => return 90.0,
            Self::SwingCheck | Self::SpringCheck => return 100.0,
            Self::Diaphragm => return 149.0,
            Self::Angle => return 150.0,
            Self::Globe => return 340.0,
            Self::Foot => return 420.0,
            Self::LiftCheck => return 600.0,
            Self::Butterfly => (45.0, 35.0, 25.0),
            Self::TiltingCheck => (40.0, 30.0, 20.0),
        };
        if bore_m <= small_m {
            small
        } else if bore_m <= middle_m {
            middle
        } else {
            large
        }
    }

    /// Gives Hooper's two coefficients of the full-open valve, `None` where he has no such row.
    ///
    /// # Source
    /// As [`Fitting::two_k`](super::catalogue::Fitting::two_k). The ball has a hole of 0.9 bores there, and the plug one of 0.8.
    ///
    /// # Checked against
    /// `validation/fittings/fluids`
    pub const fn two_k(self) -> Option<TwoK> {
        match self {
            Self::Ball => Some(TwoK::new(500.0, 0.15)),
            Self::Gate => Some(TwoK::new(300.0, 0.1)),
            Self::Globe => Some(TwoK::new(1500.0, 4.0)),
            Self::Angle | Self::Diaphragm => Some(TwoK::new(1000.0, 2.0)),
            Self::Butterfly => Some(TwoK::new(800.0, 0.25)),
            Self::SwingCheck => Some(TwoK::new(1500.0, 1.5)),
            Self::LiftCheck => Some(TwoK::new(2000.0, 10.0)),
            Self::TiltingCheck => Some(TwoK::new(1000.0, 0.5)),
            Self::Plug => Some(TwoK::new(1000.0, 0.25)),
            _ => None,
        }
    }

    /// Gives Darby's three coefficients of the full-open valve, `None` where he has no such row.
    ///
    /// # Source
    /// As [`Fitting::three_k`](super::catalogue::Fitting::three_k).
    ///
    /// # Checked against
    /// `validation/fittings/fluids`
    pub const fn three_k(self) -> Option<ThreeK> {
        match self {
            Self::Ball => Some(ThreeK::new(300.0, 0.017, 3.5)),
            Self::Gate => Some(ThreeK::new(300.0, 0.037, 3.9)),
            Self::Globe => Some(ThreeK::new(1500.0, 1.7, 3.6)),
            Self::Angle => Some(ThreeK::new(1000.0, 0.69, 4.0)),
            Self::Diaphragm => Some(ThreeK::new(1000.0, 0.69, 4.9)),
            Self::SwingCheck => Some(ThreeK::new(1500.0, 0.46, 4.0)),
            Self::LiftCheck => Some(ThreeK::new(2000.0, 2.85, 3.8)),
            Self::Plug => Some(ThreeK::new(300.0, 0.084, 3.9)),
            Self::ThreeWayPlug => Some(ThreeK::new(300.0, 0.14, 4.0)),
            Self::ThreeWayPlugSide => Some(ThreeK::new(500.0, 0.41, 4.0)),
            _ => None,
        }
    }

    /// Computes K of the full-open valve on the velocity in the bore, after Crane.
    ///
    /// # Checked against
    /// `validation/fittings/fluids`
    ///
    /// # Example
    /// ```
    /// use hydraulics::fittings::valve::Valve;
    /// assert!((Valve::Gate.k(0.0525018).unwrap().value - 0.1508).abs() < 1e-4);
    /// ```
    pub fn k(self, bore_m: f64) -> Result<Answer<f64>, HydraulicsError> {
        k_of_length_ratio(self.length_ratio(bore_m), bore_m)
    }
}

impl fmt::Display for Valve {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_reads_back_as_its_valve() {
        for valve in Valve::ALL {
            assert_eq!(
                Valve::parse(&valve.to_string().to_uppercase().replace(' ', "  ")),
                Some(valve)
            );
            assert!(!valve.source().is_empty());
        }
        for unknown in ["", "valve", "ball valve", "check"] {
            assert_eq!(Valve::parse(unknown), None);
        }
    }

    #[test]
    fn every_valve_takes_head_and_refuses_a_bore_that_is_none() {
        for valve in Valve::ALL {
            assert!(valve.k(0.05).unwrap().value > 0.0);
            assert!(valve.k(0.0).is_err() && valve.k(f64::NAN).is_err());
        }
    }

    #[test]
    fn a_refusal_names_the_valves_that_have_the_law() {
        let refusal = |law| {
            HydraulicsError::NoValveLaw {
                valve: Valve::SwingCheck,
                law,
            }
            .to_string()
        };
        assert_eq!(
            refusal(ValveLaw::Opening),
            "no published relation for the opening of a swing check valve; known for: ball, gate, butterfly, plug"
        );
        assert_eq!(
            refusal(ValveLaw::ReducedSeat),
            "no published relation for the reduced seat of a swing check valve; known for: ball, gate, globe, \
             angle, streamlined angle, lift check, angle lift check, plug"
        );
    }
}
