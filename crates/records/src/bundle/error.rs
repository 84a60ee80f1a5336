//! Why a zip file is no bundle, in words for the person who was sent it.

use super::{MAX_BUNDLE_BYTES, MAX_BUNDLE_FILES, MAX_BUNDLED_FILE_BYTES, SITE_FILE};
use crate::Problem;
use crate::wording::shown;
use std::fmt;

/// Bytes of a megabyte, as sizes are told.
const MEGABYTE: usize = 1_000_000;

/// Why bytes are no bundle, or files make none. Its text says what was found, then what is expected.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum BundleError {
    /// The bytes do not start as a zip file does.
    #[error("the file is no zip file; expected a bundle, which is one")]
    NotAZip,
    /// The table of contents is missing at the end, or bytes follow it.
    #[error("the zip file does not end where it should; expected its table of contents at the end")]
    CutShort,
    /// The table of contents does not hold.
    #[error("the table of contents of the zip file is damaged; expected a sound one")]
    Damaged,
    /// An entry does not hold what the table of contents says of it.
    #[error("the entry {} is damaged; expected the name, size and checksum that the zip file states", shown(.entry))]
    DamagedEntry {
        /// The entry.
        entry: String,
    },
    /// The zip file is too large.
    #[error("the zip file is larger than {} MB; expected at most that", MAX_BUNDLE_BYTES / MEGABYTE)]
    TooLarge,
    /// There are too many entries.
    #[error("there are more than {MAX_BUNDLE_FILES} files; expected at most that")]
    TooManyFiles,
    /// One file is too large.
    #[error("{} is larger than {} MB; expected at most that", shown(.entry), MAX_BUNDLED_FILE_BYTES / MEGABYTE)]
    FileTooLarge {
        /// The entry.
        entry: String,
    },
    /// All files are too large together.
    #[error("the files are larger than {} MB together; expected at most that", MAX_BUNDLE_BYTES / MEGABYTE)]
    AllTooLarge,
    /// A name that no file of a bundle has.
    #[error("the name {} {fault}; expected {}", shown(.entry), .fault.accepted())]
    Name {
        /// The name.
        entry: String,
        /// What is wrong with it.
        fault: NameFault,
    },
    /// Two entries whose names are the same, or differ by capitals only.
    #[error("there are two files {} and {}; expected names that differ by more than capitals", shown(.first), shown(.second))]
    Namesakes {
        /// The one.
        first: String,
        /// The other.
        second: String,
    },
    /// An entry that takes a password.
    #[error("the entry {} is encrypted; expected a zip file without a password", shown(.entry))]
    Encrypted {
        /// The entry.
        entry: String,
    },
    /// An entry that is packed in an unusual way.
    #[error("the entry {} is packed by method {method}; expected 0, stored, or 8, deflated", shown(.entry))]
    Method {
        /// The entry.
        entry: String,
        /// The number of the method.
        method: u16,
    },
    /// A link, a folder or a device.
    #[error("the entry {} is a link or a folder; expected a plain file", shown(.entry))]
    NotAFile {
        /// The entry.
        entry: String,
    },
    /// There is no site file.
    #[error("there is no {SITE_FILE} in the zip file; expected exactly one")]
    NoSite {
        /// An entry that may have been meant for it.
        near: Option<String>,
    },
    /// A second site file under another name.
    #[error("{} is another site file; expected one site in a bundle", shown(.entry))]
    SecondSite {
        /// The entry.
        entry: String,
    },
    /// A test names a file of readings that is not there.
    #[error("{} names the readings {}, which are not in the bundle; expected a CSV file of that name", shown(.test), shown(.readings))]
    NoReadings {
        /// The test file.
        test: String,
        /// The file of readings that it names.
        readings: String,
    },
    /// A file of readings that no test names.
    #[error("no test names the file {}; expected {SITE_FILE}, test files and the readings that they name", shown(.entry))]
    Unnamed {
        /// The entry.
        entry: String,
    },
    /// Texts that are none, or from which it cannot be told which files belong to them.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Texts(Vec<Problem>),
}

