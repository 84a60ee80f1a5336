//! The report that is handed over, and whose it is.

use super::{Phrase, phrase};

pub(in crate::page) const HAND_OVER: Phrase = phrase!("Hand over a report");
pub(in crate::page) const TITLE: Phrase = phrase!("The report");
pub(in crate::page) const LEAD: Phrase = phrase!(
    "First a page in plain words for the owner, then what was read and what it says for the next technician. It is one file, made on this device."
);
pub(in crate::page) const TESTS: Phrase = phrase!("Tests in it");
pub(in crate::page) const TESTS_MORE: Phrase =
    phrase!("It is about the last of them, and says what has changed since the first.");
pub(in crate::page) const CHANGES: Phrase = phrase!("Kept changes in it");
pub(in crate::page) const LANGUAGE: Phrase = phrase!("Language");
pub(in crate::page) const PAPER: Phrase = phrase!("Paper");
pub(in crate::page) const LETTER: Phrase = phrase!("Letter");
pub(in crate::page) const A4: Phrase = phrase!("A4");
pub(in crate::page) const NONE_NAMED: Phrase = phrase!("None named: English");
pub(in crate::page) const PAPER_USUAL: Phrase = phrase!("As usual");
/// The languages, each by its tag and called as who reads it calls it.
pub(in crate::page) const LANGUAGES: [(&str, &str); 3] = [
    ("en", "English"),
    ("es", "Español"),
    ("es-US", "Español (EE. UU.)"),
];
pub(in crate::page) const WHOSE: Phrase = phrase!("Whose report it is");
pub(in crate::page) const NOBODYS: Phrase = phrase!("No business is named on it yet.");
pub(in crate::page) const SET_UP: Phrase = phrase!("Name, licence, logo");
pub(in crate::page) const PREVIEW: Phrase = phrase!("The report as it is handed over");
pub(in crate::page) const PRINT: Phrase = phrase!("Print");
pub(in crate::page) const SAVE: Phrase = phrase!("Save");
pub(in crate::page) const SHARE: Phrase = phrase!("Share");
pub(in crate::page) const PDF: Phrase = phrase!("Save as PDF");
pub(in crate::page) const PDF_UNDER_WAY: Phrase = phrase!("Setting the PDF …");
pub(in crate::page) const PDF_TOO_LARGE: Phrase = phrase!(
    "Too large to be set as a PDF here: more than 2 MB with the logo. A smaller logo helps; or print, and choose PDF there."
);
pub(in crate::page) const PDF_NO_ANSWER: Phrase = phrase!(
    "The program that serves this page does not answer. Start it again, or print, and choose PDF there."
);

pub(in crate::page) const BUSINESS: Phrase = phrase!("Your business, for the reports");
pub(in crate::page) const BUSINESS_MORE: Phrase =
    phrase!("Printed at the head of a report. Nothing of it is required.");
pub(in crate::page) const LOGO: Phrase = phrase!("Logo");
pub(in crate::page) const LOGO_MORE: Phrase =
    phrase!("PNG or JPEG, at most 2 MB and 4 million pixels.");
pub(in crate::page) const LOGO_AWAY: Phrase = phrase!("Take the logo away");
pub(in crate::page) const REPORT_LANGUAGE: Phrase = phrase!("Language of the reports");
pub(in crate::page) const PROFILE_FILE: Phrase = phrase!("As a file for the command");
pub(in crate::page) const PROFILE_FILE_MORE: Phrase = phrase!(
    "The profile file of the command (.toml); with it, chosen together, the logo that it names."
);
pub(in crate::page) const PROFILE_TAKE: Phrase = phrase!("Choose the profile file");
pub(in crate::page) const PROFILE_GIVE: Phrase = phrase!("Put it with the downloads");

/// The names of papers, by the word that the command knows each by.
pub(in crate::page) fn papers() -> Vec<(&'static str, &'static str)> {
    let named = [("", PAPER_USUAL), ("letter", LETTER), ("a4", A4)];
    named.map(|(word, name)| (word, name.said())).to_vec()
}

/// The languages that a profile may name, or none.
pub(in crate::page) fn profile_languages() -> Vec<(&'static str, &'static str)> {
    std::iter::once(("", NONE_NAMED.said()))
        .chain(LANGUAGES)
        .collect()
}

/// Names a field of the profile.
pub(in crate::page) fn field(field: app::letterhead::Field) -> Phrase {
    use app::letterhead::Field;
    match field {
        Field::Business => phrase!("Business"),
        Field::Licence => phrase!("Licence"),
        Field::Technician => phrase!("Technician"),
        Field::Contact => phrase!("How to reach you, a line each"),
        Field::Language => REPORT_LANGUAGE,
    }
}
