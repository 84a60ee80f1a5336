//! The draws of a test: deviates by number, so that any block may be computed by any thread.

use super::Refit;
use super::cheapest::Costs;
use super::chunk::{CHUNK, Chunk, ChunkDeviates, Column};
use super::law::{DrawnLaw, LawDraws, There};
use crate::result::{LeastEnergy, TestResult};
use metrology::Estimate;
use numerics::random::Draws;
use numerics::vector::{exp, map, map_pairs};
use std::num::NonZeroUsize;

/// Seconds in an hour, exact.
const SECONDS_PER_HOUR: f64 = 3600.0;

/// An answer of a test that draws are made of, SI; energy in W h/m³.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Drawn {
    /// The slope of the flow law, m³/s per rpm.
    FlowSlope,
    /// The speed below which nothing flows, rpm.
    InterceptSpeed,
    /// The draw that does not depend on speed, W.
    FixedDraw,
    /// The draw that does, at the reference speed, W.
    DynamicDraw,
    /// The exponent of the draw that does.
    Exponent,
    /// The cheapest speed, rpm.
    CheapestSpeed,
    /// Flow at the cheapest speed of the analysis, rpm.
    Flow(f64),
    /// Power there.
    Power(f64),
    /// Energy above standby per volume there.
    Energy(f64),
}

impl Drawn {
    fn takes_flow(self) -> bool {
        !matches!(
            self,
            Self::FixedDraw | Self::DynamicDraw | Self::Exponent | Self::Power(_)
        )
    }

    fn takes_power(self) -> bool {
        !matches!(self, Self::FlowSlope | Self::InterceptSpeed | Self::Flow(_))
    }

    /// Says whether it is an answer at one speed.
    fn is_at_speed(self) -> bool {
        matches!(self, Self::Flow(_) | Self::Power(_) | Self::Energy(_))
    }
}

/// The errors behind a test's laws, ready to be drawn.
#[derive(Clone, Debug)]
pub struct TestDraws {
    flow: Option<LawDraws>,
    power: Option<LawDraws>,
    reference_rpm: f64,
    /// The draw at rest and its standard uncertainty, W; zeros where it was not read.
    standby_w: (f64, f64),
    cheapest_rpm: f64,
    answers: Vec<(Drawn, Estimate)>,
    normals: Draws,
    rectangles: Draws,
}

impl TestDraws {
    /// Prepares the draws of a test; `None` without a law.
    pub fn new(test: &TestResult, seed: u64, refit: Refit) -> Option<Self> {
        let laws = &test.laws;
        let (flow, power) = (laws.flow.as_ref(), laws.power.as_ref());
        let reference_rpm = flow
            .map(|law| law.law.reference_rpm)
            .or(power.map(|law| law.at_speed_rpm))?;
        let cheapest = test.least_energy.as_ref().and_then(|least| least.speed_rpm);
        let at_rpm = cheapest.map_or(reference_rpm, |speed| speed.value);
        let draws = |law| LawDraws::new(law, at_rpm, refit);
        Some(Self {
            flow: flow.and_then(|law| draws(&law.law)),
            power: power.and_then(|law| draws(&law.law)),
            reference_rpm,
            standby_w: laws
                .standby_w
                .map_or((0.0, 0.0), |standby| (standby.value, standby.u)),
            cheapest_rpm: at_rpm,
            answers: answers(test),
            normals: Draws::new(seed),
            // Another seed: deviates of one stream may not be met in the other.
            rectangles: Draws::new(!seed),
        })
    }

    /// Lists the answers in the order in which [`Self::fill`] writes them, with what first order says of them.
    pub fn answers(&self) -> &[(Drawn, Estimate)] {
        &self.answers
    }

