//! Physical constants that more than one part of hydraulics needs, each with its source.

/// Standard acceleration of free fall in m/s², exact.
///
/// # Source
/// 3rd General Conference on Weights and Measures (1901), declaration on the unit of mass and the definition of weight;
/// ISO 80000-3:2019.
pub const STANDARD_GRAVITY_M_S2: f64 = 9.80665;

/// Standard atmosphere in Pa, exact.
///
/// # Source
/// 10th General Conference on Weights and Measures (1954), resolution 4.
pub const STANDARD_ATMOSPHERE_PA: f64 = 101_325.0;

/// The ice point, 0 °C in K, exact.
///
/// # Source
/// BIPM, The International System of Units, 9th edition (2019), section 2.3.1.
pub const ZERO_CELSIUS_K: f64 = 273.15;
