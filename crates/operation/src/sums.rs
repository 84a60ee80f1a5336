//! What a program comes to in a day, a month and a year, with the interval that the laws leave, and beside what was found.

use crate::calendar::TariffDay;
use crate::fulfilment::Fulfilment;
use crate::offer::Running;
use crate::pad::demand_per_w;
use crate::plan::{Advised, Programmed};
use crate::problem::SECONDS_PER_HOUR;
use crate::program::{Minutes, Weighed};
use crate::spread::{Drawn, Total};
use crate::tariff::{DayPrices, MONTHS, days_of_year, monthly_additions};
use metrology::Estimate;
use records::Operation;

/// Watt-hours in a kilowatt-hour, exact.
const WH_PER_KWH: f64 = 1000.0;
/// Days of a year where every day is alike.
const YEAR_DAYS: f64 = 365.0;
/// The year whose days are counted where no date is known; any common year has as many of each kind, to a day.
const ANY_YEAR: u16 = 2026;

/// What a program comes to. An estimate is `None` where the laws cannot be drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sums {
    /// Energy of a day, kWh.
    pub energy_kwh: Option<Estimate>,
    /// Volume of a day, m³.
    pub volume_m3: Option<Estimate>,
    /// The share of what the laws allow in which the volume asked for is reached.
    pub chance_of_volume: Option<f64>,
    /// Cost of the day.
    pub cost: Option<Estimate>,
    /// Cost of a month of all kinds of days, tiers and demand charge included.
    pub cost_month: Option<Estimate>,
    /// Cost of a year of all kinds of days, tiers and demand charge included.
    pub cost_year: Option<Estimate>,
    /// Energy of a year, kWh.
    pub energy_year_kwh: Option<Estimate>,
    /// Carbon dioxide of a year, kg.
    pub co2_year_kg: Option<Estimate>,
    /// What is paid a month whatever the pump does.
    pub fixed_month: f64,
}

/// The program as it was found, and what the new one saves.
#[derive(Clone, Debug, PartialEq)]
pub struct AsFound {
    /// What it does of what is asked; `None` where the laws do not reach its speeds.
    pub fulfilment: Option<Fulfilment>,
    /// What it comes to.
    pub sums: Sums,
    /// What the new program saves in a month, in money.
    pub saves_month: Option<Estimate>,
    /// What the new program saves in a year, in money.
    pub saves_year: Option<Estimate>,
    /// What the new program saves in a year, kWh.
    pub saves_year_kwh: Option<Estimate>,
}

/// What a program comes to, draw by draw.
struct Totals {
    energy: Total,
    volume: Total,
    cost: Option<Total>,
    cost_year: Option<Total>,
    energy_year: Total,
}

/// Adds the advised program up.
pub(crate) fn sums(advised: &Advised<'_>, program: &Programmed) -> Sums {
    let totals = totals(advised, program);
    of_totals(advised, totals.as_ref().map(|[own, _]| own))
}

/// Adds the program as found up; `None` where it is not stated.
pub(crate) fn as_found(advised: &Advised<'_>, program: &Programmed) -> Option<AsFound> {
    let stated = &advised.pad.site.operation.as_found;
    if stated.is_empty() {
        return None;
    }
    let totals = totals(advised, program);
    let less = |of: fn(&Totals) -> Option<&Total>| {
        let [own, found] = totals.as_ref()?;
        of(own)?.less_than(of(found)?).estimate()
    };
    let saves_year = less(|totals| totals.cost_year.as_ref());
    Some(AsFound {
        fulfilment: advised.pad.fulfilment(stated),
        sums: of_totals(advised, totals.as_ref().map(|[_, found]| found)),
        saves_month: saves_year.map(|saves| saves.scaled(1.0 / MONTHS)),
        saves_year,
        saves_year_kwh: less(|totals| Some(&totals.energy_year)),
    })
}

fn of_totals(advised: &Advised<'_>, totals: Option<&Totals>) -> Sums {
    let operation = &advised.pad.site.operation;
    let estimate = |of: fn(&Totals) -> Option<Total>| totals.and_then(of)?.estimate();
    let asked = advised.pad.turnover_m3;
    let energy_year_kwh = estimate(|totals| Some(totals.energy_year.clone()));
    let intensity = operation.co2.as_ref().map(|co2| co2.intensity.si);
    Sums {
        energy_kwh: estimate(|totals| Some(totals.energy.clone())),
        volume_m3: estimate(|totals| Some(totals.volume.clone())),
        chance_of_volume: totals
            .zip(asked)
            .map(|(totals, asked)| totals.volume.share_at_least(asked)),
        cost: estimate(|totals| totals.cost.clone()),
        cost_month: estimate(|totals| {
            Some(
                totals
                    .cost_year
                    .as_ref()?
                    .scaled_and_moved(1.0 / MONTHS, 0.0),
            )
        }),
        cost_year: estimate(|totals| totals.cost_year.clone()),
        co2_year_kg: energy_year_kwh
            .zip(intensity)
            .map(|(energy, intensity)| energy.scaled(intensity)),
        energy_year_kwh,
        fixed_month: monthly_additions(operation, 0.0, 0.0).fixed,
    }
}

