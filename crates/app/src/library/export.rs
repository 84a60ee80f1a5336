//! A site and its tests as a bundle, and as the engine takes them.

use super::names::stem;
use super::{SiteRecord, TestRecord};
use crate::engine::Pad;
use records::{Bundle, BundleError, SITE_FILE, Source, TestFiles, write_bundle};

impl TestRecord {
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
pub fn exported(site: &SiteRecord, tests: &[&TestRecord]) -> Result<Vec<u8>, BundleError> {
    let pad = pad_of(site, tests);
    write_bundle(&Bundle {
        site: pad.site,
        tests: pad.tests,
    })
}

/// Names the file of a bundle after its site.
pub fn export_name(site: &SiteRecord) -> String {
    let stem = stem(&site.name);
    let stem = if stem.is_empty() { "site" } else { &stem };
    format!("{stem}.zip")
}
