//! A year of days: each day of the calendar at its own prices, each distinct day solved once.
//!
//! A charge for the highest draw is paid by the month, so the days of a month are sought under one ceiling on the draw.

use crate::calendar::{Date, TariffDay};
use crate::clock::Clock;
use crate::counted::{CountedYear, by_month, counted_day};
use crate::fulfilment::Fulfilment;
use crate::pad::{OfDay, Pad, demand_per_w};
use crate::plan::{NoPlan, Programmed};
use crate::problem::{Least, Problem};
use crate::schedule::{Ceiling, Effort, Outcome, under_ceilings};
use crate::spread::Drawn;
use crate::sums::distinct;
use crate::tariff::{DayPrices, currency};
use fieldtest::Analysis;
use metrology::Estimate;
use records::{DayKind, Operation, Site};

/// What is asked of a year.
#[derive(Clone, Debug)]
pub struct AskedYear {
    /// The year.
    pub year: u16,
    /// What is to be least; `None`: cost where there is a tariff, else energy.
    pub least: Option<Least>,
    /// The most minutes of a slot.
    pub slot_minutes: u32,
    /// How much is tried for each distinct day.
    pub effort: Effort,
    /// The days on which the clock on the wall is set.
    pub clock_changes: Vec<(Date, Clock)>,
}

/// Why there is no year.
#[derive(Clone, Debug, PartialEq)]
pub enum NoYear {
    /// There is no plan at all.
    Plan(NoPlan),
    /// On this day no program keeps all the rules.
    Impossible {
        /// The first such day.
        date: Date,
    },
    /// On this day neither a program nor the proof that there is none was found.
    Unsettled {
        /// The first such day.
        date: Date,
    },
}

impl From<NoPlan> for NoYear {
    fn from(error: NoPlan) -> Self {
        Self::Plan(error)
    }
}

/// A planned year.
#[derive(Clone, Debug)]
pub struct YearPlan {
    /// The year.
    pub year: u16,
    /// What was made least.
    pub least: Least,
    /// The currency of the tariff.
    pub currency: Option<String>,
    /// The distinct days.
    pub kinds: Vec<KindOfDay>,
    /// Every day of the calendar.
    pub days: Vec<DayOfYear>,
    /// What the year comes to.
    pub sums: YearSums,
    /// The program as it was found, where it is stated.
    pub as_found: Option<YearFound>,
}

/// A distinct day of a year.
#[derive(Clone, Debug)]
pub struct KindOfDay {
    /// What the tariff makes of it.
    pub day: TariffDay,
    /// How the clock goes.
    pub clock: Clock,
    /// How many days of the year are like this.
    pub days: u32,
    /// The problem; a ceiling on the draw has taken speeds away.
    pub problem: Problem,
    /// Its program.
    pub program: Programmed,
}

/// A day of the calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DayOfYear {
    /// The date.
    pub date: Date,
    /// The number of its kind.
    pub kind: usize,
}

/// What a year comes to.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct YearSums {
    /// Energy, kWh.
    pub energy_kwh: Option<Estimate>,
    /// Volume, m³.
    pub volume_m3: Option<Estimate>,
    /// Cost: energy, tiers and the charge for the highest draw, fixed charges apart.
    pub cost: Option<Estimate>,
    /// Of the cost, the best estimate of what the highest draw of each month costs.
    pub demand: f64,
    /// Carbon dioxide, kg.
    pub co2_kg: Option<Estimate>,
}

/// The program as it was found, over the year.
#[derive(Clone, Debug, PartialEq)]
pub struct YearFound {
    /// What it does of what is asked of a day; `None` where the laws do not reach its speeds.
    pub fulfilment: Option<Fulfilment>,
    /// What it comes to.
    pub sums: YearSums,
    /// What the new programs save, in money.
    pub saves: Option<Estimate>,
    /// What they save, kWh.
    pub saves_kwh: Option<Estimate>,
}

