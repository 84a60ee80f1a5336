//! Estimates, instruments and regression: what a reading is worth, and what a set of them says.
//!
//! Nothing here knows hydraulics: an instrument reads numbers, and a curve is a function of one.

mod estimate;
mod fitted;
mod instrument;
mod least_squares;
mod mixture;
mod orthogonal;
mod priors;
mod regression;
mod robust;
mod weights;

pub use estimate::{COVERAGE, Estimate, effective_dof};
pub use fitted::{Deletion, Fit};
pub use instrument::{AccuracyLimit, Instrument};
pub use mixture::half_width;
pub use orthogonal::{OrthogonalFit, SlopedCurve, UncertainPoints, fit_orthogonal};
pub use priors::Prior;
pub use regression::{Curve, FitError, Observations, WeightedObservations, fit, fit_weighted};
pub use robust::{HUBER_BEND, RobustFit, fit_robust};
pub use weights::Weights;
