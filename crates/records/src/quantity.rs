//! A number with its unit, as typed.

use crate::number::{self, DecimalMark, NumberError};
use crate::told::shows_what_it_tells;
use crate::unit::{self, Dimension, Unit};
use crate::{Fill, Filling, Told, told};
use serde::ser::{Serialize, SerializeMap, Serializer};
use std::fmt;

/// A quantity as the person wrote it, with its value in the SI unit of its dimension.
#[derive(Clone, Debug, PartialEq)]
pub struct Quantity {
    /// The text as typed, such as `1-1/2 in`.
    pub text: String,
    /// The value in the SI unit of the dimension (kelvin for a temperature).
    pub si: f64,
    /// The dimension that the field asked for.
    pub dimension: Dimension,
    /// Where the value is a guess: how good a one.
    pub guess: Option<Guess>,
}

/// A guess `{ about = "50 ft", factor = 1.5 }`: log-normal, with 95 % between value/factor and value·factor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guess {
    /// The factor, above 1.
    pub factor: f64,
}

/// Why a text is no quantity of the dimension that was asked for. Its text says what is expected.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum QuantityError {
    /// Nothing was typed.
    Empty {
        /// What was asked for.
        dimension: Dimension,
    },
    /// The text does not start with a number.
    NoNumber {
        /// What was asked for.
        dimension: Dimension,
    },
    /// The number stands alone.
    NoUnit {
        /// The number as typed.
        number: String,
        /// What was asked for.
        dimension: Dimension,
    },
    /// The unit is in no row of the table.
    UnknownUnit {
        /// The number as typed.
        number: String,
        /// The unit as typed.
        unit: String,
        /// What was asked for.
        dimension: Dimension,
    },
    /// The unit measures something else.
    OtherDimension {
        /// The unit as it is printed.
        unit: &'static str,
        /// What the unit measures.
        measures: Dimension,
        /// What was asked for.
        dimension: Dimension,
    },
    /// A comma parts the thousands, and might as well be a decimal comma.
    ThousandsComma {
        /// The text without the comma.
        mend: String,
    },
    /// A comma stands for the decimal point.
    DecimalComma {
        /// The text with a point.
        mend: String,
    },
    /// No finite number.
    NotFinite {
        /// What was asked for.
        dimension: Dimension,
    },
}

shows_what_it_tells!(QuantityError);

impl QuantityError {
    /// Says what is accepted.
    pub fn told(&self) -> Told {
        match self {
            Self::Empty { dimension } | Self::NoNumber { dimension } => told!(
                "expected a number and a unit, such as {example}",
                example = dimension.example()
            ),
            Self::NoUnit { dimension, .. } => told!(
                "expected a unit after the number: {units}",
                units = accepted(*dimension)
            ),
            Self::UnknownUnit {
                unit, dimension, ..
            } => told!(
                "\"{unit}\" is no known unit; expected {measure}: {units}",
                unit = crate::shown(unit),
                measure = dimension.noun(),
                units = accepted(*dimension)
            ),
            Self::OtherDimension {
                unit,
                measures,
                dimension,
            } => told!(
                "{unit} is {other}; expected {measure}: {units}",
                unit,
                other = measures.noun(),
                measure = dimension.noun(),
                units = accepted(*dimension)
            ),
            Self::ThousandsComma { .. } => told!("expected digits without a comma"),
            Self::DecimalComma { .. } => told!("expected a decimal point"),
            Self::NotFinite { dimension } => told!(
                "expected a finite number, such as {example}",
                example = dimension.example()
            ),
        }
    }

    /// Says the one thing to do next, where there is one beyond what is expected.
    pub fn hint(&self) -> Option<Told> {
        match self {
            Self::ThousandsComma { mend } | Self::DecimalComma { mend } => {
                Some(told!("write {mend}", mend = crate::shown(mend)))
            }
            Self::UnknownUnit {
                number,
                unit,
                dimension,
            } => {
                let unit = Unit::nearest(*dimension, unit)?;
                Some(told!(
                    "write {number} {unit}",
                    number = crate::shown(number),
                    unit = unit.name
                ))
            }
            Self::NoUnit { number, dimension } => {
                let unit = Unit::accepted(*dimension).first().copied()?;
                Some(told!(
                    "if it is in {unit}, write {number} {unit}",
                    unit,
                    number = crate::shown(number)
                ))
            }
            _ => None,
        }
    }
}

/// The accepted units of a dimension in one phrase.
fn accepted(dimension: Dimension) -> Filling {
    match dimension {
        Dimension::Price => told!("a currency per kWh, such as USD/kWh").fill(),
        Dimension::Charge => told!("a currency per year, month or day, such as USD/month").fill(),
        Dimension::DemandCharge => told!("a currency per kW, such as USD/kW").fill(),
        Dimension::Money => told!("a currency, such as USD").fill(),
        Dimension::Pressure => told!(
            "{units} (ft and m are read as heads of water)",
            units = crate::one_of(&Unit::accepted(dimension))
        )
        .fill(),
        _ => crate::one_of(&Unit::accepted(dimension)),
    }
}

