//! Kv and Cv, the flow coefficients in which makers rate valves, and K.
//!
//! Kv is the flow of water in m³/h at a loss of 1 bar, Cv that in US gallons per minute at 1 psi. They
//! are numbers in those units by definition, so their units stand in no name here.

use super::finite;
use crate::error::HydraulicsError;
use crate::quantity::Quantity;

/// Cv over Kv.
///
/// # Source
/// Exact: (231 in³, 60 s/min, 0.45359237 kg · 9.80665 m/s² over 1 in²) against (m³, 3600 s/h, 1e5 Pa).
const CV_PER_KV: f64 = 1.156_099_228_353_656_6;

/// K Kv² / D⁴ in (m³/h)²/m⁴: π²/8 · 3600² · 1e5 / ρ at ρ = 999.297 kg/m³.
///
/// # Source
/// Crane Technical Paper 410M, 2009 (0.04 with D in mm, squared), as printed in the Python package fluids 1.3.1
/// (`fluids.fittings.Kv_to_K`). At 998.2 kg/m³, 20 °C, the factor is 0.11 % larger.
const K_PER_KV: f64 = 1.6e9;

/// Converts Kv to Cv.
///
/// # Equation
/// Cv = 1.1561 Kv
///
/// # Inputs
/// `kv`: above 0 m³/h at 1 bar.
///
/// # Returns
/// Cv in US gpm at 1 psi.
///
/// # Accuracy
/// One rounding. Kv = 0.865 Cv of the standard is this factor rounded; the 1.17 of some catalogues is wrong.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`].
///
/// # Source
/// Exact by the definition of the units; IEC 60534-2-1 prints 0.865.
///
/// # Checked against
/// `validation/fittings/fluids`
///
/// # Example
/// ```
/// let cv = hydraulics::fittings::flow_coefficient::cv_of_kv(2.0).unwrap();
/// assert!((cv - 2.312198).abs() < 1e-6);
/// ```
pub fn cv_of_kv(kv: f64) -> Result<f64, HydraulicsError> {
    finite(Quantity::FlowCoefficientKv.above_zero(kv)? * CV_PER_KV)
}

/// Converts Cv to Kv.
///
/// # Equation
/// Kv = Cv / 1.1561
///
/// # Inputs
/// `cv`: above 0 US gpm at 1 psi.
///
/// # Returns
/// Kv in m³/h at 1 bar.
///
/// # Accuracy
/// One rounding.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`].
///
/// # Source
/// As [`cv_of_kv`].
///
/// # Checked against
/// `validation/fittings/fluids`
///
/// # Example
/// ```
/// let kv = hydraulics::fittings::flow_coefficient::kv_of_cv(1.0).unwrap();
/// assert!((kv - 0.864978).abs() < 1e-6);
/// ```
pub fn kv_of_cv(cv: f64) -> Result<f64, HydraulicsError> {
    Ok(Quantity::FlowCoefficientCv.above_zero(cv)? / CV_PER_KV)
}

/// Converts Kv to a loss coefficient.
///
/// # Equation
/// K = 1.6e9 D⁴ / Kv²
///
/// # Inputs
/// `kv`: above 0 m³/h at 1 bar. `bore_m`: above 0 m.
///
/// # Returns
/// K on the velocity in the bore.
///
/// # Validity
/// A rating in water of 999.297 kg/m³ (60 °F at 7 bar). K itself holds for water of any density.
///
/// # Accuracy
/// The density of the rating is a convention: others move K by 0.1 %.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// Crane Technical Paper 410M, 2009, as printed in the Python package fluids 1.3.1 (`fluids.fittings.Kv_to_K`).
///
/// # Checked against
/// `validation/fittings/fluids`, `validation/handbook-fittings/crane-tp410-7-2`
///
/// # Example
/// ```
/// let k = hydraulics::fittings::flow_coefficient::k_of_kv(500.0, 0.154).unwrap();
/// assert!((k - 3.6).abs() < 1e-3);
/// ```
pub fn k_of_kv(kv: f64, bore_m: f64) -> Result<f64, HydraulicsError> {
    let kv = Quantity::FlowCoefficientKv.above_zero(kv)?;
    let bore_m = Quantity::Bore.above_zero(bore_m)?;
    let area = bore_m * bore_m / kv;
    finite(K_PER_KV * area * area)
}

