//! The report that is handed over, and whose it is.

pub(in crate::page) const HAND_OVER: &str = "Hand over a report";
pub(in crate::page) const TITLE: &str = "The report";
pub(in crate::page) const LEAD: &str = "First a page in plain words for the owner, then what was read and what it says for the next technician. It is one file, made on this device.";
pub(in crate::page) const TESTS: &str = "Tests in it";
pub(in crate::page) const TESTS_MORE: &str =
    "It is about the last of them, and says what has changed since the first.";
pub(in crate::page) const CHANGES: &str = "Kept changes in it";
pub(in crate::page) const LANGUAGE: &str = "Language";
pub(in crate::page) const PAPER: &str = "Paper";
pub(in crate::page) const PAPER_USUAL: &str = "As usual";
/// The names of papers, by the word that the command knows each by.
pub(in crate::page) const PAPERS: [(&str, &str); 3] =
    [("", PAPER_USUAL), ("letter", "Letter"), ("a4", "A4")];
/// The languages, each by its tag and called as who reads it calls it.
pub(in crate::page) const LANGUAGES: [(&str, &str); 3] = [
    ("en", "English"),
    ("es", "Español"),
    ("es-US", "Español (EE. UU.)"),
];
pub(in crate::page) const WHOSE: &str = "Whose report it is";
pub(in crate::page) const NOBODYS: &str = "No business is named on it yet.";
pub(in crate::page) const SET_UP: &str = "Name, licence, logo";
pub(in crate::page) const PREVIEW: &str = "The report as it is handed over";
pub(in crate::page) const PRINT: &str = "Print";
pub(in crate::page) const SAVE: &str = "Save";
pub(in crate::page) const SHARE: &str = "Share";
pub(in crate::page) const PDF: &str = "Save as PDF";
pub(in crate::page) const PDF_UNDER_WAY: &str = "Setting the PDF …";
pub(in crate::page) const PDF_TOO_LARGE: &str = "Too large to be set as a PDF here: more than 2 MB with the logo. A smaller logo helps; or print, and choose PDF there.";
pub(in crate::page) const PDF_NO_ANSWER: &str = "The program that serves this page does not answer. Start it again, or print, and choose PDF there.";

pub(in crate::page) const BUSINESS: &str = "Your business, for the reports";
pub(in crate::page) const BUSINESS_MORE: &str =
    "Printed at the head of a report. Nothing of it is required.";
pub(in crate::page) const LOGO: &str = "Logo";
pub(in crate::page) const LOGO_MORE: &str = "PNG, JPEG or SVG, at most 2 MB and 4 million pixels.";
pub(in crate::page) const LOGO_AWAY: &str = "Take the logo away";
pub(in crate::page) const REPORT_LANGUAGE: &str = "Language of the reports";
/// The languages that a profile may name, or none.
pub(in crate::page) const PROFILE_LANGUAGES: [(&str, &str); 4] = [
    ("", "None named: English"),
    LANGUAGES[0],
    LANGUAGES[1],
    LANGUAGES[2],
];
pub(in crate::page) const PROFILE_FILE: &str = "As a file for the command";
pub(in crate::page) const PROFILE_FILE_MORE: &str =
    "The profile file of the command (.toml); with it, chosen together, the logo that it names.";
pub(in crate::page) const PROFILE_TAKE: &str = "Choose the profile file";
pub(in crate::page) const PROFILE_GIVE: &str = "Put it with the downloads";

/// Names a field of the profile.
pub(in crate::page) fn field(field: app::letterhead::Field) -> &'static str {
    use app::letterhead::Field;
    match field {
        Field::Business => "Business",
        Field::Licence => "Licence",
        Field::Technician => "Technician",
        Field::Contact => "How to reach you, a line each",
        Field::Language => REPORT_LANGUAGE,
    }
}
