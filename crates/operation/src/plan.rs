//! From a site and its tests to the day that is advised: the problem, its cheapest day, and what there is to say of it.

use crate::calendar::{Date, TariffDay};
use crate::clock::Clock;
use crate::explain::{Binding, OneMore, binding, conflict, one_more};
use crate::offer::{NoOffer, Offer};
use crate::order::in_order;
use crate::pad::{OfDay, Pad};
use crate::problem::{Least, Problem, ProblemError, Rule};
use crate::program::{Entry, entries};
use crate::schedule::{Effort, Outcome, Planned, schedule};
use crate::sums::{AsFound, Sums, as_found, sums};
use crate::tariff::{DayPrices, currency};
use fieldtest::Analysis;
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
    /// The volume that is asked for a day, m³; the rule of the problem may ask for more, to meet it with the chance that the
    /// site states.
    pub turnover_m3: Option<f64>,
    /// The limit, by its number in the analysis, that priming passes at each start.
    pub priming_beyond: Option<usize>,
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
    let day = asked.date.map_or_else(
        || TariffDay::usual(operation),
        |date| date.of_tariff(operation),
    );
    let prices = DayPrices::of(operation, &day);
    let pad = Pad::of(site, analysis, asked.least)?;
    let of_day = OfDay {
        prices: prices.as_ref(),
        clock: asked.clock,
        slot_minutes: asked.slot_minutes,
    };
    let problem = pad.problem(&of_day);
    let (problem, outcome) = pad.solve(problem, &mut asked.effort.clone())?;
    let advice = match outcome {
        Outcome::Found(planned) => {
            let advised = Advised {
                pad: &pad,
                problem: &problem,
                asked,
                prices: prices.as_ref(),
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
        turnover_m3: pad.turnover_m3,
        priming_beyond: pad.priming_beyond(),
        standby_w: pad.standby_w,
        offer: pad.offer,
        problem,
        advice,
    })
}

/// Finds what days of other turnovers would cost, from a quarter of a turnover on, with all other rules kept.
///
/// # Returns
/// Turnovers a day and what the day comes to; those that no day reaches are left out.
pub fn by_turnover(
    site: &Site,
    plan: &DayPlan,
    effort: Effort,
) -> Result<Vec<(f64, f64)>, ProblemError> {
    /// Quarters of a turnover that are tried: five turnovers are more than any home pool is given.
    const QUARTERS: u32 = 20;
    let Some(volume) = &site.water.volume else {
        return Ok(Vec::new());
    };
    let mut found = Vec::new();
    for turnovers in (1..=QUARTERS).map(|quarters| 0.25 * f64::from(quarters)) {
        let mut problem = plan.problem.clone();
        problem
            .rules
            .retain(|rule| !matches!(rule, Rule::Volume { .. }));
        problem.rules.push(Rule::Volume {
            min_m3: turnovers * volume.si,
        });
        match schedule(&problem, &mut effort.clone())? {
            Outcome::Found(planned) => found.push((turnovers, planned.replay.least)),
            Outcome::Impossible => break,
            Outcome::Unsettled => {}
        }
    }
    Ok(found)
}

/// What the advice is made from.
pub(crate) struct Advised<'a> {
    pub(crate) pad: &'a Pad<'a>,
    pub(crate) problem: &'a Problem,
    pub(crate) asked: &'a Asked,
    pub(crate) prices: Option<&'a DayPrices>,
}

impl Programmed {
    /// Puts a day in order, and makes a program of it.
    pub(crate) fn of(problem: &Problem, planned: Planned) -> Result<Self, NoPlan> {
        if !planned.replay.broken.is_empty() {
            return Err(NoPlan::Broken(planned.replay.broken));
        }
        let planned = in_order(problem, planned);
        Ok(Self {
            entries: entries(problem, &planned.day),
            planned,
        })
    }
}

impl Advised<'_> {
    fn day(&self, planned: Planned) -> Result<AdvisedDay, NoPlan> {
        let effort = self.asked.effort.part(BESIDE);
        let program = Programmed::of(self.problem, planned)?;
        let turnover_m3 = self
            .pad
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
            short_of: self.pad.short_of(self.problem, &program),
            program,
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
            Outcome::Found(planned) => Programmed::of(self.problem, planned).map(Some),
            Outcome::Impossible | Outcome::Unsettled => Ok(None),
        }
    }
}
