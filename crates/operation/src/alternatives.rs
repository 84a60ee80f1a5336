//! What changes of a pad would save: each carried from what was measured, planned over a year, and weighed against its cost.
//!
//! A saving is against a program that was found, or that somebody names. What a change adds is told apart from what the
//! new program alone saves, which costs nothing: only that much can pay a change back.

mod another_pump;
mod broken;
mod planned;
mod stated;
mod today;
mod weighed;

pub use stated::StatedAnew;
pub use today::{PadToday, Today, TodaysCircuit};

use crate::fulfilment::Fulfilment;
use crate::plan::NoPlan;
use crate::tariff::currency;
use crate::worth::Worth;
use crate::year::{AskedYear, KindOfDay, NoYear, YearSums};
use fieldtest::{Analysis, CarriedFlow, Finding, Limit, NotCalibrated, unknown_currencies};
use metrology::Estimate;
use planned::Planned;
use records::{Change, ProgramBlock, Site, Test};
use weighed::Comparing;

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
    /// What there is to say of what was stated.
    pub findings: Vec<Finding>,
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
    /// What it does of what is asked of a day; `None` where the laws do not reach its speeds.
    pub fulfilment: Option<Fulfilment>,
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
    /// What of operation, limits and water it states anew.
    pub states: Vec<StatedAnew>,
    /// What its savings are against, where it states a program as found of its own.
    pub baseline: Option<Baseline>,
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
    done: impl FnMut(usize, usize),
) -> Result<Comparison, NoYear> {
    let today = Today::plan(site, analysis, &asked.year)?;
    let pad = PadToday {
        site,
        tests,
        analysis,
        today: &today,
        circuit: &TodaysCircuit::default(),
    };
    compare_with_today(pad, changes, asked, done)
}

/// Compares changes of a pad whose own year is planned already: the same answers as those of [`compare`].
///
/// # Inputs
/// As those of [`compare`]; `pad` holds what was worked out for this very pad and year.
///
/// # Errors
/// Why the pad as it is has no plan.
pub fn compare_with_today(
    pad: PadToday<'_>,
    changes: &[Change],
    asked: &AskedComparison,
    mut done: impl FnMut(usize, usize),
) -> Result<Comparison, NoYear> {
    let site = pad.site;
    let findings = unknown_currencies(site, changes);
    let today = Planned::today(pad, asked)?;
    done(1, changes.len() + 1);
    let analyses: Vec<Analysis> = changes.iter().map(|change| pad.after(change)).collect();
    let mut planned = Vec::new();
    let mut carrier = None;
    for (number, (change, analysis)) in changes.iter().zip(&analyses).enumerate() {
        planned.push(pad.plan(change, analysis, asked, &mut carrier));
        done(number + 2, changes.len() + 1);
    }
    let rate = site.operation.discount_rate.as_ref().map(|rate| rate.si);
    let comparing = Comparing {
        today,
        discount_rate: rate.unwrap_or(USUAL_DISCOUNT_RATE),
    };
    let money = changes
        .iter()
        .find_map(|change| currency(&change.site.operation).or(change.currency()));
    let (baseline, plain, changes) = comparing.compared(changes, planned, asked);
    Ok(Comparison {
        year: asked.year.year,
        currency: currency(&site.operation).or(money).map(str::to_owned),
        discount_rate: comparing.discount_rate,
        discount_rate_is_stated: rate.is_some(),
        baseline,
        today: plain,
        changes,
        findings,
    })
}
