//! Files from outside: a bundle, or a single file of a site, of a test or of readings.

use super::changes::{free_test_name, renamed};
use super::names::{same, site_name, stem};
use super::{
    Care, ChangeRecord, Id, KeptReadings, Library, Moment, Revision, SiteRecord, TestRecord,
};
use crate::draft::EMPTY_HEAD;
use crate::lineup;
use records::{
    BundleError, Problem, Source, TestFiles, is_change_file, read_bundle, read_typed, readings_file,
};

/// What a file from outside becomes. Nothing is kept yet: the caller writes the records.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Imported {
    /// The site, where it is new.
    pub site: Option<SiteRecord>,
    /// The site that the tests belong to: the new one, or the one that is kept already.
    pub site_id: Id,
    /// The tests that are new.
    pub tests: Vec<TestRecord>,
    /// Tests that took another name, because another test has theirs.
    pub renamed: Vec<Renamed>,
    /// Names of tests that are kept already, with the same texts.
    pub known: Vec<String>,
    /// The changes of the pad that are new.
    pub changes: Vec<ChangeRecord>,
}

/// The files that came, before they are records.
#[derive(Default)]
struct Arrived {
    site: Option<Source>,
    /// The site that is open, where they belong to it.
    open: Option<Id>,
    tests: Vec<TestFiles>,
    changes: Vec<Source>,
}

/// A test that took another name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Renamed {
    /// The name that it came with.
    pub from: String,
    /// The name that it has now.
    pub to: String,
}

/// Why a file from outside cannot be taken.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ImportError {
    /// It is no bundle.
    #[error(transparent)]
    Bundle(#[from] BundleError),
    /// It is no text, or what is wrong in it keeps it from being known for anything.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Texts(Vec<Problem>),
    /// It is a test or readings, and no site is open that they could belong to.
    #[error("{name} belongs to a site; open the site first")]
    NoSite {
        /// The file.
        name: String,
    },
    /// It is a test that names a file of readings, which came without it.
    #[error(
        "{name} names the readings {readings}; import both in one bundle, or the readings alone"
    )]
    NoReadings {
        /// The file.
        name: String,
        /// The file of readings.
        readings: String,
    },
    /// Its name has another ending than files that the page knows.
    #[error("{name} is no file of the page; expected .zip, .toml or .csv")]
    Ending {
        /// The file.
        name: String,
    },
}

/// The ids of new records, one after the other: random ones, made by the caller.
pub type NewIds<'a> = &'a mut dyn FnMut() -> Id;

/// Takes a file from outside in.
///
/// # Inputs
/// What is kept; the file's name and bytes; the site that is open, to which a single test or file of readings is added;
/// new ids; and the moment.
///
/// # Errors
/// Why the file cannot be taken; nothing of it is taken then.
pub fn import(
    library: &Library,
    (name, bytes): (&str, &[u8]),
    open_site: Option<&Id>,
    ids: NewIds<'_>,
    now: Moment,
) -> Result<Imported, ImportError> {
    let ending = bare(name).rsplit_once('.').map_or("", |(_, ending)| ending);
    let ends_in = |other: &str| ending.eq_ignore_ascii_case(other);
    if ends_in("zip") || bytes.starts_with(b"PK") {
        let bundle = read_bundle(bytes)?;
        let arrived = Arrived {
            site: Some(bundle.site),
            open: None,
            tests: bundle.tests,
            changes: bundle.changes,
        };
        return Ok(taken(library, arrived, (ids, now)));
    }
    let source = Source::from_bytes(bare(name), bytes);
    let source = source.map_err(|problem| ImportError::Texts(vec![problem]))?;
    let open = || {
        let name = source.name.clone();
        open_site.cloned().ok_or(ImportError::NoSite { name })
    };
    if ends_in("csv") {
        read_typed(&source).map_err(ImportError::Texts)?;
        let arrived = Arrived {
            open: Some(open()?),
            tests: vec![test_of_readings(&source)],
            ..Arrived::default()
        };
        return Ok(taken(library, arrived, (ids, now)));
    }
    if !ends_in("toml") {
        let name = source.name.clone();
        return Err(ImportError::Ending { name });
    }
    if is_change_file(&source) {
        let arrived = Arrived {
            open: Some(open()?),
            changes: vec![source],
            ..Arrived::default()
        };
        return Ok(taken(library, arrived, (ids, now)));
    }
    if is_site(&source.text) {
        let arrived = Arrived {
            site: Some(source),
            ..Arrived::default()
        };
        return Ok(taken(library, arrived, (ids, now)));
    }
    let readings = readings_file(&source).map_err(ImportError::Texts)?;
    let site = open()?;
    if let Some(readings) = readings {
        let name = source.name.clone();
        return Err(ImportError::NoReadings { name, readings });
    }
    let files = TestFiles {
        test: source,
        readings: None,
    };
    let arrived = Arrived {
        open: Some(site),
        tests: vec![files],
        ..Arrived::default()
    };
    Ok(taken(library, arrived, (ids, now)))
}

