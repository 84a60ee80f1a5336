//! The languages that a person may ask for in a file.

/// A language with its habits of numbers, named by its tag after BCP 47.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Language {
    /// English, `en`.
    #[default]
    English,
    /// Spanish, `es`.
    Spanish,
    /// Spanish of the United States, `es-US`: the words of Spanish, the numbers of English.
    SpanishOfTheUs,
}

impl Language {
    /// Every language.
    pub const ALL: [Self; 3] = [Self::English, Self::Spanish, Self::SpanishOfTheUs];

    /// Returns the tag, as files, HTML and PDF carry it.
    pub const fn tag(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::Spanish => "es",
            Self::SpanishOfTheUs => "es-US",
        }
    }
}
