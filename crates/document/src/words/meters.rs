//! Words for meters: two that disagree, one that had not settled, one out of its range, a column in another unit.

use super::trust::{as_typed, in_typed_unit, slip_words};
use super::{Words, column_words, place_words};
use crate::language::say;
use crate::names;
use crate::number;
use crate::units::{Printing, with_unit, written};
use fieldtest::{Matter, Place, Seen, Slip, Unrest, UsualLimit};
use metrology::Estimate;
use records::unit::{Dimension, Unit};
use records::{Measured, MeterKind};

/// Says what a kind of meter usually is worth where its accuracy is not stated: `±2 %`.
pub fn usual_accuracy(measured: Measured, kind: MeterKind, printing: Printing) -> String {
    let percent = |share: f64| format!("±{} %", number::plain(printing, 100.0 * share));
    let limit = |usual: &UsualLimit| match usual {
        UsualLimit::OfReading(share) => percent(*share),
        UsualLimit::OfBore(share) => say!(printing, "{share} by the bore", share = percent(*share)),
        UsualLimit::OfFullScale(share) => {
            say!(printing, "{share} of full scale", share = percent(*share))
        }
        UsualLimit::Amount(si) => format!("±{}", printing.plain(*si, measured.dimension())),
    };
    let limits = fieldtest::usual_accuracy(measured, Some(kind)).iter();
    limits
        .map(limit)
        .collect::<Vec<_>>()
        .join(say!(printing, " and "))
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
        } => disagree(*measured, columns, ratio.value, *allowed, printing),
        Matter::Unsettled {
            unit,
            unrest,
            from_si,
            to_si,
            measured,
        } => {
            let show = |si: f64| shown(si, *unit, measured.dimension(), printing);
            unsettled(&place_words(place, printing), *unrest, &show(*from_si), &show(*to_si), printing)
        }
        Matter::GaugeZero { read, expected } => Words::new(
            say!(
                printing,
                "{here}: with the pump off the gauge shows {read}, and should rest at {rest}.",
                here = column_words(place, printing),
                read = as_typed(read),
                rest = shown_estimate(*expected, read.unit, printing)
            ),
            say!(printing, "Tap the gauge and bleed it; replace one that does not come to rest. State its height in the site file."),
        ),
        Matter::ColumnSlip {
            measured,
            typed,
            slip,
            seen,
            ..
        } => Words::new(
            column_slip(*measured, written(typed.name), *slip, *seen, printing),
            match seen {
                Seen::FlowPerSpeed => say!(printing, "If so, correct the unit in the heading of the column, or the numbers below it. The column is used as it stands."),
                Seen::PowerFactor => say!(printing, "Correct the unit in the heading of the column, or the numbers below it. Until then the column is left out."),
            },
        )
        .with_source(say!(printing, "common practice, no source")),
        Matter::VacuumBeyondAtmosphere {
            read,
            atmosphere_pa,
        } => Words::new(
            say!(printing, "{here}: {read} is deeper than a perfect vacuum, which at sea level is {atmosphere}.", here = place_words(place, printing), read = as_typed(read), atmosphere = shown(*atmosphere_pa, read.unit, Dimension::Pressure, printing)),
            say!(printing, "Read the gauge again: its unit, its sign, or the gauge itself is wrong."),
        )
        .with_source(say!(printing, "the standard atmosphere")),
        Matter::OutsideMeterRange {
            read,
            low_si,
            high_si,
        } => Words::new(
            say!(printing, "{here}: {read} is outside what the meter is good for, {low} to {high}. It is kept in view and has no weight.", here = place_words(place, printing), read = as_typed(read), low = in_typed_unit(read, *low_si, printing), high = in_typed_unit(read, *high_si, printing)),
            say!(printing, "Use another meter at this speed, or leave the step out."),
        ),
        other => super::unsaid(other, printing),
    }
}

fn column_slip(
    measured: Measured,
    unit: &str,
    slip: Slip,
    seen: Seen,
    printing: Printing,
) -> String {
    let quantity = names::measured(measured, printing);
    let slip = match slip {
        Slip::Unit(unit) => say!(
            printing,
            "The numbers would be right in {unit}.",
            unit = written(unit.name)
        ),
        slip @ Slip::DecimalPlaces(_) => slip_words(slip, printing),
    };
    match seen {
        Seen::FlowPerSpeed => say!(
            printing,
            "The whole column of {quantity} is hardly in {unit}: pool pumps hardly give such a flow at such a speed. {slip}",
            quantity,
            unit,
            slip
        ),
        Seen::PowerFactor => say!(
            printing,
            "The whole column of {quantity} cannot be in {unit}: volts times amperes do not fit such a power. {slip}",
            quantity,
            unit,
            slip
        ),
    }
}

fn disagree(
    measured: Measured,
    columns: &[String; 2],
    ratio: f64,
    allowed: (f64, f64),
    printing: Printing,
) -> Words {
    let [first, second] = columns
        .each_ref()
        .map(|column| names::column(column, printing));
    Words::new(
        say!(printing, "{second} reads {ratio} times {first}; their accuracies allow {low} to {high}. Which of the two is wrong cannot be told from them, so every {quantity} is given as wide as the gap.", second, ratio = number::with_decimals(printing, ratio, 2), first, low = number::with_decimals(printing, allowed.0, 2), high = number::with_decimals(printing, allowed.1, 2), quantity = names::measured(measured, printing)),
        say!(printing, "Check that both meters are set for the pipe they sit on, have enough straight pipe, and are full of water; then hold them against a third."),
    )
    .with_source(say!(printing, "E_n far above 1 (ISO 13528); widened by the Birge ratio"))
}

fn unsettled(here: &str, unrest: Unrest, from: &str, to: &str, printing: Printing) -> Words {
    match unrest {
        Unrest::Trend => Words::new(
            say!(
                printing,
                "{here}: the repeats go one way, from {from} to {to}; the reading had not settled.",
                here,
                from,
                to
            ),
            say!(
                printing,
                "Wait until the display holds still, then read this step again."
            ),
        ),
        Unrest::Drift => Words::new(
            say!(
                printing,
                "{here}: {from} at first, {to} when the speed was met again; something changed in between.",
                here,
                from,
                to
            ),
            say!(
                printing,
                "Look for air leaving the filter, a filter that loads, a moved valve or a warming meter; then read again."
            ),
        ),
    }
}

/// Writes a value in the unit of its column.
fn shown(si: f64, unit: Option<&'static Unit>, dimension: Dimension, printing: Printing) -> String {
    unit.map_or_else(
        || printing.plain(si, dimension),
        |unit| {
            with_unit(
                &number::plain(printing, unit.from_si(si)),
                written(unit.name),
            )
        },
    )
}

fn shown_estimate(si: Estimate, unit: Option<&'static Unit>, printing: Printing) -> String {
    unit.map_or_else(
        || printing.with_interval(si, Dimension::Pressure),
        |unit| {
            with_unit(
                &number::with_interval(printing, si.scaled(1.0 / unit.factor)),
                written(unit.name),
            )
        },
    )
}
