//! What energy costs: the prices of a day, and what a month's bill adds to them.
//!
//! A tariff has exactly one price at every minute of every day, which `records` sees to; ends of blocks are exclusive.

use crate::calendar::{Date, TariffDay};
use crate::clock::{DAY_MINUTES, Window};
use records::{ClockTime, Operation, TariffBlock};

/// Joules in a kilowatt-hour, exact.
const J_PER_KWH: f64 = 3.6e6;
/// Watts in a kilowatt, exact.
const W_PER_KW: f64 = 1000.0;
/// Minutes in an hour, exact.
const MINUTES_PER_HOUR: f64 = 60.0;
/// Months in a year.
pub const MONTHS: f64 = 12.0;

/// Days of a month of the charges: a twelfth of a year of 365.
pub(crate) const MONTH_DAYS: f64 = 365.0 / MONTHS;

/// The prices of a day.
#[derive(Clone, Debug, PartialEq)]
pub struct DayPrices {
    blocks: Vec<(Window, f64)>,
}

/// The energy of a day at one price.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtPrice {
    /// Price per kWh.
    pub price_per_kwh: f64,
    /// For how long, h.
    pub hours: f64,
    /// Energy, kWh.
    pub energy_kwh: f64,
}

/// What a program draws from one time to another; the end is exclusive and may lie after midnight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Draw {
    /// Start.
    pub from: ClockTime,
    /// End.
    pub to: ClockTime,
    /// Power, W.
    pub power_w: f64,
}

impl DayPrices {
    /// Returns the prices of a kind of day; `None` without a tariff.
    pub fn of(operation: &Operation, day: &TariffDay) -> Option<Self> {
        let is_of = |block: &&TariffBlock| {
            let in_season = block.season.is_none() || block.season == day.season;
            in_season && (block.days.is_empty() || block.days.contains(&day.kind))
        };
        let window = |block: &TariffBlock| Window {
            from: block.from,
            to: block.to,
        };
        let blocks: Vec<(Window, f64)> = operation
            .tariff
            .iter()
            .filter(is_of)
            .map(|block| (window(block), block.price.si))
            .collect();
        (!blocks.is_empty()).then_some(Self { blocks })
    }

    /// Returns the price at a minute of the day.
    pub fn at(&self, minute: u32) -> f64 {
        let block = self.blocks.iter().find(|(window, _)| window.holds(minute));
        block.map_or(0.0, |(_, price)| *price)
    }

    /// Lists the minutes of the day at which a price may end.
    pub(crate) fn ends(&self) -> impl Iterator<Item = u32> + '_ {
        self.blocks.iter().flat_map(|(window, _)| window.ends())
    }

    /// Parts the energy of some draws by price, in the order in which prices come in the day.
    pub fn parted(&self, draws: &[Draw]) -> Vec<AtPrice> {
        let mut parts: Vec<AtPrice> = Vec::new();
        let one_minute = 1.0 / MINUTES_PER_HOUR;
        for (minute, draw) in
            (0..DAY_MINUTES).flat_map(|minute| draws.iter().map(move |draw| (minute, draw)))
        {
            let window = Window {
                from: draw.from,
                to: draw.to,
            };
            if !window.holds(minute) {
                continue;
            }
            let price = self.at(minute);
            let known = parts
                .iter()
                .position(|part| part.price_per_kwh.total_cmp(&price).is_eq());
            let part = known.unwrap_or(parts.len());
            if known.is_none() {
                parts.push(AtPrice {
                    price_per_kwh: price,
                    hours: 0.0,
                    energy_kwh: 0.0,
                });
            }
            parts[part].hours += one_minute;
            parts[part].energy_kwh += one_minute * draw.power_w / W_PER_KW;
        }
        parts
    }
}

impl AtPrice {
    /// Returns what the energy costs.
    pub fn cost(&self) -> f64 {
        self.price_per_kwh * self.energy_kwh
    }
}

/// Computes what tiers add to the price of a month's use.
///
/// # Inputs
/// `month_kwh`: all that is used in the month.
pub fn tiers_cost(operation: &Operation, month_kwh: f64) -> f64 {
    let mut below_kwh = 0.0;
    let mut cost = 0.0;
    for tier in &operation.tiers {
        let end_kwh = tier
            .up_to
            .as_ref()
            .map_or(f64::INFINITY, |up_to| up_to.si / J_PER_KWH);
        cost += tier.add.si * (month_kwh.min(end_kwh) - below_kwh).max(0.0);
        below_kwh = end_kwh;
    }
    cost
}

/// What a month's bill adds to the prices of the days, as far as the pump has a part in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MonthlyAdditions {
    /// What the tiers add for the pump's energy, which comes on top of all other use.
    pub tiers: f64,
    /// The charge for the pump's highest power, where it falls together with the highest of all else.
    pub demand: f64,
    /// What is paid whatever the pump does.
    pub fixed: f64,
}

/// Computes what a month's bill adds for a pump.
///
/// # Inputs
/// `month_kwh`: what the pump uses in the month. `highest_w`: its highest power.
pub fn monthly_additions(
    operation: &Operation,
    month_kwh: f64,
    highest_w: f64,
) -> MonthlyAdditions {
    /// Days of a year of the charges.
    const YEAR_DAYS: f64 = 365.0;
    let other_kwh = operation
        .other_use
        .as_ref()
        .map_or(0.0, |other| other.si / J_PER_KWH);
    let si = |sum: &Option<records::Quantity>| sum.as_ref().map_or(0.0, |sum| sum.si);
    MonthlyAdditions {
        tiers: tiers_cost(operation, other_kwh + month_kwh) - tiers_cost(operation, other_kwh),
        demand: si(&operation.demand_charge) * highest_w / W_PER_KW,
        fixed: si(&operation.fixed_charge) * YEAR_DAYS / MONTHS,
    }
}

/// Returns the currency of a tariff.
pub fn currency(operation: &Operation) -> Option<&str> {
    operation.tariff.first()?.price.currency()
}

/// Counts the days of a year by what the tariff makes of them.
pub fn days_of_year(operation: &Operation, year: u16) -> Vec<(TariffDay, u32)> {
    let mut counted: Vec<(TariffDay, u32)> = Vec::new();
    for date in Date::days_of(year) {
        let day = date.of_tariff(operation);
        match counted.iter_mut().find(|(known, _)| *known == day) {
            Some((_, count)) => *count += 1,
            None => counted.push((day, 1)),
        }
    }
    counted
}