/// What is wrong with the name of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NameFault {
    /// It has a folder or a drive in it.
    Folder,
    /// It is empty or too long.
    Length,
    /// It has a character that files of a bundle do not have.
    Character(char),
    /// It is not text at all.
    NotText,
    /// It starts with a sign, or has a space before its ending.
    Ends,
    /// It belongs to a device on some systems.
    Device,
    /// It has another ending.
    Ending,
}

impl NameFault {
    fn accepted(self) -> &'static str {
        match self {
            Self::Folder => "files side by side",
            Self::Length => "1 to 80 characters",
            Self::Character(_) | Self::NotText => "letters a to z, digits, spaces, points, - and _",
            Self::Ends => "a letter or digit at the start and before the ending",
            Self::Device => "another name",
            Self::Ending => "the ending .toml or .csv",
        }
    }
}

impl fmt::Display for NameFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Folder => f.write_str("leads to a folder"),
            Self::Length => f.write_str("is empty or too long"),
            Self::Character(character) => {
                write!(f, "has the character {}", shown(&character.to_string()))
            }
            Self::NotText => f.write_str("is no UTF-8 text"),
            Self::Ends => f.write_str("starts or ends with a sign or a space"),
            Self::Device => f.write_str("stands for a device on some computers"),
            Self::Ending => f.write_str("has another ending"),
        }
    }
}

impl BundleError {
    /// Says the one thing to do next.
    pub fn hint(&self) -> Option<String> {
        let hint = match self {
            Self::NotAZip => "send the zip file itself, as it was made",
            Self::CutShort | Self::Damaged | Self::DamagedEntry { .. } => {
                "copy or send the zip file once more; the copy is not whole"
            }
            Self::FileTooLarge { .. } => "average a long log to one row per speed",
            Self::TooLarge | Self::TooManyFiles | Self::AllTooLarge => {
                "make several bundles with fewer tests each"
            }
            Self::Name {
                fault: NameFault::Folder,
                ..
            } => "zip the files themselves, not the folder that holds them",
            Self::Name {
                fault: NameFault::Ending,
                ..
            } => "leave the file out, or give a file of readings the ending .csv",
            Self::Name { .. } => {
                "rename the file, also where a test names it, and make the bundle again"
            }
            Self::Namesakes { .. } => "rename one of the two, also where a test names it",
            Self::Encrypted { .. } => "make the zip file again without a password",
            Self::Method { .. } => "make the zip file again with the usual compression",
            Self::NotAFile { .. } => "put the file itself into the bundle",
            Self::NoSite { near: Some(near) } => return Some(site_hint(near)),
            Self::NoSite { near: None } => {
                "send the bundle as it was made, or put the site file into it"
            }
            Self::SecondSite { .. } => "make a bundle for each site",
            Self::NoReadings { .. } => "put it into the bundle, beside the test",
            Self::Unnamed { .. } => "leave it out, or write its name as readings in its test file",
            Self::Texts(_) => return None,
        };
        Some(hint.to_owned())
    }

    /// Returns the problems to tell of a bundle that the person knows by this name.
    pub fn problems(&self, bundle: &str) -> Vec<Problem> {
        match self {
            Self::Texts(problems) => problems
                .iter()
                .map(|problem| Problem {
                    file: format!("{bundle}/{}", problem.file),
                    ..problem.clone()
                })
                .collect(),
            _ => vec![Problem {
                file: bundle.to_owned(),
                line: 0,
                column: 0,
                message: self.to_string(),
                hint: self.hint(),
            }],
        }
    }
}

fn site_hint(near: &str) -> String {
    if near.contains(['/', '\\']) {
        format!(
            "zip the files themselves, not the folder that holds {}",
            shown(near)
        )
    } else {
        format!("if {} is the site file, call it {SITE_FILE}", shown(near))
    }
}
