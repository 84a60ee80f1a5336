//! What a change states anew of how the pad is run and judged: codes only, for those who put it into words.

use records::{Change, Site};

/// What a change states anew.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StatedAnew {
    /// What energy costs.
    Tariff,
    /// The turnover, or the chance of it.
    Turnover,
    /// The tasks.
    Tasks,
    /// The quiet hours.
    QuietHours,
    /// What the controller holds: speeds, starts, changes, runs and pauses.
    Controller,
    /// The program as found.
    AsFound,
    /// What money is worth a year later.
    DiscountRate,
    /// The limits.
    Limits,
    /// The water.
    Water,
}

impl StatedAnew {
    /// Lists what a change states anew of a site.
    pub(super) fn of(change: &Change, site: &Site) -> Vec<Self> {
        let (now, then) = (&site.operation, &change.site.operation);
        let prices_differ = (&now.tariff, &now.seasons, &now.holidays, &now.tiers)
            != (&then.tariff, &then.seasons, &then.holidays, &then.tiers)
            || (&now.fixed_charge, &now.demand_charge) != (&then.fixed_charge, &then.demand_charge)
            || (&now.other_use, &now.co2) != (&then.other_use, &then.co2);
        let holds_differ = (now.max_starts, now.max_speeds, now.max_changes)
            != (then.max_starts, then.max_speeds, then.max_changes)
            || (&now.min_run, &now.max_pause) != (&then.min_run, &then.max_pause)
            || (&now.speeds, &now.speed_step) != (&then.speeds, &then.speed_step);
        let turnover_differs =
            (&now.turnover, &now.turnover_chance) != (&then.turnover, &then.turnover_chance);
        let all = [
            (Self::Tariff, prices_differ),
            (Self::Turnover, turnover_differs),
            (Self::Tasks, now.tasks != then.tasks),
            (Self::QuietHours, now.quiet != then.quiet),
            (Self::Controller, holds_differ),
            (Self::AsFound, now.as_found != then.as_found),
            (Self::DiscountRate, now.discount_rate != then.discount_rate),
            (Self::Limits, site.limits != change.site.limits),
            (Self::Water, site.water != change.site.water),
        ];
        all.into_iter()
            .filter_map(|(what, differs)| differs.then_some(what))
            .collect()
    }
}
