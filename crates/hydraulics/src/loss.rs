//! Head and pressure that a run of pipe takes from the water: friction and minor losses together.

use core::f64::consts::PI;

use crate::constants::STANDARD_GRAVITY_M_S2;
use crate::error::HydraulicsError;
use crate::friction::{
    HIGHEST_RELATIVE_ROUGHNESS, HIGHEST_REYNOLDS, LAMINAR_REYNOLDS, TURBULENT_REYNOLDS,
    darcy_friction_factor, reynolds,
};
use crate::quantity::Quantity;
use crate::warning::Warning;
use crate::water::Water;

/// A run of pipe of one bore.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PipeRun {
    /// Inside diameter in m.
    pub bore_m: f64,
    /// Absolute roughness of the wall in m.
    pub roughness_m: f64,
    /// Length in m.
    pub length_m: f64,
    /// Sum of the minor-loss coefficients K of what sits in the run, on its own velocity head.
    pub minor_loss_k: f64,
}

/// What a run takes at one flow.
#[derive(Clone, Debug, PartialEq)]
pub struct PipeLoss {
    /// Mean velocity in m/s.
    pub velocity_m_s: f64,
    /// Reynolds number.
    pub reynolds: f64,
    /// Darcy's friction factor; `None` at rest, where it has no value.
    pub friction_factor: Option<f64>,
    /// Loss of head in m of the flowing water.
    pub head_m: f64,
    /// The same loss as a pressure in Pa.
    pub pressure_pa: f64,
    /// What a reader must know beside the numbers.
    pub warnings: Vec<Warning>,
}

/// Computes the loss of head in a run of pipe.
///
/// # Equation
/// h = (f L / D + K) v² / (2 g), Δp = ρ g h, v = Q / (π D² / 4)
///
/// # Inputs
/// `run`: bore above 0 m; roughness 0 m or more and below half of the bore; length 0 m or more; K 0 or more.
/// `flow_m3s`: 0 m³/s or more. `water`: density and viscosity above 0.
///
/// # Returns
/// Velocity, Reynolds number, Darcy's friction factor, head, pressure, and what to warn of.
///
/// # Validity
/// A full round pipe in developed flow. Beyond Re = 1e8 or ε/D = 0.05 the answer is extrapolated and carries a
/// [`Warning`]; so does any answer between Re = 2000 and 4000.
///
/// # Accuracy
/// As [`darcy_friction_factor`]; four or five roundings more.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::BelowZero`], [`HydraulicsError::RoughnessFillsBore`],
/// and [`HydraulicsError::HeadNotFinite`] where the numbers overflow.
///
/// # Source
/// Darcy-Weisbach equation, as in Crane Technical Paper 410, equation 1-4 (number from memory).
///
/// # Checked against
/// `validation/hazen/fluids`, `validation/handbook-friction/crane-tp410-7-1`
///
/// # Example
/// ```
/// use hydraulics::{loss::{PipeRun, pipe_loss}, pipe::{PVC_ROUGHNESS_M, PipeSpec}, water::Water};
/// let run = PipeRun {
///     bore_m: PipeSpec::PvcSchedule40.size(2.0 * 0.0254).unwrap().bore_m,
///     roughness_m: PVC_ROUGHNESS_M,
///     length_m: 30.48,
///     minor_loss_k: 0.0,
/// };
/// let loss = pipe_loss(&run, 3.785411784e-3, &Water::fresh(293.15).unwrap()).unwrap();
/// assert!((loss.head_m / 0.3048 - 5.485).abs() < 5e-4); // ft in 100 ft at 60 gpm
/// ```
pub fn pipe_loss(run: &PipeRun, flow_m3s: f64, water: &Water) -> Result<PipeLoss, HydraulicsError> {
    check(run, flow_m3s, water)?;
    let velocity_m_s = flow_m3s / (0.25 * PI * run.bore_m * run.bore_m);
    let reynolds = reynolds(velocity_m_s, run.bore_m, water);
    let relative_roughness = run.roughness_m / run.bore_m;
    let friction_factor =
        moves(reynolds).then(|| darcy_friction_factor(reynolds, relative_roughness));
    let coefficient = friction_factor.unwrap_or(0.0) * run.length_m / run.bore_m + run.minor_loss_k;
    let head_m = coefficient * velocity_m_s * velocity_m_s / (2.0 * STANDARD_GRAVITY_M_S2);
    let pressure_pa = water.density_kg_m3 * STANDARD_GRAVITY_M_S2 * head_m;
    if !(reynolds.is_finite() && head_m.is_finite() && pressure_pa.is_finite()) {
        return Err(HydraulicsError::HeadNotFinite {
            flow_m3s,
            bore_m: run.bore_m,
        });
    }
    Ok(PipeLoss {
        velocity_m_s,
        reynolds,
        friction_factor,
        head_m,
        pressure_pa,
        warnings: warnings(reynolds, relative_roughness)
            .into_iter()
            .flatten()
            .collect(),
    })
}

