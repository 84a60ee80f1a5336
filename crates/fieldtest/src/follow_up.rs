//! The return visit: what changed of a pad between a baseline and later tests, and whether the instruments could see it.
//!
//! Each later test is held against the baseline in one calibration of both: the same plumbing, the same meters, each test at its own
//! water and valves. What a meter is off by at both visits is one number, and so drops out of what is compared. Every hypothesis
//! lets one thing take or give a factor more than before; how probable each is follows from how well the readings then fit.

mod change;
mod evidence;
mod filter;
mod pair;
mod telling;
#[cfg(test)]
mod tests;

pub use change::{Change, PRIOR_OF_NOTHING};
pub use filter::{CleaningRule, FilterRise, Pace};
pub use telling::Split;

use crate::calibration::NotCalibrated;
use crate::calibration::knobs::ParameterOf;
use crate::result::{Analysis, TestResult};
use evidence::{Weighed, excess_z, fitted_at, weighed};
use metrology::Estimate;
use pair::Pair;
use records::{Site, Test};

/// A hypothesis below this probability does not stand beside the best one.
const POSSIBLE: f64 = 0.05;
/// What is left over beyond this, in normal equivalents, is explained by nothing.
const UNEXPLAINED_Z: f64 = 4.0;

/// What later tests say against a baseline.
#[derive(Clone, Debug)]
pub struct FollowUp {
    /// The test that the others are held against.
    pub baseline: String,
    /// The later visits, in the order of time.
    pub visits: Vec<Visit>,
    /// How fast the filter loads, where that is what changes and the tests are dated.
    pub pace: Option<Pace>,
}

/// A later visit.
#[derive(Clone, Debug)]
pub struct Visit {
    /// Its test.
    pub test: String,
    /// Days after the baseline, where both are dated.
    pub days: Option<f64>,
    /// What it says, or why nothing can be said.
    pub told: Result<Told, NotCompared>,
}

/// What a later visit says.
#[derive(Clone, Debug)]
pub struct Told {
    /// The hypotheses, the most probable first.
    pub candidates: Vec<Candidate>,
    /// What follows.
    pub verdict: Verdict,
    /// Each part of the pad over the baseline, all let free at once, with 95 % intervals.
    pub at_once: Vec<(Change, Estimate)>,
    /// The filter at the highest flow of the visit.
    pub filter: Option<FilterRise>,
    /// What narrows the comparison.
    pub hindered: Vec<Hindrance>,
}

impl Told {
    /// Whether this is what changed, or one of what may have.
    pub fn names(&self, change: &Change) -> bool {
        match &self.verdict {
            Verdict::Changed { group, .. } => {
                let mut group = group.iter().filter_map(|place| self.candidates.get(*place));
                group.any(|it| it.change.as_ref() == Some(change))
            }
            Verdict::NoChange | Verdict::Several => false,
        }
    }
}

/// One hypothesis.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// What changed; `None` for nothing.
    pub change: Option<Change>,
    /// How probable it was before a reading.
    pub prior: f64,
    /// How probable it is now.
    pub probability: f64,
    /// By which factor it changed, if it did.
    pub factor: Option<Estimate>,
    /// The least factor above 1 that would have been told from nothing; `None` where no usual one would.
    pub least_seen: Option<f64>,
}

/// What follows from the hypotheses.
#[derive(Clone, Debug, PartialEq)]
pub enum Verdict {
    /// No change that these instruments could see.
    NoChange,
    /// One of these changed, by their places among the candidates: the readings do not tell them apart.
    Changed {
        /// The group, the most probable first.
        group: Vec<usize>,
        /// The reading that would split it.
        split: Option<Split>,
    },
    /// More than one thing changed at once.
    Several,
}

/// Why a visit is not compared.
#[derive(Clone, Debug, PartialEq)]
pub enum NotCompared {
    /// Its circuit, or that of the baseline, is none.
    NotCalibrated(Box<NotCalibrated>),
    /// No gauge, no flow of a single line and no maker's curve to hold its flows against.
    NothingRead,
    /// All lines to the pump, or all away from it, stood part-open.
    AllThrottled,
    /// The media of the filter were out at one of the visits.
    MediaOut,
    /// No change of one pad explains both: other pads, or a gauge that was typed wrong.
    NotOnePad,
}

/// What narrows a comparison.
#[derive(Clone, Debug, PartialEq)]
pub enum Hindrance {
    /// These readings come from other meters than those of the baseline: their errors do not drop out.
    OtherMeters {
        /// The headings.
        columns: Vec<String>,
    },
    /// These lines stood part-open at one of the visits: a change in them does not show.
    Throttled {
        /// The lines.
        lines: Vec<String>,
    },
    /// Without a maker's curve nothing is said of the pump.
    NoCurve,
    /// Nothing was read before the pump at one of the visits.
    NoInletGauge,
}

/// Why nothing is followed.
#[derive(Clone, Debug, PartialEq)]
pub enum NotTracked {
    /// One test alone: nothing to hold it against.
    OneTest,
}

