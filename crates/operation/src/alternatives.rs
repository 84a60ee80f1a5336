//! What changes of a pad would save: each carried from what was measured, planned over a year, and weighed against its cost.
//!
//! A saving is against a program that was found, or that somebody names. What a change adds is told apart from what the
//! new program alone saves, which costs nothing: only that much can pay a change back.

use crate::carried::{Carried, PowerBy};
use crate::counted::{CountedYear, YearTotals};
use crate::offer::{LineUp, NoOffer, Offer, Running};
use crate::pad::Pad;
use crate::plan::NoPlan;
use crate::spread::{Drawn, Total};
use crate::sums::distinct;
use crate::tariff::currency;
use crate::worth::{Terms, Worth};
use crate::year::{AskedYear, KindOfDay, NoYear, SolvedYear, YearSums};
use fieldtest::{
    Analysis, Bound, CarriedFlow, Carrier, ChangedPad, FilterThen, Limit, NotCalibrated, Passage,
    PowerLaw, TestResult,
};
use metrology::Estimate;
use numerics::elementary::{exp, ln, pow};
use records::{Change, ProgramBlock, Pump, Site, Test};

/// What money is worth a year later where the site file does not say: common practice, no source.
const USUAL_DISCOUNT_RATE: f64 = 0.03;

/// What is asked of a comparison.
#[derive(Clone, Debug)]
pub struct AskedComparison {
    /// The year that is planned.
    pub year: AskedYear,
    /// The change, by number, whose program savings are against; `None`: the program as found.
    pub against: Option<usize>,
}

/// Changes beside one another.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// The year.
    pub year: u16,
    /// The currency of the sums.
    pub currency: Option<String>,
    /// What money is worth a year later, as a share.
    pub discount_rate: f64,
    /// Whether the site file states that.
    pub discount_rate_is_stated: bool,
    /// What savings are against; `None` where nothing is stated, and no saving is told.
    pub baseline: Option<Baseline>,
    /// The pad as it is, with the best program.
    pub today: Plain,
    /// The changes, in the order given.
    pub changes: Vec<Alternative>,
}

/// What savings are against.
#[derive(Clone, Debug)]
pub struct Baseline {
    /// The change that it was named as; `None`: the program as found.
    pub name: Option<String>,
    /// What it comes to.
    pub sums: YearSums,
    /// The highest speed, rpm, and for how many hours a day.
    pub top: Option<(f64, f64)>,
}

/// A pad with its programs.
#[derive(Clone, Debug)]
pub struct Plain {
    /// What a year comes to.
    pub sums: YearSums,
    /// What it saves a year against the baseline, in money.
    pub saves: Option<Estimate>,
    /// The same in kWh.
    pub saves_kwh: Option<Estimate>,
    /// The share of what is not known in which it saves anything, in money where there is a tariff.
    pub chance: Option<f64>,
    /// The highest speed of the programs, rpm, and for how many hours a day on average: a stand-in for noise.
    pub top: Option<(f64, f64)>,
    /// The distinct days; empty where a program is stated.
    pub kinds: Vec<KindOfDay>,
    /// The limits, with their sources, that priming or the program passes, or that appliances ask for and do not get.
    pub broken: Vec<Limit>,
}

/// A change.
#[derive(Clone, Debug)]
pub struct Alternative {
    /// Its name.
    pub name: String,
    /// What becomes of it, or why that is not known.
    pub result: Result<Box<Changed>, NoAlternative>,
}

/// What becomes of a change.
#[derive(Clone, Debug)]
pub struct Changed {
    /// The pad after it.
    pub plain: Plain,
    /// What it saves a year beyond the best program on the pad as it is, in money.
    pub adds: Option<Estimate>,
    /// The same in kWh.
    pub adds_kwh: Option<Estimate>,
    /// The share of what is not known in which it adds anything.
    pub chance: f64,
    /// What it is worth; `None` where it costs nothing, or no money is counted.
    pub worth: Option<Worth>,
    /// The program that is stated for it; empty where the best one is.
    pub program: Vec<ProgramBlock>,
    /// How the flow was carried in the usual line-up; `None` where nothing of the pad changes.
    pub carried: Option<CarriedFlow>,
    /// Whether a maker's curve of power stands behind the power.
    pub power_by_curve: bool,
    /// The limits that are kept now and were not.
    pub newly_kept: Vec<Limit>,
    /// The limits that were kept and are not now.
    pub newly_broken: Vec<Limit>,
}

