//! Why a zip file is no bundle, in words for the person who was sent it.

use super::{MAX_BUNDLE_BYTES, MAX_BUNDLE_FILES, MAX_BUNDLED_FILE_BYTES, SITE_FILE};
use crate::wording::shown;
use crate::{Problem, Told, told};
use std::fmt;

/// Bytes of a megabyte, as sizes are told.
const MEGABYTE: usize = 1_000_000;

/// Why bytes are no bundle, or files make none. Its text says what was found, then what is expected.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BundleError {
    /// The bytes do not start as a zip file does.
    NotAZip,
    /// The table of contents is missing at the end, or bytes follow it.
    CutShort,
    /// The table of contents does not hold.
    Damaged,
    /// An entry does not hold what the table of contents says of it.
    DamagedEntry {
        /// The entry.
        entry: String,
    },
    /// The zip file is too large.
    TooLarge,
    /// There are too many entries.
    TooManyFiles,
    /// One file is too large.
    FileTooLarge {
        /// The entry.
        entry: String,
    },
    /// All files are too large together.
    AllTooLarge,
    /// A name that no file of a bundle has.
    Name {
        /// The name.
        entry: String,
        /// What is wrong with it.
        fault: NameFault,
    },
    /// Two entries whose names are the same, or differ by capitals only.
    Namesakes {
        /// The one.
        first: String,
        /// The other.
        second: String,
    },
    /// An entry that takes a password.
    Encrypted {
        /// The entry.
        entry: String,
    },
    /// An entry that is packed in an unusual way.
    Method {
        /// The entry.
        entry: String,
        /// The number of the method.
        method: u16,
    },
    /// A link, a folder or a device.
    NotAFile {
        /// The entry.
        entry: String,
    },
    /// There is no site file.
    NoSite {
        /// An entry that may have been meant for it.
        near: Option<String>,
    },
    /// A second site file under another name.
    SecondSite {
        /// The entry.
        entry: String,
    },
    /// A test names a file of readings that is not there.
    NoReadings {
        /// The test file.
        test: String,
        /// The file of readings that it names.
        readings: String,
    },
    /// A file of readings that no test names.
    Unnamed {
        /// The entry.
        entry: String,
    },
    /// Texts that are none, or from which it cannot be told which files belong to them.
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
    fn accepted(self) -> Told {
        match self {
            Self::Folder => told!("files side by side"),
            Self::Length => told!("1 to 80 characters"),
            Self::Character(_) | Self::NotText => {
                told!("letters a to z, digits, spaces, points, - and _")
            }
            Self::Ends => told!("a letter or digit at the start and before the ending"),
            Self::Device => told!("another name"),
            Self::Ending => told!("the ending .toml or .csv"),
        }
    }
}

impl NameFault {
    /// Says it, as what follows the name.
    pub fn told(self) -> Told {
        match self {
            Self::Folder => told!("leads to a folder"),
            Self::Length => told!("is empty or too long"),
            Self::Character(character) => {
                told!(
                    "has the character {character}",
                    character = shown(&character.to_string())
                )
            }
            Self::NotText => told!("is no UTF-8 text"),
            Self::Ends => told!("starts or ends with a sign or a space"),
            Self::Device => told!("stands for a device on some computers"),
            Self::Ending => told!("has another ending"),
        }
    }
}

impl std::error::Error for BundleError {}

impl fmt::Display for BundleError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Texts(problems) => {
                let problems: Vec<String> = problems.iter().map(ToString::to_string).collect();
                f.write_str(&problems.join("\n"))
            }
            error => error.told().fmt(f),
        }
    }
}

