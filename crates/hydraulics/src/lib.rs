//! Water, pipe sizes, friction, parts and pump of a circulation circuit, and the circuit itself.
//!
//! Pure functions over `f64` in SI, with the unit in each name. This floor knows neither a file nor
//! a reading. Darcy's friction factor is meant wherever one is named; Fanning's is a quarter of it.
//!
//! Three outcomes are kept apart: impossible input is a [`HydraulicsError`], an answer outside the
//! range of a correlation carries a [`Warning`], and the rest is an answer.

pub mod affinity;
pub mod atmosphere;
pub mod circuit;
pub mod codes;
pub mod constants;
pub mod element;
pub mod equipment;
mod error;
pub mod fittings;
pub mod friction;
pub mod head;
pub mod loss;
pub mod pipe;
pub mod pump;
mod quantity;
pub mod rating;
pub mod suction;
pub mod total_head;
mod warning;
pub mod water;

pub use error::HydraulicsError;
pub use quantity::Quantity;
pub use warning::{Answer, Warning};
