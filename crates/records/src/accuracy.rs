//! The accuracy of a meter as its data sheet prints it: `2 % of reading + 0.5 gpm`.

use crate::told::shows_what_it_tells;
use crate::unit::Dimension;
use crate::{Accuracy, Quantity, QuantityError, Told, told};
use serde::ser::{Serialize, Serializer};

/// Why a text is no accuracy. Its text says what is expected.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum AccuracyError {
    /// Not one of the three forms.
    Form {
        /// What the meter measures.
        dimension: Dimension,
    },
    /// A term in a unit that the meter does not measure in.
    Amount(QuantityError),
    /// A term below zero, or nothing but zeros.
    NotPositive,
}

shows_what_it_tells!(AccuracyError);

impl From<QuantityError> for AccuracyError {
    fn from(error: QuantityError) -> Self {
        Self::Amount(error)
    }
}

impl AccuracyError {
    /// Says what is accepted.
    pub fn told(&self) -> Told {
        match self {
            Self::Form { dimension } => told!(
                "expected terms such as 2 % of reading, 5 % of full scale or {example}, joined by +",
                example = dimension.example()
            ),
            Self::Amount(error) => error.told(),
            Self::NotPositive => told!("expected a value above 0"),
        }
    }

    /// Says the one thing to do next, where there is one.
    pub fn hint(&self) -> Option<Told> {
        match self {
            Self::Amount(error) => error.hint(),
            Self::Form { .. } | Self::NotPositive => None,
        }
    }
}

/// What a percentage is a percentage of.
enum Share {
    Reading,
    FullScale,
}

impl Accuracy {
    /// Reads terms that add up to one limit: a share of the reading, a share of the full scale, a fixed amount.
    pub fn parse(text: &str, dimension: Dimension) -> Result<Self, AccuracyError> {
        let mut accuracy = Self {
            text: text.to_owned(),
            ..Self::default()
        };
        let terms = text.trim().trim_start_matches(['±', '+']);
        for term in terms.split('+') {
            accuracy.add(term.trim(), dimension)?;
        }
        let terms = [
            accuracy.of_reading,
            accuracy.of_full_scale,
            accuracy.absolute_si,
        ];
        if terms.iter().any(|term| *term < 0.0) || terms.iter().all(|term| *term <= 0.0) {
            return Err(AccuracyError::NotPositive);
        }
        Ok(accuracy)
    }

    fn add(&mut self, term: &str, dimension: Dimension) -> Result<(), AccuracyError> {
        let Some((number, basis)) = term.split_once('%') else {
            self.absolute_si += Quantity::parse(term, dimension)?.si;
            return Ok(());
        };
        let share = Quantity::parse(&format!("{number}%"), Dimension::Ratio)?.si;
        if share < 0.0 {
            return Err(AccuracyError::NotPositive);
        }
        match basis_of(basis).ok_or(AccuracyError::Form { dimension })? {
            Share::Reading => self.of_reading += share,
            Share::FullScale => self.of_full_scale += share,
        }
        Ok(())
    }
}

fn basis_of(words: &str) -> Option<Share> {
    let words = words.to_lowercase();
    let words: Vec<&str> = words
        .split_whitespace()
        .filter(|word| *word != "of" && *word != "the")
        .collect();
    match words.join(" ").as_str() {
        "" | "reading" | "rdg" => Some(Share::Reading),
        "full scale" | "fullscale" | "range" | "fs" | "f.s." => Some(Share::FullScale),
        _ => None,
    }
}

impl Serialize for Accuracy {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A gallon per minute is 6.30902e-5 m³/s (NIST SP 811, B.8).
    #[test]
    fn the_three_forms_add_up() {
        let accuracy =
            Accuracy::parse("2 % of reading + 1% FS + 0.5 gpm", Dimension::Flow).unwrap();
        assert!((accuracy.of_reading - 0.02).abs() < 1e-15, "one rounding");
        assert!(
            (accuracy.of_full_scale - 0.01).abs() < 1e-15,
            "one rounding"
        );
        assert!(
            (accuracy.absolute_si - 0.5 * 6.30902e-5).abs() < 1e-10,
            "six printed digits"
        );
    }

    #[test]
    fn spellings_of_the_basis() {
        for text in ["±3 %", "3 % of reading", "3% reading", "3 % rdg"] {
            assert!(
                Accuracy::parse(text, Dimension::Power).unwrap().of_reading > 0.0,
                "{text}"
            );
        }
        for text in ["3 % of full scale", "3 % of range", "3 % FS", "3 % of F.S."] {
            assert!(
                Accuracy::parse(text, Dimension::Power)
                    .unwrap()
                    .of_full_scale
                    > 0.0,
                "{text}"
            );
        }
    }

    #[test]
    fn what_is_no_accuracy_is_refused() {
        for text in [
            "",
            "good",
            "-2 %",
            "0 %",
            "2 % of span",
            "2 % - 0.5 gpm",
            "0.5",
            "1 psi",
            "2 %% ",
        ] {
            let error = Accuracy::parse(text, Dimension::Flow).unwrap_err();
            assert!(error.to_string().contains("expected"), "{text}: {error}");
        }
    }
}
