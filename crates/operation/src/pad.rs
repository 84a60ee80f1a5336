//! A pad as days are planned for it: the site, the speeds on offer, and the problem of a day.

use crate::clock::{Clock, Window};
use crate::day::DaySlots;
use crate::offer::{LineUp, Offer, lowest_limit};
use crate::plan::{NoPlan, Programmed};
use crate::problem::{BeforeFirst, Least, Problem, Rule, SECONDS_PER_HOUR, W_PER_KW};
use crate::program::Weighed;
use crate::schedule::{Effort, Outcome, Planned, schedule};
use crate::spread::{Total, drawn_flows};
use crate::tariff::{DayPrices, MONTH_DAYS};
use fieldtest::{Analysis, Bound, Passage};
use metrology::Estimate;
use records::{Quantity, Site};

/// How often a day is sought with more water, until the chance of the turnover is met.
const ROUNDS: usize = 6;

/// A pad.
pub(crate) struct Pad<'a> {
    pub(crate) site: &'a Site,
    pub(crate) analysis: &'a Analysis,
    pub(crate) offer: Offer,
    /// The draw at rest.
    pub(crate) standby_w: Option<Estimate>,
    pub(crate) least: Least,
    /// The volume that is asked for a day, m³.
    pub(crate) turnover_m3: Option<f64>,
}

/// What makes the problem of a day.
#[derive(Clone, Copy, Debug)]
pub(crate) struct OfDay<'a> {
    pub(crate) prices: Option<&'a DayPrices>,
    pub(crate) clock: Clock,
    pub(crate) slot_minutes: u32,
}

impl<'a> Pad<'a> {
    /// A pad as it was tested.
    pub(crate) fn of(
        site: &'a Site,
        analysis: &'a Analysis,
        least: Option<Least>,
    ) -> Result<Self, NoPlan> {
        Self::checked(site, least)?;
        let offer = Offer::of(site, analysis).map_err(NoPlan::Offer)?;
        Self::with(site, analysis, offer, least)
    }

    /// Refuses a site that asks for nothing, or for what cannot be counted.
    pub(crate) fn checked(site: &Site, least: Option<Least>) -> Result<(), NoPlan> {
        let operation = &site.operation;
        if operation.turnover.is_none() && operation.tasks.is_empty() {
            return Err(NoPlan::NothingAsked);
        }
        if least == Some(Least::Cost) && operation.tariff.is_empty() {
            return Err(NoPlan::NoTariff);
        }
        Ok(())
    }

    /// A pad with what is on offer.
    pub(crate) fn with(
        site: &'a Site,
        analysis: &'a Analysis,
        offer: Offer,
        least: Option<Least>,
    ) -> Result<Self, NoPlan> {
        let operation = &site.operation;
        let of_test = |lineup: &LineUp| {
            let mut tests = analysis.tests.iter().rev();
            tests.find(|test| test.name == lineup.test)
        };
        let first = offer.lineups.first().and_then(of_test);
        let turnover_m3 = operation.turnover.as_ref().map(|turnover| {
            let volume = site.water.volume.as_ref().ok_or(NoPlan::NoVolume)?;
            Ok::<f64, NoPlan>(turnover.per_day * volume.si)
        });
        Ok(Self {
            standby_w: first.and_then(|test| test.laws.standby_w),
            least: least.unwrap_or(if operation.tariff.is_empty() {
                Least::Energy
            } else {
                Least::Cost
            }),
            turnover_m3: turnover_m3.transpose()?,
            site,
            analysis,
            offer,
        })
    }

    /// Composes the problem of a day.
    pub(crate) fn problem(&self, of: &OfDay<'_>) -> Problem {
        let operation = &self.site.operation;
        let slots = DaySlots::cut(operation, of.prices, of.clock, of.slot_minutes);
        let rules = self.rules(&slots);
        let (start_energy_wh, start_volume_m3) = self.priming();
        let demand_per_kw_month = operation.demand_charge.as_ref().map_or(0.0, |sum| sum.si);
        Problem {
            slots: slots.slots,
            speeds: self.offer.speeds.clone(),
            rules,
            before_first: BeforeFirst::Cyclic,
            least: self.least,
            off_power_w: self.standby_w.map_or(0.0, |standby| standby.value.max(0.0)),
            start_energy_wh,
            start_volume_m3,
            demand_per_kw: demand_per_kw_month / MONTH_DAYS,
        }
    }

    /// Finds the best day, with as much more water as the chance of the turnover asks for.
    ///
    /// # Returns
    /// The problem that was solved last, and what became of it.
    pub(crate) fn solve(
        &self,
        mut problem: Problem,
        effort: &mut Effort,
    ) -> Result<(Problem, Outcome), NoPlan> {
        let chance = self.site.operation.turnover_chance.as_ref();
        let asked = self.turnover_m3.zip(chance.map(|chance| chance.si));
        for _ in 0..ROUNDS {
            let outcome = schedule(&problem, effort)?;
            let Outcome::Found(planned) = &outcome else {
                return Ok((problem, outcome));
            };
            let Some((asked_m3, chance)) = asked else {
                return Ok((problem, outcome));
            };
            let Some(more_m3) = self.more_water(&problem, planned, (asked_m3, chance)) else {
                return Ok((problem, outcome));
            };
            for rule in &mut problem.rules {
                if let Rule::Volume { min_m3 } = rule {
                    *min_m3 = more_m3;
                }
            }
        }
        let outcome = schedule(&problem, effort)?;
        Ok((problem, outcome))
    }

