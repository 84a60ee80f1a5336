//! A planned day hour by hour by the clock on the wall, for those who go on with the numbers elsewhere.

use crate::problem::{Problem, SECONDS_PER_HOUR};
use crate::replay::Day;
use records::ClockTime;

/// Minutes in an hour, exact.
const HOUR_MINUTES: u32 = 60;
/// Watt-hours in a kilowatt-hour, exact.
const WH_PER_KWH: f64 = 1000.0;

/// An hour of a day, or what a change of the clock leaves of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hour {
    /// When it begins by the clock.
    pub start: ClockTime,
    /// How long it lasts, h.
    pub hours: f64,
    /// The highest speed in it, rpm; 0 is off.
    pub top_rpm: f64,
    /// Volume, m³.
    pub volume_m3: f64,
    /// Energy, kWh.
    pub energy_kwh: f64,
    /// What the energy costs; `None` without a tariff.
    pub cost: Option<f64>,
}

/// Adds a day up hour by hour. Priming belongs to the hour of its start.
pub fn hours(problem: &Problem, day: &Day) -> Vec<Hour> {
    let mut hours: Vec<Hour> = Vec::new();
    let mut before = day.last().copied().flatten();
    for (slot, speed) in problem.slots.iter().zip(day) {
        let of_hour = slot.start.minutes / HOUR_MINUTES;
        // An hour that comes twice is twice in the list: its second run begins anew at its first minute.
        let goes_on = hours.last().is_some_and(|hour| {
            hour.start.minutes / HOUR_MINUTES == of_hour && slot.start.minutes > hour.start.minutes
        });
        if !goes_on {
            hours.push(Hour {
                start: slot.start,
                hours: 0.0,
                top_rpm: 0.0,
                volume_m3: 0.0,
                energy_kwh: 0.0,
                cost: slot.price_per_kwh.map(|_| 0.0),
            });
        }
        let starts = f64::from(u8::from(speed.is_some() && before.is_none()));
        before = *speed;
        let running = speed.map(|speed| &problem.speeds[speed]);
        let power_w = running.map_or(problem.off_power_w, |speed| speed.power_w);
        let flow_m3s = running.map_or(0.0, |speed| speed.flow_m3s);
        let energy_kwh = (slot.hours * power_w + starts * problem.start_energy_wh) / WH_PER_KWH;
        if let Some(hour) = hours.last_mut() {
            hour.hours += slot.hours;
            hour.top_rpm = hour
                .top_rpm
                .max(running.map_or(0.0, |speed| speed.speed_rpm));
            hour.volume_m3 +=
                flow_m3s * slot.hours * SECONDS_PER_HOUR + starts * problem.start_volume_m3;
            hour.energy_kwh += energy_kwh;
            let price = slot.price_per_kwh.unwrap_or(0.0);
            hour.cost = hour.cost.map(|cost| cost + price * energy_kwh);
        }
    }
    hours
}