/// Whether the flow is more than rest. Below this Reynolds number no pipe can tell, and 64 / Re would overflow.
fn moves(reynolds: f64) -> bool {
    const REST_REYNOLDS: f64 = 1e-200;
    reynolds > REST_REYNOLDS
}

fn check(run: &PipeRun, flow_m3s: f64, water: &Water) -> Result<(), HydraulicsError> {
    let bore_m = Quantity::Bore.above_zero(run.bore_m)?;
    let roughness_m = Quantity::Roughness.zero_or_more(run.roughness_m)?;
    Quantity::Length.zero_or_more(run.length_m)?;
    Quantity::MinorLoss.zero_or_more(run.minor_loss_k)?;
    Quantity::Flow.zero_or_more(flow_m3s)?;
    Quantity::Density.above_zero(water.density_kg_m3)?;
    Quantity::DynamicViscosity.above_zero(water.dynamic_viscosity_pa_s)?;
    if 2.0 * roughness_m < bore_m {
        Ok(())
    } else {
        Err(HydraulicsError::RoughnessFillsBore {
            roughness_m,
            bore_m,
        })
    }
}

/// What must be said of a friction factor, in a fixed room: an inner loop asks too.
pub(crate) fn warnings(reynolds: f64, relative_roughness: f64) -> [Option<Warning>; 3] {
    const CORRELATION: &str = "friction factor";
    let in_transition = reynolds > LAMINAR_REYNOLDS && reynolds < TURBULENT_REYNOLDS;
    let transition = in_transition.then_some(Warning::TransitionRegime { reynolds });
    let fast = Warning::outside(
        CORRELATION,
        Quantity::Reynolds,
        reynolds,
        (0.0, HIGHEST_REYNOLDS),
    );
    let rough = Warning::outside(
        CORRELATION,
        Quantity::RelativeRoughness,
        relative_roughness,
        (0.0, HIGHEST_RELATIVE_ROUGHNESS),
    );
    [transition, fast, rough]
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::pipe::PVC_ROUGHNESS_M;

    fn water() -> Water {
        Water::fresh(300.0).unwrap()
    }

    const RUN: PipeRun = PipeRun {
        bore_m: 0.05,
        roughness_m: PVC_ROUGHNESS_M,
        length_m: 20.0,
        minor_loss_k: 3.0,
    };

    /// The flow that has a given Reynolds number in [`RUN`].
    fn flow_at(reynolds: f64) -> f64 {
        let water = water();
        let kinematic_m2_s = water.dynamic_viscosity_pa_s / water.density_kg_m3;
        0.25 * PI * RUN.bore_m * kinematic_m2_s * reynolds
    }

    #[test]
    fn water_at_rest_loses_nothing_and_has_no_friction_factor() {
        for flow_m3s in [0.0, 5e-324, 1e-210] {
            let loss = pipe_loss(&RUN, flow_m3s, &water()).unwrap();
            assert!(
                loss.head_m.abs() < f64::MIN_POSITIVE && loss.pressure_pa.abs() < f64::MIN_POSITIVE
            );
            assert_eq!((loss.friction_factor, loss.warnings.len()), (None, 0));
        }
    }

    #[test]
    fn the_impossible_is_refused_by_name() {
        let refused = |change: fn(&mut PipeRun), flow_m3s: f64| {
            let mut run = RUN;
            change(&mut run);
            pipe_loss(&run, flow_m3s, &water()).unwrap_err().to_string()
        };
        assert!(refused(|run| run.bore_m = 0.0, 0.01).starts_with("the bore is 0 m"));
        assert!(refused(|run| run.bore_m = f64::INFINITY, 0.01).starts_with("the bore is inf m"));
        assert!(refused(|run| run.length_m = -2.0, 0.01).starts_with("the length is -2 m"));
        assert!(refused(|run| run.minor_loss_k = -1.0, 0.01).contains("coefficient K is -1;"));
        assert!(
            refused(|run| run.roughness_m = f64::NAN, 0.01).starts_with("the roughness is NaN")
        );
        assert!(
            refused(|run| run.roughness_m = 0.025, 0.01).contains("less than half of the bore")
        );
        assert!(refused(|_| (), -0.01).starts_with("the flow is -0.01 m3/s"));
        assert!(refused(|_| (), 1e200).ends_with("beyond all numbers"));
        let dry = Water {
            density_kg_m3: 0.0,
            ..water()
        };
        assert!(pipe_loss(&RUN, 0.01, &dry).is_err());
    }

    #[test]
    fn an_answer_out_of_range_says_so() {
        let kinds = |run: &PipeRun, reynolds: f64| {
            pipe_loss(run, flow_at(reynolds), &water())
                .unwrap()
                .warnings
        };
        assert!(kinds(&RUN, 1999.0).is_empty());
        assert!(
            matches!(kinds(&RUN, 3000.0)[..], [Warning::TransitionRegime { reynolds }] if (reynolds - 3000.0).abs() < 1e-6)
        );
        assert!(kinds(&RUN, 4001.0).is_empty());
        assert!(matches!(
            kinds(&RUN, 2e8)[..],
            [Warning::OutsideRange {
                quantity: Quantity::Reynolds,
                ..
            }]
        ));
        let rough = PipeRun {
            roughness_m: 0.003,
            ..RUN
        };
        assert!(matches!(
            kinds(&rough, 1e5)[..],
            [Warning::OutsideRange {
                quantity: Quantity::RelativeRoughness,
                ..
            }]
        ));
    }

    proptest! {
        #[test]
        fn head_rises_strictly_with_flow(
            ln_re in 0.0_f64..18.0, ln_step in -9.0_f64..0.0, roughness_m in 0.0_f64..2.5e-3,
        ) {
            let run = PipeRun { roughness_m, ..RUN };
            let flow = flow_at(numerics::elementary::exp(ln_re));
            let more = flow * (1.0 + numerics::elementary::exp(ln_step));
            let head = |flow: f64| pipe_loss(&run, flow, &water()).unwrap().head_m;
            prop_assert!(head(more) > head(flow));
        }

        #[test]
        fn pressure_is_the_weight_of_the_head(flow in 0.0_f64..0.1) {
            let water = water();
            let loss = pipe_loss(&RUN, flow, &water).unwrap();
            let weight_pa = water.density_kg_m3 * STANDARD_GRAVITY_M_S2 * loss.head_m;
            // The same product, perhaps in another order.
            prop_assert!((loss.pressure_pa - weight_pa).abs() <= 1e-15 * weight_pa);
        }

        #[test]
        fn friction_grows_with_length_and_minor_loss_with_k(flow in 1e-6_f64..0.1, factor in 1.0_f64..50.0) {
            let head = |length_m: f64, minor_loss_k: f64| {
                let run = PipeRun { length_m, minor_loss_k, ..RUN };
                pipe_loss(&run, flow, &water()).unwrap().head_m
            };
            // A few roundings.
            prop_assert!((head(factor, 0.0) / head(1.0, 0.0) / factor - 1.0).abs() < 1e-14);
            prop_assert!((head(0.0, factor) / head(0.0, 1.0) / factor - 1.0).abs() < 1e-14);
            prop_assert!((head(20.0, 3.0) / (head(20.0, 0.0) + head(0.0, 3.0)) - 1.0).abs() < 1e-14);
        }

        /// The same Reynolds number and relative roughness in pipes of another size: the loss in velocity heads is the same.
        #[test]
        fn the_loss_in_velocity_heads_depends_on_pure_numbers_only(
            reynolds in 100.0_f64..1e6, scale in 0.1_f64..10.0,
        ) {
            let scaled = PipeRun {
                bore_m: RUN.bore_m * scale,
                roughness_m: RUN.roughness_m * scale,
                length_m: RUN.length_m * scale,
                ..RUN
            };
            let flow = flow_at(reynolds);
            let small = pipe_loss(&RUN, flow, &water()).unwrap();
            let large = pipe_loss(&scaled, flow * scale, &water()).unwrap();
            // Head goes with velocity squared, that is with 1/scale²; in the bridge G moves by 1.2 of Re's rounding.
            prop_assert!((large.head_m * scale * scale / small.head_m - 1.0).abs() < 1e-13);
        }
    }
}