    /// Returns the volume to ask for, where a day gives the turnover with less than its chance.
    fn more_water(
        &self,
        problem: &Problem,
        planned: &Planned,
        (asked_m3, chance): (f64, f64),
    ) -> Option<f64> {
        /// A little more than asked, so that the next round is the last one.
        const OVER: f64 = 1.0005;
        let total = self.volume(problem, planned)?;
        if total.share_at_least(asked_m3) >= chance {
            return None;
        }
        let low_m3 = total.quantile(1.0 - chance);
        (low_m3 > 0.0).then(|| OVER * total.best * asked_m3 / low_m3)
    }

    fn volume(&self, problem: &Problem, planned: &Planned) -> Option<Total> {
        let hours = self.weighed(problem, &planned.day, |_| 1.0);
        let speeds: Vec<_> = hours.running.iter().map(|(speed, _)| *speed).collect();
        let flows = drawn_flows(&self.offer.lineups, &speeds)?;
        let primed = problem.start_volume_m3 * f64::from(planned.replay.starts);
        Some(
            flows
                .total(&hours)
                .scaled_and_moved(SECONDS_PER_HOUR, primed),
        )
    }

    /// Adds up what the slots of a day count for under a weight per hour.
    pub(crate) fn weighed(
        &self,
        problem: &Problem,
        day: &[Option<usize>],
        weight: impl Fn(&crate::Slot) -> f64,
    ) -> Weighed {
        let slots = problem.slots.iter().zip(day);
        Weighed::of_slots(slots.map(|(slot, speed)| {
            let speed = speed.map(|speed| self.offer.running(&problem.speeds[speed]));
            (speed, weight(slot) * slot.hours)
        }))
    }

    /// Lists what is asked of a day.
    pub(crate) fn rules(&self, slots: &DaySlots) -> Vec<Rule> {
        let operation = &self.site.operation;
        let mut rules: Vec<Rule> = self
            .turnover_m3
            .map(|min_m3| Rule::Volume { min_m3 })
            .into_iter()
            .collect();
        rules.extend(operation.tasks.iter().map(|task| slots.task(task)));
        let prime_rpm = self.site.pump.prime.as_ref().map(|prime| prime.speed.si);
        for quiet in &operation.quiet {
            let within = slots.within(Window {
                from: quiet.from,
                to: quiet.to,
            });
            if prime_rpm.is_some_and(|prime| prime > quiet.max_speed.si) {
                rules.push(Rule::NoStart {
                    slots: within.clone(),
                });
            }
            rules.push(Rule::MaxSpeed {
                slots: within,
                speed_rpm: quiet.max_speed.si,
            });
        }
        let hours = |time: &Quantity| time.si / SECONDS_PER_HOUR;
        rules.extend(operation.max_starts.map(|max| Rule::Starts { max }));
        rules.extend(operation.max_speeds.map(|max| Rule::Speeds { max }));
        rules.extend(operation.max_changes.map(|max| Rule::Changes { max }));
        rules.extend(operation.min_run.as_ref().map(|time| Rule::Run {
            min_hours: hours(time),
        }));
        rules.extend(operation.max_pause.as_ref().map(|time| Rule::Pause {
            max_hours: hours(time),
        }));
        rules
    }

    /// Computes what a start adds to its slot by priming: so that neither flatters the day, its energy counts in full, and
    /// of its volume what the highest speed on offer would not give in that time.
    pub(crate) fn priming(&self) -> (f64, f64) {
        let primed = self
            .site
            .pump
            .prime
            .as_ref()
            .zip(self.offer.lineups.first());
        let Some((hours, speed)) = primed.and_then(|(prime, lineup)| {
            Some((
                prime.time.si / SECONDS_PER_HOUR,
                lineup.speed(prime.speed.si)?,
            ))
        }) else {
            return (0.0, 0.0);
        };
        let flows = self.offer.speeds.iter().map(|speed| speed.flow_m3s);
        let beyond_m3s = (speed.flow_m3s - flows.fold(0.0, f64::max)).max(0.0);
        (speed.power_w * hours, beyond_m3s * hours * SECONDS_PER_HOUR)
    }

    /// Finds the limit that priming passes first.
    pub(crate) fn priming_beyond(&self) -> Option<usize> {
        let prime_rpm = self.site.pump.prime.as_ref()?.speed.si;
        self.beyond(prime_rpm)
    }

    /// Finds the limit that is met first, where a speed in the usual line-up lies beyond it.
    pub(crate) fn beyond(&self, speed_rpm: f64) -> Option<usize> {
        let lineup = self.offer.lineups.first()?;
        let (limit, at_rpm) = lowest_limit(&self.analysis.limits, lineup)?;
        (speed_rpm > at_rpm).then_some(limit)
    }

    /// Lists the limits of least flow that some running entry of a program does not reach.
    pub(crate) fn short_of(&self, problem: &Problem, program: &Programmed) -> Vec<usize> {
        let running = program.entries.iter().filter_map(|entry| entry.speed);
        let flows = running.map(|speed| problem.speeds[speed].flow_m3s);
        let least = flows.fold(f64::INFINITY, f64::min);
        let limits = self.analysis.limits.iter().enumerate();
        limits
            .filter(|(_, limit)| limit.bound == Bound::Min && limit.passage == Passage::Whole)
            .filter(|(_, limit)| limit.flow_m3s.is_some_and(|flow| flow > least))
            .map(|(index, _)| index)
            .collect()
    }
}

/// Watts of a kilowatt, for charges that are stated per kW.
pub(crate) fn demand_per_w(site: &Site) -> f64 {
    let charge = site.operation.demand_charge.as_ref();
    charge.map_or(0.0, |charge| charge.si) / W_PER_KW
}
