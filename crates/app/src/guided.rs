//! The guided form of a site: the few questions that a person answers first, read out of a site file and written into
//! it, where every comment and everything that the form does not ask for stays.
//!
//! A new site is the template that the command writes too, edited by the same form. What stands in a file in a way that
//! the form could not give back is left to the text.

pub(crate) mod document;
mod meters;
mod plumbing;
mod read;
mod write;

pub use meters::{MeterAnswer, MeterSlot, meter_kind};
pub use plumbing::{PipeAnswer, Side};
pub use read::form_of;
pub use write::{WriteError, edited, new_site_text};

use records::UnitSystem;

/// A quantity as it is typed: its number, and the unit beside the field.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Measure {
    /// The number as typed; empty where it is not known.
    pub number: String,
    /// The unit.
    pub unit: String,
}

impl Measure {
    /// An empty one in a unit.
    pub fn unknown(unit: &str) -> Self {
        Self {
            number: String::new(),
            unit: unit.to_owned(),
        }
    }

    /// The quantity as a file holds it; `None` where it is not known.
    pub fn text(&self) -> Option<String> {
        let number = self.number.trim();
        (!number.is_empty()).then(|| format!("{number} {}", self.unit))
    }
}

/// An answer of the form, or that the file says it in a way that only its text can show.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Asked<T> {
    /// The answer.
    Here(T),
    /// It stands in the text, and the form leaves it alone.
    InTheText,
}

impl<T> Asked<T> {
    /// The answer, where the form holds it.
    pub fn here(&self) -> Option<&T> {
        match self {
            Self::Here(answer) => Some(answer),
            Self::InTheText => None,
        }
    }
}

/// A quantity that the form asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Question {
    /// The pump's highest speed.
    TopSpeed,
    /// Its lowest.
    LowestSpeed,
    /// The supply's voltage.
    Supply,
    /// The volume of the pool.
    Volume,
    /// The height above the sea.
    Elevation,
    /// The pressure that the filter is rated for.
    FilterPressure,
    /// The least flow of the heater.
    HeaterFlow,
}

impl Question {
    /// All of them, in the order of [`Form::quantities`].
    pub const ALL: [Self; 7] = [
        Self::TopSpeed,
        Self::LowestSpeed,
        Self::Supply,
        Self::Volume,
        Self::Elevation,
        Self::FilterPressure,
        Self::HeaterFlow,
    ];

    /// The unit that its field is read in, where the file does not name another.
    pub fn unit(self, units: UnitSystem) -> &'static str {
        let is_us = units == UnitSystem::Us;
        match self {
            Self::TopSpeed | Self::LowestSpeed => "rpm",
            Self::Supply => "V",
            Self::Volume if is_us => "gal",
            Self::Volume => "m3",
            Self::Elevation if is_us => "ft",
            Self::Elevation => "m",
            Self::FilterPressure if is_us => "psi",
            Self::FilterPressure => "bar",
            Self::HeaterFlow if is_us => "gpm",
            Self::HeaterFlow => "m3/h",
        }
    }
}

/// The answers of the form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Form {
    /// What the person calls the site.
    pub name: String,
    /// How results are printed.
    pub units: UnitSystem,
    /// The quantities, in the order of [`Question::ALL`].
    pub quantities: [Asked<Measure>; Question::ALL.len()],
    /// The pipe before the pump and after it.
    pub pipes: [Asked<PipeAnswer>; 2],
    /// The kind of filter; empty where there is none or it is not known.
    pub filter: Asked<String>,
    /// The meters, in the order of [`MeterSlot::ALL`].
    pub meters: [Asked<MeterAnswer>; MeterSlot::ALL.len()],
}

impl Form {
    /// The answer to a question.
    pub fn quantity(&self, question: Question) -> &Asked<Measure> {
        &self.quantities[question as usize]
    }

    /// Answers a question with a number, in the unit that its field has.
    pub fn set_number(&mut self, question: Question, number: &str) {
        if let Asked::Here(measure) = &mut self.quantities[question as usize] {
            number.clone_into(&mut measure.number);
        }
    }
}

#[cfg(test)]
mod tests;
