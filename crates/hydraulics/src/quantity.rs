//! The inputs of hydraulic functions by name and unit, and the checks that each may pass.

use core::fmt;

use crate::error::HydraulicsError;

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
    /// What something takes over what its law says.
    LossFactor,
    /// Volume flow.
    Flow,
    /// Density of the water.
    Density,
    /// Dynamic viscosity of the water.
    DynamicViscosity,
    /// The coefficient C of the Hazen-Williams formula.
    HazenWilliamsC,
    /// A difference of pressure along the flow.
    PressureDrop,
    /// The part of a clean filter's drop in its media.
    MediaShare,
    /// The drop in the media of a clean filter.
    MediaDrop,
    /// Drop in a filter's media over that of the clean media.
    Loading,
    /// Diameter of a grain.
    Grain,
    /// Depth of a bed.
    BedDepth,
    /// Area across the flow.
    Area,
    /// Volume of the voids over that of a bed.
    Porosity,
    /// The pressure that opens a check valve.
    CrackingPressure,
    /// How many suction covers draw side by side.
    CoverCount,
    /// Height above the water.
    Height,
    /// Head of water.
    Head,
    /// Speed of the pump.
    Speed,
    /// Temperature of the water.
    WaterTemperature,
    /// Mass of salt in a mass of water.
    Salinity,
    /// Mass of salt in a volume of water.
    SaltConcentration,
    /// Height of a place above the sea.
    Elevation,
    /// Pressure.
    Pressure,
    /// Mean velocity in a pipe.
    Velocity,
    /// Power.
    Power,
    /// Power given over power taken.
    Efficiency,
    /// Volume of water.
    Volume,
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
    /// Fall of a pump's head with flow or with its square, in s/m² or s²/m⁵.
    CurveFall,
    /// Loss over rated power.
    LossShare,
    /// Height that water is raised to in a line.
    Lift,
}

impl Quantity {
    /// Names the SI unit, empty for a pure number.
    pub const fn unit(self) -> &'static str {
        self.name_and_unit().1
    }

    const fn name_and_unit(self) -> (&'static str, &'static str) {
        match self {
            Self::Bore => ("bore", "m"),
            Self::Length => ("length", "m"),
            Self::Roughness => ("roughness", "m"),
            Self::RelativeRoughness => ("relative roughness", ""),
            Self::Reynolds => ("Reynolds number", ""),
            Self::MinorLoss => ("minor-loss coefficient K", ""),
            Self::LossFactor => ("loss over that of the law", ""),
            Self::Flow => ("flow", "m3/s"),
            Self::Density => ("density of the water", "kg/m3"),
            Self::DynamicViscosity => ("dynamic viscosity of the water", "Pa s"),
            Self::HazenWilliamsC => ("Hazen-Williams coefficient C", ""),
            Self::PressureDrop => ("pressure drop", "Pa"),
            Self::MediaShare => ("share of the drop in the media", ""),
            Self::MediaDrop => ("drop in the clean media", "Pa"),
            Self::Loading => ("loading of the filter", ""),
            Self::Grain => ("grain of the bed", "m"),
            Self::BedDepth => ("depth of the bed", "m"),
            Self::Area => ("area", "m2"),
            Self::Porosity => ("share of voids in the bed", ""),
            Self::CrackingPressure => ("cracking pressure", "Pa"),
            Self::CoverCount => ("count of suction covers", ""),
            Self::Height => ("height", "m"),
            Self::Head => ("head", "m"),
            Self::Speed => ("speed", "rpm"),
            Self::WaterTemperature => ("temperature of the water", "K"),
            Self::Salinity => ("salinity", "kg/kg"),
            Self::SaltConcentration => ("salinity", "kg/m3"),
            Self::Elevation => ("elevation", "m"),
            Self::Pressure => ("pressure", "Pa"),
            Self::Velocity => ("velocity", "m/s"),
            Self::Power => ("power", "W"),
            Self::Efficiency => ("efficiency", ""),
            Self::Volume => ("volume", "m3"),
            Self::FilterRate => ("filter rate", "m/s"),
            Self::Duration => ("duration", "s"),
            Self::HydraulicHorsepower => ("hydraulic power", "hp"),
            Self::EnergyFactor => ("energy factor", "kgal/kWh"),
            Self::Weight => ("weight", ""),
            Self::LengthRatio => ("equivalent length over bore", ""),
            Self::Angle => ("angle", "deg"),
            Self::RadiusRatio => ("radius over bore", ""),
            Self::Opening => ("opening of the valve", ""),
            Self::BranchShare => ("share of the branch in the combined flow", ""),
            Self::OrificeDiameter => ("diameter of the orifice", "m"),
            Self::DiameterRatio => ("orifice diameter over bore", ""),
            Self::SeatDiameter => ("diameter of the seat", "m"),
            Self::DischargeCoefficient => ("discharge coefficient", ""),
            Self::FlowCoefficientKv => ("flow coefficient Kv", "m3/h at 1 bar"),
            Self::FlowCoefficientCv => ("flow coefficient Cv", "gpm at 1 psi"),
            Self::NominalSize => ("nominal size", "in"),
            Self::FrictionFactor => ("friction factor", ""),
            Self::CurveFall => ("fall of the pump's head with flow", ""),
            Self::LossShare => ("share of loss in the rated power", ""),
            Self::Lift => ("lift", "m"),
        }
    }

    pub(crate) fn with_unit(self, value: f64) -> String {
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

    /// Passes a finite value of any sign.
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
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name_and_unit().0)
    }
}
