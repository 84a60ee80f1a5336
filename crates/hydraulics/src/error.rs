//! What hydraulics refuses, with the numbers in fields so that a caller can word it for its own reader.
//!
//! A refusal is for impossible input. An answer outside the range of a correlation is no error: it
//! comes with a [`Warning`](crate::Warning).

use core::fmt;

use thiserror::Error;

use crate::fittings::valve::{Valve, ValveLaw};

/// An input of a hydraulic function, named for messages.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Quantity {
    /// Inside diameter of a pipe.
    Bore,
    /// Length of a pipe.
    Length,
    /// Absolute roughness of a pipe wall.
    Roughness,
    /// Roughness over bore.
    RelativeRoughness,
    /// Reynolds number.
    Reynolds,
    /// Sum of minor-loss coefficients K.
    MinorLoss,
    /// Volume flow.
    Flow,
    /// Density of the water.
    Density,
    /// Dynamic viscosity of the water.
    DynamicViscosity,
    /// The coefficient C of the Hazen-Williams formula.
    HazenWilliamsC,
    /// Equivalent length of a fitting in bores, L/D.
    LengthRatio,
    /// Angle of a bend, a cone or a branch.
    Angle,
    /// Radius of the axis of a bend, or of a rounded edge, over the bore.
    RadiusRatio,
    /// How far a valve is open: 0 shut, 1 full.
    Opening,
    /// Flow in the branch of a tee over the combined flow.
    BranchShare,
    /// Diameter of an orifice or of an outlet.
    OrificeDiameter,
    /// Orifice diameter over bore.
    DiameterRatio,
    /// Diameter of the seat of a valve.
    SeatDiameter,
    /// Discharge coefficient of an orifice.
    DischargeCoefficient,
    /// Flow coefficient Kv.
    FlowCoefficientKv,
    /// Flow coefficient Cv.
    FlowCoefficientCv,
    /// Nominal pipe size.
    NominalSize,
    /// Friction factor after Darcy.
    FrictionFactor,
    /// Head of water.
    Head,
    /// Difference of two pressures.
    PressureDifference,
    /// Mean velocity.
    Velocity,
}

impl Quantity {
    /// Names the SI unit, empty for a pure number.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Bore
            | Self::Length
            | Self::Roughness
            | Self::OrificeDiameter
            | Self::SeatDiameter
            | Self::Head => "m",
            Self::RelativeRoughness
            | Self::Reynolds
            | Self::MinorLoss
            | Self::HazenWilliamsC
            | Self::LengthRatio
            | Self::RadiusRatio
            | Self::Opening
            | Self::BranchShare
            | Self::DiameterRatio
            | Self::DischargeCoefficient
            | Self::FrictionFactor => "",
            Self::Flow => "m3/s",
            Self::Density => "kg/m3",
            Self::DynamicViscosity => "Pa s",
            Self::Angle => "deg",
            Self::FlowCoefficientKv => "m3/h at 1 bar",
            Self::FlowCoefficientCv => "gpm at 1 psi",
            Self::NominalSize => "in",
            Self::PressureDifference => "Pa",
            Self::Velocity => "m/s",
        }
    }

    fn with_unit(self, value: f64) -> String {
        format!("{value} {}", self.unit()).trim_end().to_owned()
    }

    /// Passes a finite value above zero.
    pub(crate) fn above_zero(self, value: f64) -> Result<f64, HydraulicsError> {
        if value.is_finite() && value > 0.0 {
            Ok(value)
        } else {
            Err(HydraulicsError::NotAboveZero {
                quantity: self,
                value,
            })
        }
    }

    /// Passes a finite value of zero or more.
    pub(crate) fn zero_or_more(self, value: f64) -> Result<f64, HydraulicsError> {
        if value.is_finite() && value >= 0.0 {
            Ok(value)
        } else {
            Err(HydraulicsError::BelowZero {
                quantity: self,
                value,
            })
        }
    }

    /// Passes a value between two bounds, both included.
    pub(crate) fn within(self, value: f64, low: f64, high: f64) -> Result<f64, HydraulicsError> {
        if (low..=high).contains(&value) {
            Ok(value)
        } else {
            Err(HydraulicsError::NotWithin {
                quantity: self,
                value,
                low,
                high,
            })
        }
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Bore => "bore",
            Self::Length => "length",
            Self::Roughness => "roughness",
            Self::RelativeRoughness => "relative roughness",
            Self::Reynolds => "Reynolds number",
            Self::MinorLoss => "minor-loss coefficient K",
            Self::Flow => "flow",
            Self::Density => "density of the water",
            Self::DynamicViscosity => "dynamic viscosity of the water",
            Self::HazenWilliamsC => "Hazen-Williams coefficient C",
            Self::LengthRatio => "equivalent length over bore",
            Self::Angle => "angle",
            Self::RadiusRatio => "radius over bore",
            Self::Opening => "opening of the valve",
            Self::BranchShare => "share of the branch in the combined flow",
            Self::OrificeDiameter => "diameter of the orifice",
            Self::DiameterRatio => "orifice diameter over bore",
            Self::SeatDiameter => "diameter of the seat",
            Self::DischargeCoefficient => "discharge coefficient",
            Self::FlowCoefficientKv => "flow coefficient Kv",
            Self::FlowCoefficientCv => "flow coefficient Cv",
            Self::NominalSize => "nominal size",
            Self::FrictionFactor => "friction factor",
            Self::Head => "head",
            Self::PressureDifference => "pressure difference",
            Self::Velocity => "velocity",
        })
    }
}

