//! The values that fields hold: names, words, numbers, times, quantities and guesses, each with its rule.

use crate::told::later;
use crate::unit::{Dimension, Unit};
use crate::walker::{Field, Table};
use crate::wording::{is_unprintable, nearest, one_of, shown};
use crate::{ClockTime, Coefficient, Guess, Quantity};
use crate::{Told, told};
use toml::de::DeValue;

/// The most characters of a name.
const NAME_CHARACTERS: usize = 80;
/// The largest factor of a guess: a value known to no better than three powers of ten is not known.
const GUESS_FACTOR_MAX: f64 = 1000.0;

/// Which values a field takes, in SI.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Range {
    /// Any finite value.
    Any,
    /// Above 0.
    AboveZero,
    /// 0 or more.
    ZeroOrMore,
    /// Within limits, which the words state.
    Between {
        low: f64,
        high: f64,
        words: &'static str,
    },
}

/// Shares from nothing to all.
pub(crate) const SHARE: Range = Range::Between {
    low: 0.0,
    high: 1.0,
    words: later!("0 % to 100 %"),
};

impl Range {
    fn contains(self, si: f64) -> bool {
        match self {
            Self::Any => si.is_finite(),
            Self::AboveZero => si > 0.0,
            Self::ZeroOrMore => si >= 0.0,
            // Limits are inclusive, and a limit typed in another unit may differ in its last digits.
            Self::Between { low, high, .. } => {
                let slack = 1e-9 * (high - low);
                si >= low - slack && si <= high + slack
            }
        }
    }

    fn words(self) -> Told {
        match self {
            Self::Any => told!("a finite value"),
            Self::AboveZero => told!("a value above 0"),
            Self::ZeroOrMore => told!("0 or more"),
            Self::Between { words, .. } => Told::plain(words),
        }
    }
}

/// An enum of which each value has one word in the files.
pub(crate) trait Words: Copy + 'static {
    /// Every word with its value.
    const WORDS: &'static [(&'static str, Self)];
}

