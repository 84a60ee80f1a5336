//! Words for what is expected of a reading, and for a reading outside a rough band.

use super::Words;
use super::trust::{as_typed, slip_words};
use crate::language::say;
use crate::number;
use crate::units::{Printing, with_unit, written};
use fieldtest::{Expectation, ExpectedBy, Reading, RoughDoubt};
use records::UnitSystem;
use records::unit::Unit;

/// What is expected of a reading, in words and in the unit of its column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ExpectedWords {
    /// The lower end, without unit.
    pub low: String,
    /// The upper end.
    pub high: String,
    /// The best value; `None` of a rough band.
    pub best: Option<String>,
    /// The unit as it is printed.
    pub unit: &'static str,
    /// The band with its unit, and who says so where it is a rough one.
    pub text: String,
}

/// Puts an expectation into English, in the unit of a column.
pub fn expected(expectation: &Expectation, unit: &Unit, printing: Printing) -> ExpectedWords {
    let si = expectation.si;
    let is_rough = expectation.by.is_rough();
    let (low, high) = if is_rough {
        let end = |si: f64| number::significant(printing, unit.from_si(si), 2);
        (end(si.low), end(si.high))
    } else {
        number::ends(printing, si.scaled(1.0 / unit.factor))
    };
    let name = written(unit.name);
    let band = with_unit(&say!(printing, "{low} to {high}", low, high), name);
    ExpectedWords {
        best: (!is_rough).then(|| number::best(printing, si.scaled(1.0 / unit.factor))),
        unit: name,
        text: match expectation.by {
            ExpectedBy::Law => band,
            ExpectedBy::Neighbours => say!(printing, "{band}, roughly, by the nearest steps", band),
            ExpectedBy::Plumbing => say!(printing, "{band}, by the stated plumbing", band),
            ExpectedBy::MakersCurve => {
                say!(printing, "{band}, roughly, by the maker's curve", band)
            }
            ExpectedBy::SuchPumps => say!(printing, "{band}, roughly, as such pumps have it", band),
        },
        low,
        high,
    }
}

/// Puts a reading outside a rough band into English.
pub fn rough_doubt(
    expectation: &Expectation,
    doubt: &RoughDoubt,
    unit: &Unit,
    printing: Printing,
) -> Words {
    let band = expected(expectation, unit, printing).text;
    let read = as_typed(&doubt.read);
    match doubt.slip {
        Some((slip, si)) => {
            let accept = with_unit(&to_type(&doubt.read, si), written(unit.name));
            Words::new(
                say!(
                    printing,
                    "{read} is far from what is expected: {band}. {slip}",
                    read,
                    band,
                    slip = slip_words(slip, printing)
                ),
                say!(
                    printing,
                    "Enter {accept} if that is what the meter showed; else read this step again.",
                    accept
                ),
            )
        }
        None => Words::new(
            say!(
                printing,
                "{read} is far from what is expected: {band}.",
                read,
                band
            ),
            say!(
                printing,
                "Read the meter again, and look at its unit; the reading may still be right."
            ),
        ),
    }
}

/// Writes a value as it would be typed in place of a reading: in its unit, with as many digits, and nothing else. It is
/// text for a machine, with a decimal point in every language.
pub fn to_type(read: &Reading, si: f64) -> String {
    const MACHINE: Printing = Printing::english(UnitSystem::Si);
    let digits = read.text.chars().filter(char::is_ascii_digit).count();
    let typed = u32::try_from(digits.clamp(2, 6)).unwrap_or(3);
    let number = read.unit.map_or(si, |unit| unit.from_si(si));
    number::significant(MACHINE, number, typed).replace(',', "")
}
