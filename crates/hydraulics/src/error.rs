//! What hydraulics refuses, with the numbers in fields so that a caller can word it for its own reader.
//!
//! A refusal is for impossible input. An answer outside the range of a correlation is no error: it
//! comes with a [`Warning`](crate::Warning).

use core::fmt;

use thiserror::Error;

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
    /// Temperature of the water.
    WaterTemperature,
    /// Mass of salt in a mass of water.
    Salinity,
    /// Mass of salt in a volume of water.
    SaltConcentration,
    /// Height of a place above the sea.
    Elevation,
    /// Height of one point above another.
    Height,
    /// Pressure.
    Pressure,
    /// Head, as a height of the flowing water.
    Head,
    /// Mean velocity in a pipe.
    Velocity,
    /// Rotating speed of a pump.
    Speed,
    /// Power.
    Power,
    /// Power given over power taken.
    Efficiency,
    /// Volume of water.
    Volume,
    /// Area of a filter.
    Area,
    /// Flow over the area of a filter.
    FilterRate,
    /// Duration.
    Duration,
    /// Hydraulic power as pump ratings state it.
    HydraulicHorsepower,
    /// Water moved by a unit of energy.
    EnergyFactor,
    /// Share of a point in a weighted mean.
    Weight,
}

impl Quantity {
    /// Names the SI unit, empty for a pure number.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Bore
            | Self::Length
            | Self::Roughness
            | Self::Elevation
            | Self::Height
            | Self::Head => "m",
            Self::RelativeRoughness
            | Self::Reynolds
            | Self::MinorLoss
            | Self::HazenWilliamsC
            | Self::Efficiency
            | Self::Weight => "",
            Self::Flow => "m3/s",
            Self::Density | Self::SaltConcentration => "kg/m3",
            Self::DynamicViscosity => "Pa s",
            Self::WaterTemperature => "K",
            Self::Salinity => "kg/kg",
            Self::Pressure => "Pa",
            Self::Velocity | Self::FilterRate => "m/s",
            Self::Speed => "rpm",
            Self::Power => "W",
            Self::Volume => "m3",
            Self::Area => "m2",
            Self::Duration => "s",
            Self::HydraulicHorsepower => "hp",
            Self::EnergyFactor => "kgal/kWh",
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

    /// Passes a finite value.
    pub(crate) fn finite(self, value: f64) -> Result<f64, HydraulicsError> {
        if value.is_finite() {
            Ok(value)
        } else {
            Err(HydraulicsError::NotFinite {
                quantity: self,
                value,
            })
        }
    }

    /// Passes a value between two bounds, both included.
    pub(crate) fn within(
        self,
        value: f64,
        (low, high): (f64, f64),
    ) -> Result<f64, HydraulicsError> {
        if (low..=high).contains(&value) {
            Ok(value)
        } else {
            Err(HydraulicsError::OutOfRange {
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
            Self::WaterTemperature => "temperature of the water",
            Self::Elevation => "elevation",
            Self::Height => "height",
            Self::Pressure => "pressure",
            Self::Head => "head",
            Self::Velocity => "velocity",
            Self::Speed => "speed",
            Self::Power => "power",
            Self::Efficiency => "efficiency",
            Self::Volume => "volume",
            Self::Area => "area",
            Self::FilterRate => "filter rate",
            Self::Duration => "duration",
            Self::HydraulicHorsepower => "hydraulic power",
            Self::EnergyFactor => "energy factor",
            Self::Weight => "weight",
            Self::Salinity | Self::SaltConcentration => "salinity",
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
    /// A value is not finite.
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
    /// Weights of a mean do not make one whole.
    #[error("the weights sum to {sum}; expected 1")]
    WeightsNotOne {
        /// What they sum to.
        sum: f64,
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
