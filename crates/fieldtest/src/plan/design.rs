//! Which speeds tell most: one after the other, each the one that narrows the answers of the test most. A longer test holds the
//! steps of a shorter one, so that more time never tells less.

use super::expected::Foresight;
use super::rehearsal::{line_ups_that_tell, rehearsal};
use super::safety::{ROUND_RPM, is_safe};
use super::timing::Budget;
use crate::laws::{LawToCome, Shape, Uncertain};
use crate::least_energy::{Cost, CostUncertainty};
use crate::next_reading::Answer;
use numerics::elementary::{ln, pow};
use records::Measured;

/// A test does not get more speeds than this: what a further one tells is less than what another line-up does.
pub(super) const MOST_SPEEDS: usize = 9;
/// Both ends of the range and its middle come first.
const FIRST_SPEEDS: usize = 3;
/// Other line-ups at the most.
const MOST_LINE_UPS: usize = 2;
/// Speeds that are weighed.
const WEIGHED: f64 = 30.0;
/// Steps closer than this share of the speed tell little apart, and leave gaps elsewhere. Common practice, no source.
const LEAST_GAP: f64 = 0.14;
/// The lowest step over the speed at which flow starts: nearer to it a meter shows nothing that stands still. Common practice, no
/// source.
const ABOVE_START: f64 = 1.2;

/// Where nothing is known of the draw: that of electronics, W, what water power is of electrical power at the top, and how the draw
/// grows. They place the steps and enter no answer. Common practice, no source.
const USUAL_FIXED_W: f64 = 60.0;
const USUAL_EFFICIENCY: f64 = 0.45;
const USUAL_EXPONENT: f64 = 2.8;
const USUAL_TOP_W: f64 = 1500.0;
/// The same of flow, m³/s per rpm, and of the square of the share of the top speed at which it starts.
const USUAL_FLOW_PER_RPM: f64 = 1.6e-6;
const USUAL_START: f64 = 0.01;
const MOST_START: f64 = 0.04;

/// An answer of a test that its speeds narrow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lesson {
    /// The draw that does not depend on speed.
    FixedDraw,
    /// How the draw grows.
    Growth,
    /// Flow for speed.
    Flow,
    /// The speed at which flow starts.
    Start,
    /// The cheapest speed.
    CheapestSpeed,
}

/// What a step is for.
#[derive(Clone, Debug, PartialEq)]
pub enum Why {
    /// It narrows the laws.
    Narrows {
        /// The answer that it narrows most.
        told: Lesson,
        /// How many times as uncertain that would be without it.
        without: f64,
    },
    /// It was read before: a pad that drifted reads otherwise now.
    DriftCheck,
    /// Another line-up.
    LineUp {
        /// The line that is shut besides.
        shut: String,
        /// What it narrows.
        answer: Answer,
        /// What it leaves of the uncertainty of that, of 1.
        left: f64,
    },
}

/// A speed with what it is for.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct ChosenSpeed {
    pub(super) speed_rpm: f64,
    pub(super) why: Why,
}

/// A line-up with its speeds, from high to low.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct ChosenLineUp {
    pub(super) closed: Vec<String>,
    pub(super) steps_rpm: Vec<f64>,
    pub(super) why: Why,
}

/// What was chosen.
#[derive(Clone, Debug)]
pub(super) struct Chosen {
    /// The speeds, the most telling first.
    pub(super) speeds: Vec<ChosenSpeed>,
    /// The speed that is read again.
    pub(super) again_rpm: f64,
    pub(super) line_ups: Vec<ChosenLineUp>,
    /// Flow and power as they are foreseen, for what is told nowhere else.
    pub(super) nominal: Nominal,
}

/// Flow and power against speed as they are foreseen.
#[derive(Clone, Debug)]
pub(super) struct Nominal {
    pub(super) flow: LawToCome,
    pub(super) power: LawToCome,
}

/// The choice of speeds in a range.
pub(super) struct Design<'f, 'a> {
    foresight: &'f Foresight<'a>,
    range: (f64, f64),
    nominal: Nominal,
    weighed: Vec<f64>,
}

