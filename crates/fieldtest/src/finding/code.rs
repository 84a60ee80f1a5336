//! What of a matter goes by a code: its name in the contract, the value to accept, whether it doubts a reading.

use super::Matter;

impl Matter {
    /// Returns the code of the contract.
    pub fn code(&self) -> &'static str {
        match self {
            Self::UnitSlip { .. } | Self::ColumnSlip { .. } => "unit-slip",
            Self::MetersDisagree { .. } => "meters-disagree",
            Self::Unsettled { .. } => "unsettled",
            Self::GaugeZero { .. } => "gauge-zero",
            Self::RepeatedEntry { .. } => "repeated-entry",
            Self::OffCurve { .. }
            | Self::WrongSpeed { .. }
            | Self::Scattered { .. }
            | Self::DoesNotRise { .. } => "off-curve",
            Self::OutsideMeterRange { .. } | Self::VacuumBeyondAtmosphere { .. } => {
                "outside-meter-range"
            }
            Self::PowerFactorAboveOne { .. } => "power-factor-above-one",
            Self::VoltAmperesAsWatts { .. } => "volt-amperes-as-watts",
            Self::PowerTooSmallForHead { .. } => "power-too-small-for-head",
            Self::SpeedOutsidePump { .. } => "speed-outside-pump",
            Self::FlowBeyond { limit, .. } | Self::ProgramBeyond { limit, .. } => limit.code,
            Self::PressureAboveRating { .. } => "pressure-above-rating",
            Self::InletVacuumHigh { .. } => "inlet-vacuum-high",
            Self::NpshShort { .. } => "npsh-short",
            Self::EfficiencyImplausible { .. } => "efficiency-implausible",
            Self::TooFewSteps { .. } => "too-few-steps",
            Self::StandbyTooHigh { .. } => "standby-too-high",
            Self::NoStandbyReading => "no-standby-reading",
            Self::NotIdentifiable(_)
            | Self::NotCalibrated(_)
            | Self::NoGauge
            | Self::NoInletGauge
            | Self::PartsNotTold { .. } => "not-identifiable",
            Self::HeadsMisfit { .. } | Self::HeadsDisagree { .. } => "heads-disagree",
            Self::UnlikeStated { .. } => "unlike-stated",
            Self::UnstatedDrops { .. } => "drop-not-stated",
            Self::UnknownPipe { .. } => "unknown-pipe",
            Self::UnknownPart { .. } => "unknown-part",
            Self::UnusableCurve { .. } => "unusable-curve",
            Self::UnknownRules { .. } => "unknown-rules",
            Self::UnknownCurrency { .. } => "unknown-currency",
            Self::AccuracyAssumed { .. } => "accuracy-assumed",
            Self::OutsideRange(_) | Self::Refused(_) => "outside-range",
        }
    }

    /// Returns the value to accept in place of the reading, SI, where one explains it.
    pub fn accept_si(&self) -> Option<f64> {
        match self {
            Self::UnitSlip { accept_si, .. } => Some(*accept_si),
            Self::OffCurve { accept_si, .. } => *accept_si,
            Self::WrongSpeed { expected_rpm, .. } => Some(expected_rpm.value),
            _ => None,
        }
    }

    /// Says whether the finding doubts a reading.
    pub fn doubts_a_reading(&self) -> bool {
        matches!(
            self,
            Self::UnitSlip { .. }
                | Self::RepeatedEntry { .. }
                | Self::OffCurve { .. }
                | Self::WrongSpeed { .. }
                | Self::Scattered { .. }
                | Self::MetersDisagree { .. }
                | Self::Unsettled { .. }
                | Self::GaugeZero { .. }
                | Self::ColumnSlip { .. }
                | Self::OutsideMeterRange { .. }
                | Self::VacuumBeyondAtmosphere { .. }
                | Self::PowerFactorAboveOne { .. }
                | Self::VoltAmperesAsWatts { .. }
                | Self::PowerTooSmallForHead { .. }
                | Self::EfficiencyImplausible { .. }
                | Self::StandbyTooHigh { .. }
                | Self::DoesNotRise { .. }
        )
    }
}
