//! Headings of readings: what a column measures, whose meter, in which unit.

use crate::unit::{Dimension, Unit};
use crate::values::Range;
use crate::wording::{is_unprintable, nearest, one_of, shown};
use crate::{Column, Measured, Told, told};

/// The most columns of one test: ten quantities on as many meters.
pub(super) const MAX_COLUMNS: usize = 100;

/// Every word of the contract.
const WORDS: [(&str, Measured); 10] = [
    ("speed", Measured::Speed),
    ("flow", Measured::Flow),
    ("power", Measured::Power),
    ("current", Measured::Current),
    ("voltage", Measured::Voltage),
    ("filter pressure", Measured::FilterPressure),
    ("inlet vacuum", Measured::InletVacuum),
    ("inlet pressure", Measured::InletPressure),
    ("head", Measured::Head),
    ("time", Measured::Time),
];

impl Measured {
    /// Everything that a column may measure, in the order of the contract.
    pub const ALL: [Self; 10] = [
        Self::Speed,
        Self::Flow,
        Self::Power,
        Self::Current,
        Self::Voltage,
        Self::FilterPressure,
        Self::InletVacuum,
        Self::InletPressure,
        Self::Head,
        Self::Time,
    ];

    /// The word of a heading.
    pub fn word(self) -> &'static str {
        WORDS
            .iter()
            .find(|(_, measured)| *measured == self)
            .map_or("", |(word, _)| word)
    }

    /// The key of a step typed inline: the word with underscores.
    pub fn key(self) -> &'static str {
        match self {
            Self::FilterPressure => "filter_pressure",
            Self::InletVacuum => "inlet_vacuum",
            Self::InletPressure => "inlet_pressure",
            _ => self.word(),
        }
    }

    /// The dimension of its readings.
    pub fn dimension(self) -> Dimension {
        match self {
            Self::Speed => Dimension::Speed,
            Self::Flow => Dimension::Flow,
            Self::Power => Dimension::Power,
            Self::Current => Dimension::Current,
            Self::Voltage => Dimension::Voltage,
            Self::FilterPressure | Self::InletVacuum | Self::InletPressure => Dimension::Pressure,
            Self::Head => Dimension::Length,
            Self::Time => Dimension::Time,
        }
    }

    /// Whether it is read on a meter, of which there may be several.
    pub(crate) fn has_meter(self) -> bool {
        !matches!(self, Self::Speed | Self::Head | Self::Time)
    }

    /// Whether it is read on a meter of its own; speed, head and time are set, stated or counted.
    pub fn is_read_on_a_meter(self) -> bool {
        !matches!(self, Self::Speed | Self::Head | Self::Time)
    }

    /// Which values a reading may have: only gauges show less than nothing.
    pub(crate) fn range(self) -> Range {
        match self {
            Self::FilterPressure | Self::InletVacuum | Self::InletPressure => Range::Any,
            _ => Range::ZeroOrMore,
        }
    }
}

impl Column {
    /// The heading without its unit, as messages and rulings call the column: `flow A`.
    pub fn name(&self) -> String {
        let word = self.measured.word();
        self.meter
            .as_ref()
            .map_or_else(|| word.to_owned(), |meter| format!("{word} {meter}"))
    }

    /// Whether a ruling means this column, whatever its capitals and underscores.
    pub fn is_named(&self, name: &str) -> bool {
        strip_word(name, self.measured.word())
            .is_some_and(|rest| rest == self.meter.as_deref().unwrap_or(""))
    }
}

/// What a heading stands for.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Heading {
    Note,
    Column(Column),
}

impl Heading {
    /// The heading without its unit.
    pub(super) fn name(&self) -> String {
        match self {
            Self::Note => "note".to_owned(),
            Self::Column(column) => column.name(),
        }
    }
}

/// Why a heading is none, with the mend where there is one.
pub(super) type HeadingError = (Told, Option<Told>);

/// Reads a heading such as `flow A [gpm]`.
pub(super) fn heading(text: &str) -> Result<Heading, HeadingError> {
    let (name, unit) = split_unit(text);
    if unit.is_none() && name.eq_ignore_ascii_case("note") {
        return Ok(Heading::Note);
    }
    let (measured, meter) = measured(name).ok_or_else(|| unknown(name))?;
    let meter = meter_id(meter)?;
    if let Some(meter) = meter.as_ref().filter(|_| !measured.has_meter()) {
        let word = measured.word();
        let message = told!(
            "the column {name} names {meter} after {word}; expected {word} alone",
            name = shown(name),
            meter = shown(meter),
            word
        );
        return Err((message, None));
    }
    let unit = heading_unit(name, unit, measured)?;
    Ok(Heading::Column(Column {
        heading: text.trim().to_owned(),
        measured,
        meter,
        unit: Some(unit),
    }))
}

/// Splits a heading into name and unit. Round brackets hold a unit where what they hold is one; else they are part of a
/// meter's name.
fn split_unit(text: &str) -> (&str, Option<&str>) {
    let text = text.trim();
    let square = text
        .strip_suffix(']')
        .and_then(|open| open.rsplit_once('['));
    let round = || {
        let parts = text
            .strip_suffix(')')
            .and_then(|open| open.rsplit_once('('));
        parts.filter(|(_, unit)| Unit::find_any(unit.trim()).is_some())
    };
    square.or_else(round).map_or((text, None), |(name, unit)| {
        (name.trim(), Some(unit.trim()))
    })
}

/// What a name measures, and what follows the word.
fn measured(name: &str) -> Option<(Measured, &str)> {
    WORDS
        .iter()
        .find_map(|(word, measured)| Some((*measured, strip_word(name, word)?)))
}

