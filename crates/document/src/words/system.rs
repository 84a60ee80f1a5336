//! Words for what the pad as a whole cannot do: power, head, efficiency and speed against physics.

use super::{Words, place_words};
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
            format!(
                "{}: {} W is more than the {} VA that {} and current carry: a power factor of {}, and none exceeds 1.",
                place_words(place),
                number::plain(*power_w),
                number::plain(*apparent_va),
                match voltage {
                    Voltage::Read => "voltage",
                    Voltage::Supply => "the stated supply",
                },
                number::with_interval(*power_factor),
            ),
            "Read power, current and voltage again at this step; one of the three is wrong.",
        )
        .with_source("real power never exceeds apparent power"),
        Matter::VoltAmperesAsWatts {
            mean_power_factor,
            voltage,
            ..
        } => Words::new(
            format!(
                "The column of power is volts times amperes at every speed (ratio {mean_power_factor:.2}, {}). That is apparent power; a drive draws less real power, far less at low speed.",
                match voltage {
                    Voltage::Read => "voltage read",
                    Voltage::Supply => "voltage not read",
                },
            ),
            "Read watts on a meter that measures real power, or on the drive's display. Until then no draw and no cost can be given.",
        )
        .with_source("common practice, no source: a drive's power factor falls to a half and less at low speed"),
        Matter::PowerTooSmallForHead {
            head_m,
            from,
            bound_m,
            flow_m3s,
            power_w,
            water_power_w,
        } => Words::new(
            format!(
                "{}: {} of head at {} puts {} W into the water, and only {} W was drawn. With this flow and power the head is below {}.",
                place_words(place),
                printing.plain(*head_m, Dimension::Length),
                printing.plain(*flow_m3s, Dimension::Flow),
                number::plain(*water_power_w),
                number::plain(*power_w),
                printing.with_interval(*bound_m, Dimension::Length),
            ),
            match from {
                HeadFrom::Stated => "Do not use this head: find where it comes from, and read gauges on both sides of the pump.",
                HeadFrom::Gauges => "Read both gauges, the flow and the power of this step again; check the gauges' zero with the pump off, and their heights in the site file.",
            },
        )
        .with_source("conservation of energy: water power cannot exceed the power drawn"),
        Matter::SpeedOutsidePump {
            slowest_rpm,
            fastest_rpm,
            min_rpm,
            max_rpm,
        } => speed_outside(place, (*slowest_rpm, *fastest_rpm), (*min_rpm, *max_rpm)),
        Matter::EfficiencyImplausible {
            efficiency,
            from,
            plausible: (low, high),
        } => Words::new(
            format!(
                "At {} rpm {} of the electrical power would be in the water; a pump near its top speed puts {} to {} there.",
                number::rpm(place.steps_rpm.first().copied().unwrap_or_default()),
                number::with_interval(*efficiency),
                number::plain(*low),
                number::plain(*high),
            ),
            match from {
                HeadFrom::Stated => "Find where the stated head comes from; read gauges on both sides of the pump.",
                HeadFrom::Gauges => "Read flow, power and both gauges of this step again; check the gauges' zero with the pump off, and their heights in the site file.",
            },
        )
        .with_source("common practice, no source"),
        other => super::unsaid(other),
    }
}

fn speed_outside(place: &Place, typed_rpm: (f64, f64), pump_rpm: (f64, f64)) -> Words {
    let rows = match place.rows.as_slice() {
        [row] => format!("Row {row}: the speed"),
        rows => format!(
            "{} rows from row {} on: the speed",
            rows.len(),
            rows.first().unwrap_or(&0)
        ),
    };
    let typed = if typed_rpm.0 < typed_rpm.1 {
        format!(
            "{} to {} rpm",
            number::rpm(typed_rpm.0),
            number::rpm(typed_rpm.1)
        )
    } else {
        format!("{} rpm", number::rpm(typed_rpm.0))
    };
    // Per cent and hertz end where revolutions of a running pump have not begun.
    let other_unit = if typed_rpm.1 <= 120.0 {
        " If these are per cent of full speed or hertz, write revolutions per minute."
    } else {
        ""
    };
    Words::new(
        format!(
            "{rows}, {typed}, is outside what the pump runs at, {} to {} rpm.",
            number::rpm_about(pump_rpm.0),
            number::rpm(pump_rpm.1),
        ),
        format!("Correct the speed, or the pump's range in the site file.{other_unit}"),
    )
}
