//! The two friction laws side by side for one run, because a handbook and the physics differ and a reader asks why.
//!
//! Only the friction of the pipe is compared: the Hazen-Williams formula knows no fittings.

use super::hazen_williams_head_m;
use crate::constants::ZERO_CELSIUS_K;
use crate::error::HydraulicsError;
use crate::loss::{PipeLoss, PipeRun, pipe_loss};
use crate::quantity::Quantity;
use crate::warning::{Answer, Warning};
use crate::water::Water;

/// The coefficient C of plastic pipe.
///
/// # Source
/// Illinois Administrative Code 77, part 906, appendix A, exhibit I ("Schedule 40 plastic pipe, C = 150"); other
/// charts take 140, which gives 13.6 % more head.
pub const PLASTIC_PIPE_C: f64 = 150.0;

/// The water that the formula knows, K: 60 °F. It has no viscosity in it, so that it reads high in the warmer water
/// of a pool; that is the reason to state beside a ratio.
///
/// # Source
/// Common statement of handbooks, from memory.
pub const HAZEN_WILLIAMS_DESIGN_WATER_K: f64 = ZERO_CELSIUS_K + (60.0 - 32.0) / 1.8;

/// The bores for which the formula was made, m: about 2 in to 6 ft (from memory of hydraulic textbooks).
pub const HAZEN_WILLIAMS_BORE_M: (f64, f64) = (0.05, 1.85);

/// The velocities for which the formula was made, m/s: up to about 10 ft/s (from memory of hydraulic textbooks).
pub const HAZEN_WILLIAMS_VELOCITY_M_S: (f64, f64) = (0.0, 3.0);

/// The water for which the formula was made, K: 4 to 25 °C, about the 60 °F of its tests (from memory of
/// hydraulic textbooks).
pub const HAZEN_WILLIAMS_WATER_K: (f64, f64) = (ZERO_CELSIUS_K + 4.0, ZERO_CELSIUS_K + 25.0);

/// One run by both laws.
#[derive(Clone, Debug, PartialEq)]
pub struct BothFrictionLaws {
    /// The friction of the pipe alone by Darcy-Weisbach, without its minor losses.
    pub darcy_weisbach: PipeLoss,
    /// The head by the Hazen-Williams formula, in m.
    pub hazen_williams_m: f64,
    /// Hazen-Williams over Darcy-Weisbach; `None` at rest and in a run without length.
    pub ratio: Option<f64>,
}

/// Computes the friction of one run by Darcy-Weisbach and by the Hazen-Williams formula.
///
/// # Equation
/// As [`pipe_loss`] with K = 0, and [`hazen_williams_head_m`].
///
/// # Inputs
/// `run`, `flow_m3s`, `water`: as [`pipe_loss`]. `c`: the coefficient C, above 0, such as [`PLASTIC_PIPE_C`].
///
/// # Returns
/// Both heads and their ratio, with a [`Warning`] per input outside the range of the formula: bore 0.05 to 1.85 m,
/// velocity up to 3 m/s, water of 4 to 25 °C. The warnings of Darcy-Weisbach stay with its loss. The reason for a
/// ratio away from 1 is that the formula knows one water, [`HAZEN_WILLIAMS_DESIGN_WATER_K`], and one exponent.
///
/// # Validity
/// As either law. Laminar flow follows Hazen-Williams in no way.
///
/// # Accuracy
/// The ratio is that of two formulas and says nothing of the wall, which both take as new.
///
/// # Errors
/// As [`pipe_loss`] and [`hazen_williams_head_m`].
///
/// # Source
/// As [`pipe_loss`] and [`hazen_williams_head_m`].
///
/// # Checked against
/// `validation/hazen/fluids`, `validation/hazen/warm-water`
///
/// # Example
/// ```
/// use hydraulics::{friction::{PLASTIC_PIPE_C, both_friction_laws}, loss::PipeRun, water::Water};
/// let run = PipeRun { bore_m: 0.0525018, roughness_m: 1.5e-6, length_m: 30.48, minor_loss_k: 0.0 };
/// let warm = Water::fresh(300.928).unwrap(); // 82 degF
/// let both = both_friction_laws(&run, 3.785411784e-3, &warm, PLASTIC_PIPE_C).unwrap();
/// assert!((both.value.ratio.unwrap() - 1.055).abs() < 5e-4);
/// assert_eq!(both.warnings.len(), 1); // the water is warmer than that of the formula
/// ```
pub fn both_friction_laws(
    run: &PipeRun,
    flow_m3s: f64,
    water: &Water,
    c: f64,
) -> Result<Answer<BothFrictionLaws>, HydraulicsError> {
    let friction_only = PipeRun {
        minor_loss_k: 0.0,
        ..*run
    };
    let darcy_weisbach = pipe_loss(&friction_only, flow_m3s, water)?;
    let hazen_williams_m = hazen_williams_head_m(run.length_m, flow_m3s, run.bore_m, c)?;
    let ratio = hazen_williams_m / darcy_weisbach.head_m;
    let warnings = warnings(run.bore_m, darcy_weisbach.velocity_m_s, water.temperature_k);
    let value = BothFrictionLaws {
        darcy_weisbach,
        hazen_williams_m,
        ratio: ratio.is_finite().then_some(ratio),
    };
    Ok(Answer::new(value, warnings))
}

