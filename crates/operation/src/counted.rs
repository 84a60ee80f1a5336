//! What a year's days add up to: hours first, then, draw by draw, energy, water and money.

use crate::calendar::{Date, TariffDay};
use crate::clock::Clock;
use crate::offer::Running;
use crate::pad::{Pad, demand_per_w};
use crate::problem::SECONDS_PER_HOUR;
use crate::program::{Minutes, Weighed};
use crate::spread::{Drawn, Total};
use crate::tariff::{DayPrices, tiers_cost};
use crate::year::{AskedYear, KindOfDay, YearSums, clock_of, told_apart};
use records::{Operation, ProgramBlock};

/// Watt-hours in a kilowatt-hour, exact.
const WH_PER_KWH: f64 = 1000.0;
/// Joules in a kilowatt-hour, exact.
const J_PER_KWH: f64 = 3.6e6;
/// Months of a year.
const MONTHS: usize = 12;

/// The hours of a year's distinct days, and how many of them each month has.
pub(crate) struct CountedYear {
    pub(crate) days: Vec<CountedDay>,
    pub(crate) months: Vec<Vec<(usize, u32)>>,
}

/// A day, counted.
pub(crate) struct CountedDay {
    hours: Weighed,
    /// Hours times price; `None` without a tariff.
    priced: Option<Weighed>,
}

pub(crate) fn counted_day(pad: &Pad<'_>, kind: &KindOfDay) -> CountedDay {
    let (problem, day) = (&kind.problem, &kind.program.planned.day);
    let weighed = |weight: &dyn Fn(&crate::Slot) -> f64| {
        let mut weighed = pad.weighed(problem, day, weight);
        let starts = (0..day.len()).filter(|slot| {
            let before = day[(slot + day.len() - 1) % day.len()];
            day[*slot].is_some() && before.is_none()
        });
        weighed.starts = starts.map(|slot| weight(&problem.slots[slot])).sum();
        weighed
    };
    let has_prices = problem
        .slots
        .iter()
        .all(|slot| slot.price_per_kwh.is_some());
    CountedDay {
        hours: weighed(&|_| 1.0),
        priced: has_prices.then(|| weighed(&|slot| slot.price_per_kwh.unwrap_or(0.0))),
    }
}

pub(crate) fn by_month(days: impl Iterator<Item = (Date, usize)>) -> Vec<Vec<(usize, u32)>> {
    let mut months: Vec<Vec<(usize, u32)>> = vec![Vec::new(); MONTHS];
    for (date, kind) in days {
        let month = &mut months[usize::from(date.month.clamp(1, 12)) - 1];
        match month.iter_mut().find(|(known, _)| *known == kind) {
            Some((_, count)) => *count += 1,
            None => month.push((kind, 1)),
        }
    }
    months
}

impl CountedYear {
    /// Counts a program that is the same every day.
    pub(crate) fn of_program(pad: &Pad<'_>, asked: &AskedYear, program: &[ProgramBlock]) -> Self {
        let operation = &pad.site.operation;
        let minutes = Minutes::of_blocks(program);
        let mut kinds: Vec<(TariffDay, Clock)> = Vec::new();
        let mut dates = Vec::new();
        for date in Date::days_of(asked.year) {
            let kind = (told_apart(operation, date), clock_of(asked, date));
            let known = kinds.iter().position(|known| *known == kind);
            let index = known.unwrap_or_else(|| {
                kinds.push(kind);
                kinds.len() - 1
            });
            dates.push((date, index));
        }
        let day = |(day, clock): &(TariffDay, Clock)| CountedDay {
            hours: minutes.weighed_on(*clock, |_| 1.0),
            priced: DayPrices::of(operation, day)
                .map(|prices| minutes.weighed_on(*clock, |minute| prices.at(minute))),
        };
        Self {
            days: kinds.iter().map(day).collect(),
            months: by_month(dates.into_iter()),
        }
    }