/// Why nothing is known of a change.
#[derive(Clone, Debug, PartialEq)]
pub enum NoAlternative {
    /// It has no year.
    Year(NoYear),
    /// The circuit cannot carry it.
    NotCarried(NotCalibrated),
    /// Another pump has no electrical power at its points.
    NoPowerOfPump,
    /// Another pump cannot be set beside one without a maker's curve.
    NoCurveToday,
}

impl From<NoYear> for NoAlternative {
    fn from(error: NoYear) -> Self {
        Self::Year(error)
    }
}

impl From<NoPlan> for NoAlternative {
    fn from(error: NoPlan) -> Self {
        Self::Year(NoYear::Plan(error))
    }
}

/// A site with its tests and their analysis.
#[derive(Clone, Copy)]
struct Given<'a> {
    site: &'a Site,
    tests: &'a [Test],
    analysis: &'a Analysis,
}

/// Compares changes of a pad.
///
/// # Inputs
/// `done`: called after each pad with how many of how many are planned.
///
/// # Errors
/// Why the pad as it is has no plan; of a change that stands in its place.
pub fn compare(
    site: &Site,
    tests: &[Test],
    analysis: &Analysis,
    changes: &[Change],
    asked: &AskedComparison,
    mut done: impl FnMut(usize, usize),
) -> Result<Comparison, NoYear> {
    let given = Given {
        site,
        tests,
        analysis,
    };
    let today = Pad::of(site, analysis, asked.year.least)?;
    let solved = SolvedYear::of(&today, &asked.year, &mut |_, _| {})?;
    done(1, changes.len() + 1);
    let analyses: Vec<Analysis> = changes.iter().map(|change| after(given, change)).collect();
    let mut planned = Vec::new();
    let mut carrier = None;
    for (number, (change, analysis)) in changes.iter().zip(&analyses).enumerate() {
        planned.push(plan_change(given, change, analysis, asked, &mut carrier));
        done(number + 2, changes.len() + 1);
    }
    let rate = site.operation.discount_rate.as_ref().map(|rate| rate.si);
    let comparing = Comparing {
        today: Planned {
            counted: solved.counted(&today),
            pad: today,
            kinds: solved.kinds,
            carried: None,
        },
        discount_rate: rate.unwrap_or(USUAL_DISCOUNT_RATE),
    };
    let money = changes.iter().find_map(|change| change.currency());
    let (baseline, plain, changes) = comparing.compared(changes, planned, asked);
    Ok(Comparison {
        year: asked.year.year,
        currency: currency(&site.operation).or(money).map(str::to_owned),
        discount_rate: comparing.discount_rate,
        discount_rate_is_stated: rate.is_some(),
        baseline,
        today: plain,
        changes,
    })
}

/// The analysis of today with the limits of a changed site: what was read stays what it was.
fn after(given: Given<'_>, change: &Change) -> Analysis {
    let limits = if change.site == *given.site {
        given.analysis.limits.clone()
    } else {
        fieldtest::analyze(&change.site, given.tests).limits
    };
    Analysis {
        limits,
        ..given.analysis.clone()
    }
}

/// A pad with the hours of its year.
struct Planned<'a> {
    pad: Pad<'a>,
    kinds: Vec<KindOfDay>,
    counted: CountedYear,
    carried: Option<Vec<(String, Carried)>>,
}

