//! Words for an answer beyond the range of its correlation, and for an input that is impossible.

use crate::number;
use hydraulics::{HydraulicsError, Quantity, Warning};

/// Puts a warning of the hydraulics into English.
pub(crate) fn warning(warning: &Warning) -> String {
    match warning {
        Warning::TransitionRegime { reynolds } => format!(
            "Reynolds number {}: between laminar and turbulent flow no value is agreed; a smooth bridge is given.",
            number::significant(*reynolds, 3),
        ),
        Warning::OutsideRange {
            correlation,
            quantity,
            value,
            low,
            high,
        } => format!(
            "The {correlation} is extrapolated: {quantity} {}, made for {} to {}.",
            with_unit(*value, *quantity),
            number::significant(*low, 3),
            with_unit(*high, *quantity),
        ),
    }
}

/// Puts a refusal of the hydraulics into English: what was found, what is accepted.
pub(crate) fn refusal(error: &HydraulicsError) -> String {
    error.to_string()
}

fn with_unit(value: f64, quantity: Quantity) -> String {
    let number = number::significant(value, 3);
    match quantity.unit() {
        "" => number,
        unit => format!("{number} {unit}"),
    }
}
