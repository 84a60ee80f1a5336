//! Rating quantities of pool pumps after 10 CFR 431 subpart Y, so that a pump's label can be read and reproduced.
//!
//! The text of the rule's test procedure was not read here: most figures are from memory, and each
//! answer says so by its [`Provenance`]. Nothing in this file claims compliance; a rating comes from a
//! laboratory. The rule states US units, and its rated quantities keep them: they are names on a label.

mod curve;
mod energy_factor;
mod load_points;
mod minimum;

pub use curve::{SystemCurve, hydraulic_horsepower};
pub use energy_factor::{WeightedPoint, energy_factor_gal_wh, weighted_energy_factor_kgal_kwh};
pub use load_points::{LoadPoint, LoadPoints, variable_speed_load_points};
pub use minimum::{MinimumEnergyFactor, PumpClass, minimum_weighted_energy_factor};

/// How well a figure of a rule is known.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Provenance {
    /// A text that quotes the rule was read.
    Printed,
    /// Recalled; to be confirmed with the text of the rule before it decides anything.
    FromMemory,
}