fn plan_change<'a>(
    given: Given<'a>,
    change: &'a Change,
    analysis: &'a Analysis,
    asked: &AskedComparison,
    carrier: &mut Option<Result<Carrier<'a>, NotCalibrated>>,
) -> Result<Planned<'a>, NoAlternative> {
    Pad::checked(&change.site, asked.year.least)?;
    let moves = change.site != *given.site || change.cleans_filter;
    let carried = if moves {
        let carrier = carrier
            .get_or_insert_with(|| Carrier::new(given.site, given.tests, given.analysis))
            .as_ref();
        let carrier = carrier.map_err(|error| NoAlternative::NotCarried(error.clone()))?;
        Some(carry(given, change, carrier)?)
    } else {
        None
    };
    let offer = Offer::after(
        &change.site,
        analysis,
        carried.as_deref().unwrap_or_default(),
    );
    let offer = offer.map_err(|error: NoOffer| NoPlan::Offer(error))?;
    let pad = Pad::with(&change.site, analysis, offer, asked.year.least)?;
    let (kinds, counted) = if change.program.is_empty() {
        let solved = SolvedYear::of(&pad, &asked.year, &mut |_, _| {})?;
        let counted = solved.counted(&pad);
        (solved.kinds, counted)
    } else {
        let counted = CountedYear::of_program(&pad, &asked.year, &change.program);
        (Vec::new(), counted)
    };
    Ok(Planned {
        pad,
        kinds,
        counted,
        carried,
    })
}

/// Carries a change into the laws of each test.
fn carry(
    given: Given<'_>,
    change: &Change,
    carrier: &Carrier<'_>,
) -> Result<Vec<(String, Carried)>, NoAlternative> {
    let is_another_pump = is_another(&given.site.pump, &change.site.pump);
    if is_another_pump && given.site.pump.curve.is_empty() {
        return Err(NoAlternative::NoCurveToday);
    }
    let changed = ChangedPad {
        site: &change.site,
        filter: if change.cleans_filter {
            FilterThen::Clean
        } else {
            FilterThen::AsTested
        },
    };
    let flows = carrier.carry(&changed).map_err(NoAlternative::NotCarried)?;
    let tests = flows.into_iter().zip(&given.analysis.tests);
    tests
        .map(|(flow, test)| {
            let power = if is_another_pump {
                PowerBy::Curve(
                    another_power(&change.site.pump, test, &flow)
                        .ok_or(NoAlternative::NoPowerOfPump)?,
                )
            } else {
                PowerBy::Flow
            };
            Ok((test.name.clone(), Carried::new(flow, power)))
        })
        .collect()
}

fn is_another(today: &Pump, then: &Pump) -> bool {
    (&today.curve, &today.curve_speed) != (&then.curve, &then.curve_speed)
}

/// Computes, at each speed, the logarithm of the power of another pump above the fixed draw over that of today's.
///
/// The curve states electrical power at its own speed; at another one, what lies above the fixed draw goes with the measured
/// power of speed. The fixed draw is taken to stay: another motor's electronics draw about as much.
fn another_power(pump: &Pump, test: &TestResult, flow: &CarriedFlow) -> Option<Vec<f64>> {
    let curve_rpm = pump.curve_speed.as_ref()?.si;
    let law: &PowerLaw = test.laws.power.as_ref()?;
    let flows = &test.laws.flow.as_ref()?.law;
    let fixed_w = law.fixed_w.value;
    let mut points: Vec<(f64, f64)> = pump
        .curve
        .iter()
        .filter_map(|point| Some((point.flow.si, point.power.as_ref()?.si)))
        .collect();
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    let at_curve_speed = |flow_m3s: f64| interpolated(&points, flow_m3s);
    let steps = flow.speeds_rpm.iter().zip(&flow.ln_ratio);
    steps
        .map(|(speed_rpm, ln_ratio)| {
            let now_m3s = exp(flows.predict_ln(*speed_rpm).ln_value + ln_ratio);
            let curve_w = at_curve_speed(now_m3s * curve_rpm / speed_rpm)?;
            let scale = pow(speed_rpm / curve_rpm, law.exponent.value);
            let today_w = exp(law.law.predict_ln(*speed_rpm).ln_value);
            let (then, now) = ((curve_w - fixed_w) * scale, today_w - fixed_w);
            (then > 0.0 && now > 0.0).then(|| ln(then / now))
        })
        .collect()
}

/// Interpolates on straight lines between points, and on beyond their ends; `None` with fewer than two.
fn interpolated(points: &[(f64, f64)], x: f64) -> Option<f64> {
    let inner = points.len().checked_sub(2)?;
    let above = points.iter().position(|(known, _)| *known >= x);
    let first = above.map_or(inner, |above| above.saturating_sub(1).min(inner));
    let ((x0, y0), (x1, y1)) = (points[first], points[first + 1]);
    Some(y0 + (y1 - y0) * (x - x0) / (x1 - x0))
}

