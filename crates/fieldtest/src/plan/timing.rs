//! How long each stage of a test takes. All of it is common practice, no source: what a person at a pad needs who knows the way.

use super::PlannedColumn;
use super::design::{Chosen, Why};
use super::refusal::NoPlan;
use records::Site;

/// Baskets, lid, valves, service mode, meters.
const PREPARE_S: f64 = 600.0;
/// Gauges at zero and the draw at rest.
const AT_REST_S: f64 = 120.0;
/// Priming, where the site file does not state it.
const PRIME_S: f64 = 300.0;
/// One step of the climb.
const CLIMB_S: f64 = 60.0;
/// What a pad needs after a change of speed until its readings stand.
const SETTLE_S: f64 = 120.0;
/// The same after a valve was moved.
const SETTLE_VALVE_S: f64 = 180.0;
/// Reading one meter and writing it down.
const READ_S: f64 = 15.0;
/// Stopping, moving a valve, starting.
const MOVE_VALVE_S: f64 = 240.0;
/// Valves, feeders, automation and program back as found.
const PUT_BACK_S: f64 = 300.0;
/// Speeds of the least test that has a law of power.
const LEAST_SPEEDS: usize = 3;

/// A stage of a test.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Baskets, lid, valves, service mode, meters.
    Prepare,
    /// The pump off: gauges at zero, and the draw at rest.
    AtRest,
    /// Priming.
    Prime,
    /// Up in coarse steps, with an eye on the vessel's gauge.
    Climb,
    /// The steps, from high to low.
    Steps,
    /// One step in the middle again.
    DriftCheck,
    /// Other line-ups.
    LineUps,
    /// Everything back as found.
    PutBack,
}

/// A stage with its time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StageTime {
    /// The stage.
    pub stage: Stage,
    /// The time, s.
    pub time_s: f64,
}

/// How long the pad settles before a step is read, s.
pub(super) fn settle_s(why: &Why) -> f64 {
    match why {
        Why::LineUp { .. } => SETTLE_VALVE_S,
        Why::Narrows { .. } | Why::DriftCheck => SETTLE_S,
    }
}

/// The time of each stage at a pad.
#[derive(Clone, Copy, Debug)]
pub(super) struct Budget {
    prime_s: f64,
    climb_steps: usize,
    read_s: f64,
}

impl Budget {
    pub(super) fn of(site: &Site, columns: &[PlannedColumn], climb_steps: usize) -> Self {
        Self {
            prime_s: site
                .pump
                .prime
                .as_ref()
                .map_or(PRIME_S, |prime| prime.time.si),
            climb_steps,
            read_s: READ_S * columns.len().max(1) as f64,
        }
    }

    /// The time of everything but steps and line-ups, the repeated step counted in, s.
    fn fixed_s(&self) -> f64 {
        PREPARE_S + AT_REST_S + self.prime_s + self.climb_s() + self.step_s() + PUT_BACK_S
    }

    fn climb_s(&self) -> f64 {
        CLIMB_S * self.climb_steps as f64
    }

    fn step_s(&self) -> f64 {
        SETTLE_S + self.read_s
    }

    /// The time of a line-up of so many steps, s.
    pub(super) fn line_up_s(&self, steps: usize) -> f64 {
        MOVE_VALVE_S + (SETTLE_VALVE_S + self.read_s) * steps as f64
    }

    /// The time of so many speeds, s.
    pub(super) fn speeds_s(&self, speeds: usize) -> f64 {
        self.fixed_s() + self.step_s() * speeds as f64
    }

    /// Finds how many speeds there is time for.
    pub(super) fn speeds(&self, time_s: f64) -> Result<usize, NoPlan> {
        let needed_s = self.speeds_s(LEAST_SPEEDS);
        let is_enough = time_s >= needed_s;
        if !is_enough {
            return Err(NoPlan::TooLittleTime {
                have_s: time_s,
                needed_s,
                speeds: LEAST_SPEEDS,
            });
        }
        let mut speeds = LEAST_SPEEDS;
        while speeds < super::design::MOST_SPEEDS && self.speeds_s(speeds + 1) <= time_s {
            speeds += 1;
        }
        Ok(speeds)
    }

    /// Lists the stages of what was chosen.
    pub(super) fn stages(&self, chosen: &Chosen) -> Vec<StageTime> {
        let line_ups = chosen
            .line_ups
            .iter()
            .map(|line_up| self.line_up_s(line_up.steps_rpm.len()));
        let all = [
            (Stage::Prepare, PREPARE_S),
            (Stage::AtRest, AT_REST_S),
            (Stage::Prime, self.prime_s),
            (Stage::Climb, self.climb_s()),
            (Stage::Steps, self.step_s() * chosen.speeds.len() as f64),
            (Stage::DriftCheck, self.step_s()),
            (Stage::LineUps, line_ups.sum()),
            (Stage::PutBack, PUT_BACK_S),
        ];
        let taken = all.into_iter().filter(|(_, time_s)| *time_s > 0.0);
        taken
            .map(|(stage, time_s)| StageTime { stage, time_s })
            .collect()
    }
}