/// Holds the tests of a site against one of them.
///
/// # Inputs
/// `analysis`: that of the same site and tests; readings that it refutes do not count. `baseline`: its place among the tests.
///
/// # Errors
/// [`NotTracked`].
///
/// # Source
/// Odds by the Laplace approximation of the marginal likelihood: R. Kass, A. Raftery, "Bayes factors", J. Am. Stat. Assoc. 90 (1995)
/// 773-795, section 4.1 (from memory).
pub fn follow_up(
    site: &Site,
    tests: &[Test],
    analysis: &Analysis,
    baseline: usize,
) -> Result<FollowUp, NotTracked> {
    let known: Vec<(&Test, &TestResult)> = tests.iter().zip(&analysis.tests).collect();
    let first = *known.get(baseline).ok_or(NotTracked::OneTest)?;
    let mut later: Vec<(&Test, &TestResult)> = known.clone();
    later.remove(baseline);
    if later.is_empty() {
        return Err(NotTracked::OneTest);
    }
    if known.iter().all(|(test, _)| filter::day_of(test).is_some()) {
        numerics::order::sort_by(&mut later, |a, b| {
            filter::day_of(a.0)
                .partial_cmp(&filter::day_of(b.0))
                .unwrap_or(core::cmp::Ordering::Equal)
        });
    }
    let visits: Vec<Visit> = later
        .into_iter()
        .map(|today| {
            let pair = Pair {
                site,
                tests: [first.0, today.0],
                results: [first.1, today.1],
            };
            Visit {
                test: today.0.name.clone(),
                days: filter::day_of(today.0)
                    .zip(filter::day_of(first.0))
                    .map(|(b, a)| b - a),
                told: told(&pair),
            }
        })
        .collect();
    Ok(FollowUp {
        baseline: first.0.name.clone(),
        pace: filter::pace(first.0, &visits),
        visits,
    })
}

/// Says what one visit tells.
fn told(pair: &Pair<'_>) -> Result<Told, NotCompared> {
    pair.check()?;
    let calibrated = |problem: NotCalibrated| NotCompared::NotCalibrated(Box::new(problem));
    let alone = pair.baseline_alone().map_err(calibrated)?;
    let nothing = pair.problem(&[]).map_err(calibrated)?;
    if !nothing
        .rows
        .iter()
        .any(|row| nothing.data.steps[row.step].test == 1)
    {
        return Err(NotCompared::NothingRead);
    }
    let nothing = fitted_at(nothing).map_err(calibrated)?;
    let changes = pair.changes(nothing.has_curve());
    let mut all = vec![nothing];
    for change in &changes {
        let problem = pair
            .problem(core::slice::from_ref(change))
            .map_err(calibrated)?;
        // A hypothesis whose search does not settle is none that the readings can speak for.
        all.extend(weighed(problem, &all[0]));
    }
    let free: Vec<Change> = changes
        .iter()
        .filter(|change| change.is_section())
        .cloned()
        .collect();
    let free = pair.problem(&free).map_err(calibrated)?;
    let free = weighed(free, &all[0]);
    let candidates = candidates(pair, &all);
    let best = &all[candidates[0].1];
    let excess = |of: &Weighed| excess_z(of, &alone);
    let unexplained = excess(best) > UNEXPLAINED_Z;
    if unexplained
        && free
            .as_ref()
            .is_none_or(|free| excess(free) > UNEXPLAINED_Z)
    {
        return Err(NotCompared::NotOnePad);
    }
    let verdict = if unexplained {
        Verdict::Several
    } else {
        verdict(pair, &all, &candidates)
    };
    Ok(Told {
        verdict,
        at_once: free.as_ref().map_or_else(Vec::new, Weighed::factors),
        filter: all
            .iter()
            .find(|it| it.change() == Some(&Change::Media))
            .and_then(|loaded| filter::rise(pair, loaded)),
        candidates: candidates
            .into_iter()
            .map(|(candidate, _)| candidate)
            .collect(),
        hindered: pair.hindrances(best),
    })
}

/// Lists the hypotheses with their probabilities, the most probable first, each with its place.
fn candidates(pair: &Pair<'_>, all: &[Weighed]) -> Vec<(Candidate, usize)> {
    let priors: Vec<f64> = all
        .iter()
        .map(|it| pair.prior_weight(it.change(), all))
        .collect();
    let whole: f64 = priors.iter().sum();
    let top = all
        .iter()
        .map(|it| it.ln_evidence)
        .fold(f64::NEG_INFINITY, f64::max);
    let weight = |index: usize| {
        priors[index] / whole * numerics::elementary::exp(all[index].ln_evidence - top)
    };
    let sum: f64 = (0..all.len()).map(weight).sum();
    let mut found: Vec<(Candidate, usize)> = (0..all.len())
        .map(|index| {
            let it = &all[index];
            let candidate = Candidate {
                change: it.change().cloned(),
                prior: priors[index] / whole,
                probability: weight(index) / sum,
                factor: it.factors().first().map(|(_, factor)| *factor),
                least_seen: it.least_seen(priors[index] / priors[0]),
            };
            (candidate, index)
        })
        .collect();
    numerics::order::sort_by(&mut found, |a, b| {
        b.0.probability.total_cmp(&a.0.probability)
    });
    found
}

fn verdict(pair: &Pair<'_>, all: &[Weighed], candidates: &[(Candidate, usize)]) -> Verdict {
    let nothing = candidates.iter().find(|(it, _)| it.change.is_none());
    if nothing.is_some_and(|(it, _)| it.probability >= POSSIBLE) {
        return Verdict::NoChange;
    }
    let best = candidates[0].1;
    let same = |(place, (it, index)): (usize, &(Candidate, usize))| {
        let alike = place == 0
            || (it.change.is_some()
                && it.probability >= POSSIBLE * candidates[0].0.probability
                && telling::alike(&all[best], &all[*index]));
        alike.then_some(place)
    };
    let group: Vec<usize> = candidates.iter().enumerate().filter_map(same).collect();
    let second = group.get(1).map(|place| &all[candidates[*place].1]);
    Verdict::Changed {
        split: second.and_then(|second| telling::split(pair, &all[best], second)),
        group,
    }
}

impl ParameterOf {
    /// What changed, where it is a change.
    pub(crate) fn change(&self) -> Option<&Change> {
        match self {
            Self::Change { of } => Some(of),
            _ => None,
        }
    }
}
