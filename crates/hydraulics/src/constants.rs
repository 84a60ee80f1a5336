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

/// A foot in m, exact.
///
/// # Source
/// A. Thompson, B. N. Taylor, NIST Special Publication 811 (2008), appendix B.8.
pub const FOOT_M: f64 = 0.3048;

/// A US gallon in m³, exact: 231 cubic inches.
///
/// # Source
/// A. Thompson, B. N. Taylor, NIST Special Publication 811 (2008), appendix B.8; 231 in³ by law.
pub const US_GALLON_M3: f64 = 3.785411784e-3;

/// A US gallon per minute in m³/s.
pub const US_GALLON_PER_MINUTE_M3S: f64 = US_GALLON_M3 / 60.0;