impl Field<'_> {
    /// A text of any kind.
    pub(crate) fn text(&self, expected: Told) -> Option<&str> {
        let DeValue::String(text) = self.value else {
            self.refuse(expected, None);
            return None;
        };
        Some(text)
    }

    /// A name or a remark: 1 to 80 printable characters, without the spaces at its ends.
    pub(crate) fn name(&self) -> Option<String> {
        let name = self.text(told!("text in quotes"))?.trim();
        let length = name.chars().count();
        if length == 0 || length > NAME_CHARACTERS {
            self.report(
                told!(
                    "it has {length} characters; expected 1 to {most}",
                    length,
                    most = NAME_CHARACTERS
                ),
                None,
            );
            return None;
        }
        if let Some(character) = name.chars().find(|character| is_unprintable(*character)) {
            let hint = match character {
                '\n' | '\r' => told!("write it in one line"),
                _ => told!(
                    "take out the character {character}",
                    character = character.escape_unicode()
                ),
            };
            self.refuse(told!("printable characters only"), Some(hint));
            return None;
        }
        Some(name.to_owned())
    }

    /// A list of names.
    pub(crate) fn names(&self) -> Vec<String> {
        self.items().iter().filter_map(Self::name).collect()
    }

    /// One of the words of an enum.
    pub(crate) fn word<W: Words>(&self) -> Option<W> {
        let words: Vec<&str> = W::WORDS.iter().map(|(word, _)| *word).collect();
        let typed = self.text(Told::written(one_of(&words)))?;
        let same = |word: &str| word.eq_ignore_ascii_case(typed.trim());
        let value = W::WORDS
            .iter()
            .find(|(word, _)| same(word))
            .map(|(_, value)| *value);
        if value.is_none() {
            let hint = nearest(typed, &words).map(|near| told!("write \"{near}\"", near));
            self.refuse(Told::written(one_of(&words)), hint);
        }
        value
    }

    /// `true` or `false`.
    pub(crate) fn yes_no(&self) -> Option<bool> {
        let DeValue::Boolean(value) = self.value else {
            self.refuse(told!("true or false, without quotes"), None);
            return None;
        };
        Some(*value)
    }

    /// A whole number within limits.
    pub(crate) fn whole(&self, low: u32, high: u32) -> Option<u32> {
        let number = match self.value {
            DeValue::Integer(number) => i64::from_str_radix(number.as_str(), number.radix()).ok(),
            _ => None,
        };
        let value = number.and_then(|number| u32::try_from(number).ok());
        let value = value.filter(|value| (low..=high).contains(value));
        if value.is_none() {
            let expected = match self.value {
                DeValue::String(_) => told!(
                    "a whole number from {low} to {high}, without quotes",
                    low,
                    high
                ),
                _ => told!("a whole number from {low} to {high}", low, high),
            };
            self.refuse(expected, None);
        }
        value
    }

    /// A number without a unit.
    pub(crate) fn number(&self, range: Range) -> Option<f64> {
        let value = match self.value {
            DeValue::Integer(number) if number.radix() == 10 => number.as_str().parse().ok(),
            DeValue::Float(number) => number.as_str().parse().ok(),
            _ => {
                self.refuse(told!("a number without quotes"), None);
                return None;
            }
        };
        let value = value.filter(|value: &f64| value.is_finite() && range.contains(*value));
        if value.is_none() {
            self.refuse(range.words(), None);
        }
        value
    }

    /// A time of the day.
    pub(crate) fn clock(&self) -> Option<ClockTime> {
        let text = match self.value {
            DeValue::Datetime(time) if time.date.is_none() => {
                time.to_string().trim_end_matches(":00").to_owned()
            }
            _ => self
                .text(told!("a time of the day in quotes, such as \"08:00\""))?
                .to_owned(),
        };
        ClockTime::parse(&text)
            .map_err(|error| self.report(error.told(), None))
            .ok()
    }

    /// A quantity, stated as text or guessed as a table.
    pub(crate) fn quantity(&self, dimension: Dimension, range: Range) -> Option<Quantity> {
        match self.value {
            DeValue::Table(_) => self.guessed(dimension, range),
            _ => self.stated(self.quantity_text(dimension)?, dimension, range),
        }
    }

    /// The text of a quantity that cannot be a guess.
    pub(crate) fn quantity_text(&self, dimension: Dimension) -> Option<&str> {
        match self.value {
            DeValue::String(text) => return Some(text),
            DeValue::Integer(_) | DeValue::Float(_) => self.refuse_bare_number(dimension),
            _ => self.refuse(quoted_example(dimension), None),
        }
        None
    }

    fn stated(&self, text: &str, dimension: Dimension, range: Range) -> Option<Quantity> {
        let quantity = Quantity::parse(text, dimension)
            .map_err(|error| self.report(error.told(), error.hint()))
            .ok()?;
        if !range.contains(quantity.si) {
            self.refuse(range.words(), None);
            return None;
        }
        Some(quantity)
    }

    fn refuse_bare_number(&self, dimension: Dimension) {
        let number = match self.value {
            DeValue::Integer(number) => number.to_string(),
            DeValue::Float(number) => number.as_str().to_owned(),
            _ => return,
        };
        let unit = Unit::accepted(dimension)
            .first()
            .copied()
            .unwrap_or_default();
        let hint = told!(
            "if it is in {unit}, write {field} = \"{number} {unit}\"",
            unit,
            field = self.name,
            number = shown(&number)
        );
        self.refuse(quoted_example(dimension), Some(hint));
    }

    fn guessed(&self, dimension: Dimension, range: Range) -> Option<Quantity> {
        let table = self.table("a guess")?;
        let about = table.require("about", &format!("\"{}\"", dimension.example()));
        let guess = guess(&table);
        table.finish();
        let about = about?;
        let quantity = about.stated(about.quantity_text(dimension)?, dimension, range)?;
        if quantity.si.abs() <= 0.0 {
            about.refuse(
                told!("a value other than 0, since a factor changes no zero"),
                None,
            );
            return None;
        }
        Some(Quantity {
            guess: Some(guess?),
            ..quantity
        })
    }

    /// A number without a unit of 0 or more, stated or guessed.
    pub(crate) fn coefficient(&self) -> Option<Coefficient> {
        if !matches!(self.value, DeValue::Table(_)) {
            return Some(Coefficient {
                value: self.number(Range::ZeroOrMore)?,
                guess: None,
            });
        }
        let table = self.table("a guess")?;
        let about = table.require("about", "4.2");
        let guess = guess(&table);
        table.finish();
        Some(Coefficient {
            value: about?.number(Range::AboveZero)?,
            guess: Some(guess?),
        })
    }
}

/// What is expected of a quantity, in words.
fn quoted_example(dimension: Dimension) -> Told {
    told!(
        "a number and a unit in quotes, such as \"{example}\"",
        example = dimension.example()
    )
}

fn guess(table: &Table<'_>) -> Option<Guess> {
    let factor = table.require("factor", "1.5")?;
    let value = factor.number(Range::Any)?;
    if value <= 1.0 || value > GUESS_FACTOR_MAX {
        let hint = Some(told!(
            "a factor of 1.5 means from two thirds to one and a half times"
        ));
        factor.refuse(told!("a factor above 1 and at most 1000"), hint);
        return None;
    }
    Some(Guess { factor: value })
}

impl Table<'_> {
    /// An optional quantity.
    pub(crate) fn quantity(
        &self,
        key: &'static str,
        dimension: Dimension,
        range: Range,
    ) -> Option<Quantity> {
        self.get(key)?.quantity(dimension, range)
    }

    /// A quantity that must stand there.
    pub(crate) fn require_quantity(
        &self,
        key: &'static str,
        dimension: Dimension,
        range: Range,
    ) -> Option<Quantity> {
        self.require(key, &format!("\"{}\"", dimension.example()))?
            .quantity(dimension, range)
    }

    /// An optional name.
    pub(crate) fn name(&self, key: &'static str) -> Option<String> {
        self.get(key)?.name()
    }

    /// An optional list of names.
    pub(crate) fn names(&self, key: &'static str) -> Vec<String> {
        self.get(key).map(|field| field.names()).unwrap_or_default()
    }

    /// An optional word of an enum.
    pub(crate) fn word<W: Words>(&self, key: &'static str) -> Option<W> {
        self.get(key)?.word()
    }
}
