//! Outlets and jets: an opening through which a line gives its water to the pool, or to the air.
//!
//! All the velocity of the jet is lost in either case, so an outlet needs no exit loss beside it.

use core::f64::consts::PI;

use super::{answer, finite};
use crate::constants::STANDARD_GRAVITY_M_S2;
use crate::error::HydraulicsError;
use crate::quantity::Quantity;
use crate::warning::{Answer, Warning};

/// How the edge of an opening guides the water.
#[derive(Clone, Copy, Debug, Eq, Hash, PartialEq)]
pub enum Edge {
    /// A hole in a thin wall: the jet narrows to 0.61 of the hole.
    Sharp,
    /// A hole as long as two or three of its bores, or a plain end of tube.
    ShortTube,
    /// A well rounded nozzle, as an eyeball is on its inside.
    Rounded,
    /// A thin tube that reaches into the water.
    Projecting,
}

impl Edge {
    /// Every edge, in the order in which a message lists them.
    pub const ALL: [Self; 4] = [
        Self::Sharp,
        Self::ShortTube,
        Self::Rounded,
        Self::Projecting,
    ];

    /// Gives the discharge coefficient: how far the jet narrows, times how much of its velocity is left.
    ///
    /// # Source
    /// Textbook values at high Reynolds number, from memory: sharp 0.61 (π/(π + 2) = 0.611 for a slot, Kirchhoff 1869),
    /// short tube 0.82, rounded 0.98, projecting 0.52 (0.5 by momentum, Borda 1766). That an eyeball is rounded is
    /// common practice, no source; the maker's figure is better.
    ///
    /// # Checked against
    /// `validation/handbook-fittings/recalled`
    pub const fn discharge_coefficient(self) -> f64 {
        match self {
            Self::Sharp => 0.61,
            Self::ShortTube => 0.82,
            Self::Rounded => 0.98,
            Self::Projecting => 0.52,
        }
    }
}

/// Computes the flow through an outlet.
///
/// # Equation
/// Q = C A √(2 g h), A = π d² / 4
///
/// # Inputs
/// `orifice_m`: diameter of the opening, above 0 m. `discharge_coefficient`: C, above 0 and at most 1. `head_m`: the
/// total head before the opening (pressure and velocity) above the level of the pool, or above the opening where the
/// jet is in air, 0 m or more.
///
/// # Returns
/// Flow in m³/s.
///
/// # Validity
/// The same in water and in air. C is that of fast flow, Re above some 1e4 in the opening.
///
/// # Accuracy
/// As C: 2 % for a sharp hole of known diameter, 20 % and more for an outlet by its looks (common practice, no source).
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::BelowZero`], [`HydraulicsError::OutOfRange`],
/// [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// Torricelli's law; Crane Technical Paper 410, equation 2-23 (number from memory).
///
/// # Checked against
/// `validation/handbook-fittings/fire-practice`
///
/// # Example
/// ```
/// let flow_m3s = hydraulics::fittings::outlet::outlet_flow_m3s(0.0254, 0.98, 1.0).unwrap();
/// assert!((flow_m3s * 6e4 - 132.0).abs() < 0.1); // L/min
/// ```
pub fn outlet_flow_m3s(
    orifice_m: f64,
    discharge_coefficient: f64,
    head_m: f64,
) -> Result<f64, HydraulicsError> {
    let orifice_m = Quantity::OrificeDiameter.above_zero(orifice_m)?;
    let coefficient = coefficient(discharge_coefficient)?;
    let head_m = Quantity::Head.zero_or_more(head_m)?;
    let area_m2 = 0.25 * PI * orifice_m * orifice_m;
    finite(coefficient * area_m2 * (2.0 * STANDARD_GRAVITY_M_S2 * head_m).sqrt())
}

