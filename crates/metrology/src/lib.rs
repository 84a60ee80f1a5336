//! Estimates, instruments and regression: what a reading is worth, and what a set of them says.
//!
//! Nothing here knows hydraulics: an instrument reads numbers, and a curve is a function of one.

mod agreement;
mod coverage_interval;
mod estimate;
mod fitted;
mod instrument;
mod least_squares;
mod mixture;
mod monte_carlo;
mod orthogonal;
mod priors;
mod propagation;
mod regression;
mod robust;
mod second_order;
#[cfg(test)]
mod test_line;
mod weights;

pub use agreement::{Expanded, normalized_error};
pub use coverage_interval::{IntervalKind, coverage_interval};
pub use estimate::{COVERAGE, Estimate, effective_dof};
pub use fitted::{Deletion, Fit};
pub use instrument::{AccuracyLimit, Instrument};
pub use mixture::half_width;
pub use monte_carlo::{
    Characteristics, Distributed, Ending, JointNormal, MonteCarloError, MonteCarloPlan, fill,
    monte_carlo, monte_carlo_in_blocks,
};
pub use orthogonal::{OrthogonalFit, SlopedCurve, UncertainPoints, fit_orthogonal};
pub use priors::Prior;
pub use propagation::{
    Input, Inputs, Propagated, PropagationError, combine, correlation_between, propagate,
};
pub use regression::{
    Curve, FitError, Observations, WeightedObservations, fit, fit_closely, fit_weighted,
};
pub use robust::{HUBER_BEND, RobustFit, fit_robust};
pub use second_order::{SecondOrder, second_order};
pub use weights::Weights;