/// Converts a loss coefficient to Kv.
///
/// # Equation
/// Kv = 4e4 D² / √K
///
/// # Inputs
/// `k`: on the velocity in the bore, above 0. `bore_m`: above 0 m.
///
/// # Returns
/// Kv in m³/h at 1 bar.
///
/// # Validity
/// As [`k_of_kv`].
///
/// # Accuracy
/// As [`k_of_kv`].
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::LossNotFinite`].
///
/// # Source
/// As [`k_of_kv`].
///
/// # Checked against
/// `validation/fittings/fluids`
///
/// # Example
/// ```
/// let kv = hydraulics::fittings::flow_coefficient::kv_of_k(3.6, 0.154).unwrap();
/// assert!((kv - 500.0).abs() < 0.1);
/// ```
pub fn kv_of_k(k: f64, bore_m: f64) -> Result<f64, HydraulicsError> {
    let k = Quantity::MinorLoss.above_zero(k)?;
    let bore_m = Quantity::Bore.above_zero(bore_m)?;
    finite(K_PER_KV.sqrt() * bore_m * bore_m / k.sqrt())
}

#[cfg(test)]
mod tests {
    use core::f64::consts::PI;

    use proptest::prelude::*;

    use super::*;

    #[test]
    fn the_factor_is_that_of_the_units() {
        let gallon_m3 = 231.0 * 0.0254 * 0.0254 * 0.0254;
        let psi_pa = 0.45359237 * 9.80665 / (0.0254 * 0.0254);
        let factor = 1.0 / 3600.0 / (gallon_m3 / 60.0) * f64::sqrt(psi_pa / 1e5);
        assert!((CV_PER_KV / factor - 1.0).abs() < 1e-15);
    }

    #[test]
    fn the_density_of_the_rating_is_the_one_that_is_told() {
        let density_kg_m3 = PI * PI / 8.0 * 3600.0 * 3600.0 * 1e5 / K_PER_KV;
        assert!((density_kg_m3 - 999.297).abs() < 5e-4);
    }

    #[test]
    fn the_impossible_is_refused() {
        for wrong in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(cv_of_kv(wrong).is_err() && kv_of_cv(wrong).is_err());
            assert!(k_of_kv(wrong, 0.05).is_err() && k_of_kv(10.0, wrong).is_err());
            assert!(kv_of_k(wrong, 0.05).is_err() && kv_of_k(2.0, wrong).is_err());
        }
        assert!(k_of_kv(1e-200, 0.05).is_err());
    }

    proptest! {
        #[test]
        fn each_conversion_goes_back(value in 0.01_f64..1e4, bore_m in 0.01_f64..0.3) {
            // A handful of roundings, doubled by the square.
            prop_assert!((kv_of_cv(cv_of_kv(value).unwrap()).unwrap() / value - 1.0).abs() < 1e-15);
            let k = k_of_kv(value, bore_m).unwrap();
            prop_assert!((kv_of_k(k, bore_m).unwrap() / value - 1.0).abs() < 2e-15);
        }

        #[test]
        fn the_rated_flow_takes_the_rated_pressure(kv in 1.0_f64..500.0, bore_m in 0.01_f64..0.3) {
            let velocity_m_s = kv / 3600.0 / (0.25 * PI * bore_m * bore_m);
            let loss_pa = 0.5 * 999.297446 * k_of_kv(kv, bore_m).unwrap() * velocity_m_s * velocity_m_s;
            // The density is written to nine digits.
            prop_assert!((loss_pa / 1e5 - 1.0).abs() < 1e-8);
        }
    }
}
