//! What a person chooses among on the command line.

use clap::ValueEnum;

/// The units of an answer.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum Units {
    /// Gallons per minute, feet, psi.
    Us,
    /// Cubic metres per hour, metres, kilopascal.
    Si,
}

impl From<Units> for records::UnitSystem {
    fn from(units: Units) -> Self {
        match units {
            Units::Us => Self::Us,
            Units::Si => Self::Si,
        }
    }
}

/// The language of an answer.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum Language {
    /// English.
    En,
    /// Spanish, with decimal commas.
    Es,
    /// Spanish of the United States, with decimal points.
    #[value(name = "es-US", alias = "es-us")]
    EsUs,
}

impl From<Language> for records::Language {
    fn from(language: Language) -> Self {
        match language {
            Language::En => Self::English,
            Language::Es => Self::Spanish,
            Language::EsUs => Self::SpanishOfTheUs,
        }
    }
}

/// What a report is written as.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum Written {
    /// A page for phone and desk.
    Html,
    /// Sheets to print.
    Pdf,
    /// Plain text.
    Txt,
}

/// The paper of a report.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum Paper {
    /// 8.5 by 11 in.
    Letter,
    /// 210 by 297 mm.
    A4,
}

impl From<Paper> for document::report::Paper {
    fn from(paper: Paper) -> Self {
        match paper {
            Paper::Letter => Self::Letter,
            Paper::A4 => Self::A4,
        }
    }
}

/// What is made least.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum Least {
    /// The cost of energy.
    Cost,
    /// Energy, and with it carbon dioxide.
    #[value(alias = "co2")]
    Energy,
}

impl From<Least> for operation::Least {
    fn from(least: Least) -> Self {
        match least {
            Least::Cost => Self::Cost,
            Least::Energy => Self::Energy,
        }
    }
}

/// The ground of a figure.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum Theme {
    /// Dark on white.
    Light,
    /// Light on black.
    Dark,
    /// Black on white with heavy lines.
    Sun,
}

impl From<Theme> for charts::Theme {
    fn from(theme: Theme) -> Self {
        match theme {
            Theme::Light => Self::Light,
            Theme::Dark => Self::Dark,
            Theme::Sun => Self::Sun,
        }
    }
}

/// The size of a figure.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum Size {
    /// For a page.
    Wide,
    /// For a phone.
    Narrow,
}

impl From<Size> for charts::Size {
    fn from(size: Size) -> Self {
        match size {
            Size::Wide => Self::Wide,
            Size::Narrow => Self::Narrow,
        }
    }
}
