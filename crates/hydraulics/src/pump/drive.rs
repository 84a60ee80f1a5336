//! What a motor with its drive draws from the supply for a given shaft power.

use crate::error::HydraulicsError;
use crate::quantity::Quantity;

/// Motor and drive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drive {
    /// What the electronics take, W: fans, display, rectifier at no load.
    pub electronics_w: f64,
    /// Shaft power at full load, W.
    pub rated_shaft_w: f64,
    /// Speed at full load, rpm.
    pub rated_rpm: f64,
    /// Loss that neither speed nor load changes, as a share of the rated power.
    pub no_load_share: f64,
    /// Loss that grows with the square of speed, as a share of the rated power at the rated speed.
    pub iron_share: f64,
    /// Loss that grows with the square of load, as a share of the rated power at full load.
    pub copper_share: f64,
    /// Efficiency of the drive's switching, these losses apart.
    pub switching_efficiency: f64,
}

/// Computes the electrical power that a motor with its drive draws.
///
/// # Equation
/// P = P_el + (P_s + P_r (a + b (n/n_r)² + c (P_s/P_r)²)) / η_sw
///
/// # Inputs
/// `drive`: electronics and shares 0 or more, rated power and speed above 0, switching efficiency above 0 to 1.
/// `shaft_w`: 0 or more. `speed_rpm`: 0 or more; at 0 only the electronics are drawn.
///
/// # Returns
/// Electrical power in W.
///
/// # Validity
/// A summary of losses, not of a machine: constant, iron and copper losses stay while the load goes with the cube of
/// speed, so efficiency falls at part load.
///
/// # Accuracy
/// A few per cent of the power where the shares are known; the shares themselves are seldom printed.
///
/// # Errors
/// [`HydraulicsError::BelowZero`], [`HydraulicsError::NotAboveZero`], [`HydraulicsError::OutOfRange`],
/// [`HydraulicsError::NotFinite`].
///
/// # Source
/// Common practice, no source.
///
/// # Checked against
/// Properties: full load gives the efficiency that the shares say, efficiency falls with load, rest draws the electronics.
///
/// # Example
/// ```
/// use hydraulics::pump::{Drive, electrical_power_w};
/// let drive = Drive {
///     electronics_w: 15.0, rated_shaft_w: 1500.0, rated_rpm: 3450.0,
///     no_load_share: 0.01, iron_share: 0.02, copper_share: 0.03, switching_efficiency: 0.96,
/// };
/// let full_w = electrical_power_w(&drive, 1500.0, 3450.0).unwrap();
/// assert!((full_w - (15.0 + 1500.0 * 1.06 / 0.96)).abs() < 1e-9); // W
/// ```
pub fn electrical_power_w(
    drive: &Drive,
    shaft_w: f64,
    speed_rpm: f64,
) -> Result<f64, HydraulicsError> {
    let electronics_w = Quantity::Power.zero_or_more(drive.electronics_w)?;
    let rated_w = Quantity::Power.above_zero(drive.rated_shaft_w)?;
    let ratio =
        Quantity::Speed.zero_or_more(speed_rpm)? / Quantity::Speed.above_zero(drive.rated_rpm)?;
    for share in [drive.no_load_share, drive.iron_share, drive.copper_share] {
        Quantity::LossShare.zero_or_more(share)?;
    }
    let switching = Quantity::Efficiency.above_zero(drive.switching_efficiency)?;
    Quantity::Efficiency.within(switching, (0.0, 1.0))?;
    let load = Quantity::Power.zero_or_more(shaft_w)? / rated_w;
    if ratio > 0.0 {
        let lost = drive.no_load_share
            + drive.iron_share * ratio * ratio
            + drive.copper_share * load * load;
        Quantity::Power.finite(electronics_w + (shaft_w + rated_w * lost) / switching)
    } else {
        Ok(electronics_w)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const DRIVE: Drive = Drive {
        electronics_w: 15.0,
        rated_shaft_w: 1500.0,
        rated_rpm: 3450.0,
        no_load_share: 0.01,
        iron_share: 0.02,
        copper_share: 0.03,
        switching_efficiency: 0.96,
    };

    #[test]
    fn a_pump_at_rest_draws_its_electronics() {
        let standby_w = electrical_power_w(&DRIVE, 0.0, 0.0).unwrap();
        assert!((standby_w - 15.0).abs() < f64::EPSILON);
    }

    #[test]
    fn an_impossible_drive_is_refused() {
        let refused = |change: fn(&mut Drive)| {
            let mut drive = DRIVE;
            change(&mut drive);
            electrical_power_w(&drive, 100.0, 1000.0).is_err()
        };
        assert!(refused(|drive| drive.switching_efficiency = 1.1));
        assert!(refused(|drive| drive.switching_efficiency = 0.0));
        assert!(refused(|drive| drive.iron_share = -0.1));
        assert!(refused(|drive| drive.rated_shaft_w = 0.0));
        assert!(refused(|drive| drive.electronics_w = f64::NAN));
        assert!(electrical_power_w(&DRIVE, -1.0, 1000.0).is_err());
    }

    proptest! {
        #[test]
        fn efficiency_falls_at_part_load(ratio in 0.15_f64..0.95) {
            let efficiency = |ratio: f64| {
                let shaft_w = 1500.0 * ratio * ratio * ratio;
                shaft_w / electrical_power_w(&DRIVE, shaft_w, 3450.0 * ratio).unwrap()
            };
            prop_assert!(efficiency(ratio) < efficiency(1.0));
            prop_assert!(efficiency(0.9 * ratio) < efficiency(ratio));
        }
    }
}
