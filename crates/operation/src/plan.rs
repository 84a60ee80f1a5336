//! From a site and its tests to the day that is advised: the problem, its cheapest day, and what there is to say of it.

use crate::calendar::{Date, TariffDay};
use crate::clock::{Clock, Window};
use crate::day::DaySlots;
use crate::explain::{Binding, OneMore, binding, conflict, one_more};
use crate::offer::{LineUp, NoOffer, Offer};
use crate::order::in_order;
use crate::problem::{BeforeFirst, Least, Problem, ProblemError, Rule, SECONDS_PER_HOUR};
use crate::program::{Entry, entries};
use crate::schedule::{Effort, Outcome, Planned, schedule};
use crate::sums::{AsFound, Sums, as_found, sums};
use crate::tariff::{DayPrices, currency};
use fieldtest::{Analysis, Bound, Passage};
use metrology::Estimate;
use records::Site;

/// The answers beside the day itself are many: each is given this part of its effort.
const BESIDE: u64 = 4;

/// What is asked for.
#[derive(Clone, Copy, Debug)]
pub struct Asked {
    /// The day that is planned; `None`: a weekday of the tariff's first season.
    pub date: Option<Date>,
    /// What is to be least; `None`: cost where there is a tariff, else energy.
    pub least: Option<Least>,
    /// How the clock on the wall goes that day.
    pub clock: Clock,
    /// The most minutes of a slot.
    pub slot_minutes: u32,
    /// How much is tried for the day; the answers beside it are given a part of it each.
    pub effort: Effort,
}

impl Default for Asked {
    fn default() -> Self {
        /// What a program is set by: common practice, no source.
        const HALF_AN_HOUR: u32 = 30;
        Self {
            date: None,
            least: None,
            clock: Clock::Even,
            slot_minutes: HALF_AN_HOUR,
            effort: Effort::a_second(),
        }
    }
}

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq)]
pub enum NoPlan {
    /// There is no speed to plan with.
    Offer(NoOffer),
    /// Turnovers are asked for, and the volume of the pool is not stated.
    NoVolume,
    /// Neither a turnover nor a task is asked for.
    NothingAsked,
    /// Least cost is asked for, and there is no tariff.
    NoTariff,
    /// The problem is none.
    Problem(ProblemError),
    /// The replay of the day breaks rules: the search is wrong, and its day is not given.
    Broken(Vec<usize>),
}

impl From<ProblemError> for NoPlan {
    fn from(error: ProblemError) -> Self {
        Self::Problem(error)
    }
}

/// The plan of a day.
#[derive(Clone, Debug)]
pub struct DayPlan {
    /// The date that was planned for.
    pub date: Option<Date>,
    /// What the tariff makes of the day.
    pub day: TariffDay,
    /// The currency of the tariff.
    pub currency: Option<String>,
    /// The speeds on offer.
    pub offer: Offer,
    /// The problem, complete.
    pub problem: Problem,
    /// The draw at rest; `None`: not read, and taken for nothing.
    pub standby_w: Option<Estimate>,
    /// What became of it.
    pub advice: Advice,
}

/// What became of a plan.
#[derive(Clone, Debug)]
pub enum Advice {
    /// A day is advised.
    Day(Box<AdvisedDay>),
    /// No day keeps all the rules: the numbers of those that cannot hold together.
    Impossible(Vec<usize>),
    /// Neither a day nor the proof that there is none was found.
    Unsettled,
}

/// A program with its day.
#[derive(Clone, Debug)]
pub struct Programmed {
    /// The day.
    pub planned: Planned,
    /// The day as a controller holds it.
    pub entries: Vec<Entry>,
}

