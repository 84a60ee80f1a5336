//! A bed of sand, from the size of its grains: what a filter's media should take when nobody printed it.

use crate::error::HydraulicsError;
use crate::quantity::Quantity;
use crate::warning::{Answer, Warning};
use crate::water::Water;

/// The Reynolds numbers of the bed, Re/(1 − ε), over which the equation was fitted.
const RANGE_OF_REYNOLDS: (f64, f64) = (0.0, 2_300.0);

/// A bed of grains.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GranularBed {
    /// Diameter of a sphere with the surface per volume of the grains, m.
    pub grain_m: f64,
    /// Depth of the bed along the flow, m.
    pub depth_m: f64,
    /// Area across the flow, m².
    pub area_m2: f64,
    /// Volume of the voids over that of the bed.
    pub porosity: f64,
}

/// Computes the pressure that a clean bed of grains takes.
///
/// # Equation
/// Δp/L = 150 μ (1 − ε)² v / (ε³ d²) + 1.75 ρ (1 − ε) v² / (ε³ d), v = Q/A
///
/// # Inputs
/// `bed`: grain, depth and area above 0, porosity above 0 and below 1. `flow_m3s`: 0 or more. `water`: density and viscosity.
///
/// # Returns
/// Pressure drop in Pa.
///
/// # Validity
/// ρ v d / (μ (1 − ε)) up to 2300 (Jones and Krier 1983, as printed in the Python package fluids 1.3.1), beyond with a
/// warning. Pool sand at its highest rate has about 10:
/// the first, linear term is nearly all of it.
///
/// # Accuracy
/// Of the method: some 15 % for near-round grains whose porosity is known (usual statement, from memory); porosity that
/// is off by 0.02 moves it by another 15 %.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::BelowZero`], [`HydraulicsError::OutOfRange`].
///
/// # Source
/// S. Ergun, "Fluid flow through packed columns", Chem. Eng. Prog. 48 (1952) 89-94.
///
/// # Checked against
/// `validation/granular-bed/fluids`
///
/// # Example
/// ```
/// use hydraulics::{equipment::{GranularBed, granular_bed_pressure_pa}, water::Water};
/// let bed = GranularBed { grain_m: 8e-4, depth_m: 1.0, area_m2: 1.0, porosity: 0.4 };
/// let water = Water { density_kg_m3: 1e3, dynamic_viscosity_pa_s: 1e-3, ..Water::fresh(293.15).unwrap() };
/// let drop = granular_bed_pressure_pa(&bed, 1e-3, &water).unwrap();
/// assert!((drop.value - 1_338.867).abs() < 1e-3); // Pa
/// ```
pub fn granular_bed_pressure_pa(
    bed: &GranularBed,
    flow_m3s: f64,
    water: &Water,
) -> Result<Answer<f64>, HydraulicsError> {
    const VISCOUS: f64 = 150.0;
    const INERTIAL: f64 = 1.75;
    let grain_m = Quantity::Grain.above_zero(bed.grain_m)?;
    let depth_m = Quantity::BedDepth.above_zero(bed.depth_m)?;
    let area_m2 = Quantity::Area.above_zero(bed.area_m2)?;
    let voids = Quantity::Porosity.above_zero(bed.porosity)?;
    let solids = Quantity::Porosity.above_zero(1.0 - voids)?;
    let viscosity_pa_s = Quantity::DynamicViscosity.above_zero(water.dynamic_viscosity_pa_s)?;
    let density_kg_m3 = Quantity::Density.above_zero(water.density_kg_m3)?;
    let velocity_m_s = Quantity::Flow.zero_or_more(flow_m3s)? / area_m2;
    let voids_cubed = voids * voids * voids;
    let viscous = VISCOUS * viscosity_pa_s * solids * solids * velocity_m_s
        / (voids_cubed * grain_m * grain_m);
    let inertial =
        INERTIAL * density_kg_m3 * solids * velocity_m_s * velocity_m_s / (voids_cubed * grain_m);
    let reynolds = density_kg_m3 * velocity_m_s * grain_m / (viscosity_pa_s * solids);
    let warning = Warning::outside(
        "drop of a granular bed",
        Quantity::Reynolds,
        reynolds,
        RANGE_OF_REYNOLDS,
    );
    Ok(Answer::new(depth_m * (viscous + inertial), warning))
}

#[cfg(test)]
mod tests {
    use super::*;

    const BED: GranularBed = GranularBed {
        grain_m: 0.5e-3,
        depth_m: 0.45,
        area_m2: 0.29,
        porosity: 0.42,
    };

    #[test]
    fn a_fast_flow_through_a_bed_is_extrapolated_and_says_so() {
        let water = Water::fresh(300.0).unwrap();
        let slow = granular_bed_pressure_pa(&BED, 3e-3, &water).unwrap();
        assert!(slow.warnings.is_empty());
        let fast = granular_bed_pressure_pa(&BED, 1.0, &water).unwrap();
        assert!(matches!(fast.warnings[..], [Warning::OutsideRange { .. }]));
    }

    #[test]
    fn a_bed_without_voids_or_without_grains_is_refused() {
        let water = Water::fresh(300.0).unwrap();
        for porosity in [0.0, 1.0, 1.2, -0.1, f64::NAN] {
            let bed = GranularBed { porosity, ..BED };
            assert!(granular_bed_pressure_pa(&bed, 1e-3, &water).is_err());
        }
        let bed = GranularBed {
            grain_m: 0.0,
            ..BED
        };
        assert!(granular_bed_pressure_pa(&bed, 1e-3, &water).is_err());
        assert!(granular_bed_pressure_pa(&BED, -1e-3, &water).is_err());
    }
}