fn warnings(bore_m: f64, velocity_m_s: f64, temperature_k: f64) -> impl Iterator<Item = Warning> {
    let outside =
        |quantity, value, range| Warning::outside("Hazen-Williams head", quantity, value, range);
    [
        outside(Quantity::Bore, bore_m, HAZEN_WILLIAMS_BORE_M),
        outside(
            Quantity::Velocity,
            velocity_m_s,
            HAZEN_WILLIAMS_VELOCITY_M_S,
        ),
        outside(
            Quantity::WaterTemperature,
            temperature_k,
            HAZEN_WILLIAMS_WATER_K,
        ),
    ]
    .into_iter()
    .flatten()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const RUN: PipeRun = PipeRun {
        bore_m: 0.0525018,
        roughness_m: 1.5e-6,
        length_m: 30.0,
        minor_loss_k: 2.0,
    };

    fn both(run: &PipeRun, flow_m3s: f64, temperature_k: f64) -> Answer<BothFrictionLaws> {
        let water = Water::fresh(temperature_k).unwrap();
        both_friction_laws(run, flow_m3s, &water, PLASTIC_PIPE_C).unwrap()
    }

    #[test]
    fn minor_losses_are_left_out_of_the_comparison() {
        let bare = PipeRun {
            minor_loss_k: 0.0,
            ..RUN
        };
        assert_eq!(both(&RUN, 4e-3, 290.0), both(&bare, 4e-3, 290.0));
    }

    #[test]
    fn rest_has_no_ratio() {
        assert_eq!(both(&RUN, 0.0, 290.0).value.ratio, None);
        assert_eq!(
            both(
                &PipeRun {
                    length_m: 0.0,
                    ..RUN
                },
                4e-3,
                290.0
            )
            .value
            .ratio,
            None
        );
    }

    #[test]
    fn each_way_out_of_the_range_is_named() {
        let named = |run: &PipeRun, flow_m3s: f64, temperature_k: f64| {
            let warnings = both(run, flow_m3s, temperature_k).warnings;
            warnings
                .into_iter()
                .map(|warning| match warning {
                    Warning::OutsideRange { quantity, .. } => quantity,
                    Warning::TransitionRegime { .. } | Warning::NoSplitLaw => {
                        panic!("no matter of this formula")
                    }
                })
                .collect::<Vec<_>>()
        };
        assert_eq!(named(&RUN, 4e-3, 290.0), []);
        assert_eq!(named(&RUN, 4e-3, 303.0), [Quantity::WaterTemperature]);
        assert_eq!(named(&RUN, 8e-3, 290.0), [Quantity::Velocity]);
        let narrow = PipeRun {
            bore_m: 0.04,
            ..RUN
        };
        assert_eq!(named(&narrow, 2e-3, 290.0), [Quantity::Bore]);
    }

    proptest! {
        #[test]
        fn the_formula_reads_higher_the_warmer_the_water(
            flow in 1e-3_f64..6e-3, cold in 274.0_f64..310.0, step in 0.1_f64..20.0,
        ) {
            let ratio = |temperature_k: f64| both(&RUN, flow, temperature_k).value.ratio.unwrap();
            prop_assert!(ratio(cold + step) > ratio(cold));
        }
    }
}