impl<'f, 'a> Design<'f, 'a> {
    pub(super) fn of(foresight: &'f Foresight<'a>, (low_rpm, high_rpm): (f64, f64)) -> Self {
        let nominal = nominal(foresight, (low_rpm, high_rpm));
        let range = (
            flowing_rpm(foresight, &nominal.flow, (low_rpm, high_rpm)),
            high_rpm,
        );
        Self {
            foresight,
            range,
            nominal,
            weighed: weighed(range),
        }
    }

    /// Chooses speeds and line-ups for a time.
    pub(super) fn choose(&self, most: usize, budget: &Budget, time_s: f64) -> Chosen {
        let order = self.order(MOST_SPEEDS);
        let again_rpm = order.get(2).copied().unwrap_or(self.range.1);
        let mut chosen = Chosen {
            speeds: Vec::new(),
            again_rpm,
            line_ups: Vec::new(),
            nominal: self.nominal.clone(),
        };
        let count = order.len().min(most);
        chosen.speeds = self.with_reasons(&order[..count]);
        if count == order.len() {
            // Line-ups come when the speeds are all in: more time adds, and takes nothing away.
            chosen.line_ups = self.line_ups(&chosen, budget, time_s - budget.speeds_s(count));
        }
        chosen
    }

    /// Finds the line-ups that narrow most and fit into the time.
    fn line_ups(&self, chosen: &Chosen, budget: &Budget, mut left_s: f64) -> Vec<ChosenLineUp> {
        let telling = line_ups_that_tell(self.foresight, &rehearsal(self.foresight, chosen));
        let mut found = Vec::new();
        for (shut, steps_rpm, (answer, left)) in telling {
            let mut closed = self.foresight.closed().to_vec();
            closed.push(shut.clone());
            let safe = steps_rpm
                .iter()
                .all(|speed| is_safe(self.foresight, *speed, &closed));
            let needed_s = budget.line_up_s(steps_rpm.len());
            if needed_s > left_s || found.len() >= MOST_LINE_UPS {
                // The next one, which tells less, is not taken before it.
                break;
            }
            if safe {
                left_s -= needed_s;
                let why = Why::LineUp { shut, answer, left };
                found.push(ChosenLineUp {
                    closed,
                    steps_rpm,
                    why,
                });
            }
        }
        found
    }

    /// Lists speeds, the most telling first: both ends of the range and its middle, which is read twice, and then whichever
    /// narrows the answers most.
    fn order(&self, most: usize) -> Vec<f64> {
        let (low, high) = self.range;
        let middle = ((low * high).sqrt() / ROUND_RPM).round() * ROUND_RPM;
        let apart = middle > low && middle < high;
        let middle = if apart { middle } else { (low * high).sqrt() };
        let mut order = vec![high, low, middle];
        while order.len() < most {
            let apart = |speed: &&f64| order.iter().all(|it| (it / *speed - 1.0).abs() > LEAST_GAP);
            let sums = self.weighed.iter().filter(apart).filter_map(|speed| {
                let with: Vec<f64> = order.iter().copied().chain(Some(*speed)).collect();
                let sum: f64 = self.uncertain(&with)?.iter().map(|(_, u)| ln(*u)).sum();
                sum.is_finite().then_some((*speed, sum))
            });
            let best = sums.min_by(|(_, a), (_, b)| a.total_cmp(b));
            match best {
                Some((speed, _)) => order.push(speed),
                None => break,
            }
        }
        order
    }

    /// Says of each speed, in the order in which they were taken, which answer it narrowed most.
    fn with_reasons(&self, order: &[f64]) -> Vec<ChosenSpeed> {
        let chosen = order.iter().enumerate();
        let reasons = chosen.map(|(index, speed)| ChosenSpeed {
            speed_rpm: *speed,
            why: self.reason(order, index),
        });
        reasons.collect()
    }

