//! A pump: its head, power and need of suction head at a flow and a speed, and what its motor and drive take beside.
//!
//! A curve is what a maker prints or a fit gives; the similarity of pumps carries it to other speeds. Which curve
//! a pump has, and whether it is worn, is no matter of this file.

mod curve;
mod drive;
mod error;
mod interpolation;
mod points;

pub use curve::PumpCurve;
pub use drive::{Drive, electrical_power_w};
pub use error::CurveError;
pub use points::CurvePoint;
