//! The flow through a sharp orifice plate with taps at one bore before and half a bore behind.

use core::f64::consts::PI;

use numerics::elementary::{exp, pow};

use super::Meter;
use crate::error::HydraulicsError;
use crate::fittings::{answer, finite};
use crate::friction::reynolds;
use crate::quantity::Quantity;
use crate::warning::{Answer, Warning};
use crate::water::Water;

/// What warnings name.
const CORRELATION: &str = "orifice plate";

/// The standard sets no upper end to the Reynolds number of a plate; the tests behind it end about here (from memory).
const HIGHEST_REYNOLDS: f64 = 5e7;

/// What flows through a plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeteredFlow {
    /// Flow in m³/s.
    pub flow_m3s: f64,
    /// Reynolds number in the pipe.
    pub reynolds: f64,
    /// Discharge coefficient C, without the velocity of approach.
    pub discharge_coefficient: f64,
}

/// Computes the discharge coefficient of a sharp orifice plate with taps at one bore before and half a bore behind.
///
/// # Equation
/// C = 0.5961 + 0.0261 β² − 0.216 β⁸ + 0.000521 (1e6 β / Re)^0.7 + (0.0188 + 0.0063 A) β^3.5 (1e6 / Re)^0.3 +
/// (0.043 + 0.080 e^−10 − 0.123 e^−7)(1 − 0.11 A) β⁴ / (1 − β⁴) − 0.031 (M − 0.8 M^1.1) β^1.3, A = (19000 β / Re)^0.8,
/// M = 2 · 0.47 / (1 − β); and in pipe below D = 71.12 mm 0.011 (0.75 − β)(2.8 − D / 25.4 mm) more
///
/// # Inputs
/// `plate`: bore above 0 m, orifice above 0 m and less than the bore. `reynolds`: in the pipe, above 0.
///
/// # Returns
/// C, without the velocity of approach: the flow coefficient of older books is C / √(1 − β⁴).
///
/// # Validity
/// D from 50 mm to 1 m, orifice from 12.5 mm, β from 0.1 to 0.75, Re from 5000, and from 16000 β² where β > 0.56. Outside the
/// answer carries a warning.
///
/// # Accuracy
/// 0.5 to 0.7 % for a plate made and set to the standard (from memory).
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::FillsBore`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// Reader-Harris and Gallagher equation, ISO 5167-2:2003, as printed in the Python package fluids 1.3.1
/// (`fluids.flow_meter.C_Reader_Harris_Gallagher`).
///
/// # Checked against
/// `validation/fittings/fluids`, `validation/handbook-fittings/crane-tp410-7-23`
///
/// # Example
/// ```
/// use hydraulics::fittings::meter::{Meter, orifice_plate::orifice_plate_discharge_coefficient};
/// let plate = Meter { bore_m: 0.1022604, orifice_m: 0.0508 };
/// let c = orifice_plate_discharge_coefficient(&plate, 7.5e4).unwrap().value;
/// assert!((c - 0.6067).abs() < 1e-4);
/// ```
pub fn orifice_plate_discharge_coefficient(
    plate: &Meter,
    reynolds: f64,
) -> Result<Answer<f64>, HydraulicsError> {
    let ratio = plate.ratio()?;
    let reynolds = Quantity::Reynolds.above_zero(reynolds)?;
    let coefficient = reader_harris_gallagher(plate.bore_m, ratio, reynolds);
    answer(
        Quantity::DischargeCoefficient.above_zero(coefficient)?,
        plate_warnings(plate, ratio, reynolds),
    )
}

/// The kernel of [`orifice_plate_discharge_coefficient`], term by term.
fn reader_harris_gallagher(bore_m: f64, ratio: f64, reynolds: f64) -> f64 {
    /// Where the lower tap sits behind the plate, in bores.
    const LOWER_TAP: f64 = 0.47;
    /// The pipe below which the edge is no longer sharp beside the bore: 2.8 in.
    const SMALL_BORE_IN: f64 = 2.8;
    let square = ratio * ratio;
    let fourth = square * square;
    let slow = pow(19000.0 * ratio / reynolds, 0.8);
    let corner = 0.5961 + 0.0261 * square - 0.216 * fourth * fourth
        + 0.000521 * pow(1e6 * ratio / reynolds, 0.7)
        + (0.0188 + 0.0063 * slow) * pow(ratio, 3.5) * pow(1e6 / reynolds, 0.3);
    let upper = (0.043 + 0.080 * exp(-10.0) - 0.123 * exp(-7.0)) * (1.0 - 0.11 * slow) * fourth
        / (1.0 - fourth);
    let dam = 2.0 * LOWER_TAP / (1.0 - ratio);
    let lower = -0.031 * (dam - 0.8 * pow(dam, 1.1)) * pow(ratio, 1.3);
    let bore_in = bore_m / 0.0254;
    let edge = 0.011 * (0.75 - ratio) * (SMALL_BORE_IN - bore_in).max(0.0);
    corner + upper + lower + edge
}

