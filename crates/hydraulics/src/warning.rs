//! What must be said beside an answer that lies outside the range of its correlation.
//!
//! A warning never replaces a number: it travels with it to every output. Impossible input is no
//! matter of this file but a [`HydraulicsError`](crate::HydraulicsError).

use crate::quantity::Quantity;

/// A value with what must be said beside it.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer<T> {
    /// The value.
    pub value: T,
    /// What to say beside it; empty where the correlation holds.
    pub warnings: Vec<Warning>,
}

impl<T> Answer<T> {
    /// Passes a value with its warnings.
    pub fn new(value: T, warnings: impl IntoIterator<Item = Warning>) -> Self {
        Self {
            value,
            warnings: warnings.into_iter().collect(),
        }
    }

    /// Changes the value and keeps what is said beside it.
    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> Answer<U> {
        Answer {
            value: change(self.value),
            warnings: self.warnings,
        }
    }
}

/// Why an answer is less certain than its digits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Warning {
    /// The flow is neither laminar nor turbulent: no accepted friction factor exists.
    TransitionRegime {
        /// The Reynolds number, between 2000 and 4000.
        reynolds: f64,
    },
    /// No accepted law says how the flow divides at a tee; it counts as flow through the branch.
    NoSplitLaw,
    /// An input lies outside the range for which a correlation was made: the answer is extrapolated.
    OutsideRange {
        /// What was computed, as a reader knows it, such as "friction factor".
        correlation: &'static str,
        /// Which input.
        quantity: Quantity,
        /// Its value, in the unit of the quantity.
        value: f64,
        /// The lower end of the range.
        low: f64,
        /// The upper end of the range.
        high: f64,
    },
}

impl Warning {
    /// Warns where a value lies outside the range of a correlation.
    pub(crate) fn outside(
        correlation: &'static str,
        quantity: Quantity,
        value: f64,
        (low, high): (f64, f64),
    ) -> Option<Self> {
        (!(low..=high).contains(&value)).then_some(Self::OutsideRange {
            correlation,
            quantity,
            value,
            low,
            high,
        })
    }
}
