//! Cells of readings: empty, a number, or below what the meter shows.

use crate::number::{self, DecimalMark, NumberError};
use crate::unit::Unit;
use crate::values::Range;
use crate::wording::{is_unprintable, shown};
use crate::{Cell, Measured};
use crate::{Told, told};

/// Why a cell is none: what was expected, and the mend where there is one.
pub(super) type CellError = (Told, Option<Told>);

/// Reads a cell of a column in its unit.
pub(super) fn cell(
    text: &str,
    measured: Measured,
    unit: &'static Unit,
    mark: DecimalMark,
) -> Result<Cell, CellError> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(Cell::Empty);
    }
    let below = text.strip_prefix('<');
    let number = below.unwrap_or(text).trim_start();
    let value = number_in(number, unit, mark)?;
    let si = unit.to_si(value);
    if !si.is_finite() {
        return Err(not_a_number(unit));
    }
    check_range(si, measured)?;
    let text = text.to_owned();
    Ok(if below.is_some() {
        Cell::Below { text, si }
    } else {
        Cell::Value { text, si }
    })
}

/// Refuses what no such reading can be.
pub(super) fn check_range(si: f64, measured: Measured) -> Result<(), CellError> {
    match measured.range() {
        Range::ZeroOrMore if si < 0.0 => Err((told!("0 or more"), None)),
        _ => Ok(()),
    }
}

fn number_in(text: &str, unit: &'static Unit, mark: DecimalMark) -> Result<f64, CellError> {
    let scanned = number::scan(text, mark).map_err(|error| match error {
        NumberError::None => not_a_number(unit),
        NumberError::NotFinite => (told!("a finite number in {unit}", unit = unit.name), None),
        NumberError::ThousandsComma(mend) | NumberError::DecimalComma(mend) => (
            told!("a number in {unit} without a comma", unit = unit.name),
            Some(told!("write {mend}", mend = shown(&mend))),
        ),
    })?;
    if scanned.rest.is_empty() {
        return Ok(scanned.value);
    }
    let same = Unit::find(unit.dimension, scanned.rest) == Some(unit);
    let hint = same.then(|| {
        told!(
            "write {number}, the unit stands in the heading",
            number = shown(scanned.typed)
        )
    });
    Err((
        told!("a number in {unit} and nothing after it", unit = unit.name),
        hint,
    ))
}

fn not_a_number(unit: &Unit) -> CellError {
    let hint = told!(
        "leave the cell empty where nothing was read, or write < and the lowest value that the meter shows"
    );
    (told!("a number in {unit}", unit = unit.name), Some(hint))
}

/// Checks a note: any text of printable characters, in one or several lines.
pub(super) fn note(text: &str) -> Result<String, CellError> {
    let is_wrong =
        |character: &char| is_unprintable(*character) && !matches!(character, '\n' | '\r' | '\t');
    match text.chars().find(is_wrong) {
        Some(character) => {
            let hint = told!(
                "take out the character {character}",
                character = character.escape_unicode()
            );
            Err((told!("printable characters only"), Some(hint)))
        }
        None => Ok(text.to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::unit::Dimension;

    fn read(text: &str, measured: Measured, mark: DecimalMark) -> Result<Cell, CellError> {
        let accepted = Unit::accepted(measured.dimension());
        let unit = Unit::find(measured.dimension(), accepted[0]).unwrap();
        cell(text, measured, unit, mark)
    }

    /// An ampere is the SI unit, so that text and value agree.
    #[test]
    fn numbers_limits_and_nothing() {
        let read = |text| read(text, Measured::Current, DecimalMark::Point).unwrap();
        assert_eq!(read("  "), Cell::Empty);
        assert_eq!(
            read(" 5.25 "),
            Cell::Value {
                text: "5.25".into(),
                si: 5.25
            }
        );
        assert_eq!(
            read("< 0.5"),
            Cell::Below {
                text: "< 0.5".into(),
                si: 0.5
            }
        );
    }

    #[test]
    fn a_decimal_comma_is_read_between_semicolons_only() {
        let comma = read("5,25", Measured::Current, DecimalMark::PointOrComma).unwrap();
        assert_eq!(
            comma,
            Cell::Value {
                text: "5,25".into(),
                si: 5.25
            }
        );
        let (_, hint) = read("5,25", Measured::Current, DecimalMark::Point).unwrap_err();
        assert_eq!(
            hint.map(|hint| hint.to_string()).as_deref(),
            Some("write 5.25")
        );
    }

    #[test]
    fn only_gauges_go_below_zero() {
        for measured in Measured::ALL {
            let signed = measured.dimension() == Dimension::Pressure;
            assert_eq!(
                read("-1", measured, DecimalMark::Point).is_ok(),
                signed,
                "{measured:?}"
            );
        }
    }

    #[test]
    fn what_is_no_reading_is_refused() {
        for text in [
            "n/a", "-", "NaN", "inf", "1e400", "12x", "1 2", "<", "1,500", ">8", "12.5 gpm",
        ] {
            assert!(
                read(text, Measured::Flow, DecimalMark::Point).is_err(),
                "{text}"
            );
        }
        let (_, hint) = read("12.5 GPM", Measured::Flow, DecimalMark::Point).unwrap_err();
        assert_eq!(
            hint.map(|hint| hint.to_string()).as_deref(),
            Some("write 12.5, the unit stands in the heading")
        );
    }
}