impl Quantity {
    /// Reads a number and a unit of the dimension, such as `60 gpm` or `1-1/2 in`.
    pub fn parse(text: &str, dimension: Dimension) -> Result<Self, QuantityError> {
        let si = measure(text, dimension)?;
        Ok(Self {
            text: text.to_owned(),
            si,
            dimension,
            guess: None,
        })
    }

    /// Writes a value in a unit, in at most 12 significant digits; the SI value is that of the text.
    ///
    /// A price takes the unit's printed name; where the currency is another, use [`Quantity::parse`].
    pub fn from_si(value_si: f64, unit: &'static Unit) -> Result<Self, QuantityError> {
        let value = unit.from_si(value_si);
        if !value.is_finite() {
            return Err(QuantityError::NotFinite {
                dimension: unit.dimension,
            });
        }
        // The round trip through the scientific form drops the digits that are only rounding.
        let short = format!("{value:.11e}").parse().unwrap_or(value);
        Self::parse(&format!("{short} {}", unit.name), unit.dimension)
    }

    /// The currency of a price or a charge, as typed.
    pub fn currency(&self) -> Option<&str> {
        let scanned = number::scan(self.text.trim(), DecimalMark::Point).ok()?;
        unit::money(scanned.rest).map(|(currency, _)| currency)
    }
}

fn measure(text: &str, dimension: Dimension) -> Result<f64, QuantityError> {
    let trimmed = text.trim();
    if trimmed.is_empty() {
        return Err(QuantityError::Empty { dimension });
    }
    let scanned =
        number::scan(trimmed, DecimalMark::Point).map_err(|error| refused(error, dimension))?;
    let si = unit_of(&scanned, dimension)?.to_si(scanned.value);
    if si.is_finite() {
        Ok(si)
    } else {
        Err(QuantityError::NotFinite { dimension })
    }
}

fn unit_of(
    scanned: &number::Scanned<'_>,
    dimension: Dimension,
) -> Result<&'static Unit, QuantityError> {
    if let Some(unit) = Unit::find(dimension, scanned.rest) {
        return Ok(unit);
    }
    let number = scanned.typed.to_owned();
    if scanned.rest.is_empty() {
        return Err(QuantityError::NoUnit { number, dimension });
    }
    Err(match Unit::find_any(scanned.rest) {
        Some(unit) => QuantityError::OtherDimension {
            unit: unit.name,
            measures: unit.dimension,
            dimension,
        },
        None => QuantityError::UnknownUnit {
            number,
            unit: scanned.rest.to_owned(),
            dimension,
        },
    })
}

fn refused(error: NumberError, dimension: Dimension) -> QuantityError {
    match error {
        NumberError::None => QuantityError::NoNumber { dimension },
        NumberError::NotFinite => QuantityError::NotFinite { dimension },
        NumberError::ThousandsComma(mend) => QuantityError::ThousandsComma { mend },
        NumberError::DecimalComma(mend) => QuantityError::DecimalComma { mend },
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.guess {
            Some(guess) => write!(
                f,
                "about {} (within a factor of {})",
                self.text, guess.factor
            ),
            None => f.write_str(&self.text),
        }
    }
}

impl Serialize for Quantity {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let Some(guess) = self.guess else {
            return serializer.serialize_str(&self.text);
        };
        let mut table = serializer.serialize_map(Some(2))?;
        table.serialize_entry("about", &self.text)?;
        table.serialize_entry("factor", &guess.factor)?;
        table.end()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn si(text: &str, dimension: Dimension) -> f64 {
        Quantity::parse(text, dimension).unwrap().si
    }

    #[track_caller]
    fn assert_refused(text: &str, dimension: Dimension, expected: &str, hint: Option<&str>) {
        let error = Quantity::parse(text, dimension).unwrap_err();
        assert_eq!(error.to_string(), expected);
        assert_eq!(error.hint().map(|hint| hint.to_string()).as_deref(), hint);
    }

    /// An inch is 0.0254 m exactly (NIST SP 811, B.8).
    #[test]
    fn fractions_of_an_inch_are_read() {
        for text in [
            "1.5 in",
            "1-1/2 in",
            "1 1/2 in",
            "1½ in",
            "3/2 in",
            "1.5in",
            "1 - 1/2\"",
            "1.5e0 in",
            "15e-1 in",
        ] {
            // One product of two rounded numbers.
            assert!(
                (si(text, Dimension::Length) - 0.0381).abs() < 1e-17,
                "{text}"
            );
        }
        assert!((si("3/4 in", Dimension::Length) - 0.01905).abs() < 1e-17);
    }

