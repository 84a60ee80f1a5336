//! An order of a report as plain data: the texts that it is made from and how it is wanted. So a page asks its worker, and a
//! page asks the command that serves it. Reading an order is all that is done here; what is worked out is the engine's.

use super::{Letterhead, Paper, Report, composed};
use crate::units::Printing;
use operation::{Gathered, Worked};
use records::told;
use records::{
    CalendarDay, Change, Language, Logo, Problem, Profile, Site, Source, Test, TestFiles,
    UnitSystem, base64, read_changes, read_pad, read_profile,
};
use serde::{Deserialize, Serialize};

/// What an order is called where something is wrong in it.
const ORDER: &str = "order";

/// A file: its name and its text.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct File {
    /// The bare name.
    pub name: String,
    /// The text.
    pub text: String,
}

/// A test with the readings that it names.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct TestFile {
    /// The test file.
    pub test: File,
    /// The file of readings, where the test names one.
    pub readings: Option<File>,
}

/// An order of a report.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Order {
    /// The format of the order, 1.
    pub format: u32,
    /// The site file.
    pub site: File,
    /// The tests, in the order of time; the report is about the last.
    pub tests: Vec<TestFile>,
    /// The changes that are weighed in it.
    pub changes: Vec<File>,
    /// The profile: whose report it is.
    pub profile: Option<File>,
    /// The logo that the profile names, in base 64.
    pub logo: Option<String>,
    /// The day of the report, such as `2026-07-04`.
    pub date: String,
    /// The units, `us` or `si`; absent, those of the site.
    pub units: Option<String>,
    /// The tag of the language; absent, that of the profile.
    pub language: Option<String>,
    /// The paper, `letter` or `a4`; absent, the one that goes with units and language.
    pub paper: Option<String>,
}

/// What an order says, read.
#[derive(Clone, Debug)]
pub struct Ordered {
    site: Site,
    tests: Vec<Test>,
    changes: Vec<Change>,
    letterhead: Letterhead,
    printing: Printing,
    /// The paper.
    pub paper: Paper,
}

impl From<&Source> for File {
    fn from(source: &Source) -> Self {
        Self {
            name: source.name.clone(),
            text: source.text.clone(),
        }
    }
}

impl From<&TestFiles> for TestFile {
    fn from(files: &TestFiles) -> Self {
        Self {
            test: File::from(&files.test),
            readings: files.readings.as_ref().map(File::from),
        }
    }
}

impl File {
    fn source(&self) -> Source {
        Source {
            name: self.name.clone(),
            text: self.text.clone(),
        }
    }
}

impl Order {
    /// Reads the texts, or everything that is wrong in them.
    ///
    /// # Errors
    /// Problems with their places and what to do.
    pub fn read(&self) -> Result<Ordered, Vec<Problem>> {
        let tests = self.tests.iter().map(|files| TestFiles {
            test: files.test.source(),
            readings: files.readings.as_ref().map(File::source),
        });
        let (site, tests) = read_pad(&self.site.source(), &tests.collect::<Vec<_>>())?;
        let changes: Vec<Source> = self.changes.iter().map(File::source).collect();
        let changes = read_changes(&changes, &site)?;
        let letterhead = self.letterhead()?;
        let printing = self.printing(&site, &letterhead.profile)?;
        let paper = asked(self.paper.as_deref(), "paper", Paper::of_name)?;
        Ok(Ordered {
            site,
            tests,
            changes,
            letterhead,
            printing,
            paper: paper.unwrap_or_else(|| Paper::usual(printing)),
        })
    }

    fn letterhead(&self) -> Result<Letterhead, Vec<Problem>> {
        let profile = self.profile.as_ref();
        let profile = profile
            .map(|file| read_profile(&file.source()))
            .transpose()?;
        let profile = profile.unwrap_or_default();
        let logo = self.logo.as_deref().zip(profile.logo.as_deref());
        let logo = logo.map(|(text, name)| {
            // What is no base 64 is no picture either.
            let bytes = base64::read(text).unwrap_or_default();
            Logo::from_bytes(name, bytes).map_err(|problem| vec![problem])
        });
        let day = |text: &str| {
            CalendarDay::parse(text)
                .ok()
                .filter(|day| day.year.is_some())
        };
        let date = asked(Some(self.date.as_str()), "date", day)?;
        Ok(Letterhead {
            profile,
            logo: logo.transpose()?,
            date: date.ok_or_else(Vec::new)?,
        })
    }

    fn printing(&self, site: &Site, profile: &Profile) -> Result<Printing, Vec<Problem>> {
        let system = |name: &str| match name {
            "us" => Some(UnitSystem::Us),
            "si" => Some(UnitSystem::Si),
            _ => None,
        };
        let language = |tag: &str| Language::ALL.into_iter().find(|one| one.tag() == tag);
        let units = asked(self.units.as_deref(), "units", system)?;
        let language = asked(self.language.as_deref(), "language", language)?;
        Ok(Printing {
            system: units.or(site.units).unwrap_or_default(),
            language: language.or(profile.language).unwrap_or_default(),
        })
    }
}

/// What a word of an order asks for, where one stands there.
fn asked<T>(
    word: Option<&str>,
    key: &str,
    meant: impl Fn(&str) -> Option<T>,
) -> Result<Option<T>, Vec<Problem>> {
    let Some(word) = word else { return Ok(None) };
    let found = meant(word);
    found.map(Some).ok_or_else(|| {
        vec![Problem {
            file: ORDER.to_owned(),
            line: 0,
            column: 0,
            message: told!("the {key} is \"{word}\", which is none", key, word),
            hint: None,
        }]
    })
}

impl Ordered {
    /// What the engine works out.
    pub fn gathered(&self) -> Gathered<'_> {
        Gathered {
            site: &self.site,
            tests: &self.tests,
            changes: &self.changes,
            year: self.letterhead.date.year,
        }
    }

    /// How the report is printed.
    pub fn printing(&self) -> Printing {
        self.printing
    }

    /// Composes the report of what was worked out.
    pub fn report(&self, worked: &Worked) -> Report {
        composed(
            &self.gathered(),
            worked,
            self.printing,
            self.letterhead.clone(),
        )
    }
}
