//! Fresh water: the compact IAPWS equations for liquid water at 0.1 MPa.
//!
//! They serve here because a pool circuit runs at 0.5 to 4 bar, where density differs by less than
//! 0.02 % and viscosity by less than 0.1 % (from memory). Salt does not belong in this file.

use numerics::elementary::{pow, pow_whole};

use super::in_range;
use crate::error::HydraulicsError;

/// Computes the density of liquid water at 0.1 MPa.
///
/// # Equation
/// v = (R T₀ / p₀) (a₅ + Σ aᵢ αⁿ⁽ⁱ⁾ + Σ bᵢ βᵐ⁽ⁱ⁾), α = T₀ / (593 K − T), β = T₀ / (T − 232 K), ρ = 1 / v.
///
/// # Inputs
/// `temperature_k`: 273.15 to 333.15 K.
///
/// # Returns
/// Density in kg/m³.
///
/// # Validity
/// The release holds from 253.15 to 383.15 K; this function accepts the range of a pool circuit.
/// One bar of pressure more adds 0.005 %.
///
/// # Accuracy
/// Within 0.0001 % of IAPWS-95 at 101325 Pa over the accepted range.
///
/// # Errors
/// [`HydraulicsError::TemperatureOutOfRange`].
///
/// # Source
/// IAPWS SR6-08(2011), Revised Supplementary Release on Properties of Liquid Water at 0.1 MPa;
/// coefficients as printed in the Python package iapws 1.5.5.
///
/// # Checked against
/// `validation/water/iapws`, `validation/water/iapws-releases`
///
/// # Example
/// ```
/// let density = hydraulics::water::density_kg_m3(298.15).unwrap();
/// assert!((density - 997.047013).abs() < 5e-7); // kg/m3
/// ```
pub fn density_kg_m3(temperature_k: f64) -> Result<f64, HydraulicsError> {
    in_range(temperature_k).map(liquid_density_kg_m3)
}

/// Computes the dynamic viscosity of liquid water at 0.1 MPa.
///
/// # Equation
/// μ = 10⁻⁶ Pa s · Σ aᵢ (T / 300 K)^bᵢ, four terms.
///
/// # Inputs
/// `temperature_k`: 273.15 to 333.15 K.
///
/// # Returns
/// Dynamic viscosity in Pa s.
///
/// # Validity
/// The release holds from 253.15 to 383.15 K; this function accepts the range of a pool circuit.
///
/// # Accuracy
/// Within 0.005 % of the IAPWS formulation of 2008 (R12-08) at 101325 Pa over the accepted range.
///
/// # Errors
/// [`HydraulicsError::TemperatureOutOfRange`].
///
/// # Source
/// IAPWS SR6-08(2011), Revised Supplementary Release on Properties of Liquid Water at 0.1 MPa, equation 7;
/// coefficients as printed in the Python package iapws 1.5.5.
///
/// # Checked against
/// `validation/water/iapws`, `validation/water/iapws-releases`
///
/// # Example
/// ```
/// let viscosity = hydraulics::water::dynamic_viscosity_pa_s(298.15).unwrap();
/// assert!((viscosity - 889.996774e-6).abs() < 5e-13); // Pa s
/// ```
pub fn dynamic_viscosity_pa_s(temperature_k: f64) -> Result<f64, HydraulicsError> {
    in_range(temperature_k).map(liquid_viscosity_pa_s)
}

/// Computes the pressure at which water boils at its temperature.
///
/// # Equation
/// p = 1 MPa · (2C / (−B + √(B² − 4AC)))⁴; A, B, C are quadratics in ϑ = T + n₉ / (T − n₁₀).
///
/// # Inputs
/// `temperature_k`: 273.15 to 333.15 K.
///
/// # Returns
/// Vapour pressure, absolute, in Pa.
///
/// # Validity
/// The release holds from 273.15 K to the critical point; this function accepts the range of a pool circuit.
///
/// # Accuracy
/// Within 0.01 % of IAPWS-95 over the accepted range.
///
/// # Errors
/// [`HydraulicsError::TemperatureOutOfRange`].
///
/// # Source
/// IAPWS R7-97(2012), Revised Release on the IAPWS Industrial Formulation 1997, region 4, equation 30;
/// coefficients as printed in the Python package iapws 1.5.5.
///
/// # Checked against
/// `validation/water/iapws`, `validation/water/iapws-releases`
///
/// # Example
/// ```
/// let pressure = hydraulics::water::vapour_pressure_pa(300.0).unwrap();
/// assert!((pressure - 3536.58941).abs() < 5e-6); // Pa
/// ```
pub fn vapour_pressure_pa(temperature_k: f64) -> Result<f64, HydraulicsError> {
    in_range(temperature_k).map(saturation_pressure_pa)
}

