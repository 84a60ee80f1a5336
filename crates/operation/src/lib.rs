//! How a pool is best run: tariff, tasks and the cheapest day of a pump.
//!
//! [`schedule`] finds the day that costs least for a [`Problem`], which is complete in itself; [`replay`] holds any day
//! against the rules of a problem.

mod problem;
mod replay;
mod schedule;

pub use problem::{
    BeforeFirst, HoursLie, Least, Problem, ProblemError, Rule, Slot, Speed, TaskRule,
};
pub use replay::{Day, Replay, replay};
pub use schedule::{Effort, Outcome, Planned, schedule};
