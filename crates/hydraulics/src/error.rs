//! What hydraulics refuses, with the numbers in fields so that a caller can word it for its own reader.
//!
//! A refusal is for impossible input. An answer outside the range of a correlation is no error: it
//! comes with a [`Warning`](crate::Warning).

use thiserror::Error;

use crate::fittings::valve::{Valve, ValveLaw};
use crate::quantity::Quantity;

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
    /// A value is no number, or beyond all numbers.
    #[error("the {quantity} is {}; expected a finite value", .quantity.with_unit(*.value))]
    NotFinite {
        /// Which input.
        quantity: Quantity,
        /// What was given, in the unit of the quantity.
        value: f64,
    },
    /// A value lies where no pool does.
    #[error(
        "the {quantity} is {}; expected {} to {}",
        .quantity.with_unit(*.value), .quantity.with_unit(*.low), .quantity.with_unit(*.high)
    )]
    OutOfRange {
        /// Which input.
        quantity: Quantity,
        /// What was given, in the unit of the quantity.
        value: f64,
        /// The lowest value that is accepted.
        low: f64,
        /// The highest value that is accepted.
        high: f64,
    },
    /// An appliance was given no point.
    #[error("no rated point is given; expected at least one flow with its drop")]
    NoPoints,
    /// An appliance's drop falls as the flow rises, or one flow has two drops.
    #[error(
        "the rated drop falls from {} Pa at {} m3/s to {} Pa at {} m3/s; expected a drop that rises with flow",
        .drop_pa[0], .flow_m3s[0], .drop_pa[1], .flow_m3s[1]
    )]
    DropDoesNotRise {
        /// The two flows, rising or equal.
        flow_m3s: [f64; 2],
        /// Their drops.
        drop_pa: [f64; 2],
    },
    /// No gauge shows less than no pressure.
    #[error(
        "the vacuum is {vacuum_pa} Pa, but the atmosphere has only {atmosphere_pa} Pa; expected less than that"
    )]
    VacuumBeyondAtmosphere {
        /// What was given, below the atmosphere.
        vacuum_pa: f64,
        /// The pressure of the atmosphere.
        atmosphere_pa: f64,
    },
    /// Weights of a mean do not make one whole.
    #[error("the weights sum to {sum}; expected 1")]
    WeightsNotOne {
        /// What they sum to.
        sum: f64,
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