    /// Keeps the answers that are wanted, and draws no law that none of them asks for; the draws are others then.
    #[must_use]
    pub fn only(mut self, wanted: impl Fn(Drawn) -> bool) -> Self {
        self.answers.retain(|(of, _)| wanted(*of));
        let asked = |law: fn(Drawn) -> bool| self.answers.iter().any(|(of, _)| law(*of));
        let (flow, power) = (asked(Drawn::takes_flow), asked(Drawn::takes_power));
        self.flow = self.flow.filter(|_| flow);
        self.power = self.power.filter(|_| power);
        self
    }

    /// Writes the answers of consecutive draws from number `first` on, one column per answer.
    ///
    /// The numbers of a draw depend on its own number alone.
    ///
    /// # Returns
    /// For how many of the draws an exact refit of some law was not found; the answers have its first order there.
    pub fn fill(&self, first: u64, columns: &mut [&mut [f64]]) -> usize {
        let count = columns.iter().map(|column| column.len()).min().unwrap_or(0);
        let there = if self.answers.iter().any(|(of, _)| of.is_at_speed()) {
            There::Asked
        } else {
            There::NotAsked
        };
        let mut unsettled = 0;
        let mut chunk = Chunk::new(self.flow.as_ref(), self.power.as_ref());
        for from in (0..count).step_by(CHUNK) {
            chunk.draw(&self.normals, &self.rectangles, first + from as u64);
            let drawn = self.draw(chunk.deviates(), there);
            let taken = CHUNK.min(count - from);
            for ((of, _), column) in self.answers.iter().zip(&mut *columns) {
                let answers = self.answer(*of, &drawn);
                column[from..from + taken].copy_from_slice(&answers[..taken]);
            }
            unsettled += drawn.unsettled(taken);
        }
        unsettled
    }

    /// Does what [`Self::fill`] does, on several threads; on one, none is asked for.
    pub fn fill_on(&self, threads: NonZeroUsize, first: u64, columns: Vec<&mut [f64]>) -> usize {
        let count = columns.iter().map(|column| column.len()).max().unwrap_or(0);
        // Whole chunks, since no less is made of one.
        let chunks = count.div_ceil(CHUNK).div_ceil(threads.get()).max(1);
        let firsts = (first..).step_by(chunks * CHUNK);
        let mut shares = shares(columns, chunks * CHUNK).into_iter().zip(firsts);
        let Some((mut own, first)) = shares.next() else {
            return 0;
        };
        std::thread::scope(|scope| {
            let others: Vec<_> = shares
                .map(|(mut share, first)| scope.spawn(move || self.fill(first, &mut share)))
                .collect();
            let unsettled = self.fill(first, &mut own);
            let joined = others.into_iter().map(|other| {
                let result = other.join();
                result.unwrap_or_else(|panic| std::panic::resume_unwind(panic))
            });
            unsettled + joined.sum::<usize>()
        })
    }

    fn draw(&self, deviates: ChunkDeviates<'_>, there: There) -> DrawnTest {
        let law = |law: Option<&LawDraws>, deviates| {
            law.map_or_else(DrawnLaw::default, |law| law.draw(deviates, there))
        };
        let (standby, u) = self.standby_w;
        DrawnTest {
            flow: law(self.flow.as_ref(), deviates.flow),
            power: law(self.power.as_ref(), deviates.power),
            standby_w: deviates.standby.map(|deviate| standby + u * deviate),
        }
    }

