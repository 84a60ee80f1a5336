//! Words for what is expected of a reading, and for a reading outside a rough band.

use super::Words;
use super::trust::{as_typed, slip_words};
use crate::number;
use crate::units::{with_unit, written};
use fieldtest::{Expectation, ExpectedBy, Reading, RoughDoubt};
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
pub fn expected(expectation: &Expectation, unit: &Unit) -> ExpectedWords {
    let si = expectation.si;
    let is_rough = expectation.by.is_rough();
    let (low, high) = if is_rough {
        let end = |si: f64| number::significant(unit.from_si(si), 2);
        (end(si.low), end(si.high))
    } else {
        number::ends(si.scaled(1.0 / unit.factor))
    };
    let name = written(unit.name);
    let band = with_unit(&format!("{low} to {high}"), name);
    ExpectedWords {
        best: (!is_rough).then(|| number::best(si.scaled(1.0 / unit.factor))),
        unit: name,
        text: match expectation.by {
            ExpectedBy::Law => band,
            ExpectedBy::Neighbours => format!("{band}, roughly, by the nearest steps"),
            ExpectedBy::Plumbing => format!("{band}, by the stated plumbing"),
            ExpectedBy::MakersCurve => format!("{band}, roughly, by the maker's curve"),
            ExpectedBy::SuchPumps => format!("{band}, roughly, as such pumps have it"),
        },
        low,
        high,
    }
}

/// Puts a reading outside a rough band into English.
pub fn rough_doubt(expectation: &Expectation, doubt: &RoughDoubt, unit: &Unit) -> Words {
    let band = expected(expectation, unit).text;
    let read = as_typed(&doubt.read);
    match doubt.slip {
        Some((slip, si)) => {
            let accept = with_unit(&to_type(&doubt.read, si), written(unit.name));
            Words::new(
                format!(
                    "{read} is far from what is expected: {band}. {}",
                    slip_words(slip)
                ),
                format!(
                    "Enter {accept} if that is what the meter showed; else read this step again."
                ),
            )
        }
        None => Words::new(
            format!("{read} is far from what is expected: {band}."),
            "Read the meter again, and look at its unit; the reading may still be right.",
        ),
    }
}

/// Writes a value as it would be typed in place of a reading: in its unit, with as many digits, and nothing else.
pub fn to_type(read: &Reading, si: f64) -> String {
    let digits = read.text.chars().filter(char::is_ascii_digit).count();
    let typed = u32::try_from(digits.clamp(2, 6)).unwrap_or(3);
    let number = read.unit.map_or(si, |unit| unit.from_si(si));
    number::significant(number, typed).replace(',', "")
}