/// All pads, ready to be drawn together.
struct Comparing<'a> {
    today: Planned<'a>,
    discount_rate: f64,
}

/// What savings are against, with its year draw by draw.
struct Against {
    baseline: Baseline,
    totals: YearTotals,
}

impl Comparing<'_> {
    fn compared(
        &self,
        changes: &[Change],
        planned: Vec<Result<Planned<'_>, NoAlternative>>,
        asked: &AskedComparison,
    ) -> (Option<Baseline>, Plain, Vec<Alternative>) {
        let program = &self.today.pad.site.operation.as_found;
        let found = (!program.is_empty())
            .then(|| CountedYear::of_program(&self.today.pad, &asked.year, program));
        let counted = planned.iter().flatten().map(|planned| &planned.counted);
        let all = counted.chain([&self.today.counted]).chain(found.as_ref());
        // All pads are drawn at the same speeds, so that what they share is drawn alike.
        let speeds = distinct(all.flat_map(CountedYear::running));
        let today = totals(&self.today.pad, &self.today.counted, &speeds);
        let against = match asked.against {
            Some(index) => planned
                .get(index)
                .and_then(|planned| planned.as_ref().ok())
                .and_then(|planned| {
                    let name = Some(changes[index].name.clone());
                    against(name, &planned.pad, &planned.counted, &speeds)
                }),
            None => found
                .as_ref()
                .and_then(|found| against(None, &self.today.pad, found, &speeds)),
        };
        let of_against = against.as_ref().map(|against| &against.totals);
        let plain = plain_of(&self.today, today.as_ref(), of_against, &[]);
        let weighed = changes.iter().zip(planned).map(|(change, planned)| {
            let result = planned.map(|planned| {
                let own = totals(&planned.pad, &planned.counted, &speeds);
                let weighing = Weighing {
                    change,
                    today: today.as_ref(),
                    own: own.as_ref(),
                    against: of_against,
                    broken_today: &plain.broken,
                    discount_rate: self.discount_rate,
                };
                Box::new(weighing.changed(&planned))
            });
            Alternative {
                name: change.name.clone(),
                result,
            }
        });
        let alternatives = weighed.collect();
        (against.map(|against| against.baseline), plain, alternatives)
    }
}

/// Adds a year of a pad up, drawn at all the speeds of a comparison.
fn totals(pad: &Pad<'_>, counted: &CountedYear, speeds: &[Running]) -> Option<YearTotals> {
    let drawn = Drawn::of(&pad.offer.lineups, speeds, pad.standby_w)?;
    Some(counted.totals(pad, &drawn))
}

fn against(
    name: Option<String>,
    pad: &Pad<'_>,
    counted: &CountedYear,
    speeds: &[Running],
) -> Option<Against> {
    let totals = totals(pad, counted, speeds)?;
    Some(Against {
        baseline: Baseline {
            name,
            sums: totals.sums(&pad.site.operation),
            top: counted.top(),
        },
        totals,
    })
}

fn plain_of(
    planned: &Planned<'_>,
    own: Option<&YearTotals>,
    against: Option<&YearTotals>,
    program: &[ProgramBlock],
) -> Plain {
    let saves = own.zip(against).map(|(own, against)| own.saves(against));
    let saves_kwh = own
        .zip(against)
        .map(|(own, against)| own.energy_kwh.less_than(&against.energy_kwh));
    let top = planned.counted.top();
    let counts = saves.clone().flatten().or_else(|| saves_kwh.clone());
    Plain {
        sums: own
            .map(|own| own.sums(&planned.pad.site.operation))
            .unwrap_or_default(),
        saves: saves.flatten().and_then(|saves| saves.estimate()),
        saves_kwh: saves_kwh.and_then(|saves| saves.estimate()),
        chance: counts.map(|saves| saves.share_above(0.0)),
        broken: broken(&planned.pad, &planned.kinds, program),
        kinds: planned.kinds.clone(),
        top,
    }
}

