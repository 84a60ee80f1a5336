//! The speeds on offer: those that may be set, within what was tested and what the limits allow, with the flow and the
//! power that the laws of the test predict.

use crate::carried::{Carried, Chance};
use crate::problem::Speed;
use fieldtest::{Analysis, Bound, FittedLaw, Laws, Limit, Passage, TestResult};
use numerics::elementary::exp;
use numerics::roots::bracketed;
use records::Site;

/// The step between speeds where the site file states none, rpm: common practice, no source.
const USUAL_STEP_RPM: f64 = 50.0;
/// Speeds are typed and steps are counted: this is no difference, rpm.
const SLACK_RPM: f64 = 1e-6;

/// The laws of one line-up, ready to predict.
#[derive(Clone, Debug)]
pub struct LineUp {
    /// The lines that are shut; `None` for the usual line-up.
    pub name: Option<String>,
    /// The test that the laws are of.
    pub test: String,
    /// The lowest and the highest speed that was tested, rpm.
    pub tested_rpm: (f64, f64),
    pub(crate) flow: FittedLaw,
    pub(crate) power: FittedLaw,
    /// The draw that does not depend on speed, W.
    pub(crate) fixed_w: f64,
    /// What a change of the pad makes of the laws.
    pub(crate) carried: Option<Carried>,
}

/// A speed of the pump in a line-up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Running {
    /// The number of the line-up among those of the offer.
    pub(crate) lineup: usize,
    /// Speed, rpm.
    pub(crate) speed_rpm: f64,
}

/// What cuts the speeds from above or below.
#[derive(Clone, Debug, PartialEq)]
pub enum CutBy {
    /// A limit of the site, by its number in the analysis.
    Limit(usize),
    /// The fastest step of the test: beyond it nothing was read.
    FastestStep,
    /// The slowest step of the test.
    SlowestStep,
}

/// The speeds on offer.
#[derive(Clone, Debug)]
pub struct Offer {
    /// The line-ups, the usual one first.
    pub lineups: Vec<LineUp>,
    /// The speeds of all line-ups.
    pub speeds: Vec<Speed>,
    /// What keeps permitted speeds off the list, with the speed at which it does, rpm.
    pub cuts: Vec<(CutBy, f64)>,
    /// The most turns a permitted speed of the pump has, rpm.
    pub top_rpm: f64,
}

/// Why there is no speed on offer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoOffer {
    /// There is no test.
    NoTest,
    /// The test gives no law of flow.
    NoFlowLaw {
        /// The test.
        test: String,
    },
    /// The test gives no law of power.
    NoPowerLaw {
        /// The test.
        test: String,
    },
    /// No test has the line-up that a task asks for.
    NoTestOfLineUp {
        /// The lines that are shut.
        lineup: String,
    },
    /// Every speed that may be set lies beyond what was tested or allowed.
    NoSpeed,
}

impl Offer {
    /// Lists the speeds of the usual line-up, and of those that tasks ask for, as they are tested.
    pub(crate) fn of(site: &Site, analysis: &Analysis) -> Result<Self, NoOffer> {
        Self::after(site, analysis, &[])
    }

    /// The same after a change: of each test that is carried, as it would be.
    pub(crate) fn after(
        site: &Site,
        analysis: &Analysis,
        carried: &[(String, Carried)],
    ) -> Result<Self, NoOffer> {
        let mut lineups = vec![usual_lineup(analysis)?];
        for task in &site.operation.tasks {
            let name = crate::day::lineup(&task.closed);
            if name.is_some() && lineups.iter().all(|known| known.name != name) {
                lineups.push(asked_lineup(analysis, &task.closed)?);
            }
        }
        for lineup in &mut lineups {
            let of_test = carried.iter().find(|(test, _)| *test == lineup.test);
            lineup.carried = of_test.map(|(_, carried)| carried.clone());
        }
        let mut offer = Self {
            speeds: Vec::new(),
            cuts: Vec::new(),
            top_rpm: site.pump.speed.max.si,
            lineups: Vec::new(),
        };
        for lineup in &lineups {
            let limit = lowest_limit(&analysis.limits, lineup);
            let permitted = permitted_rpm(site, lineup);
            let (low, high) = offer.cut(&permitted, lineup, limit);
            let within = permitted
                .into_iter()
                .filter(|speed| *speed >= low - SLACK_RPM && *speed <= high + SLACK_RPM);
            offer
                .speeds
                .extend(within.filter_map(|speed| lineup.speed(speed)));
        }
        offer.lineups = lineups;
        if offer.speeds.is_empty() {
            return Err(NoOffer::NoSpeed);
        }
        Ok(offer)
    }

    /// Returns a speed of the problem with the number of its line-up.
    pub(crate) fn running(&self, speed: &Speed) -> Running {
        let named = self
            .lineups
            .iter()
            .position(|lineup| lineup.name == speed.lineup);
        Running {
            lineup: named.unwrap_or(0),
            speed_rpm: speed.speed_rpm,
        }
    }

    /// Returns the ends of what is allowed, and notes what keeps permitted speeds off the list.
    fn cut(
        &mut self,
        permitted: &[f64],
        lineup: &LineUp,
        limit: Option<(usize, f64)>,
    ) -> (f64, f64) {
        let (slowest, fastest) = lineup.tested_rpm;
        let limited = limit.filter(|(_, speed)| *speed <= fastest);
        let (by, high) = limited.map_or((CutBy::FastestStep, fastest), |(index, speed)| {
            (CutBy::Limit(index), speed)
        });
        let mut note = |by, at, is_cut| {
            if is_cut && !self.cuts.iter().any(|(known, _)| *known == by) {
                self.cuts.push((by, at));
            }
        };
        note(
            by,
            high,
            permitted.iter().any(|speed| *speed > high + SLACK_RPM),
        );
        note(
            CutBy::SlowestStep,
            slowest,
            permitted.iter().any(|speed| *speed < slowest - SLACK_RPM),
        );
        (slowest, high)
    }
}

