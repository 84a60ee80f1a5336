//! Words for what the pad as a whole cannot do: power, head, efficiency and speed against physics.

use super::{Words, place_words};
use crate::language::say;
use crate::number;
use crate::units::Printing;
use fieldtest::{HeadFrom, Matter, Place, Voltage};
use records::unit::Dimension;

/// Puts a finding about power, head, efficiency or speed into English.
pub(super) fn words(matter: &Matter, place: &Place, printing: Printing) -> Words {
    match matter {
        Matter::PowerFactorAboveOne {
            power_factor,
            power_w,
            apparent_va,
            voltage,
        } => Words::new(
            say!(printing, "{here}: {power} W is more than the {apparent} VA that {voltage} and current carry: a power factor of {power_factor}, and none exceeds 1.", here = place_words(place, printing), power = number::plain(printing, *power_w), apparent = number::plain(printing, *apparent_va), voltage = match voltage {
                    Voltage::Read => say!(printing, "voltage" as "carries"),
                    Voltage::Supply => say!(printing, "the stated supply"),
                }, power_factor = number::with_interval(printing, *power_factor)),
            say!(printing, "Read power, current and voltage again at this step; one of the three is wrong."),
        )
        .with_source(say!(printing, "real power never exceeds apparent power")),
        Matter::VoltAmperesAsWatts {
            mean_power_factor,
            voltage,
            ..
        } => Words::new(
            say!(printing, "The column of power is volts times amperes at every speed (ratio {ratio}, {voltage}). That is apparent power; a drive draws less real power, far less at low speed.", ratio = number::with_decimals(printing, *mean_power_factor, 2), voltage = match voltage {
                    Voltage::Read => say!(printing, "voltage read"),
                    Voltage::Supply => say!(printing, "voltage not read"),
                }),
            say!(printing, "Read watts on a meter that measures real power, or on the drive's display. Until then no draw and no cost can be given."),
        )
        .with_source(say!(printing, "common practice, no source: a drive's power factor falls to a half and less at low speed")),
        Matter::PowerTooSmallForHead {
            head_m,
            from,
            bound_m,
            flow_m3s,
            power_w,
            water_power_w,
        } => Words::new(
            say!(printing, "{here}: {head} of head at {flow} puts {water_power} W into the water, and only {power} W was drawn. With this flow and power the head is below {bound}.", here = place_words(place, printing), head = printing.plain(*head_m, Dimension::Length), flow = printing.plain(*flow_m3s, Dimension::Flow), water_power = number::plain(printing, *water_power_w), power = number::plain(printing, *power_w), bound = printing.with_interval(*bound_m, Dimension::Length)),
            match from {
                HeadFrom::Stated => say!(printing, "Do not use this head: find where it comes from, and read gauges on both sides of the pump."),
                HeadFrom::Gauges => say!(printing, "Read both gauges, the flow and the power of this step again; check the gauges' zero with the pump off, and their heights in the site file."),
            },
        )
        .with_source(say!(printing, "conservation of energy: water power cannot exceed the power drawn")),
        Matter::SpeedOutsidePump {
            slowest_rpm,
            fastest_rpm,
            min_rpm,
            max_rpm,
        } => speed_outside(place, (*slowest_rpm, *fastest_rpm), (*min_rpm, *max_rpm), printing),
        Matter::EfficiencyImplausible {
            efficiency,
            from,
            plausible: (low, high),
        } => Words::new(
            say!(printing, "At {speed} rpm {efficiency} of the electrical power would be in the water; a pump near its top speed puts {low} to {high} there.", speed = number::rpm(printing, place.steps_rpm.first().copied().unwrap_or_default()), efficiency = number::with_interval(printing, *efficiency), low = number::plain(printing, *low), high = number::plain(printing, *high)),
            match from {
                HeadFrom::Stated => say!(printing, "Find where the stated head comes from; read gauges on both sides of the pump."),
                HeadFrom::Gauges => say!(printing, "Read flow, power and both gauges of this step again; check the gauges' zero with the pump off, and their heights in the site file."),
            },
        )
        .with_source(say!(printing, "common practice, no source")),
        other => super::unsaid(other, printing),
    }
}

fn speed_outside(
    place: &Place,
    typed_rpm: (f64, f64),
    pump_rpm: (f64, f64),
    printing: Printing,
) -> Words {
    let rows = match place.rows.as_slice() {
        [row] => say!(printing, "Row {row}: the speed", row),
        rows => say!(
            printing,
            "{count} rows from row {first} on: the speed",
            count = rows.len(),
            first = rows.first().unwrap_or(&0)
        ),
    };
    let typed = if typed_rpm.0 < typed_rpm.1 {
        say!(
            printing,
            "{low} to {high} rpm",
            low = number::rpm(printing, typed_rpm.0),
            high = number::rpm(printing, typed_rpm.1)
        )
    } else {
        say!(
            printing,
            "{speed} rpm",
            speed = number::rpm(printing, typed_rpm.0)
        )
    };
    // Per cent and hertz end where revolutions of a running pump have not begun.
    let other_unit = if typed_rpm.1 <= 120.0 {
        say!(
            printing,
            " If these are per cent of full speed or hertz, write revolutions per minute."
        )
    } else {
        ""
    };
    Words::new(
        say!(
            printing,
            "{rows}, {typed}, is outside what the pump runs at, {low} to {high} rpm.",
            rows,
            typed,
            low = number::rpm_about(pump_rpm.0),
            high = number::rpm(printing, pump_rpm.1)
        ),
        say!(
            printing,
            "Correct the speed, or the pump's range in the site file.{unit}",
            unit = other_unit
        ),
    )
}