    fn reason(&self, order: &[f64], index: usize) -> Why {
        // The first stand together: each is held against the others.
        let taken = &order[..order.len().min(FIRST_SPEEDS.max(index + 1))];
        let others: Vec<f64> = (0..taken.len())
            .filter(|it| *it != index)
            .map(|it| taken[it])
            .collect();
        let whole = self.uncertain(taken).unwrap_or_default();
        let without = self.uncertain(&others).unwrap_or_default();
        let pairs = whole.iter().zip(&without);
        let ratios = pairs.map(|((told, with), (_, without))| (*told, without / with));
        let finite = ratios.filter(|(_, ratio)| ratio.is_finite());
        let (told, without) = finite
            .max_by(|(_, a), (_, b)| a.total_cmp(b))
            .unwrap_or((Lesson::Flow, 1.0));
        Why::Narrows { told, without }
    }

    /// Computes what the answers of a test at these speeds are uncertain by; `None` where a law does not stand.
    fn uncertain(&self, speeds: &[f64]) -> Option<Vec<(Lesson, f64)>> {
        let flow = self.law(&self.nominal.flow, Measured::Flow, speeds);
        let power = self.law(&self.nominal.power, Measured::Power, speeds);
        let mut told = Vec::new();
        let flow = match flow {
            Some(flow) => Some(flow.uncertain()?),
            None => None,
        };
        let power = match power {
            Some(power) => Some(power.uncertain()?),
            None => None,
        };
        if let Some(flow) = &flow {
            told.push((Lesson::Flow, flow.covariance[(0, 0)].sqrt()));
            told.push((Lesson::Start, flow.covariance[(1, 1)].sqrt()));
        }
        if let Some(power) = &power {
            told.push((Lesson::FixedDraw, power.covariance[(0, 0)].sqrt()));
            told.push((Lesson::Growth, power.covariance[(2, 2)].sqrt()));
        }
        if let Some((flow, power)) = flow.as_ref().zip(power.as_ref()) {
            let cheapest = self.cheapest_u_rpm(flow, power);
            told.extend(cheapest.map(|u| (Lesson::CheapestSpeed, u)));
        }
        Some(told)
    }

    /// The law read on all columns of a quantity; `None` where no column reads it.
    fn law(&self, nominal: &LawToCome, measured: Measured, speeds: &[f64]) -> Option<LawToCome> {
        let columns = self.foresight.columns.iter().enumerate();
        let read: Vec<usize> = columns
            .filter(|(index, it)| {
                it.column.measured == measured && self.foresight.meters[*index].excluded.is_none()
            })
            .map(|(index, _)| index)
            .collect();
        if read.is_empty() {
            return None;
        }
        let mut law = nominal.clone();
        for speed in speeds {
            for column in &read {
                law.read(
                    *speed,
                    (*column, &self.foresight.meters[*column].instrument),
                );
            }
        }
        Some(law)
    }

    fn cheapest_u_rpm(&self, flow: &Uncertain, power: &Uncertain) -> Option<f64> {
        let [fixed_w, dynamic_w, exponent] = *self.nominal.power.parameters() else {
            return None;
        };
        let cost = Cost {
            fixed_w,
            dynamic_w,
            exponent,
            intercept: self.nominal.flow.parameters()[1],
            slope_m3s: numerics::elementary::exp(self.nominal.flow.parameters()[0]),
            reference_rpm: self.foresight.site.pump.speed.max.si,
        };
        let best_rpm = cost.cheapest(self.range.0, self.range.1).ok()?;
        let of = CostUncertainty {
            power: &power.covariance,
            intercept_variance: flow.covariance[(1, 1)],
            standby_variance_w2: 0.0,
        };
        Some(cost.speed_u_rpm(best_rpm, &of))
    }
}

/// Lists the speeds that are weighed.
fn weighed((low_rpm, high_rpm): (f64, f64)) -> Vec<f64> {
    let step = (((high_rpm - low_rpm) / WEIGHED / ROUND_RPM).ceil() * ROUND_RPM).max(ROUND_RPM);
    let first = ((low_rpm / ROUND_RPM).floor() + 1.0) * ROUND_RPM;
    let mut speeds = Vec::new();
    let mut speed = first;
    while speed < high_rpm {
        speeds.push(speed);
        speed += step;
    }
    speeds
}