fn plate_warnings(plate: &Meter, ratio: f64, reynolds: f64) -> impl Iterator<Item = Warning> {
    const BORES_M: (f64, f64) = (0.05, 1.0);
    const RATIOS: (f64, f64) = (0.1, 0.75);
    const LEAST_ORIFICE_M: f64 = 0.0125;
    const LEAST_REYNOLDS: f64 = 5000.0;
    const WIDE_RATIO: f64 = 0.56;
    const WIDE_REYNOLDS: f64 = 16000.0;
    let least_reynolds = if ratio > WIDE_RATIO {
        LEAST_REYNOLDS.max(WIDE_REYNOLDS * ratio * ratio)
    } else {
        LEAST_REYNOLDS
    };
    let outside = |quantity, value, range| Warning::outside(CORRELATION, quantity, value, range);
    [
        outside(Quantity::Bore, plate.bore_m, BORES_M),
        outside(Quantity::DiameterRatio, ratio, RATIOS),
        outside(
            Quantity::OrificeDiameter,
            plate.orifice_m,
            (LEAST_ORIFICE_M, BORES_M.1),
        ),
        outside(
            Quantity::Reynolds,
            reynolds,
            (least_reynolds, HIGHEST_REYNOLDS),
        ),
    ]
    .into_iter()
    .flatten()
}