/// Plans every day of a year.
///
/// # Inputs
/// `done`: called after each distinct day with how many of how many are solved.
///
/// # Errors
/// Why some day has no plan.
pub fn plan_year(
    site: &Site,
    analysis: &Analysis,
    asked: &AskedYear,
    mut done: impl FnMut(usize, usize),
) -> Result<YearPlan, NoYear> {
    let pad = Pad::of(site, analysis, asked.least)?;
    let solved = SolvedYear::of(&pad, asked, &mut done)?;
    let found = (!site.operation.as_found.is_empty())
        .then(|| CountedYear::of_program(&pad, asked, &site.operation.as_found));
    let counted = solved.counted(&pad);
    let speeds = [Some(&counted), found.as_ref()].into_iter().flatten();
    let speeds = distinct(speeds.flat_map(CountedYear::running));
    let drawn = Drawn::of(&pad.offer.lineups, &speeds, pad.standby_w);
    let totals = drawn.as_ref().map(|drawn| counted.totals(&pad, drawn));
    let of_found = found
        .as_ref()
        .zip(drawn.as_ref())
        .map(|(found, drawn)| found.totals(&pad, drawn));
    let as_found = of_found
        .as_ref()
        .zip(totals.as_ref())
        .map(|(found, own)| YearFound {
            fulfilment: pad.fulfilment(&site.operation.as_found),
            sums: found.sums(&site.operation),
            saves: own.saves(found).and_then(|saves| saves.estimate()),
            saves_kwh: own.energy_kwh.less_than(&found.energy_kwh).estimate(),
        });
    Ok(YearPlan {
        year: asked.year,
        least: pad.least,
        currency: currency(&site.operation).map(str::to_owned),
        sums: totals
            .map(|totals| totals.sums(&site.operation))
            .unwrap_or_default(),
        kinds: solved.kinds,
        days: solved.days,
        as_found,
    })
}

/// The programs of a year.
#[derive(Clone, Debug)]
pub(crate) struct SolvedYear {
    pub(crate) kinds: Vec<KindOfDay>,
    pub(crate) days: Vec<DayOfYear>,
}

/// A distinct day before it is solved: its prices, and the first date of it.
struct Base {
    day: TariffDay,
    clock: Clock,
    first: Date,
    problem: Problem,
    /// An earlier one with the very same problem, which is solved in its place.
    same_as: Option<usize>,
    /// What is solved of it, by ceiling, W.
    known: Vec<(f64, Option<(Problem, Programmed)>)>,
}

impl SolvedYear {
    /// Solves each distinct day of a year once.
    pub(crate) fn of(
        pad: &Pad<'_>,
        asked: &AskedYear,
        done: &mut dyn FnMut(usize, usize),
    ) -> Result<Self, NoYear> {
        let (mut bases, dates) = bases(pad, asked);
        let count = bases.len();
        for (index, base) in bases.iter_mut().enumerate() {
            let first = base.first;
            if base.same_as.is_some() {
                continue;
            }
            base.under(pad, f64::INFINITY, asked.effort)?
                .ok_or(NoYear::Impossible { date: first })?;
            done(index + 1, count);
        }
        let mut year = Self {
            kinds: Vec::new(),
            days: Vec::new(),
        };
        let per_w = match pad.least {
            Least::Cost => demand_per_w(pad.site),
            Least::Energy => 0.0,
        };
        for month in 1..=12 {
            let of_month: Vec<(Date, usize)> = dates
                .iter()
                .filter(|(date, _)| date.month == month)
                .copied()
                .collect();
            let ceiling_w = if per_w > 0.0 {
                ceiling(pad, asked, &mut bases, &of_month, per_w)?
            } else {
                f64::INFINITY
            };
            for (date, base) in of_month {
                let solved = &bases[solved_by(&bases, base)];
                year.add(date, &bases[base], solved, ceiling_w);
            }
        }
        Ok(year)
    }

    /// Adds a day, with the program that was solved for it under a ceiling.
    fn add(&mut self, date: Date, base: &Base, solved: &Base, ceiling_w: f64) {
        let known = solved
            .known
            .iter()
            .find(|(ceiling, _)| ceiling.total_cmp(&ceiling_w).is_eq());
        let Some((_, Some((problem, program)))) = known else {
            return;
        };
        let same = |kind: &KindOfDay| {
            kind.day == base.day
                && kind.clock == base.clock
                && kind.program.planned.day == program.planned.day
                && kind.problem.speeds.len() == problem.speeds.len()
        };
        let kind = self.kinds.iter().position(same).unwrap_or_else(|| {
            self.kinds.push(KindOfDay {
                day: base.day.clone(),
                clock: base.clock,
                days: 0,
                problem: problem.clone(),
                program: program.clone(),
            });
            self.kinds.len() - 1
        });
        self.kinds[kind].days += 1;
        self.days.push(DayOfYear { date, kind });
    }

    /// Counts the hours of the programs.
    pub(crate) fn counted(&self, pad: &Pad<'_>) -> CountedYear {
        let days = self.kinds.iter().map(|kind| counted_day(pad, kind));
        CountedYear {
            days: days.collect(),
            months: by_month(self.days.iter().map(|day| (day.date, day.kind))),
        }
    }
}

/// The base whose solutions a base takes.
fn solved_by(bases: &[Base], base: usize) -> usize {
    bases[base].same_as.unwrap_or(base)
}