/// Adds up the advised program and the one as found, from the same draws.
fn totals(advised: &Advised<'_>, program: &Programmed) -> Option<[Totals; 2]> {
    let offer = &advised.pad.offer;
    let own = Minutes::of_entries(advised.problem, offer, &program.entries);
    let found = Minutes::of_blocks(&advised.pad.site.operation.as_found);
    let of_day = |minutes: &Minutes| minutes.weighed(|_| 1.0).running;
    let speeds = distinct([&own, &found].into_iter().flat_map(of_day));
    let drawn = Drawn::of(&offer.lineups, &speeds, advised.pad.standby_w)?;
    let of = |minutes: &Minutes| {
        Adding {
            advised,
            minutes,
            drawn: &drawn,
        }
        .totals()
    };
    let mut totals = [of(&own), of(&found)];
    totals[0].take_day(advised, program, &drawn);
    Some(totals)
}

/// Lists the speeds of some days, each once and in order.
pub(crate) fn distinct(running: impl Iterator<Item = (Running, f64)>) -> Vec<Running> {
    let mut speeds: Vec<Running> = running.map(|(speed, _)| speed).collect();
    numerics::order::sort_by(&mut speeds, |a, b| {
        let by_lineup = a.lineup.cmp(&b.lineup);
        by_lineup.then(a.speed_rpm.total_cmp(&b.speed_rpm))
    });
    speeds.dedup();
    speeds
}

/// A program being added up.
struct Adding<'a> {
    advised: &'a Advised<'a>,
    minutes: &'a Minutes,
    drawn: &'a Drawn,
}

impl Adding<'_> {
    fn totals(&self) -> Totals {
        let hours = self.minutes.weighed(|_| 1.0);
        let energy = self.energy(&hours, 1.0 / WH_PER_KWH);
        let cost = self.advised.prices.map(|prices| {
            let weighed = self.minutes.weighed(|minute| prices.at(minute));
            self.energy(&weighed, 1.0 / WH_PER_KWH)
        });
        Totals {
            energy_year: energy.scaled_and_moved(YEAR_DAYS, 0.0),
            volume: self.drawn.flows.total(&hours).scaled_and_moved(
                SECONDS_PER_HOUR,
                self.advised.problem.start_volume_m3 * hours.starts,
            ),
            cost,
            cost_year: self.cost_year(&hours, &energy),
            energy,
        }
    }

    /// Adds powers up, priming included, which is known as well as the rest and counts as fixed.
    fn energy(&self, weighed: &Weighed, scale: f64) -> Total {
        let starts = self.advised.problem.start_energy_wh * weighed.starts;
        self.drawn
            .powers
            .total(weighed)
            .scaled_and_moved(scale, scale * starts)
    }

    /// Adds the year up: every day at its own prices, and what the bills add.
    fn cost_year(&self, hours: &Weighed, energy: &Total) -> Option<Total> {
        let operation = &self.advised.pad.site.operation;
        let prices = year_prices(
            operation,
            self.advised.asked.date.map_or(ANY_YEAR, |date| date.year),
        )?;
        let weighed = self.minutes.weighed(|minute| prices[minute as usize]);
        let month_kwh = energy.best * YEAR_DAYS / MONTHS;
        let added = monthly_additions(operation, month_kwh, 0.0);
        let mut cost = self
            .energy(&weighed, 1.0 / WH_PER_KWH)
            .scaled_and_moved(1.0, MONTHS * added.tiers);
        let highest = self.drawn.powers.highest(hours);
        cost.add(&highest, MONTHS * demand_per_w(self.advised.pad.site));
        Some(cost)
    }
}

impl Totals {
    /// Takes the day itself from its slots, which know of days on which the clock is set.
    fn take_day(&mut self, advised: &Advised<'_>, program: &Programmed, drawn: &Drawn) {
        let problem = advised.problem;
        let replay = &program.planned.replay;
        let starts = f64::from(replay.starts);
        let day = &program.planned.day;
        let hours = advised.pad.weighed(problem, day, |_| 1.0);
        let kwh = 1.0 / WH_PER_KWH;
        self.energy = drawn
            .powers
            .total(&hours)
            .scaled_and_moved(kwh, kwh * problem.start_energy_wh * starts);
        self.volume = drawn
            .flows
            .total(&hours)
            .scaled_and_moved(SECONDS_PER_HOUR, problem.start_volume_m3 * starts);
        if let (Some(_), Some(cost)) = (&self.cost, replay.cost) {
            let price = |slot: &crate::Slot| slot.price_per_kwh.unwrap_or(0.0);
            let priced = drawn
                .powers
                .total(&advised.pad.weighed(problem, day, price));
            // What starts and the highest draw add is known as well as the rest, and counts as fixed.
            let beside = cost - kwh * priced.best;
            self.cost = Some(priced.scaled_and_moved(kwh, beside));
        }
    }
}

/// Adds up what a kilowatt-hour costs at each minute over all the days of a year; `None` without a tariff.
fn year_prices(operation: &Operation, year: u16) -> Option<Vec<f64>> {
    let mut sums = vec![0.0; crate::clock::DAY_MINUTES as usize];
    let mut days = 0;
    for (day, count) in days_of_year(operation, year) {
        let day: TariffDay = day;
        let prices = DayPrices::of(operation, &day)?;
        days += count;
        for (minute, sum) in (0..).zip(&mut sums) {
            *sum += f64::from(count) * prices.at(minute);
        }
    }
    // A leap year counts as one of 365 days, as energy and charges do.
    let share = YEAR_DAYS / f64::from(days);
    Some(sums.into_iter().map(|sum| share * sum).collect())
}