/// A site file describes a pump, which no test does.
fn is_site(text: &str) -> bool {
    let parsed = text.parse::<toml_edit::DocumentMut>();
    parsed.is_ok_and(|file| file.contains_key("pump"))
}

/// A test of which only the readings are known.
fn test_of_readings(source: &Source) -> TestFiles {
    let stem = source.name.rsplit_once('.').map_or("", |(stem, _)| stem);
    TestFiles {
        test: Source {
            name: format!("{stem}.toml"),
            text: EMPTY_HEAD.to_owned(),
        },
        readings: Some(source.clone()),
    }
}

fn bare(name: &str) -> &str {
    name.rsplit(['/', '\\']).next().unwrap_or(name)
}

/// Makes records of files: the site is new unless one with the same text is kept.
fn taken(library: &Library, arrived: Arrived, (ids, now): (NewIds<'_>, Moment)) -> Imported {
    let Arrived {
        site,
        open,
        tests,
        changes,
    } = arrived;
    let kept_already = site.as_ref().and_then(|site| {
        let kept = library.sites.iter().filter(|kept| kept.deleted.is_none());
        kept.into_iter().find(|kept| kept.text == site.text)
    });
    let new = site
        .filter(|_| kept_already.is_none())
        .map(|site| SiteRecord {
            id: ids(),
            name: site_name(&site.text).unwrap_or(site.name),
            text: site.text,
            created: now,
            changed: now,
            revision: Revision::default(),
            deleted: None,
            care: Care::default(),
        });
    let site_id = open
        .or_else(|| kept_already.map(|site| site.id.clone()))
        .or_else(|| new.as_ref().map(|site| site.id.clone()))
        .unwrap_or_else(&mut *ids);
    let mut imported = Imported {
        site: new,
        site_id,
        tests: Vec::new(),
        renamed: Vec::new(),
        known: Vec::new(),
        changes: Vec::new(),
    };
    // Names are free among what is kept and what came before in the same file.
    let mut with_new = library.clone();
    for files in tests {
        imported.take_test(&mut with_new, &files, (ids, now));
    }
    for change in changes {
        imported.take_change(&mut with_new, change, (ids(), now));
    }
    imported
}

impl Imported {
    /// Takes a change in, unless one with the same text is kept.
    fn take_change(&mut self, library: &mut Library, file: Source, (id, now): (Id, Moment)) {
        let kept = library.changes_of(&self.site_id);
        if kept.iter().any(|other| other.text == file.text) {
            return;
        }
        let change = ChangeRecord::new(library, &self.site_id, (id, file.text), now);
        library.changes.push(change.clone());
        self.changes.push(change);
    }

    fn take_test(
        &mut self,
        library: &mut Library,
        files: &TestFiles,
        (ids, now): (&mut dyn FnMut() -> Id, Moment),
    ) {
        let name = files.test.name.rsplit_once('.');
        let name = name.map_or(files.test.name.as_str(), |(stem, _)| stem);
        let mut test = TestRecord {
            id: ids(),
            site_id: self.site_id.clone(),
            name: stem(name),
            head_text: files.test.text.clone(),
            readings: files.readings.as_ref().map(|source| KeptReadings {
                file: source.name.clone(),
                text: source.text.clone(),
            }),
            changed: now,
            revision: Revision::default(),
            open: false,
            deleted: None,
        };
        let kept = library.tests_of(&self.site_id);
        let is_same = |other: &&TestRecord| {
            (
                &other.head_text,
                other.readings.as_ref().map(|kept| &kept.text),
            ) == (
                &test.head_text,
                test.readings.as_ref().map(|kept| &kept.text),
            )
        };
        if let Some(same) = kept.into_iter().find(is_same) {
            self.known.push(same.name.clone());
            return;
        }
        let free = free_test_name(library, &self.site_id, &test.name);
        let names_no_readings = lineup::lineup(&test.head_text)
            .is_ok_and(|head| head.readings.is_none() && test.readings.is_some());
        let is_file_taken = test.readings.as_ref().is_some_and(|own| {
            let tests = library.tests_of(&self.site_id);
            let mut files = tests.iter().filter_map(|other| other.readings.as_ref());
            files.any(|other| same(&other.file, &own.file))
        });
        if free != test.name || names_no_readings || is_file_taken {
            (test.head_text, test.readings) = renamed(&test, &free);
        }
        if free != name {
            self.renamed.push(Renamed {
                from: name.to_owned(),
                to: free.clone(),
            });
        }
        test.name = free;
        library.tests.push(test.clone());
        self.tests.push(test);
    }
}