/// Computes the loss coefficient of a line's outlet, the velocity of the jet included.
///
/// # Equation
/// K = (D² / (C d²))²
///
/// # Inputs
/// `bore_m`: of the line, above 0 m. `orifice_m`: diameter of the opening, above 0 m and at most the bore.
/// `discharge_coefficient`: C, above 0 and at most 1.
///
/// # Returns
/// K on the velocity in the bore of the line, from the line's total head to still water. No exit loss comes on top.
///
/// # Validity
/// As [`outlet_flow_m3s`]. In a wide opening the jet narrows less than C says: by Weisbach's contraction
/// 0.63 + 0.37 β⁶ (from memory) K of a sharp edge is an eighth too high at β = 0.7 and more beyond. From there on the answer
/// carries a warning (limit of this crate).
///
/// # Accuracy
/// Twice the relative error of C, four times that of the diameter.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::OutOfRange`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// [`outlet_flow_m3s`], solved for the head.
///
/// # Checked against
/// The flow that has this loss, to rounding; an opening as wide as the line with C = 1 is a plain exit, K = 1.
///
/// # Example
/// ```
/// use hydraulics::fittings::outlet::{Edge, outlet_k};
/// let c = Edge::Rounded.discharge_coefficient();
/// let k = outlet_k(0.040894, 0.01905, c).unwrap().value;
/// assert!((k - 22.1).abs() < 0.1); // a 3/4 in eyeball on 1-1/2 in pipe
/// ```
pub fn outlet_k(
    bore_m: f64,
    orifice_m: f64,
    discharge_coefficient: f64,
) -> Result<Answer<f64>, HydraulicsError> {
    /// Orifice diameter over bore up to which the wall of the line hardly guides the jet.
    const WIDEST_RATIO: f64 = 0.7;
    let bore_m = Quantity::Bore.above_zero(bore_m)?;
    let orifice_m = Quantity::OrificeDiameter.above_zero(orifice_m)?;
    Quantity::OrificeDiameter.within(orifice_m, (0.0, bore_m))?;
    let coefficient = coefficient(discharge_coefficient)?;
    let ratio = orifice_m / bore_m;
    let velocity = 1.0 / (coefficient * ratio * ratio);
    let warning = (coefficient < 1.0).then(|| {
        let range = (0.0, WIDEST_RATIO);
        Warning::outside("outlet", Quantity::DiameterRatio, ratio, range)
    });
    answer(velocity * velocity, warning.flatten())
}

fn coefficient(discharge_coefficient: f64) -> Result<f64, HydraulicsError> {
    Quantity::DischargeCoefficient.above_zero(discharge_coefficient)?;
    Quantity::DischargeCoefficient.within(discharge_coefficient, (0.0, 1.0))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::fittings::minor_loss_head_m;

    #[test]
    fn the_impossible_is_refused() {
        for (orifice_m, coefficient, head_m) in [
            (0.0, 0.6, 1.0),
            (0.02, 0.0, 1.0),
            (0.02, 1.1, 1.0),
            (0.02, 0.6, -1.0),
            (f64::NAN, 0.6, 1.0),
        ] {
            assert!(outlet_flow_m3s(orifice_m, coefficient, head_m).is_err());
        }
        assert!(outlet_k(0.05, 0.06, 0.6).is_err() && outlet_k(0.0, 0.06, 0.6).is_err());
        assert!(outlet_k(1e200, 1e-10, 0.6).is_err());
    }

    #[test]
    fn a_wide_opening_is_told_unless_nothing_narrows() {
        assert_eq!(outlet_k(0.05, 0.04, 0.6).unwrap().warnings.len(), 1);
        assert!(outlet_k(0.05, 0.03, 0.6).unwrap().warnings.is_empty());
        let exit = outlet_k(0.05, 0.05, 1.0).unwrap();
        assert!((exit.value - 1.0).abs() < 1e-15 && exit.warnings.is_empty());
    }

    /// The free jet from a slot narrows to π/(π + 2), and momentum lets a tube that projects give no less than half.
    #[test]
    fn theory_stands_behind_the_sharp_and_the_projecting_edge() {
        let slot = PI / (PI + 2.0);
        // Half of the last printed digit.
        assert!((Edge::Sharp.discharge_coefficient() - slot).abs() < 0.005);
        assert!((0.5..0.55).contains(&Edge::Projecting.discharge_coefficient()));
    }

    #[test]
    fn no_edge_gives_more_than_the_hole() {
        for edge in Edge::ALL {
            assert!((0.5..1.0).contains(&edge.discharge_coefficient()));
        }
    }

    proptest! {
        #[test]
        fn the_flow_of_an_outlet_takes_its_head(
            bore_m in 0.02_f64..0.1, ratio in 0.1_f64..1.0, coefficient in 0.5_f64..1.0, head_m in 0.01_f64..30.0,
        ) {
            let orifice_m = ratio * bore_m;
            let flow_m3s = outlet_flow_m3s(orifice_m, coefficient, head_m).unwrap();
            let velocity_m_s = flow_m3s / (0.25 * PI * bore_m * bore_m);
            let k = outlet_k(bore_m, orifice_m, coefficient).unwrap().value;
            // A dozen roundings, doubled by the square.
            prop_assert!((minor_loss_head_m(k, velocity_m_s).unwrap() / head_m - 1.0).abs() < 1e-14);
        }

        #[test]
        fn a_wider_outlet_takes_less(ratio in 0.1_f64..0.9) {
            let k = |ratio: f64| outlet_k(0.05, 0.05 * ratio, 0.98).unwrap().value;
            prop_assert!(k(ratio) > k(ratio + 0.05));
        }
    }
}
