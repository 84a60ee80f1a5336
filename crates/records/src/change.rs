//! A change of a pad that somebody thinks of: the site as it would be, and what that costs.

use crate::{ProgramBlock, Quantity, Site};

/// A change of a pad.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// What the person calls it.
    pub name: String,
    /// What it costs to make, in its currency.
    pub capital: Option<Quantity>,
    /// How long it lasts, s.
    pub life: Option<Quantity>,
    /// What it costs to keep, in its currency per day.
    pub maintenance: Option<Quantity>,
    /// Whether the filter is cleaned for it.
    pub cleans_filter: bool,
    /// The program that is run with it; empty where the best day is.
    pub program: Vec<ProgramBlock>,
    /// The site with the change.
    pub site: Site,
}

impl Change {
    /// The currency of what it costs, where it has one.
    pub fn currency(&self) -> Option<&str> {
        let sums = [&self.capital, &self.maintenance];
        sums.into_iter().flatten().find_map(Quantity::currency)
    }
}