    fn answer(&self, of: Drawn, drawn: &DrawnTest) -> Column {
        let [ln_slope, intercept, _] = &drawn.flow.parameters;
        let [fixed_w, dynamic_w, exponent] = &drawn.power.parameters;
        match of {
            Drawn::FlowSlope => each(ln_slope, |ln_slope| exp(ln_slope) / self.reference_rpm),
            Drawn::InterceptSpeed => each(intercept, |intercept| {
                self.reference_rpm * intercept.max(0.0).sqrt()
            }),
            Drawn::FixedDraw => *fixed_w,
            Drawn::DynamicDraw => *dynamic_w,
            Drawn::Exponent => *exponent,
            Drawn::CheapestSpeed => {
                let above_standby_w = pairs(fixed_w, &drawn.standby_w, |fixed, by| fixed - by);
                let costs = Costs {
                    fixed_w: &above_standby_w,
                    dynamic_w,
                    exponent,
                    intercept,
                    reference_rpm: self.reference_rpm,
                };
                costs.cheapest_rpm(self.cheapest_rpm)
            }
            Drawn::Flow(_) => each(&drawn.flow.ln_there, exp),
            Drawn::Power(_) => each(&drawn.power.ln_there, exp),
            Drawn::Energy(_) => {
                let power_w = each(&drawn.power.ln_there, exp);
                let above_standby_w = pairs(&power_w, &drawn.standby_w, |power, by| power - by);
                pairs(&above_standby_w, &drawn.flow.ln_there, |power, ln_flow| {
                    power / (exp(ln_flow) * SECONDS_PER_HOUR)
                })
            }
        }
    }
}

/// Cuts columns into shares of so many draws.
fn shares(columns: Vec<&mut [f64]>, draws: usize) -> Vec<Vec<&mut [f64]>> {
    let mut shares: Vec<Vec<&mut [f64]>> = Vec::new();
    for column in columns {
        for (k, piece) in column.chunks_mut(draws).enumerate() {
            match shares.get_mut(k) {
                Some(share) => share.push(piece),
                None => shares.push(vec![piece]),
            }
        }
    }
    shares
}

/// Computes a kernel for each draw of a chunk.
fn each(x: &Column, kernel: impl Fn(f64) -> f64) -> Column {
    let mut out = [0.0; CHUNK];
    // Columns have one length.
    let _ = map(kernel, x, &mut out);
    out
}

/// Computes a kernel of two numbers for each draw of a chunk.
fn pairs(x: &Column, y: &Column, kernel: impl Fn(f64, f64) -> f64) -> Column {
    let mut out = [0.0; CHUNK];
    // Columns have one length.
    let _ = map_pairs(kernel, x, y, &mut out);
    out
}

/// The numbers of a chunk of draws.
struct DrawnTest {
    flow: DrawnLaw,
    power: DrawnLaw,
    standby_w: Column,
}

impl DrawnTest {
    /// Counts the draws without an exact refit among the first so many.
    fn unsettled(&self, among: usize) -> usize {
        let laws = self.flow.unsettled.iter().zip(&self.power.unsettled);
        laws.take(among)
            .filter(|(flow, power)| **flow || **power)
            .count()
    }
}

/// Lists the answers that a test has.
fn answers(test: &TestResult) -> Vec<(Drawn, Estimate)> {
    let mut answers = Vec::new();
    if let Some(flow) = &test.laws.flow {
        answers.push((Drawn::FlowSlope, flow.slope_m3s_per_rpm));
        answers.push((Drawn::InterceptSpeed, flow.intercept_speed_rpm));
    }
    if let Some(power) = &test.laws.power {
        answers.push((Drawn::FixedDraw, power.fixed_w));
        answers.push((Drawn::DynamicDraw, power.dynamic_w));
        answers.push((Drawn::Exponent, power.exponent));
    }
    let least = test.least_energy.as_ref();
    answers.extend(
        least
            .and_then(|least| at_cheapest(test, least))
            .into_iter()
            .flatten(),
    );
    answers
}

/// Lists the answers about the cheapest speed, where the tested speeds bracket it.
fn at_cheapest(test: &TestResult, least: &LeastEnergy) -> Option<Vec<(Drawn, Estimate)>> {
    let speed = least.speed_rpm?;
    let at = speed.value;
    let power = test.laws.power.as_ref()?.law.predict(at);
    let found = [
        (Drawn::CheapestSpeed, Some(speed)),
        (Drawn::Flow(at), least.flow_m3s),
        (Drawn::Power(at), power),
        (Drawn::Energy(at), least.energy_wh_per_m3),
    ];
    let known = found
        .into_iter()
        .filter_map(|(of, estimate)| Some((of, estimate?)));
    Some(known.collect())
}