/// Lists the limits that priming or programs pass, and those of appliances that do not get their flow.
fn broken(pad: &Pad<'_>, kinds: &[KindOfDay], program: &[ProgramBlock]) -> Vec<Limit> {
    let prime = pad.site.pump.prime.as_ref().map(|prime| prime.speed.si);
    let stated = program.iter().map(|block| block.speed.si);
    let highest = stated.chain(prime).fold(0.0, f64::max);
    let limits = &pad.analysis.limits;
    let Some(lineup) = pad.offer.lineups.first() else {
        return Vec::new();
    };
    let passes = |limit: &&Limit| {
        let is_highest = limit.bound == Bound::Max && limit.passage == Passage::Whole;
        let at = limit.speed_rpm.map(|speed| lineup.speed_after(speed));
        is_highest && at.is_some_and(|at| highest > at)
    };
    let mut broken: Vec<Limit> = limits.iter().filter(passes).cloned().collect();
    let mut short: Vec<usize> = kinds
        .iter()
        .flat_map(|kind| pad.short_of(&kind.problem, &kind.program))
        .collect();
    short.extend(short_of_stated(pad, lineup, program));
    short.sort_unstable();
    short.dedup();
    broken.extend(
        short
            .into_iter()
            .filter_map(|index| limits.get(index).cloned()),
    );
    broken
}

fn short_of_stated(pad: &Pad<'_>, lineup: &LineUp, program: &[ProgramBlock]) -> Vec<usize> {
    let speeds = program.iter().map(|block| block.speed.si);
    let slowest = speeds.fold(f64::INFINITY, f64::min);
    let flow = lineup.speed(slowest).filter(|_| slowest.is_finite());
    let Some(least_m3s) = flow.map(|speed| speed.flow_m3s) else {
        return Vec::new();
    };
    let limits = pad.analysis.limits.iter().enumerate();
    limits
        .filter(|(_, limit)| limit.bound == Bound::Min && limit.passage == Passage::Whole)
        .filter(|(_, limit)| limit.flow_m3s.is_some_and(|flow| flow > least_m3s))
        .map(|(index, _)| index)
        .collect()
}

/// One change, being weighed.
struct Weighing<'a> {
    change: &'a Change,
    today: Option<&'a YearTotals>,
    own: Option<&'a YearTotals>,
    against: Option<&'a YearTotals>,
    broken_today: &'a [Limit],
    discount_rate: f64,
}

impl Weighing<'_> {
    fn changed(&self, planned: &Planned<'_>) -> Changed {
        let plain = plain_of(planned, self.own, self.against, &self.change.program);
        let both = self.own.zip(self.today);
        let adds = both.and_then(|(own, today)| own.saves(today));
        let adds_kwh = both.map(|(own, today)| own.energy_kwh.less_than(&today.energy_kwh));
        let counts: Option<&Total> = adds.as_ref().or(adds_kwh.as_ref());
        let terms = Terms::of(self.change, self.discount_rate);
        let first = planned
            .carried
            .as_ref()
            .zip(planned.pad.offer.lineups.first());
        let carried = first.and_then(|(carried, lineup)| {
            let of = carried.iter().find(|(test, _)| *test == lineup.test)?;
            Some(&of.1)
        });
        let without = |limits: &[Limit], others: &[Limit]| -> Vec<Limit> {
            let is_among = |limit: &&Limit| {
                let same = |other: &Limit| {
                    (other.code, &other.applies_to) == (limit.code, &limit.applies_to)
                };
                !others.iter().any(same)
            };
            limits.iter().filter(is_among).cloned().collect()
        };
        Changed {
            chance: counts.map_or(0.0, |adds| adds.share_above(0.0)),
            worth: adds.as_ref().and_then(|adds| terms.worth(adds)),
            adds: adds.as_ref().and_then(Total::estimate),
            adds_kwh: adds_kwh.as_ref().and_then(Total::estimate),
            program: self.change.program.clone(),
            power_by_curve: carried.is_some_and(Carried::is_by_curve),
            carried: carried.map(|carried| carried.flow().clone()),
            newly_kept: without(self.broken_today, &plain.broken),
            newly_broken: without(&plain.broken, self.broken_today),
            plain,
        }
    }
}