/// Why a hydraulic function gives no answer.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum HydraulicsError {
    /// A value that divides is zero, negative or not finite.
    #[error("the {quantity} is {}; expected a finite value above 0", .quantity.with_unit(*.value))]
    NotAboveZero {
        /// Which input.
        quantity: Quantity,
        /// What was given, in the unit of the quantity.
        value: f64,
    },
    /// A value that may rest at zero is negative or not finite.
    #[error("the {quantity} is {}; expected a finite value of 0 or more", .quantity.with_unit(*.value))]
    BelowZero {
        /// Which input.
        quantity: Quantity,
        /// What was given, in the unit of the quantity.
        value: f64,
    },
    /// The roughness reaches the axis of the pipe.
    #[error(
        "the roughness is {roughness_m} m in a bore of {bore_m} m; expected less than half of the bore"
    )]
    RoughnessFillsBore {
        /// What was given.
        roughness_m: f64,
        /// The bore of the same pipe.
        bore_m: f64,
    },
    /// Pool water is neither ice nor that hot.
    #[error(
        "the water temperature is {temperature_k} K; expected {low_k} K to {high_k} K (0 degC to 60 degC)"
    )]
    TemperatureOutOfRange {
        /// What was given.
        temperature_k: f64,
        /// The lowest temperature that is accepted.
        low_k: f64,
        /// The highest temperature that is accepted.
        high_k: f64,
    },
    /// A value lies outside what it can mean.
    #[error(
        "the {quantity} is {}; expected {low} to {}",
        .quantity.with_unit(*.value),
        .quantity.with_unit(*.high)
    )]
    NotWithin {
        /// Which input.
        quantity: Quantity,
        /// What was given, in the unit of the quantity.
        value: f64,
        /// The lowest value that is accepted.
        low: f64,
        /// The highest value that is accepted.
        high: f64,
    },
    /// What stands in a pipe is not smaller than the pipe.
    #[error("the {quantity} is {value_m} m in a bore of {bore_m} m; expected less than the bore")]
    FillsBore {
        /// Which diameter.
        quantity: Quantity,
        /// What was given.
        value_m: f64,
        /// The bore of the same pipe.
        bore_m: f64,
    },
    /// Nobody has published how such a valve behaves.
    #[error("no published relation for {law} of a {valve} valve; known for: {}", .law.known())]
    NoValveLaw {
        /// Which valve.
        valve: Valve,
        /// Which relation is wanted.
        law: ValveLaw,
    },
    /// A shut valve has no finite loss coefficient.
    #[error(
        "the {valve} valve is shut at an opening of {opening}; it passes water above {shut_at:.3}"
    )]
    ValveShut {
        /// Which valve.
        valve: Valve,
        /// What was given.
        opening: f64,
        /// The opening up to which it is shut.
        shut_at: f64,
    },
    /// Each input is possible alone, but together they leave the range of double precision.
    #[error("the inputs together give a loss beyond all numbers")]
    LossNotFinite,
    /// A calculation that approaches its answer step by step did not reach it.
    #[error("the flow through the orifice was not found in {steps} steps; is it turbulent?")]
    OrificeFlowNotFound {
        /// How many steps were taken.
        steps: u32,
    },
    /// Each input is possible alone, but together they leave the range of double precision.
    #[error("a flow of {flow_m3s} m3/s in a bore of {bore_m} m gives a head beyond all numbers")]
    HeadNotFinite {
        /// The flow that was given.
        flow_m3s: f64,
        /// The bore that was given.
        bore_m: f64,
    },
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_message_says_what_was_found_and_what_is_accepted() {
        let error = Quantity::Flow.zero_or_more(-3.2).unwrap_err();
        assert_eq!(
            error.to_string(),
            "the flow is -3.2 m3/s; expected a finite value of 0 or more"
        );
        let error = Quantity::HazenWilliamsC.above_zero(0.0).unwrap_err();
        assert_eq!(
            error.to_string(),
            "the Hazen-Williams coefficient C is 0; expected a finite value above 0"
        );
    }

    #[test]
    fn what_is_not_a_number_is_refused() {
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert!(Quantity::Bore.above_zero(value).is_err());
            assert!(Quantity::Length.zero_or_more(value).is_err());
        }
    }
}