/// What follows a word at the start of a name: capitals, underscores and more than one space do not count.
fn strip_word<'n>(name: &'n str, word: &str) -> Option<&'n str> {
    let is_gap = |character: char| character == '_' || character.is_whitespace();
    let mut rest = name.trim();
    for (position, part) in word.split(' ').enumerate() {
        let after_gap = rest.trim_start_matches(is_gap);
        if position > 0 && after_gap.len() == rest.len() {
            return None;
        }
        let (start, after) = after_gap.split_at_checked(part.len())?;
        if !start.eq_ignore_ascii_case(part) {
            return None;
        }
        rest = after;
    }
    (rest.is_empty() || rest.starts_with(is_gap))
        .then(|| rest.strip_prefix('_').unwrap_or(rest).trim())
}

fn unknown(name: &str) -> HeadingError {
    let words: Vec<&str> = WORDS
        .iter()
        .map(|(word, _)| *word)
        .chain(["note"])
        .collect();
    if name.is_empty() {
        return (
            told!(
                "a column has no heading; expected {words}",
                words = one_of(&words)
            ),
            None,
        );
    }
    let hint = near_word(name, &words).map(|near| told!("write {near}", near));
    (
        told!(
            "the column {name} is not known; expected {words}",
            name = shown(name),
            words = one_of(&words)
        ),
        hint,
    )
}

/// The word that the whole of a name, or its start before a meter, is near to.
fn near_word<'w>(name: &str, words: &[&'w str]) -> Option<&'w str> {
    let before_meter = name
        .rsplit_once(char::is_whitespace)
        .map_or(name, |(start, _)| start);
    nearest(name, words).or_else(|| nearest(before_meter, words))
}

/// The rule of names, for the meter that a heading names.
pub(super) fn meter_id(meter: &str) -> Result<Option<String>, HeadingError> {
    let length = meter.chars().count();
    if length > 80 || meter.chars().any(is_unprintable) {
        return Err((
            told!(
                "the meter {meter} is no name; expected 1 to 80 printable characters",
                meter = shown(meter)
            ),
            None,
        ));
    }
    Ok((length > 0).then(|| meter.to_owned()))
}

fn heading_unit(
    name: &str,
    unit: Option<&str>,
    measured: Measured,
) -> Result<&'static Unit, HeadingError> {
    let dimension = measured.dimension();
    let accepted = Unit::accepted(dimension);
    let example = accepted.first().copied().unwrap_or_default();
    let name = shown(name);
    let Some(unit) = unit.filter(|unit| !unit.is_empty()) else {
        let message = told!(
            "the column {name} has no unit; expected one in brackets: {units}",
            name,
            units = one_of(&accepted)
        );
        return Err((
            message,
            Some(told!(
                "if it is in {example}, write {name} [{example}]",
                example,
                name
            )),
        ));
    };
    Unit::find(dimension, unit).ok_or_else(|| {
        let what = match Unit::find_any(unit) {
            Some(other) => told!(
                "{unit} is {measure}",
                unit = shown(unit),
                measure = other.dimension.noun()
            ),
            None => told!("{unit} is no known unit", unit = shown(unit)),
        };
        let hint = Unit::nearest(dimension, unit)
            .map(|near| told!("write {name} [{near}]", name, near = near.name));
        (
            told!(
                "the column {name} is in {unit}, but {what}; expected {units}",
                name,
                unit = shown(unit),
                what,
                units = one_of(&accepted)
            ),
            hint,
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn column(text: &str) -> Column {
        match heading(text) {
            Ok(Heading::Column(column)) => column,
            other => panic!("{text}: {other:?}"),
        }
    }

    #[test]
    fn words_and_keys_belong_together() {
        for measured in Measured::ALL {
            assert!(!measured.word().is_empty());
            assert_eq!(measured.key(), measured.word().replace(' ', "_"));
        }
    }

    #[test]
    fn headings_of_the_contract() {
        let flow = column("flow A [gpm]");
        assert_eq!(
            (flow.measured, flow.meter.as_deref()),
            (Measured::Flow, Some("A"))
        );
        assert_eq!(flow.unit.map(|unit| unit.name), Some("gpm"));
        assert_eq!(
            column("Filter_Pressure  top gauge [PSI]").name(),
            "filter pressure top gauge"
        );
        assert_eq!(
            column("inlet vacuum [inHg]").measured,
            Measured::InletVacuum
        );
        assert_eq!(
            column("flow paddle_1 [m³/h]").meter.as_deref(),
            Some("paddle_1")
        );
        assert_eq!(column("flow_A [gpm]").meter.as_deref(), Some("A"));
        assert_eq!(column("flow flow [gpm]").meter.as_deref(), Some("flow"));
        assert_eq!(heading(" Note "), Ok(Heading::Note));
    }

    #[test]
    fn a_ruling_names_the_column_without_its_unit() {
        let column = column("Filter_Pressure A [psi]");
        assert!(column.is_named("filter pressure A"));
        assert!(column.is_named("filter_pressure A"));
        assert!(!column.is_named("filter pressure"));
        assert!(!column.is_named("filter pressure B"));
        assert!(!column.is_named(""));
    }

    #[test]
    fn headings_that_are_none() {
        for text in [
            "",
            "flux [gpm]",
            "flow",
            "flow [psi]",
            "flow [ ]",
            "flowA [gpm]",
            "filterpressure [psi]",
            "µ [gpm]",
            "speed A [rpm]",
        ] {
            let (message, _) = heading(text).unwrap_err();
            assert!(
                message.to_string().contains("expected"),
                "{text}: {message}"
            );
        }
    }
}