/// Computes the flow through a sharp orifice plate with taps at one bore before and half a bore behind.
///
/// # Equation
/// Q = C / √(1 − β⁴) · π d² / 4 · √(2 Δp / ρ), with C of that flow
///
/// # Inputs
/// `plate`: as [`orifice_plate_discharge_coefficient`]. `pressure_difference_pa`: between the taps, above 0 Pa. `water`:
/// density and viscosity above 0.
///
/// # Returns
/// Flow, Reynolds number in the pipe, and C.
///
/// # Validity
/// As [`orifice_plate_discharge_coefficient`]; differences up to 250 kPa, beyond which the answer carries a warning.
///
/// # Accuracy
/// As C. The flow is settled to 1e-14 in some six steps, because C hardly moves with it.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::FillsBore`], [`HydraulicsError::LossNotFinite`], and
/// [`HydraulicsError::OrificeFlowNotFound`] where C moves too fast with the flow, which is far from turbulent.
///
/// # Source
/// ISO 5167-1:2003, equation 1; Crane Technical Paper 410, equation 2-23 (numbers from memory).
///
/// # Checked against
/// `validation/handbook-fittings/crane-tp410-7-23`
///
/// # Example
/// ```
/// use hydraulics::{fittings::meter::{Meter, orifice_plate::orifice_plate_flow}, water::Water};
/// let plate = Meter { bore_m: 0.1022604, orifice_m: 0.0508 };
/// let flow = orifice_plate_flow(&plate, 13_800.0, &Water::fresh(288.7).unwrap()).unwrap().value;
/// assert!((flow.flow_m3s * 6e4 - 400.0).abs() < 1.0); // L/min
/// ```
pub fn orifice_plate_flow(
    plate: &Meter,
    pressure_difference_pa: f64,
    water: &Water,
) -> Result<Answer<MeteredFlow>, HydraulicsError> {
    const HIGHEST_DIFFERENCE_PA: f64 = 250e3;
    const MOST_STEPS: u32 = 50;
    const SETTLED: f64 = 1e-14;
    let ratio = plate.ratio()?;
    let difference_pa = Quantity::PressureDrop.above_zero(pressure_difference_pa)?;
    let density_kg_m3 = Quantity::Density.above_zero(water.density_kg_m3)?;
    Quantity::DynamicViscosity.above_zero(water.dynamic_viscosity_pa_s)?;
    let free_flow_m3s =
        plate.area_of_approach_m2(ratio) * (2.0 * difference_pa / density_kg_m3).sqrt();
    let free_velocity_m_s = free_flow_m3s / (0.25 * PI * plate.bore_m * plate.bore_m);
    let free_reynolds = reynolds(free_velocity_m_s, plate.bore_m, water);
    let mut coefficient = 0.6;
    for _ in 0..MOST_STEPS {
        let reynolds = coefficient * free_reynolds;
        let next = finite(reader_harris_gallagher(plate.bore_m, ratio, reynolds))?;
        if (next - coefficient).abs() <= SETTLED * coefficient {
            let flow = MeteredFlow {
                flow_m3s: finite(coefficient * free_flow_m3s)?,
                reynolds,
                discharge_coefficient: coefficient,
            };
            let (quantity, range) = (Quantity::PressureDrop, (0.0, HIGHEST_DIFFERENCE_PA));
            let strong = Warning::outside(CORRELATION, quantity, difference_pa, range);
            let warnings = plate_warnings(plate, ratio, reynolds).chain(strong);
            return Ok(Answer::new(flow, warnings));
        }
        coefficient = next;
    }
    Err(HydraulicsError::OrificeFlowNotFound { steps: MOST_STEPS })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const PLATE: Meter = Meter {
        bore_m: 0.1,
        orifice_m: 0.05,
    };

    fn water() -> Water {
        Water::fresh(290.0).unwrap()
    }

    #[test]
    fn the_impossible_is_refused() {
        let wide = Meter {
            orifice_m: 0.1,
            ..PLATE
        };
        assert!(orifice_plate_discharge_coefficient(&wide, 1e5).is_err());
        assert!(orifice_plate_discharge_coefficient(&PLATE, 0.0).is_err());
        assert!(orifice_plate_flow(&PLATE, 0.0, &water()).is_err());
    }

    #[test]
    fn a_plate_out_of_the_standard_is_told() {
        let warned = |plate: &Meter, reynolds: f64| {
            orifice_plate_discharge_coefficient(plate, reynolds)
                .unwrap()
                .warnings
                .len()
        };
        assert_eq!(warned(&PLATE, 1e5), 0);
        assert_eq!(warned(&PLATE, 4e3), 1);
        assert_eq!(
            warned(
                &Meter {
                    orifice_m: 0.074,
                    ..PLATE
                },
                6e3
            ),
            1
        );
        assert_eq!(
            warned(
                &Meter {
                    orifice_m: 0.08,
                    ..PLATE
                },
                1e5
            ),
            1
        );
        assert_eq!(
            warned(
                &Meter {
                    bore_m: 0.04,
                    orifice_m: 0.01
                },
                1e5
            ),
            2
        );
    }

    #[test]
    fn a_pressure_beyond_the_standard_is_told() {
        let warned = |pa: f64| {
            orifice_plate_flow(&PLATE, pa, &water())
                .unwrap()
                .warnings
                .len()
        };
        assert_eq!([1e4, 3e5].map(warned), [0, 1]);
    }

    #[test]
    fn what_hardly_flows_never_ends_in_a_number_that_is_none() {
        for difference_pa in [1e-300, 1e-30, 1e-9, 1e-3, 1.0, 1e9, 1e300] {
            match orifice_plate_flow(&PLATE, difference_pa, &water()) {
                Ok(flow) => assert!(flow.value.flow_m3s.is_finite() && flow.value.flow_m3s > 0.0),
                Err(error) => assert!(matches!(
                    error,
                    HydraulicsError::LossNotFinite | HydraulicsError::OrificeFlowNotFound { .. }
                )),
            }
        }
    }

    proptest! {
        #[test]
        fn a_plate_flows_with_about_the_root_of_its_pressure(difference_pa in 1e3_f64..1e5, factor in 1.1_f64..2.0, ratio in 0.2_f64..0.7) {
            let plate = Meter { orifice_m: ratio * PLATE.bore_m, ..PLATE };
            let flow = |pa: f64| orifice_plate_flow(&plate, pa, &water()).unwrap().value;
            let (little, more) = (flow(difference_pa), flow(factor * difference_pa));
            // C falls with the flow, by at most 4 % over the Reynolds numbers of this test.
            let growth = more.flow_m3s / little.flow_m3s / factor.sqrt();
            prop_assert!((0.96..=1.0).contains(&growth));
            let again = orifice_plate_discharge_coefficient(&plate, more.reynolds).unwrap().value;
            prop_assert!((again / more.discharge_coefficient - 1.0).abs() < 1e-13);
        }
    }
}
