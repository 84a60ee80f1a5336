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

    /// Returns the language that is nearest to a tag, as a browser states what its reader speaks: `es-419`, `en-AU`.
    ///
    /// Spanish of a country that writes decimal points is that of the United States, whose habits of numbers are the same;
    /// a language that is none of ours is answered in English. Which countries those are is from memory.
    pub fn nearest(tag: &str) -> Self {
        let mut parts = tag.split(['-', '_']);
        if !parts.next().unwrap_or_default().eq_ignore_ascii_case("es") {
            return Self::English;
        }
        let has_points = |part: &str| {
            POINTS
                .iter()
                .any(|region| region.eq_ignore_ascii_case(part))
        };
        if parts.any(has_points) {
            Self::SpanishOfTheUs
        } else {
            Self::Spanish
        }
    }
}

/// The regions that speak Spanish and write decimal points, by their codes after ISO 3166-1 and UN M.49.
const POINTS: [&str; 11] = [
    "US", "MX", "PR", "DO", "GT", "HN", "NI", "PA", "PE", "SV", "419",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tag_finds_the_nearest_language() {
        for language in Language::ALL {
            assert_eq!(Language::nearest(language.tag()), language);
        }
        assert_eq!(Language::nearest("es-MX"), Language::SpanishOfTheUs);
        assert_eq!(Language::nearest("es-Latn-us"), Language::SpanishOfTheUs);
        assert_eq!(Language::nearest("es_AR"), Language::Spanish);
        for other in ["", "en-AU", "et", "x-es", "estonian"] {
            assert_eq!(Language::nearest(other), Language::English);
        }
    }
}