    /// Lists the speeds that are run.
    pub(crate) fn running(&self) -> impl Iterator<Item = (Running, f64)> + '_ {
        self.days.iter().flat_map(|day| day.hours.running.clone())
    }

    /// Returns the highest speed, rpm, and for how many hours a day, on average, it is run.
    pub(crate) fn top(&self) -> Option<(f64, f64)> {
        let speeds = self.running().map(|(running, _)| running.speed_rpm);
        let top = speeds.max_by(f64::total_cmp)?;
        let hours_of = |kind: usize| {
            let running = self.days[kind].hours.running.iter();
            let at_top = running.filter(|(running, _)| running.speed_rpm >= top);
            at_top.map(|(_, hours)| hours).sum::<f64>()
        };
        let (mut hours, mut days) = (0.0, 0.0);
        for (kind, count) in self.months.iter().flatten() {
            hours += f64::from(*count) * hours_of(*kind);
            days += f64::from(*count);
        }
        Some((top, hours / days))
    }

    /// Adds the year up, draw by draw.
    pub(crate) fn totals(&self, pad: &Pad<'_>, drawn: &Drawn) -> YearTotals {
        let (start_wh, start_m3) = pad.priming();
        let adding = Adding {
            drawn,
            start_wh,
            start_m3,
        };
        let days: Vec<DayTotals> = self.days.iter().map(|day| adding.day(day)).collect();
        let has_prices = days.iter().all(|day| day.cost.is_some());
        let mut totals = YearTotals {
            energy_kwh: Total::nothing(),
            volume_m3: Total::nothing(),
            cost: has_prices.then(Total::nothing),
            demand: 0.0,
        };
        for month in &self.months {
            totals.add_month(pad, &days, month);
        }
        totals
    }
}

/// What a year is added up from.
struct Adding<'a> {
    drawn: &'a Drawn,
    start_wh: f64,
    start_m3: f64,
}

/// What a day comes to, draw by draw.
struct DayTotals {
    energy_kwh: Total,
    volume_m3: Total,
    cost: Option<Total>,
    highest_w: Total,
}

impl Adding<'_> {
    fn day(&self, day: &CountedDay) -> DayTotals {
        let kwh = |weighed: &Weighed| {
            let starts = self.start_wh * weighed.starts / WH_PER_KWH;
            self.drawn
                .powers
                .total(weighed)
                .scaled_and_moved(1.0 / WH_PER_KWH, starts)
        };
        let flows = self.drawn.flows.total(&day.hours);
        DayTotals {
            energy_kwh: kwh(&day.hours),
            volume_m3: flows.scaled_and_moved(SECONDS_PER_HOUR, self.start_m3 * day.hours.starts),
            cost: day.priced.as_ref().map(kwh),
            highest_w: self.drawn.powers.highest(&day.hours),
        }
    }
}

impl YearTotals {
    /// Adds the days of a month, its tiers, and the charge for its highest draw.
    fn add_month(&mut self, pad: &Pad<'_>, days: &[DayTotals], month: &[(usize, u32)]) {
        let mut month_kwh = Total::nothing();
        let mut highest_w: Option<Total> = None;
        for (kind, count) in month {
            let (day, count) = (&days[*kind], f64::from(*count));
            month_kwh.add(&day.energy_kwh, count);
            self.volume_m3.add(&day.volume_m3, count);
            if let (Some(cost), Some(of_day)) = (&mut self.cost, &day.cost) {
                cost.add(of_day, count);
            }
            let top = &day.highest_w;
            highest_w = Some(highest_w.map_or_else(|| top.clone(), |known| known.or_higher(top)));
        }
        self.energy_kwh.add(&month_kwh, 1.0);
        let Some((cost, highest_w)) = self.cost.as_mut().zip(highest_w) else {
            return;
        };
        let per_w = demand_per_w(pad.site);
        cost.add(&tiers(&pad.site.operation, &month_kwh), 1.0);
        cost.add(&highest_w, per_w);
        self.demand += per_w * highest_w.best;
    }
}

/// What the tiers add for a month, on top of all other use.
fn tiers(operation: &Operation, month_kwh: &Total) -> Total {
    let other_kwh = operation
        .other_use
        .as_ref()
        .map_or(0.0, |other| other.si / J_PER_KWH);
    let below = tiers_cost(operation, other_kwh);
    month_kwh.map(|kwh| tiers_cost(operation, other_kwh + kwh) - below)
}

/// What a year comes to, draw by draw.
pub(crate) struct YearTotals {
    pub(crate) energy_kwh: Total,
    pub(crate) volume_m3: Total,
    pub(crate) cost: Option<Total>,
    demand: f64,
}

impl YearTotals {
    pub(crate) fn sums(&self, operation: &Operation) -> YearSums {
        let energy_kwh = self.energy_kwh.estimate();
        let intensity = operation.co2.as_ref().map(|co2| co2.intensity.si);
        YearSums {
            energy_kwh,
            volume_m3: self.volume_m3.estimate(),
            cost: self.cost.as_ref().and_then(Total::estimate),
            demand: self.demand,
            co2_kg: energy_kwh
                .zip(intensity)
                .map(|(energy, intensity)| energy.scaled(intensity)),
        }
    }

    /// What these programs cost less than others.
    pub(crate) fn saves(&self, other: &Self) -> Option<Total> {
        Some(self.cost.as_ref()?.less_than(other.cost.as_ref()?))
    }
}