    #[test]
    fn signs_are_read() {
        for text in ["-18 in", "\u{2212}18 in", "- 18 in"] {
            let parsed = Quantity::parse(text, Dimension::Length).map(|quantity| quantity.si);
            // "- 18" has a space that no number has.
            assert_eq!(
                parsed.ok().map(|si| si < 0.0),
                (text != "- 18 in").then_some(true),
                "{text}"
            );
        }
        assert!(si("+18 in", Dimension::Length) > 0.0);
        assert!(si("-1-1/2 in", Dimension::Length) < -0.038);
    }

    #[test]
    fn rpm_spelled_as_a_fraction_is_no_fraction() {
        assert!((si("1750 1/min", Dimension::Speed) - 1750.0).abs() < f64::EPSILON);
    }

    #[test]
    fn what_is_no_quantity_is_refused_with_the_mend() {
        assert_refused(
            "1,500 gal",
            Dimension::Volume,
            "expected digits without a comma",
            Some("write 1500 gal"),
        );
        assert_refused(
            "-1,500.5 gal",
            Dimension::Volume,
            "expected digits without a comma",
            Some("write -1500.5 gal"),
        );
        assert_refused(
            "1,5 in",
            Dimension::Length,
            "expected a decimal point",
            Some("write 1.5 in"),
        );
        assert_refused(
            "1,2,3 in",
            Dimension::Length,
            "expected a number and a unit, such as 12 ft",
            None,
        );
        assert_refused(
            "",
            Dimension::Flow,
            "expected a number and a unit, such as 60 gpm",
            None,
        );
        assert_refused(
            "gpm",
            Dimension::Flow,
            "expected a number and a unit, such as 60 gpm",
            None,
        );
        for text in [
            "NaN gpm",
            "inf gpm",
            "-Infinity gpm",
            "1e400 gpm",
            "1/0 gpm",
        ] {
            assert_refused(
                text,
                Dimension::Flow,
                "expected a finite number, such as 60 gpm",
                None,
            );
        }
        assert_refused(
            "1e308 kWh",
            Dimension::Energy,
            "expected a finite number, such as 12 kWh",
            None,
        );
    }

    #[test]
    fn units_that_do_not_fit_are_named() {
        assert_refused(
            "60",
            Dimension::Flow,
            "expected a unit after the number: gpm, L/min, L/s, m3/h or m3/s",
            Some("if it is in gpm, write 60 gpm"),
        );
        assert_refused(
            "12 psi",
            Dimension::Length,
            "psi is a pressure; expected a length: in, ft, mm, cm or m",
            None,
        );
        assert_refused(
            "60 gpn",
            Dimension::Flow,
            "\"gpn\" is no known unit; expected a flow: gpm, L/min, L/s, m3/h or m3/s",
            Some("write 60 gpm"),
        );
        assert_refused(
            "18500 gallns",
            Dimension::Volume,
            "\"gallns\" is no known unit; expected a volume: gal, imp gal, L, m3 or ft3",
            Some("write 18500 gal"),
        );
        assert_refused(
            "24 cents",
            Dimension::Price,
            "\"cents\" is no known unit; expected a price of energy: a currency per kWh, such as USD/kWh",
            None,
        );
    }

    #[test]
    fn a_price_keeps_its_currency() {
        let price = Quantity::parse("0.24 EUR/kWh", Dimension::Price).unwrap();
        assert_eq!(price.currency(), Some("EUR"));
        assert!((price.si - 0.24).abs() < f64::EPSILON);
    }

    #[test]
    fn a_value_is_written_without_the_digits_of_rounding() {
        let gpm = Unit::find(Dimension::Flow, "gpm").unwrap();
        let sixty = Quantity::from_si(gpm.to_si(60.0), gpm).unwrap();
        assert_eq!(sixty.text, "60 gpm");
        assert!(Quantity::from_si(f64::NAN, gpm).is_err());
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in any::<String>(), typed in "[-+−]?[0-9.,/ e½-]{0,8} ?[a-zA-Z/²°]{0,5}") {
            for text in [text, typed] {
                for dimension in [Dimension::Length, Dimension::Price] {
                    match Quantity::parse(&text, dimension) {
                        Ok(quantity) => prop_assert!(quantity.si.is_finite()),
                        Err(error) => prop_assert!(!error.to_string().is_empty()),
                    }
                }
            }
        }

        #[test]
        fn a_written_value_is_the_value(value in -1e12..1e12_f64, index in 0..Unit::all().count()) {
            let unit = Unit::all().nth(index).unwrap();
            let written = Quantity::from_si(unit.to_si(value), unit).unwrap();
            // Twelve digits are kept; near the zero of a temperature scale the offset's own rounding counts.
            prop_assert!((written.si - unit.to_si(value)).abs() <= 1e-11 * (unit.to_si(value).abs() + unit.offset));
        }
    }
}
