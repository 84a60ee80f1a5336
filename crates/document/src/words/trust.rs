//! Words for readings that are doubted.

use super::expected::to_type;
use super::{Words, place_words};
use crate::language::say;
use crate::names;
use crate::number;
use crate::units::{Printing, with_unit, written};
use fieldtest::{Matter, Place, Reading, Slip};
use metrology::Estimate;
use records::unit::Unit;

/// Puts a doubted reading into English.
pub(super) fn words(matter: &Matter, place: &Place, printing: Printing) -> Words {
    let here = place_words(place, printing);
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
                say!(printing, "{here}: {read} is far from what the other steps say, {expected}. {slip}", here, read = as_typed(read), expected = expected_words(read, *expected, printing), slip = slip_words(*slip, printing)),
                say!(printing, "Enter {accept} if that is what the meter showed; else read this step again.", accept),
            )
        }
        Matter::RepeatedEntry {
            read,
            expected,
            same_as_row,
        } => Words::new(
            say!(printing, "{here}: {read} is the same entry as in row {row}; the other steps say {expected} here.", here, read = as_typed(read), row = same_as_row, expected = expected_words(read, *expected, printing)),
            say!(printing, "Read this step again: the display had not settled, or the entry was typed twice."),
        ),
        Matter::OffCurve {
            read,
            expected,
            accept_si,
        } => Words::new(
            say!(printing, "{here}: {read} does not fit the other steps, which say {expected}.", here, read = as_typed(read), expected = expected_words(read, *expected, printing)),
            match accept_si {
                Some(si) => say!(printing, "Digits may be swapped or typed twice: enter {accept} if that is what the meter showed; else read this step again.", accept = in_typed_unit(read, *si, printing)),
                None => say!(printing, "Read this step again, and look at the meter: air, a stuck display, a moved valve?").to_owned(),
            },
        ),
        Matter::WrongSpeed {
            read_rpm,
            expected_rpm,
        } => Words::new(
            say!(printing, "{here}: the readings of this row fit {expected} rpm, not {read} rpm.", here, expected = number::with_interval(printing, *expected_rpm), read = number::rpm(printing, *read_rpm)),
            say!(printing, "Look at the speed on the drive and correct it, or read this step again."),
        ),
        Matter::Scattered { measured, largest } => Words::new(
            say!(printing, "The readings of {quantity} do not follow one curve; they are up to {percent} % off it, and no few of them explain it.", quantity = names::measured(*measured, printing), percent = number::with_decimals(printing, 100.0 * largest, 0)),
            say!(printing, "Look for air, a moved valve or a meter out of order, and step through the speeds again."),
        ),
        other => super::unsaid(other, printing),
    }
}

pub(super) fn slip_words(slip: Slip, printing: Printing) -> String {
    match slip {
        Slip::Unit(unit) => say!(
            printing,
            "The number would be right in {unit}.",
            unit = written(unit.name)
        ),
        Slip::DecimalPlaces(places) => match (places.unsigned_abs(), places > 0) {
            (1, true) => say!(
                printing,
                "The decimal point may stand one place too far to the right."
            )
            .to_owned(),
            (1, false) => say!(
                printing,
                "The decimal point may stand one place too far to the left."
            )
            .to_owned(),
            (places, true) => say!(
                printing,
                "The decimal point may stand {places} places too far to the right.",
                places
            ),
            (places, false) => say!(
                printing,
                "The decimal point may stand {places} places too far to the left.",
                places
            ),
        },
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
            &number::with_interval(printing, expected.scaled(1.0 / unit.factor)),
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