/// The day that is advised.
#[derive(Clone, Debug)]
pub struct AdvisedDay {
    /// The program.
    pub program: Programmed,
    /// What it comes to.
    pub sums: Sums,
    /// The rules that cost something.
    pub binding: Vec<Binding>,
    /// What one more of each demand costs.
    pub one_more: Vec<OneMore>,
    /// A program of fewer speeds, where there is one.
    pub easier: Option<Programmed>,
    /// The program as it was found, where it is stated.
    pub as_found: Option<AsFound>,
    /// The limits, by number in the analysis, below which some entry of the program runs: appliances without their flow.
    pub short_of: Vec<usize>,
}

/// Plans a day.
pub fn plan(site: &Site, analysis: &Analysis, asked: &Asked) -> Result<DayPlan, NoPlan> {
    let operation = &site.operation;
    if operation.turnover.is_none() && operation.tasks.is_empty() {
        return Err(NoPlan::NothingAsked);
    }
    let day = asked.date.map_or_else(
        || TariffDay::usual(operation),
        |date| date.of_tariff(operation),
    );
    let prices = DayPrices::of(operation, &day);
    if asked.least == Some(Least::Cost) && prices.is_none() {
        return Err(NoPlan::NoTariff);
    }
    let offer = Offer::of(site, analysis).map_err(NoPlan::Offer)?;
    let of_test = |lineup: &LineUp| {
        analysis
            .tests
            .iter()
            .rev()
            .find(|test| test.name == lineup.test)
    };
    let standby_w = offer
        .lineups
        .first()
        .and_then(of_test)
        .and_then(|test| test.laws.standby_w);
    let usual = if prices.is_some() {
        Least::Cost
    } else {
        Least::Energy
    };
    let problem = problem(
        site,
        &offer,
        asked,
        prices.as_ref(),
        standby_w,
        asked.least.unwrap_or(usual),
    )?;
    let advice = match schedule(&problem, &mut asked.effort.clone())? {
        Outcome::Found(planned) => {
            let advised = Advised {
                site,
                analysis,
                offer: &offer,
                problem: &problem,
                asked,
                prices: prices.as_ref(),
                standby_w,
            };
            Advice::Day(Box::new(advised.day(planned)?))
        }
        Outcome::Impossible => Advice::Impossible(conflict(&problem, asked.effort.part(BESIDE))?),
        Outcome::Unsettled => Advice::Unsettled,
    };
    Ok(DayPlan {
        date: asked.date,
        day,
        currency: currency(operation).map(str::to_owned),
        offer,
        problem,
        standby_w,
        advice,
    })
}

/// Composes the problem of a site.
fn problem(
    site: &Site,
    offer: &Offer,
    asked: &Asked,
    prices: Option<&DayPrices>,
    standby_w: Option<Estimate>,
    least: Least,
) -> Result<Problem, NoPlan> {
    let slots = DaySlots::cut(&site.operation, prices, asked.clock, asked.slot_minutes);
    let rules = rules(site, &slots)?;
    let (start_energy_wh, start_volume_m3) = priming(site, offer);
    Ok(Problem {
        slots: slots.slots,
        speeds: offer.speeds.clone(),
        rules,
        before_first: BeforeFirst::Cyclic,
        least,
        off_power_w: standby_w.map_or(0.0, |standby| standby.value.max(0.0)),
        start_energy_wh,
        start_volume_m3,
    })
}

fn rules(site: &Site, slots: &DaySlots) -> Result<Vec<Rule>, NoPlan> {
    let operation = &site.operation;
    let mut rules = Vec::new();
    if let Some(turnover) = &operation.turnover {
        let volume = site.water.volume.as_ref().ok_or(NoPlan::NoVolume)?;
        rules.push(Rule::Volume {
            min_m3: turnover.per_day * volume.si,
        });
    }
    rules.extend(operation.tasks.iter().map(|task| slots.task(task)));
    let prime_rpm = site.pump.prime.as_ref().map(|prime| prime.speed.si);
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
    let hours = |time: &records::Quantity| time.si / SECONDS_PER_HOUR;
    rules.extend(operation.max_starts.map(|max| Rule::Starts { max }));
    rules.extend(operation.max_speeds.map(|max| Rule::Speeds { max }));
    rules.extend(operation.max_changes.map(|max| Rule::Changes { max }));
    rules.extend(operation.min_run.as_ref().map(|time| Rule::Run {
        min_hours: hours(time),
    }));
    rules.extend(operation.max_pause.as_ref().map(|time| Rule::Pause {
        max_hours: hours(time),
    }));
    Ok(rules)
}

