//! Words for readings that are doubted.

use super::expected::to_type;
use super::{Words, place_words};
use crate::number;
use crate::units::{Printing, with_unit, written};
use fieldtest::{Matter, Place, Reading, Slip};
use metrology::Estimate;
use records::unit::Unit;

/// Puts a doubted reading into English.
pub(super) fn words(matter: &Matter, place: &Place, printing: Printing) -> Words {
    let here = place_words(place);
    match matter {
        Matter::UnitSlip {
            read,
            expected,
            slip,
            accept_si,
            ..
        } => {
            let accept = in_typed_unit(read, *accept_si, printing);
            Words::new(
                format!(
                    "{here}: {} is far from what the other steps say, {}. {}",
                    as_typed(read),
                    expected_words(read, *expected, printing),
                    slip_words(*slip),
                ),
                format!("Enter {accept} if that is what the meter showed; else read this step again."),
            )
        }
        Matter::RepeatedEntry {
            read,
            expected,
            same_as_row,
        } => Words::new(
            format!(
                "{here}: {} is the same entry as in row {same_as_row}; the other steps say {} here.",
                as_typed(read),
                expected_words(read, *expected, printing),
            ),
            "Read this step again: the display had not settled, or the entry was typed twice.",
        ),
        Matter::OffCurve {
            read,
            expected,
            accept_si,
        } => Words::new(
            format!(
                "{here}: {} does not fit the other steps, which say {}.",
                as_typed(read),
                expected_words(read, *expected, printing),
            ),
            match accept_si {
                Some(si) => format!(
                    "Digits may be swapped or typed twice: enter {} if that is what the meter showed; else read this step again.",
                    in_typed_unit(read, *si, printing),
                ),
                None => "Read this step again, and look at the meter: air, a stuck display, a moved valve?".to_owned(),
            },
        ),
        Matter::WrongSpeed {
            read_rpm,
            expected_rpm,
        } => Words::new(
            format!(
                "{here}: the readings of this row fit {} rpm, not {} rpm.",
                number::with_interval(*expected_rpm),
                number::rpm(*read_rpm),
            ),
            "Look at the speed on the drive and correct it, or read this step again.",
        ),
        Matter::Scattered { measured, largest } => Words::new(
            format!(
                "The readings of {} do not follow one curve; they are up to {:.0} % off it, and no few of them explain it.",
                measured.word(),
                100.0 * largest,
            ),
            "Look for air, a moved valve or a meter out of order, and step through the speeds again.",
        ),
        other => super::unsaid(other),
    }
}

pub(super) fn slip_words(slip: Slip) -> String {
    match slip {
        Slip::Unit(unit) => format!("The number would be right in {}.", written(unit.name)),
        Slip::DecimalPlaces(places) => {
            let side = if places > 0 { "right" } else { "left" };
            let count = match places.unsigned_abs() {
                1 => "one place".to_owned(),
                n => format!("{n} places"),
            };
            format!("The decimal point may stand {count} too far to the {side}.")
        }
    }
}

/// Writes a reading as it was typed, with the unit of its column.
pub(super) fn as_typed(read: &Reading) -> String {
    let unit = read.unit.map_or("", |unit| written(unit.name));
    with_unit(read.text.trim(), unit)
}

/// Writes what was expected, in the unit that was typed.
fn expected_words(read: &Reading, expected: Estimate, printing: Printing) -> String {
    match read.unit {
        Some(unit) => with_unit(
            &number::with_interval(expected.scaled(1.0 / unit.factor)),
            written(unit.name),
        ),
        None => printing.with_interval(expected, read.measured.dimension()),
    }
}

/// Writes a value in the unit that was typed, with as many digits as were typed.
pub(super) fn in_typed_unit(read: &Reading, si: f64, printing: Printing) -> String {
    let write = |unit: &Unit| with_unit(&to_type(read, si), written(unit.name));
    read.unit
        .map_or_else(|| printing.plain(si, read.measured.dimension()), write)
}
