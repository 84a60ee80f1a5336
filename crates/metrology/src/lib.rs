//! Estimates, instruments and regression: what a reading is worth, and what a set of them says.
//!
//! Nothing here knows hydraulics: an instrument reads numbers, and a curve is a function of one.

mod estimate;
mod instrument;
mod mixture;
mod regression;

pub use estimate::{COVERAGE, Estimate, effective_dof};
pub use instrument::{AccuracyLimit, Instrument};
pub use mixture::half_width;
pub use regression::{Curve, Deletion, Fit, FitError, Observations, Prior, fit};
