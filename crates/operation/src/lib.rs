//! How a pool is best run: tariff, tasks and the cheapest day of a pump.
//!
//! [`plan`] goes from a site and its analysed tests to the day that is advised. It composes a [`Problem`], which is
//! complete in itself, has [`schedule`] find the day that comes to the least, and adds what there is to say of it.
//! [`replay`] holds any day against the rules of a problem, apart from the search. Nothing here knows a clock or a word.

mod alternatives;
mod calendar;
mod carried;
mod clock;
mod counted;
mod day;
mod explain;
mod fulfilment;
mod hours;
mod offer;
mod order;
mod pad;
mod plan;
mod problem;
mod program;
mod replay;
mod schedule;
mod spread;
mod sums;
pub mod tariff;
mod worked;
mod worth;
mod year;

pub use alternatives::{
    Alternative, AskedComparison, Baseline, Changed, Comparison, NoAlternative, PadToday, Plain,
    StatedAnew, Today, TodaysCircuit, compare, compare_with_today,
};
pub use calendar::{Date, TariffDay};
pub use clock::Clock;
pub use explain::{Binding, OneMore, binding, conflict, one_more};
pub use fulfilment::Fulfilment;
pub use hours::{Hour, hours};
pub use offer::{CutBy, LineUp, NoOffer, Offer};
pub use plan::{Advice, AdvisedDay, Asked, DayPlan, NoPlan, Programmed, by_turnover, plan};
pub use problem::{
    BeforeFirst, HoursLie, Least, Problem, ProblemError, Rule, Slot, Speed, TaskRule,
};
pub use program::Entry;
pub use replay::{Day, Replay, replay};
pub use schedule::{Effort, Outcome, Planned, schedule};
pub use sums::{AsFound, Sums};
pub use worked::{Gathered, Worked, date_of, worked};
pub use worth::{PayBack, Terms, Worth, present_value_factor};
pub use year::{AskedYear, DayOfYear, KindOfDay, NoYear, YearFound, YearPlan, YearSums, plan_year};