/// Finds the lowest speed at which flow stands: well above that at which it starts, and within the range of its meter.
fn flowing_rpm(
    foresight: &Foresight<'_>,
    flow: &LawToCome,
    (low_rpm, high_rpm): (f64, f64),
) -> f64 {
    let start_rpm = foresight.site.pump.speed.max.si * flow.parameters()[1].max(0.0).sqrt();
    let meters = foresight.columns.iter().zip(&foresight.meters);
    let shown = meters
        .filter(|(column, meter)| column.column.measured == Measured::Flow && meter.on.is_none());
    let least_m3s = shown
        .filter_map(|(_, meter)| Some(meter.instrument.range?.0))
        .fold(0.0, f64::max);
    let stands = |speed: &f64| *speed >= ABOVE_START * start_rpm && flow.value(*speed) >= least_m3s;
    let rounded = (low_rpm / ROUND_RPM).floor() * ROUND_RPM;
    let higher = (1..100_u32).map(|count| rounded + f64::from(count) * ROUND_RPM);
    let mut speeds = std::iter::once(low_rpm)
        .chain(higher)
        .take_while(|speed| *speed < 0.6 * high_rpm);
    speeds.find(stands).unwrap_or(low_rpm)
}

/// Foresees both laws: by an earlier test, by the plumbing, or as such pumps have them.
fn nominal(foresight: &Foresight<'_>, (low_rpm, high_rpm): (f64, f64)) -> Nominal {
    let top_rpm = foresight.site.pump.speed.max.si;
    // Below the start of the law there is no flow to speak of.
    let most_start = (0.8 * low_rpm * low_rpm / (top_rpm * top_rpm)).min(MOST_START);
    let like = foresight
        .like(foresight.closed())
        .map(|(_, result)| &result.laws);
    let at = |speed: f64| foresight.at(speed, foresight.closed(), 0);
    let (fast, slow) = (at(high_rpm), at(0.5 * high_rpm));
    let flow = like.and_then(|laws| Some(laws.flow.as_ref()?.law.fit().parameters.clone()));
    let flow = flow.unwrap_or_else(|| {
        let usual = vec![ln(USUAL_FLOW_PER_RPM * top_rpm), USUAL_START];
        let two = fast.flow.zip(slow.flow);
        two.map_or(usual, |(fast, slow)| {
            flow_by_two((fast.value, slow.value), high_rpm / top_rpm)
        })
    });
    let mut flow = flow;
    flow[1] = flow[1].min(most_start);
    let power = like.and_then(|laws| Some(laws.power.as_ref()?.law.fit().parameters.clone()));
    let power = power.unwrap_or_else(|| {
        let weight = foresight
            .around
            .map_or(0.0, |around| around.specific_weight());
        let water_w = fast
            .flow
            .zip(fast.head)
            .map(|(flow, head)| weight * flow.value * head.head_m);
        let grown = pow(high_rpm / top_rpm, USUAL_EXPONENT);
        let dynamic_w = water_w.map_or(USUAL_TOP_W, |water| water / USUAL_EFFICIENCY / grown);
        vec![USUAL_FIXED_W, dynamic_w, USUAL_EXPONENT]
    });
    Nominal {
        flow: LawToCome::unread(Shape::Flow, top_rpm, flow),
        power: LawToCome::unread(Shape::Power, top_rpm, power),
    }
}

/// The law of flow through the flows at a speed, given over the top one, and at half of it.
fn flow_by_two((fast_m3s, slow_m3s): (f64, f64), ratio: f64) -> Vec<f64> {
    let square = (fast_m3s * fast_m3s - slow_m3s * slow_m3s) / (0.75 * ratio * ratio);
    let start = ratio * ratio - fast_m3s * fast_m3s / square;
    vec![0.5 * ln(square), start.clamp(0.0, MOST_START)]
}