/// Computes what a start adds to its slot by priming: so that neither flatters the day, its energy counts in full, and of
/// its volume what the highest speed on offer would not give in that time.
fn priming(site: &Site, offer: &Offer) -> (f64, f64) {
    let primed = site.pump.prime.as_ref().zip(offer.lineups.first());
    let Some((hours, speed)) = primed.and_then(|(prime, lineup)| {
        Some((
            prime.time.si / SECONDS_PER_HOUR,
            lineup.speed(prime.speed.si)?,
        ))
    }) else {
        return (0.0, 0.0);
    };
    let flows = offer.speeds.iter().map(|speed| speed.flow_m3s);
    let beyond_m3s = (speed.flow_m3s - flows.fold(0.0, f64::max)).max(0.0);
    (speed.power_w * hours, beyond_m3s * hours * SECONDS_PER_HOUR)
}

/// What the advice is made from.
pub(crate) struct Advised<'a> {
    pub(crate) site: &'a Site,
    pub(crate) analysis: &'a Analysis,
    pub(crate) offer: &'a Offer,
    pub(crate) problem: &'a Problem,
    pub(crate) asked: &'a Asked,
    pub(crate) prices: Option<&'a DayPrices>,
    pub(crate) standby_w: Option<Estimate>,
}

impl Advised<'_> {
    fn day(&self, planned: Planned) -> Result<AdvisedDay, NoPlan> {
        let effort = self.asked.effort.part(BESIDE);
        let program = self.program(planned)?;
        let turnover_m3 = self
            .site
            .water
            .volume
            .as_ref()
            .map_or(0.0, |volume| volume.si);
        Ok(AdvisedDay {
            sums: sums(self, &program),
            binding: binding(self.problem, &program.planned, effort)?,
            one_more: one_more(self.problem, &program.planned, turnover_m3, effort)?,
            easier: self.easier(&program)?,
            as_found: as_found(self, &program),
            short_of: self.short_of(&program),
            program,
        })
    }

    fn program(&self, planned: Planned) -> Result<Programmed, NoPlan> {
        if !planned.replay.broken.is_empty() {
            return Err(NoPlan::Broken(planned.replay.broken));
        }
        let planned = in_order(self.problem, planned);
        Ok(Programmed {
            entries: entries(self.problem, &planned.day),
            planned,
        })
    }

    /// Finds the cheapest day of two speeds; where the best one has no more, of one.
    fn easier(&self, program: &Programmed) -> Result<Option<Programmed>, NoPlan> {
        let used = program.planned.replay.speeds;
        if used <= 1 {
            return Ok(None);
        }
        let fewer = self.problem.with(Rule::Speeds {
            max: if used > 2 { 2 } else { 1 },
        });
        match schedule(&fewer, &mut self.asked.effort.part(BESIDE))? {
            Outcome::Found(planned) => self.program(planned).map(Some),
            Outcome::Impossible | Outcome::Unsettled => Ok(None),
        }
    }

    /// Lists the limits of least flow that some running entry of the program does not reach.
    fn short_of(&self, program: &Programmed) -> Vec<usize> {
        let running = program.entries.iter().filter_map(|entry| entry.speed);
        let flows = running.map(|speed| self.problem.speeds[speed].flow_m3s);
        let least = flows.fold(f64::INFINITY, f64::min);
        let limits = self.analysis.limits.iter().enumerate();
        limits
            .filter(|(_, limit)| limit.bound == Bound::Min && limit.passage == Passage::Whole)
            .filter(|(_, limit)| limit.flow_m3s.is_some_and(|flow| flow > least))
            .map(|(index, _)| index)
            .collect()
    }
}