impl LineUp {
    /// Predicts flow and power at a speed; `None` where the law has none.
    pub(crate) fn speed(&self, speed_rpm: f64) -> Option<Speed> {
        let value = |law: &FittedLaw| exp(law.predict_ln(speed_rpm).ln_value);
        let (mut flow_m3s, mut power_w) = (value(&self.flow), value(&self.power));
        if let Some(carried) = &self.carried {
            let moved = carried.moved(speed_rpm, Chance::NONE);
            flow_m3s *= exp(moved.ln_flow);
            power_w = moved.power_w(power_w, self.fixed_w);
        }
        (flow_m3s.is_finite() && power_w.is_finite()).then(|| Speed {
            speed_rpm,
            flow_m3s,
            power_w,
            lineup: self.name.clone(),
        })
    }

    /// Returns the speed at which a change gives the flow that the tested pad had at another, rpm.
    pub(crate) fn speed_after(&self, tested_rpm: f64) -> f64 {
        let Some(carried) = &self.carried else {
            return tested_rpm;
        };
        let ln_flow = |speed: f64| self.flow.predict_ln(speed).ln_value;
        let wanted = ln_flow(tested_rpm);
        let apart =
            |speed: f64| ln_flow(speed) + carried.moved(speed, Chance::NONE).ln_flow - wanted;
        // Flow grows about with speed: a factor of two holds the speed that is sought.
        bracketed(apart, 0.5 * tested_rpm, 2.0 * tested_rpm, SLACK_RPM).unwrap_or(tested_rpm)
    }
}

/// The line-up of the last test without a shut line, or of the last test where all have one.
fn usual_lineup(analysis: &Analysis) -> Result<LineUp, NoOffer> {
    let tests = || analysis.tests.iter().rev();
    let test = tests()
        .find(|test| test.closed.is_empty())
        .or(tests().next());
    lineup_of(test.ok_or(NoOffer::NoTest)?, None)
}

/// The line-up of the last test with just these lines shut.
fn asked_lineup(analysis: &Analysis, closed: &[String]) -> Result<LineUp, NoOffer> {
    let name = crate::day::lineup(closed);
    let mut tests = analysis.tests.iter().rev();
    let test = tests.find(|test| crate::day::lineup(&test.closed) == name);
    let missing = || NoOffer::NoTestOfLineUp {
        lineup: name.clone().unwrap_or_default(),
    };
    lineup_of(test.ok_or_else(missing)?, name.clone())
}

fn lineup_of(test: &TestResult, name: Option<String>) -> Result<LineUp, NoOffer> {
    let of = || test.name.clone();
    let Laws { flow, power, .. } = &test.laws;
    let flow = flow
        .as_ref()
        .ok_or_else(|| NoOffer::NoFlowLaw { test: of() })?;
    let power = power
        .as_ref()
        .ok_or_else(|| NoOffer::NoPowerLaw { test: of() })?;
    let speeds = test.steps.iter().map(|step| step.speed_rpm);
    Ok(LineUp {
        name,
        test: of(),
        tested_rpm: (
            speeds.clone().fold(f64::INFINITY, f64::min),
            speeds.fold(0.0, f64::max),
        ),
        flow: flow.law.clone(),
        power: power.law.clone(),
        fixed_w: power.fixed_w.value,
        carried: None,
    })
}

/// Lists the speeds that may be set, rpm: those stated, or every step between the pump's lowest and its highest.
fn permitted_rpm(site: &Site, lineup: &LineUp) -> Vec<f64> {
    let highest = site.pump.speed.max.si;
    let lowest = site
        .pump
        .speed
        .min
        .as_ref()
        .map_or(lineup.tested_rpm.0, |speed| speed.si);
    let mut permitted: Vec<f64> = if site.operation.speeds.is_empty() {
        let step = site
            .operation
            .speed_step
            .as_ref()
            .map_or(USUAL_STEP_RPM, |step| step.si);
        let first = (lowest / step - SLACK_RPM).ceil();
        let count = (highest / step + SLACK_RPM).floor();
        std::iter::successors(Some(first), |steps| Some(steps + 1.0))
            .take_while(|steps| *steps <= count)
            .map(|steps| steps * step)
            .collect()
    } else {
        let stated = site.operation.speeds.iter().map(|speed| speed.si);
        stated
            .filter(|speed| *speed >= lowest - SLACK_RPM && *speed <= highest + SLACK_RPM)
            .collect()
    };
    numerics::order::sort_values(&mut permitted);
    permitted.dedup_by(|a, b| (*a - *b).abs() < SLACK_RPM);
    permitted
}

/// Finds the highest-value limit that is met first: its number and its speed, rpm.
pub(crate) fn lowest_limit(limits: &[Limit], lineup: &LineUp) -> Option<(usize, f64)> {
    let highest = limits
        .iter()
        .enumerate()
        .filter(|(_, limit)| limit.bound == Bound::Max && limit.passage == Passage::Whole);
    highest
        .filter_map(|(index, limit)| Some((index, lineup.speed_after(limit.speed_rpm?))))
        .min_by(|(_, a), (_, b)| a.total_cmp(b))
}
