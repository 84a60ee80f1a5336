//! Words for an answer beyond the range of its correlation, and for an input that is impossible.

use crate::language::say;
use crate::names;
use crate::number;
use crate::units::{Printing, with_unit};
use hydraulics::{HydraulicsError, Quantity, Warning};
use records::unit::Dimension;

/// Puts a warning of the hydraulics into English.
pub(crate) fn warning(warning: &Warning, printing: Printing) -> String {
    match warning {
        Warning::TransitionRegime { reynolds } => say!(
            printing,
            "Reynolds number {reynolds}: between laminar and turbulent flow no value is agreed; a smooth bridge is given.",
            reynolds = number::significant(printing, *reynolds, 3)
        ),
        Warning::NoSplitLaw => say!(
            printing,
            "all of the flow of a tee passes its branch, and how it divides there no accepted law \
             says; each way counts as flow round the corner"
        )
        .to_owned(),
        Warning::OutsideRange {
            correlation,
            quantity,
            value,
            low,
            high,
        } => {
            let [value, low, high] =
                [*value, *low, *high].map(|si| written(si, *quantity, printing));
            say!(
                printing,
                "The {correlation} is extrapolated: {quantity} {value}, made for {low} to {high}.",
                correlation = names::name(correlation, printing),
                quantity = names::name(&quantity.to_string(), printing),
                value,
                low,
                high
            )
        }
    }
}

/// Puts a refusal of the hydraulics into words: what was found, what is accepted. Those that no file can lead to are told as the
/// hydraulics tells them, in English.
pub(crate) fn refusal(error: &HydraulicsError, printing: Printing) -> String {
    let name = |quantity: Quantity| names::name(&quantity.to_string(), printing).into_owned();
    match *error {
        HydraulicsError::NotAboveZero { quantity, value } => say!(
            printing,
            "the {quantity} is {value}; expected a finite value above 0",
            quantity = name(quantity),
            value = with_unit(&value.to_string(), quantity.unit())
        ),
        HydraulicsError::BelowZero { quantity, value } => say!(
            printing,
            "the {quantity} is {value}; expected a finite value of 0 or more",
            quantity = name(quantity),
            value = with_unit(&value.to_string(), quantity.unit())
        ),
        HydraulicsError::NotFinite { quantity, value } => say!(
            printing,
            "the {quantity} is {value}; expected a finite value",
            quantity = name(quantity),
            value = with_unit(&value.to_string(), quantity.unit())
        ),
        HydraulicsError::OutOfRange {
            quantity,
            value,
            low,
            high,
        } => say!(
            printing,
            "the {quantity} is {value}; expected {low} to {high}",
            quantity = name(quantity),
            value = with_unit(&value.to_string(), quantity.unit()),
            low = with_unit(&low.to_string(), quantity.unit()),
            high = with_unit(&high.to_string(), quantity.unit())
        ),
        other => other.to_string(),
    }
}

/// Writes the value of an input in the unit of print, where it has one there.
fn written(si: f64, quantity: Quantity, printing: Printing) -> String {
    match quantity {
        Quantity::Bore => printing.bore(si),
        Quantity::Flow => printing.plain(si, Dimension::Flow),
        Quantity::Velocity => printing.plain(si, Dimension::Velocity),
        Quantity::WaterTemperature => printing.plain(si, Dimension::Temperature),
        _ => with_unit(&number::significant(printing, si, 3), quantity.unit()),
    }
}
