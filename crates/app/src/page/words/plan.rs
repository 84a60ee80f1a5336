//! The plan of a test, as it is ticked off.

use super::{Phrase, here, phrase};
use app::planned::{Purpose, Step};
use document::say;

pub(in crate::page) const TITLE: Phrase = phrase!("Plan of this test");
pub(in crate::page) const LEAD: Phrase = phrase!(
    "Which speeds tell most in the time there is, what each meter should read, and how far up the pump may be taken. Readings tick their step by themselves."
);
pub(in crate::page) const TIME: Phrase = phrase!("Time at the pad");
pub(in crate::page) const MAKE: Phrase = phrase!("Make the plan");
pub(in crate::page) const AGAIN: Phrase = phrase!("Plan again");
pub(in crate::page) const BUSY: Phrase = phrase!("Planning…");
pub(in crate::page) const READY: Phrase = phrase!("Make ready");
pub(in crate::page) const VALVES: Phrase = phrase!("Valves");
pub(in crate::page) const OPEN: Phrase =
    phrase!("Every other line is open, and water has a way back to the pool");
pub(in crate::page) const CLIMB: Phrase = phrase!("Take the pump up");
pub(in crate::page) const CLIMB_LEAD: Phrase = phrase!(
    "In these steps, with an eye on the filter gauge. Above the reading named, stop the pump."
);
pub(in crate::page) const STEPS: Phrase = phrase!("Read at these speeds");
pub(in crate::page) const STEPS_LEAD: Phrase = phrase!(
    "From high to low. Beside each meter stands what is expected; look at the meter first."
);
pub(in crate::page) const GO: Phrase = phrase!("To this step");

pub(in crate::page) fn progress(done: usize, all: usize) -> String {
    say!(here(), "Plan of this test: {done} of {all} done", done, all)
}

pub(in crate::page) fn minutes(minutes: u32) -> String {
    say!(here(), "{minutes} min", minutes)
}

pub(in crate::page) fn takes(minutes: u32) -> String {
    say!(here(), "It takes about {minutes} min.", minutes)
}

pub(in crate::page) fn shut(line: &str) -> String {
    say!(here(), "{line} is shut", line)
}

pub(in crate::page) fn climb(speed: &str, stop_above: Option<&str>) -> String {
    stop_above.map_or_else(
        || say!(here(), "{speed} rpm", speed),
        |above| say!(here(), "{speed} rpm; stop above {above}", speed, above),
    )
}

pub(in crate::page) fn stop_above(above: &str) -> String {
    say!(
        here(),
        "Stop the pump above {above} at the filter gauge.",
        above
    )
}

/// Names a step.
pub(in crate::page) fn step(step: &Step) -> String {
    let speed = match step.purpose {
        Purpose::AtRest => say!(here(), "Pump at rest").to_owned(),
        _ => say!(here(), "{speed} rpm", speed = step.speed),
    };
    if step.shut.is_empty() {
        return speed;
    }
    say!(
        here(),
        "{speed}, {lines} shut too",
        speed,
        lines = step.shut.join(", ")
    )
}

pub(in crate::page) fn purpose(purpose: Purpose) -> Option<Phrase> {
    match purpose {
        Purpose::AtRest => Some(phrase!("Draw at rest, and where the gauges come to rest.")),
        Purpose::Drift => Some(phrase!("Once more: has the pad drifted?")),
        Purpose::LineUp => Some(phrase!("Stop the pump before a valve is moved.")),
        Purpose::Laws => None,
    }
}

pub(in crate::page) fn band(column: &str, band: &str) -> String {
    format!("{column}: {band}")
}
