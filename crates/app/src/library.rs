//! What is kept on the device: sites, their tests, and how the person likes the page.
//!
//! Everything here is plain data and pure: which moment it is and which ids are new is told by the caller. A record keeps
//! the texts of files, never what was read from them, so that nothing is lost of a text that cannot be read yet.

mod care;
mod changes;
mod entry;
mod export;
mod import;
mod kept;
mod names;
mod order;
mod returns;
mod shelf;
mod visits;

pub use care::{Care, Due, due, is_day};
pub use changes::{Deleted, deleted, duplicate_site, duplicate_test, restored};
pub use entry::{Head, Taken, TestEntry};
pub use export::{export_name, exported, pad_of};
pub use import::{ImportError, Imported, NewIds, Renamed, import};
pub use kept::{ChangeRecord, change_to_keep};
pub use names::free_name;
pub(crate) use names::{site_name, stem};
pub use order::{beyond_the_clock, by_last_change, found};
pub use returns::filter_due;
pub use shelf::{Card, Shelf, Which};
pub use visits::{Found, Visit, VisitState, baseline, found_in, visits};

use serde::{Deserialize, Serialize};

/// The name of a record, random and for ever.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Id(pub String);

/// A moment, in milliseconds since 1970 as browsers count.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct Moment(pub u64);

/// How often a record was written: the next writing must know the last one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Revision(pub u64);

impl Revision {
    /// The revision of the next writing.
    #[must_use]
    pub fn next(self) -> Self {
        Self(self.0.saturating_add(1))
    }
}

/// A site as it is kept.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SiteRecord {
    /// Which one.
    pub id: Id,
    /// What it is called in lists: the name in its text, as far as that could ever be read.
    pub name: String,
    /// The text of the site file.
    pub text: String,
    /// When it was made.
    pub created: Moment,
    /// When it was changed last.
    pub changed: Moment,
    /// How often it was written.
    pub revision: Revision,
    /// When it was deleted; it can be brought back until it is cleared away.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub deleted: Option<Moment>,
    /// What a person keeps of it beside its text.
    #[serde(default, skip_serializing_if = "Care::is_none")]
    pub care: Care,
}

/// A test as it is kept.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TestRecord {
    /// Which one.
    pub id: Id,
    /// The site that it was done at.
    pub site_id: Id,
    /// The stem of its files' names.
    pub name: String,
    /// The text of the test file.
    pub head_text: String,
    /// The bare name of the file of readings, and its text; `None` where the steps stand in the test file.
    pub readings: Option<KeptReadings>,
    /// When it was changed last.
    pub changed: Moment,
    /// How often it was written.
    pub revision: Revision,
    /// Whether it is still being done.
    pub open: bool,
    /// When it was deleted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub deleted: Option<Moment>,
}

/// The readings of a test as they are kept.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptReadings {
    /// The bare name of the file.
    pub file: String,
    /// Its text.
    pub text: String,
}

/// How the person likes the page.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Settings {
    /// The units to print in, where not each site's own.
    pub units: Option<Units>,
    /// The colours; `None` follows the device.
    pub theme: Option<ThemeChoice>,
    /// Whether the expected band is shown before a reading is typed. Off at first: who knows what should come out reads it.
    pub show_band_first: bool,
    /// The tag of the language, such as `en`; `None` follows the device.
    pub language: Option<String>,
    /// Whose reports are handed over.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub profile: Option<crate::letterhead::KeptProfile>,
}

/// A system of units.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Units {
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

impl From<records::UnitSystem> for Units {
    fn from(system: records::UnitSystem) -> Self {
        match system {
            records::UnitSystem::Us => Self::Us,
            records::UnitSystem::Si => Self::Si,
        }
    }
}

/// The colours of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum ThemeChoice {
    /// For paper and a bright screen.
    Light,
    /// For a dark room.
    Dark,
    /// For full sun.
    Sun,
}

/// What is kept, as lists show it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Library {
    /// The sites, those that were deleted too.
    pub sites: Vec<SiteRecord>,
    /// The tests that are loaded, those that were deleted too.
    pub tests: Vec<TestRecord>,
    /// What lists show of the others. The tests of a site are loaded all together, before anything of it is shown.
    pub unread: Vec<TestEntry>,
    /// The changes of all sites that are kept, those that were deleted too.
    pub changes: Vec<ChangeRecord>,
}

impl Library {
    /// Finds a site.
    pub fn site(&self, id: &Id) -> Option<&SiteRecord> {
        self.sites.iter().find(|site| site.id == *id)
    }

    /// Lists the tests of a site that are loaded and not deleted, by their names, which mostly are dates.
    pub fn tests_of(&self, site: &Id) -> Vec<&TestRecord> {
        let of_site = |test: &&TestRecord| test.site_id == *site && test.deleted.is_none();
        let mut tests: Vec<&TestRecord> = self.tests.iter().filter(of_site).collect();
        numerics::order::sort_by(&mut tests, |a, b| a.name.cmp(&b.name));
        tests
    }

    /// Lists the changes of a site that are kept and not deleted, by what they are called.
    pub fn changes_of(&self, site: &Id) -> Vec<&ChangeRecord> {
        let of_site = |change: &&ChangeRecord| change.site_id == *site && change.deleted.is_none();
        let mut changes: Vec<&ChangeRecord> = self.changes.iter().filter(of_site).collect();
        numerics::order::sort_by(&mut changes, |a, b| a.name.cmp(&b.name));
        changes
    }
}
