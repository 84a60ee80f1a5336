//! Changes of the library that touch more than one record: copies, and what is deleted and brought back.

use super::names::{same, site_name};
use super::{Care, Id, KeptReadings, Library, Moment, Revision, SiteRecord, TestRecord, free_name};
use crate::lineup::{self, HeadEdit};

/// What a deletion marks; written as it is, it can be undone.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Deleted {
    /// The site, where one was deleted.
    pub site: Option<SiteRecord>,
    /// The tests.
    pub tests: Vec<TestRecord>,
}

/// Copies a site without its tests, under a name of its own; that name is written into its text too.
pub fn duplicate_site(library: &Library, site: &SiteRecord, id: Id, now: Moment) -> SiteRecord {
    let name = free_name(&site.name, |name| {
        let kept = library.sites.iter().filter(|other| other.deleted.is_none());
        kept.into_iter().any(|other| same(&other.name, name))
    });
    let text = with_name(&site.text, &name);
    SiteRecord {
        id,
        name: site_name(&text).unwrap_or(name),
        text,
        created: now,
        changed: now,
        revision: Revision::default(),
        deleted: None,
        care: Care::default(),
    }
}

/// Writes a name into the text of a site or a change; a text that cannot be read stays as it is.
pub(super) fn with_name(text: &str, name: &str) -> String {
    let Ok(mut site) = text.parse::<toml_edit::DocumentMut>() else {
        return text.to_owned();
    };
    let Some(value) = site.get_mut("name").and_then(toml_edit::Item::as_value_mut) else {
        return text.to_owned();
    };
    let decor = value.decor().clone();
    *value = name.into();
    *value.decor_mut() = decor;
    site.to_string()
}

/// Copies a test under a name of its own.
pub fn duplicate_test(library: &Library, test: &TestRecord, id: Id, now: Moment) -> TestRecord {
    let name = free_test_name(library, &test.site_id, &test.name);
    let (head_text, readings) = renamed(test, &name);
    TestRecord {
        id,
        site_id: test.site_id.clone(),
        name,
        head_text,
        readings,
        changed: now,
        revision: Revision::default(),
        open: test.open,
        deleted: None,
    }
}

pub(super) fn free_test_name(library: &Library, site: &Id, wanted: &str) -> String {
    free_name(wanted, |name| {
        let tests = library.tests_of(site);
        tests.iter().any(|test| same(&test.name, name))
    })
}

/// The texts of a test under another name: the file of readings is called after it, where the test file can be changed.
pub(super) fn renamed(test: &TestRecord, name: &str) -> (String, Option<KeptReadings>) {
    let Some(readings) = &test.readings else {
        return (test.head_text.clone(), None);
    };
    let file = format!("{name}.csv");
    match lineup::edited(&test.head_text, &HeadEdit::Readings(file.clone())) {
        Ok(head) => {
            let text = readings.text.clone();
            (head, Some(KeptReadings { file, text }))
        }
        Err(_) => (test.head_text.clone(), Some(readings.clone())),
    }
}

/// Marks a site and its tests as deleted. Tests that were deleted before keep their moment, and do not come back with it.
pub fn deleted(library: &Library, site: &Id, now: Moment) -> Deleted {
    let mark = |test: &TestRecord| TestRecord {
        deleted: Some(now),
        ..test.clone()
    };
    Deleted {
        site: library.site(site).map(|site| SiteRecord {
            deleted: Some(now),
            ..site.clone()
        }),
        tests: library.tests_of(site).into_iter().map(mark).collect(),
    }
}

/// Brings a deleted site back, with the tests that were deleted in the same moment.
pub fn restored(library: &Library, site: &Id) -> Deleted {
    let Some(record) = library.site(site) else {
        return Deleted::default();
    };
    let with_it = |test: &&TestRecord| test.site_id == *site && test.deleted == record.deleted;
    let bring_back = |test: &TestRecord| TestRecord {
        deleted: None,
        ..test.clone()
    };
    Deleted {
        site: Some(SiteRecord {
            deleted: None,
            ..record.clone()
        }),
        tests: library
            .tests
            .iter()
            .filter(with_it)
            .map(bring_back)
            .collect(),
    }
}
