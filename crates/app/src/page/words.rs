//! The words of the screens, one file for each: whole sentences, so that they can be put into another language.
//!
//! This is the one place that knows the language of the page. A screen is made anew where another is chosen, so that
//! nothing else has to follow it: a phrase is looked up where it is shown.

pub(super) mod circuit;
pub(super) mod first_steps;
pub(super) mod guided;
pub(super) mod help;
pub(super) mod hints;
pub(super) mod next;
pub(super) mod plan;
pub(super) mod report;
pub(super) mod result;
pub(super) mod settings;
pub(super) mod shell;
pub(super) mod site;
pub(super) mod sites;
pub(super) mod test;
pub(super) mod undo;

use document::language::said;
use document::number;
use document::report::date_words;
use document::units::Printing;
use leptos::prelude::{IntoAttributeValue, IntoRender};
use records::{CalendarDay, Language, UnitSystem};
use std::cell::Cell;
use std::fmt;

thread_local! {
    static LANGUAGE: Cell<Language> = const { Cell::new(Language::English) };
}

/// Has the page speak a language from now on.
pub(super) fn speak(language: Language) {
    LANGUAGE.with(|spoken| spoken.set(language));
}

/// The language of the page.
pub(super) fn language() -> Language {
    LANGUAGE.with(Cell::get)
}

/// How the page prints what has no units of a site.
pub(super) fn here() -> Printing {
    printing(UnitSystem::default())
}

/// How the page prints in a system of units.
pub(super) fn printing(system: UnitSystem) -> Printing {
    let language = language();
    Printing { system, language }
}

/// What a screen says: English where it is written down, the language of the page where it is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Phrase(&'static str);

impl Phrase {
    /// Says nothing.
    pub(super) const NONE: Self = Self("");

    /// Says it in the language of the page.
    pub(super) fn said(self) -> &'static str {
        said(here(), self.0)
    }
}

impl fmt::Display for Phrase {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.said())
    }
}

impl From<Phrase> for String {
    fn from(phrase: Phrase) -> Self {
        phrase.said().to_owned()
    }
}

impl IntoRender for Phrase {
    type Output = &'static str;

    fn into_render(self) -> &'static str {
        self.said()
    }
}

impl IntoAttributeValue for Phrase {
    type Output = &'static str;

    fn into_attribute_value(self) -> &'static str {
        self.said()
    }
}

/// Writes a phrase down: `phrase!("Settings")`.
macro_rules! phrase {
    ($text:literal) => {
        $crate::page::words::Phrase(document::later!($text))
    };
}
use phrase;

/// Writes a speed, in revolutions a minute in every system of units.
pub(super) fn rpm(speed_rpm: f64) -> String {
    number::rpm(here(), speed_rpm)
}

/// Writes a day, kept as `2026-11-28`, with its month as a word, which no reader takes for another.
pub(super) fn date(day: &str) -> String {
    CalendarDay::parse(day).map_or_else(|_| day.to_owned(), |day| date_words(day, here()))
}
