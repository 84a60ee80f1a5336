//! The plan of a test, as it is ticked off.

use app::planned::{Purpose, Step};

pub(in crate::page) const TITLE: &str = "Plan of this test";
pub(in crate::page) const LEAD: &str = "Which speeds tell most in the time there is, what each meter should read, and how far up the pump may be taken. Readings tick their step by themselves.";
pub(in crate::page) const TIME: &str = "Time at the pad";
pub(in crate::page) const MAKE: &str = "Make the plan";
pub(in crate::page) const AGAIN: &str = "Plan again";
pub(in crate::page) const BUSY: &str = "Planning…";
pub(in crate::page) const READY: &str = "Make ready";
pub(in crate::page) const VALVES: &str = "Valves";
pub(in crate::page) const OPEN: &str =
    "Every other line is open, and water has a way back to the pool";
pub(in crate::page) const CLIMB: &str = "Take the pump up";
pub(in crate::page) const CLIMB_LEAD: &str =
    "In these steps, with an eye on the filter gauge. Above the reading named, stop the pump.";
pub(in crate::page) const STEPS: &str = "Read at these speeds";
pub(in crate::page) const STEPS_LEAD: &str =
    "From high to low. Beside each meter stands what is expected; look at the meter first.";
pub(in crate::page) const GO: &str = "To this step";

pub(in crate::page) fn progress(done: usize, all: usize) -> String {
    format!("{TITLE}: {done} of {all} done")
}

pub(in crate::page) fn minutes(minutes: u32) -> String {
    format!("{minutes} min")
}

pub(in crate::page) fn takes(minutes: u32) -> String {
    format!("It takes about {minutes} min.")
}

pub(in crate::page) fn shut(line: &str) -> String {
    format!("{line} is shut")
}

pub(in crate::page) fn climb(speed: &str, stop_above: Option<&str>) -> String {
    stop_above.map_or_else(
        || format!("{speed} rpm"),
        |above| format!("{speed} rpm; stop above {above}"),
    )
}

pub(in crate::page) fn stop_above(above: &str) -> String {
    format!("Stop the pump above {above} at the filter gauge.")
}

/// Names a step.
pub(in crate::page) fn step(step: &Step) -> String {
    let speed = match step.purpose {
        Purpose::AtRest => "Pump at rest".to_owned(),
        _ => format!("{} rpm", step.speed),
    };
    if step.shut.is_empty() {
        return speed;
    }
    format!("{speed}, {} shut too", step.shut.join(", "))
}

pub(in crate::page) fn purpose(purpose: Purpose) -> Option<&'static str> {
    match purpose {
        Purpose::AtRest => Some("Draw at rest, and where the gauges come to rest."),
        Purpose::Drift => Some("Once more: has the pad drifted?"),
        Purpose::LineUp => Some("Stop the pump before a valve is moved."),
        Purpose::Laws => None,
    }
}

pub(in crate::page) fn band(column: &str, band: &str) -> String {
    format!("{column}: {band}")
}