impl BundleError {
    /// Says what was found, then what is expected.
    pub fn told(&self) -> Told {
        match self {
            Self::NotAZip => told!("the file is no zip file; expected a bundle, which is one"),
            Self::CutShort => told!(
                "the zip file does not end where it should; expected its table of contents at the end"
            ),
            Self::Damaged => {
                told!("the table of contents of the zip file is damaged; expected a sound one")
            }
            Self::DamagedEntry { entry } => told!(
                "the entry {entry} is damaged; expected the name, size and checksum that the zip file states",
                entry = shown(entry)
            ),
            Self::TooLarge => told!(
                "the zip file is larger than {most} MB; expected at most that",
                most = MAX_BUNDLE_BYTES / MEGABYTE
            ),
            Self::TooManyFiles => told!(
                "there are more than {most} files; expected at most that",
                most = MAX_BUNDLE_FILES
            ),
            Self::FileTooLarge { entry } => told!(
                "{entry} is larger than {most} MB; expected at most that",
                entry = shown(entry),
                most = MAX_BUNDLED_FILE_BYTES / MEGABYTE
            ),
            Self::AllTooLarge => told!(
                "the files are larger than {most} MB together; expected at most that",
                most = MAX_BUNDLE_BYTES / MEGABYTE
            ),
            Self::Name { entry, fault } => told!(
                "the name {entry} {fault}; expected {accepted}",
                entry = shown(entry),
                fault = fault.told(),
                accepted = fault.accepted()
            ),
            Self::Namesakes { first, second } => told!(
                "there are two files {first} and {second}; expected names that differ by more than capitals",
                first = shown(first),
                second = shown(second)
            ),
            Self::Encrypted { entry } => told!(
                "the entry {entry} is encrypted; expected a zip file without a password",
                entry = shown(entry)
            ),
            Self::Method { entry, method } => told!(
                "the entry {entry} is packed by method {method}; expected 0, stored, or 8, deflated",
                entry = shown(entry),
                method
            ),
            Self::NotAFile { entry } => told!(
                "the entry {entry} is a link or a folder; expected a plain file",
                entry = shown(entry)
            ),
            Self::NoSite { .. } => told!(
                "there is no {file} in the zip file; expected exactly one",
                file = SITE_FILE
            ),
            Self::SecondSite { entry } => told!(
                "{entry} is another site file; expected one site in a bundle",
                entry = shown(entry)
            ),
            Self::NoReadings { test, readings } => told!(
                "{test} names the readings {readings}, which are not in the bundle; expected a CSV file of that name",
                test = shown(test),
                readings = shown(readings)
            ),
            Self::Unnamed { entry } => told!(
                "no test names the file {entry}; expected {file}, test files and the readings that they name",
                entry = shown(entry),
                file = SITE_FILE
            ),
            Self::Texts(problems) => match problems.first() {
                Some(problem) => problem.message.clone(),
                None => Told::default(),
            },
        }
    }

    /// Says the one thing to do next.
    pub fn hint(&self) -> Option<Told> {
        let hint = match self {
            Self::NotAZip => told!("send the zip file itself, as it was made"),
            Self::CutShort | Self::Damaged | Self::DamagedEntry { .. } => {
                told!("copy or send the zip file once more; the copy is not whole")
            }
            Self::FileTooLarge { .. } => told!("average a long log to one row per speed"),
            Self::TooLarge | Self::TooManyFiles | Self::AllTooLarge => {
                told!("make several bundles with fewer tests each")
            }
            Self::Name {
                fault: NameFault::Folder,
                ..
            } => told!("zip the files themselves, not the folder that holds them"),
            Self::Name {
                fault: NameFault::Ending,
                ..
            } => told!("leave the file out, or give a file of readings the ending .csv"),
            Self::Name { .. } => {
                told!("rename the file, also where a test names it, and make the bundle again")
            }
            Self::Namesakes { .. } => told!("rename one of the two, also where a test names it"),
            Self::Encrypted { .. } => told!("make the zip file again without a password"),
            Self::Method { .. } => told!("make the zip file again with the usual compression"),
            Self::NotAFile { .. } => told!("put the file itself into the bundle"),
            Self::NoSite { near: Some(near) } => return Some(site_hint(near)),
            Self::NoSite { near: None } => {
                told!("send the bundle as it was made, or put the site file into it")
            }
            Self::SecondSite { .. } => told!("make a bundle for each site"),
            Self::NoReadings { .. } => told!("put it into the bundle, beside the test"),
            Self::Unnamed { .. } => {
                told!("leave it out, or write its name as readings in its test file")
            }
            Self::Texts(_) => return None,
        };
        Some(hint)
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
                message: self.told(),
                hint: self.hint(),
            }],
        }
    }
}

fn site_hint(near: &str) -> Told {
    if near.contains(['/', '\\']) {
        told!(
            "zip the files themselves, not the folder that holds {near}",
            near = shown(near)
        )
    } else {
        told!(
            "if {near} is the site file, call it {most}",
            near = shown(near),
            most = SITE_FILE
        )
    }
}
