//! Words for meters: two that disagree, one that had not settled, one out of its range, a column in another unit.

use super::trust::{as_typed, in_typed_unit, slip_words};
use super::{Words, place_words};
use crate::number;
use crate::units::{Printing, with_unit, written};
use fieldtest::{Matter, Place, Seen, Unrest, UsualLimit};
use metrology::Estimate;
use records::unit::{Dimension, Unit};
use records::{Measured, MeterKind};

/// Says what a kind of meter usually is worth where its accuracy is not stated: `±2 %`.
pub fn usual_accuracy(measured: Measured, kind: MeterKind, printing: Printing) -> String {
    let percent = |share: f64| format!("±{} %", number::plain(100.0 * share));
    let limit = |usual: &UsualLimit| match usual {
        UsualLimit::OfReading(share) => percent(*share),
        UsualLimit::OfBore(share) => format!("{} by the bore", percent(*share)),
        UsualLimit::OfFullScale(share) => format!("{} of full scale", percent(*share)),
        UsualLimit::Amount(si) => format!("±{}", printing.plain(*si, measured.dimension())),
    };
    let limits = fieldtest::usual_accuracy(measured, Some(kind)).iter();
    limits.map(limit).collect::<Vec<_>>().join(" and ")
}

/// Puts a finding about meters into English.
pub(super) fn words(matter: &Matter, place: &Place, printing: Printing) -> Words {
    match matter {
        Matter::MetersDisagree {
            measured,
            columns,
            ratio,
            allowed,
            ..
        } => disagree(*measured, columns, ratio.value, *allowed),
        Matter::Unsettled {
            unit,
            unrest,
            from_si,
            to_si,
            measured,
        } => {
            let show = |si: f64| shown(si, *unit, measured.dimension(), printing);
            unsettled(&place_words(place), *unrest, &show(*from_si), &show(*to_si))
        }
        Matter::GaugeZero { read, expected } => Words::new(
            format!(
                "{}: with the pump off the gauge shows {}, and should rest at {}.",
                place_words(place).replace(" at 0 rpm", ""),
                as_typed(read),
                shown_estimate(*expected, read.unit, printing),
            ),
            "Tap the gauge and bleed it; replace one that does not come to rest. State its height in the site file.",
        ),
        Matter::ColumnSlip {
            measured,
            typed,
            slip,
            seen,
            ..
        } => Words::new(
            format!(
                "The whole column of {} {} in {}: {}. {}",
                measured.word(),
                match seen {
                    Seen::FlowPerSpeed => "is hardly",
                    Seen::PowerFactor => "cannot be",
                },
                written(typed.name),
                match seen {
                    Seen::FlowPerSpeed => "pool pumps hardly give such a flow at such a speed",
                    Seen::PowerFactor => "volts times amperes do not fit such a power",
                },
                slip_words(*slip).replace("The number would", "The numbers would"),
            ),
            match seen {
                Seen::FlowPerSpeed => "If so, correct the unit in the heading of the column, or the numbers below it. The column is used as it stands.",
                Seen::PowerFactor => "Correct the unit in the heading of the column, or the numbers below it. Until then the column is left out.",
            },
        )
        .with_source("common practice, no source"),
        Matter::VacuumBeyondAtmosphere {
            read,
            atmosphere_pa,
        } => Words::new(
            format!(
                "{}: {} is deeper than a perfect vacuum, which at sea level is {}.",
                place_words(place),
                as_typed(read),
                shown(*atmosphere_pa, read.unit, Dimension::Pressure, printing),
            ),
            "Read the gauge again: its unit, its sign, or the gauge itself is wrong.",
        )
        .with_source("the standard atmosphere"),
        Matter::OutsideMeterRange {
            read,
            low_si,
            high_si,
        } => Words::new(
            format!(
                "{}: {} is outside what the meter is good for, {} to {}. It is kept in view and has no weight.",
                place_words(place),
                as_typed(read),
                in_typed_unit(read, *low_si, printing),
                in_typed_unit(read, *high_si, printing),
            ),
            "Use another meter at this speed, or leave the step out.",
        ),
        other => super::unsaid(other),
    }
}

fn disagree(
    measured: Measured,
    [first, second]: &[String; 2],
    ratio: f64,
    allowed: (f64, f64),
) -> Words {
    Words::new(
        format!(
            "{second} reads {ratio:.2} times {first}; their accuracies allow {:.2} to {:.2}. Which of the two is wrong cannot be told from them, so every {} is given as wide as the gap.",
            allowed.0,
            allowed.1,
            measured.word(),
        ),
        "Check that both meters are set for the pipe they sit on, have enough straight pipe, and are full of water; then hold them against a third.",
    )
    .with_source("E_n far above 1 (ISO 13528); widened by the Birge ratio")
}

fn unsettled(here: &str, unrest: Unrest, from: &str, to: &str) -> Words {
    match unrest {
        Unrest::Trend => Words::new(
            format!(
                "{here}: the repeats go one way, from {from} to {to}; the reading had not settled."
            ),
            "Wait until the display holds still, then read this step again.",
        ),
        Unrest::Drift => Words::new(
            format!(
                "{here}: {from} at first, {to} when the speed was met again; something changed in between."
            ),
            "Look for air leaving the filter, a filter that loads, a moved valve or a warming meter; then read again.",
        ),
    }
}

/// Writes a value in the unit of its column.
fn shown(si: f64, unit: Option<&'static Unit>, dimension: Dimension, printing: Printing) -> String {
    unit.map_or_else(
        || printing.plain(si, dimension),
        |unit| with_unit(&number::plain(unit.from_si(si)), written(unit.name)),
    )
}

fn shown_estimate(si: Estimate, unit: Option<&'static Unit>, printing: Printing) -> String {
    unit.map_or_else(
        || printing.with_interval(si, Dimension::Pressure),
        |unit| {
            with_unit(
                &number::with_interval(si.scaled(1.0 / unit.factor)),
                written(unit.name),
            )
        },
    )
}