/// Terms aᵢ and nᵢ, i = 6 to 10, of the volume equation of SR6-08.
const VOLUME_HOT: [(f64, u32); 5] = [
    (6.74458446e3, 4),
    (-2.22521604e5, 5),
    (1.00231247e8, 7),
    (-1.63552118e9, 8),
    (8.32299658e9, 9),
];

/// Terms bᵢ and mᵢ, i = 5 to 10, of the volume equation of SR6-08.
const VOLUME_COLD: [(f64, u32); 6] = [
    (5.78545292e-3, 1),
    (-1.53195665e-2, 2),
    (3.11337859e-2, 3),
    (-4.23546241e-2, 4),
    (3.38713507e-2, 5),
    (-1.19946761e-2, 6),
];

/// The density equation of SR6-08, without a look at its range.
pub(super) fn liquid_density_kg_m3(temperature_k: f64) -> f64 {
    const GAS_CONSTANT_J_KG_K: f64 = 461.51805;
    const REDUCING_TEMPERATURE_K: f64 = 10.0;
    const REDUCING_PRESSURE_PA: f64 = 1e5;
    const A5: f64 = 1.93763157e-2;
    let alpha = REDUCING_TEMPERATURE_K / (593.0 - temperature_k);
    let beta = REDUCING_TEMPERATURE_K / (temperature_k - 232.0);
    let hot: f64 = VOLUME_HOT
        .iter()
        .map(|&(a, n)| a * pow_whole(alpha, n))
        .sum();
    let cold: f64 = VOLUME_COLD
        .iter()
        .map(|&(b, m)| b * pow_whole(beta, m))
        .sum();
    let volume_m3_kg =
        GAS_CONSTANT_J_KG_K * REDUCING_TEMPERATURE_K / REDUCING_PRESSURE_PA * (A5 + hot + cold);
    1.0 / volume_m3_kg
}

/// Terms aᵢ (in µPa s) and bᵢ of the viscosity equation of SR6-08.
const VISCOSITY: [(f64, f64); 4] = [
    (280.68, -1.9),
    (511.45, -7.7),
    (61.131, -19.6),
    (0.45903, -40.0),
];

/// The viscosity equation of SR6-08, without a look at its range.
fn liquid_viscosity_pa_s(temperature_k: f64) -> f64 {
    const MICRO: f64 = 1e-6;
    let reduced = temperature_k / 300.0;
    MICRO
        * VISCOSITY
            .iter()
            .map(|&(a, b)| a * pow(reduced, b))
            .sum::<f64>()
}

/// Coefficients n₁ to n₁₀ of region 4 of the Industrial Formulation 1997.
const SATURATION: [f64; 10] = [
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
];

/// Equation 30 of the Industrial Formulation 1997, without a look at its range.
fn saturation_pressure_pa(temperature_k: f64) -> f64 {
    const MEGA: f64 = 1e6;
    let [n1, n2, n3, n4, n5, n6, n7, n8, n9, n10] = SATURATION;
    let theta = temperature_k + n9 / (temperature_k - n10);
    let a = (theta + n1) * theta + n2;
    let b = (n3 * theta + n4) * theta + n5;
    let c = (n6 * theta + n7) * theta + n8;
    let root = 2.0 * c / ((b * b - 4.0 * a * c).sqrt() - b);
    MEGA * pow_whole(root, 4)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::water::LOWEST_TEMPERATURE_K;

    #[test]
    fn the_equations_hold_over_the_whole_range_of_their_releases() {
        // SR6-08 table 8 and R7-97 table 35, beyond the range that the public functions accept.
        // Half a unit of the last printed digit.
        assert!((liquid_density_kg_m3(260.0) - 997.068360).abs() < 5.1e-7);
        assert!((liquid_density_kg_m3(375.0) - 957.009710).abs() < 5.1e-7);
        assert!((liquid_viscosity_pa_s(260.0) - 3058.36075e-6).abs() < 5.1e-12);
        assert!((liquid_viscosity_pa_s(375.0) - 276.207245e-6).abs() < 5.1e-13);
        assert!((saturation_pressure_pa(500.0) - 2.63889776e6).abs() < 5.1e-3);
        assert!((saturation_pressure_pa(600.0) - 12.3443146e6).abs() < 5.1e-2);
    }

    #[test]
    fn water_is_densest_at_four_degrees() {
        let densest = (0..=1000)
            .map(|i| LOWEST_TEMPERATURE_K + 0.01 * f64::from(i))
            .max_by(|a, b| liquid_density_kg_m3(*a).total_cmp(&liquid_density_kg_m3(*b)))
            .unwrap();
        // 3.98 degC at one atmosphere (textbook, from memory); the curve is flat there.
        assert!((densest - 277.13).abs() < 0.02, "densest at {densest} K");
    }
}
