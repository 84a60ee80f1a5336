//! Records from texts and to them: a draft, a bundle, and what the engine takes.

use super::names::{site_name, stem};
use super::{Care, ChangeRecord, Id, KeptReadings, Moment, Revision, SiteRecord, TestRecord};
use crate::draft::{OpenError, TestDraft};
use crate::engine::Pad;
use records::{Bundle, BundleError, SITE_FILE, Source, TestFiles, write_bundle};

impl TestRecord {
    /// Makes the record of a new test that is being done.
    pub fn new(id: Id, site_id: Id, draft: &TestDraft, now: Moment) -> Self {
        let record = Self {
            id,
            site_id,
            name: String::new(),
            head_text: String::new(),
            readings: None,
            changed: now,
            revision: Revision::default(),
            open: true,
            deleted: None,
        };
        record.with_draft(draft, now)
    }

    /// Opens the test as a table.
    ///
    /// # Errors
    /// What keeps its texts from being shown as one.
    pub fn draft(&self) -> Result<TestDraft, OpenError> {
        TestDraft::from_files(&self.files())
    }

    /// Returns the record with the texts of a draft.
    #[must_use]
    pub fn with_draft(&self, draft: &TestDraft, now: Moment) -> Self {
        let files = draft.to_files();
        Self {
            name: draft.name.clone(),
            head_text: files.test.text,
            readings: files.readings.map(|source| KeptReadings {
                file: source.name,
                text: source.text,
            }),
            changed: now,
            ..self.clone()
        }
    }

    /// The files of the test.
    pub fn files(&self) -> TestFiles {
        let source = |name: &str, text: &str| Source {
            name: name.to_owned(),
            text: text.to_owned(),
        };
        TestFiles {
            test: source(&format!("{}.toml", self.name), &self.head_text),
            readings: self
                .readings
                .as_ref()
                .map(|kept| source(&kept.file, &kept.text)),
        }
    }
}

impl SiteRecord {
    /// Makes the record of a new site.
    pub fn new(id: Id, text: String, now: Moment) -> Self {
        Self {
            id,
            name: site_name(&text).unwrap_or_default(),
            text,
            created: now,
            changed: now,
            revision: Revision::default(),
            deleted: None,
            care: Care::default(),
        }
    }

    /// Returns the record with another text; its name follows where the text states one.
    #[must_use]
    pub fn with_text(&self, text: String, now: Moment) -> Self {
        Self {
            name: site_name(&text).unwrap_or_else(|| self.name.clone()),
            text,
            changed: now,
            ..self.clone()
        }
    }

    /// The site file.
    pub fn source(&self) -> Source {
        Source {
            name: SITE_FILE.to_owned(),
            text: self.text.clone(),
        }
    }
}

/// Gathers the texts of a pad for the engine, the tests in the order given.
pub fn pad_of(site: &SiteRecord, tests: &[&TestRecord]) -> Pad {
    Pad {
        site: site.source(),
        tests: tests.iter().map(|test| test.files()).collect(),
    }
}

/// Writes the bytes of a bundle.
///
/// # Errors
/// That the texts make none.
pub fn exported(
    site: &SiteRecord,
    tests: &[&TestRecord],
    changes: &[&ChangeRecord],
) -> Result<Vec<u8>, BundleError> {
    let pad = pad_of(site, tests);
    write_bundle(&Bundle {
        site: pad.site,
        tests: pad.tests,
        changes: changes.iter().map(|change| change.source()).collect(),
    })
}

/// Names the file of a bundle after its site.
pub fn export_name(site: &SiteRecord) -> String {
    let stem = stem(&site.name);
    let stem = if stem.is_empty() { "site" } else { &stem };
    format!("{stem}.zip")
}
