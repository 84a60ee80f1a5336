//! The least weighted energy factor that the federal standard asks of a pump.

use numerics::elementary::ln;

use super::Provenance;
use crate::error::HydraulicsError;
use crate::quantity::Quantity;

/// A class of pump in the standard.
#[derive(Clone, Copy, Debug, Eq, Hash, PartialEq)]
pub enum PumpClass {
    /// Self-priming filter pump, single phase.
    SelfPriming,
    /// Filter pump that does not prime itself, any phase.
    NonSelfPriming,
    /// Booster of a pressure cleaner.
    PressureCleanerBooster,
}

/// What the standard asks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MinimumEnergyFactor {
    /// The least weighted energy factor, in thousands of US gallons per kWh.
    pub kgal_kwh: f64,
    /// How well the figure is known.
    pub provenance: Provenance,
}

/// The class edge between small and standard-size self-priming pumps, hp.
const STANDARD_SIZE_HP: f64 = 0.711;

/// The power below which the standard is a constant, hp.
const SMALLEST_HP: f64 = 0.13;

/// The power from which the standard asks nothing, hp.
const HIGHEST_HP: f64 = 2.5;

/// Finds the least weighted energy factor of a pump.
///
/// # Equation
/// Self-priming: 5.55 up to 0.13 hp, −1.30 ln(hhp) + 2.90 below 0.711 hp, −2.30 ln(hhp) + 6.59 below 2.5 hp.
/// Not self-priming: 4.60 up to 0.13 hp, −0.85 ln(hhp) + 2.87 below 2.5 hp. Booster: 0.42.
///
/// # Inputs
/// `class`. `hydraulic_power_hp`: rated hydraulic power, above 0 hp; to a booster it does not matter.
///
/// # Returns
/// The minimum with its provenance: printed for self-priming pumps, else from memory. `None` for a filter pump of
/// 2.5 hp and more, of which the standard asks nothing.
///
/// # Validity
/// Pumps made from 19 July 2021 on. The jump at 0.711 hp, from 3.34 to 7.37, is in the standard.
///
/// # Accuracy
/// The standard prints three digits.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`].
///
/// # Source
/// 10 CFR 431.465(f); the lines for self-priming pumps as quoted by a public law library (version effective until
/// 5 August 2024), the others from memory. They meet at 0.13 hp within rounding, which supports them.
///
/// # Checked against
/// `validation/rating/cfr-431`
///
/// # Example
/// ```
/// use hydraulics::rating::{Provenance, PumpClass, minimum_weighted_energy_factor};
/// let minimum = minimum_weighted_energy_factor(PumpClass::SelfPriming, 1.5).unwrap().unwrap();
/// assert!((minimum.kgal_kwh - 5.657).abs() < 1e-3); // kgal/kWh
/// assert_eq!(minimum.provenance, Provenance::Printed);
/// ```
pub fn minimum_weighted_energy_factor(
    class: PumpClass,
    hydraulic_power_hp: f64,
) -> Result<Option<MinimumEnergyFactor>, HydraulicsError> {
    let power_hp = Quantity::HydraulicHorsepower.above_zero(hydraulic_power_hp)?;
    let small = power_hp < HIGHEST_HP;
    let kgal_kwh = match class {
        PumpClass::SelfPriming => small.then(|| self_priming_kgal_kwh(power_hp)),
        PumpClass::NonSelfPriming => small.then(|| non_self_priming_kgal_kwh(power_hp)),
        PumpClass::PressureCleanerBooster => Some(0.42),
    };
    let provenance = match class {
        PumpClass::SelfPriming => Provenance::Printed,
        PumpClass::NonSelfPriming | PumpClass::PressureCleanerBooster => Provenance::FromMemory,
    };
    Ok(kgal_kwh.map(|kgal_kwh| MinimumEnergyFactor {
        kgal_kwh,
        provenance,
    }))
}

fn self_priming_kgal_kwh(power_hp: f64) -> f64 {
    if power_hp <= SMALLEST_HP {
        5.55
    } else if power_hp < STANDARD_SIZE_HP {
        -1.30 * ln(power_hp) + 2.90
    } else {
        -2.30 * ln(power_hp) + 6.59
    }
}

fn non_self_priming_kgal_kwh(power_hp: f64) -> f64 {
    if power_hp <= SMALLEST_HP {
        4.60
    } else {
        -0.85 * ln(power_hp) + 2.87
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn minimum(class: PumpClass, power_hp: f64) -> f64 {
        let minimum = minimum_weighted_energy_factor(class, power_hp).unwrap();
        minimum.unwrap().kgal_kwh
    }

    #[test]
    fn the_lines_meet_where_the_smallest_pumps_end() {
        for class in [PumpClass::SelfPriming, PumpClass::NonSelfPriming] {
            let (at, above) = (minimum(class, 0.13), minimum(class, 0.130_001));
            // The standard rounds to 0.01.
            assert!((at - above).abs() < 5.1e-3, "{class:?}: {at} and {above}");
        }
    }

    #[test]
    fn a_booster_has_one_minimum_and_a_large_pump_none() {
        for power_hp in [0.1, 1.0, 4.0] {
            let ours = minimum(PumpClass::PressureCleanerBooster, power_hp);
            assert!((ours - 0.42).abs() < f64::EPSILON);
        }
        for class in [PumpClass::SelfPriming, PumpClass::NonSelfPriming] {
            assert_eq!(minimum_weighted_energy_factor(class, 2.5), Ok(None));
            assert!(minimum_weighted_energy_factor(class, 0.0).is_err());
        }
    }
}