/// What the tariff makes of a date; kinds of day that it does not tell apart are one.
pub(crate) fn told_apart(operation: &Operation, date: Date) -> TariffDay {
    let day = date.of_tariff(operation);
    if operation.tariff.iter().all(|block| block.days.is_empty()) {
        return TariffDay {
            kind: DayKind::Weekdays,
            ..day
        };
    }
    day
}

/// Lists the distinct days of a year, and of which each date is.
fn bases(pad: &Pad<'_>, asked: &AskedYear) -> (Vec<Base>, Vec<(Date, usize)>) {
    let mut bases: Vec<Base> = Vec::new();
    let mut dates = Vec::new();
    for date in Date::days_of(asked.year) {
        let day = told_apart(&pad.site.operation, date);
        let clock = clock_of(asked, date);
        let same = |base: &Base| base.day == day && base.clock == clock;
        let known = bases.iter().position(same);
        if known.is_none() {
            let base = base(pad, asked, (date, day, clock), &bases);
            bases.push(base);
        }
        dates.push((date, known.unwrap_or(bases.len() - 1)));
    }
    (bases, dates)
}

/// Makes a distinct day.
fn base(
    pad: &Pad<'_>,
    asked: &AskedYear,
    (first, day, clock): (Date, TariffDay, Clock),
    earlier: &[Base],
) -> Base {
    let prices = DayPrices::of(&pad.site.operation, &day);
    // The charge for the highest draw is the month's.
    let problem = Problem {
        demand_per_kw: 0.0,
        ..pad.problem(&OfDay {
            prices: prices.as_ref(),
            clock,
            slot_minutes: asked.slot_minutes,
        })
    };
    Base {
        same_as: earlier.iter().position(|base| base.problem == problem),
        day,
        clock,
        first,
        problem,
        known: Vec::new(),
    }
}

pub(crate) fn clock_of(asked: &AskedYear, date: Date) -> Clock {
    let changes = &asked.clock_changes;
    let change = changes.iter().find(|(changed, _)| *changed == date);
    change.map_or(Clock::Even, |(_, clock)| *clock)
}

impl Base {
    /// Solves the day with no speed that draws more than so much; `None` where no day keeps the rules.
    fn under(
        &mut self,
        pad: &Pad<'_>,
        ceiling_w: f64,
        mut effort: Effort,
    ) -> Result<Option<&Programmed>, NoYear> {
        let same = |(ceiling, _): &(f64, Option<(Problem, Programmed)>)| {
            ceiling.total_cmp(&ceiling_w).is_eq()
        };
        let known = self.known.iter().position(same);
        if known.is_none() {
            let mut problem = self.problem.clone();
            problem.speeds.retain(|speed| speed.power_w <= ceiling_w);
            let (problem, outcome) = pad.solve(problem, &mut effort)?;
            let solved = match outcome {
                Outcome::Found(planned) => {
                    let program = Programmed::of(&problem, planned)?;
                    Some((problem, program))
                }
                Outcome::Impossible => None,
                Outcome::Unsettled => return Err(NoYear::Unsettled { date: self.first }),
            };
            self.known.push((ceiling_w, solved));
        }
        let index = known.unwrap_or(self.known.len() - 1);
        Ok(self.known[index].1.as_ref().map(|(_, program)| program))
    }
}

/// Finds the ceiling on the draw under which a month comes to the least.
fn ceiling(
    pad: &Pad<'_>,
    asked: &AskedYear,
    bases: &mut [Base],
    of_month: &[(Date, usize)],
    per_w: f64,
) -> Result<f64, NoYear> {
    let mut counts: Vec<(usize, f64)> = Vec::new();
    for (_, base) in of_month {
        let base = solved_by(bases, *base);
        match counts.iter_mut().find(|(known, _)| *known == base) {
            Some((_, count)) => *count += 1.0,
            None => counts.push((base, 1.0)),
        }
    }
    let powers: Vec<f64> = pad.offer.speeds.iter().map(|speed| speed.power_w).collect();
    let found = under_ceilings::<NoYear>(&powers, per_w, |ceiling_w| {
        let mut month = Ceiling {
            energy_cost: 0.0,
            bound: 0.0,
            top_w: 0.0,
        };
        for (base, count) in &counts {
            let program = bases[*base].under(pad, ceiling_w, asked.effort);
            let Some(program) = program.map_err(Some)? else {
                return Ok(None);
            };
            month.energy_cost += count * program.planned.replay.least;
            month.bound += count * program.planned.bound;
            month.top_w = month.top_w.max(program.planned.replay.top_w);
        }
        Ok(Some(month))
    })?;
    Ok(found.best.map_or(f64::INFINITY, |(ceiling_w, _)| ceiling_w))
}
