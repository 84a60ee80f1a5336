//! What lists show of a test. It is kept in a small record beside the test's own, so that a list of thousands reads no texts; a
//! test that is not loaded is known by it alone, and only what is loaded can be changed.

use super::{Id, Library, Moment, Revision, TestRecord};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What lists show of a test.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TestEntry {
    /// Which one.
    pub id: Id,
    /// The site that it was done at.
    pub site_id: Id,
    /// The stem of its files' names.
    pub name: String,
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

impl TestEntry {
    /// The entry of a test.
    pub fn of(test: &TestRecord) -> Self {
        Self {
            id: test.id.clone(),
            site_id: test.site_id.clone(),
            name: test.name.clone(),
            changed: test.changed,
            revision: test.revision,
            open: test.open,
            deleted: test.deleted,
        }
    }
}

/// A test in a list, loaded or not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Head<'l> {
    /// The site that it was done at.
    pub site_id: &'l Id,
    /// The stem of its files' names.
    pub name: &'l str,
    /// When it was changed last.
    pub changed: Moment,
    /// Whether it is still being done.
    pub open: bool,
    /// When it was deleted.
    pub deleted: Option<Moment>,
}

impl Library {
    /// Lists every test, those that are not loaded too.
    pub fn heads(&self) -> Vec<Head<'_>> {
        let mut heads = Vec::with_capacity(self.tests.len() + self.unread.len());
        heads.extend(self.tests.iter().map(|test| Head {
            site_id: &test.site_id,
            name: &test.name,
            changed: test.changed,
            open: test.open,
            deleted: test.deleted,
        }));
        heads.extend(self.unread.iter().map(|entry| Head {
            site_id: &entry.site_id,
            name: &entry.name,
            changed: entry.changed,
            open: entry.open,
            deleted: entry.deleted,
        }));
        heads
    }

    /// The site of a test, loaded or not.
    pub fn site_of(&self, test: &Id) -> Option<&Id> {
        let loaded = self.tests.iter().find(|known| known.id == *test);
        let unread = || self.unread.iter().find(|known| known.id == *test);
        loaded
            .map(|test| &test.site_id)
            .or_else(|| unread().map(|entry| &entry.site_id))
    }

    /// Lists the tests of a site that are still to be loaded; of every site where none is named.
    pub fn unread_of(&self, site: Option<&Id>) -> Vec<Id> {
        let of_site = self
            .unread
            .iter()
            .filter(|entry| site.is_none_or(|site| entry.site_id == *site));
        of_site.map(|entry| entry.id.clone()).collect()
    }

    /// Takes tests that were loaded in place of their entries, and says which it took: what was loaded already stays as it is,
    /// for it may have been changed since. Of those asked for, what did not come is listed no more.
    pub fn take_loaded(&mut self, asked: &[Id], loaded: Vec<TestRecord>) -> Vec<Taken> {
        let mut left: BTreeMap<Id, Option<TestRecord>> =
            asked.iter().map(|id| (id.clone(), None)).collect();
        for test in loaded {
            left.insert(test.id.clone(), Some(test));
        }
        let mut taken = Vec::new();
        let (tests, unread) = (&mut self.tests, &mut self.unread);
        unread.retain(|entry| match left.remove(&entry.id) {
            None => true,
            Some(test) => {
                if let Some(test) = test {
                    taken.push(Taken {
                        id: test.id.clone(),
                        revision: test.revision,
                        was_stale: *entry != TestEntry::of(&test),
                    });
                    tests.push(test);
                }
                false
            }
        });
        taken
    }
}

/// A test that was loaded in place of its entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Taken {
    /// Which one.
    pub id: Id,
    /// How often it was written.
    pub revision: Revision,
    /// Whether its entry said something else.
    pub was_stale: bool,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn test(id: &str, name: &str) -> TestRecord {
        TestRecord {
            id: Id(id.to_owned()),
            site_id: Id("s".to_owned()),
            name: name.to_owned(),
            head_text: "format = 1\n".to_owned(),
            readings: None,
            changed: Moment(3),
            revision: Revision(2),
            open: false,
            deleted: None,
        }
    }

    fn library(loaded: &[TestRecord], unread: &[TestRecord]) -> Library {
        Library {
            tests: loaded.to_vec(),
            unread: unread.iter().map(TestEntry::of).collect(),
            ..Library::default()
        }
    }

    #[test]
    fn a_list_shows_the_same_whether_tests_are_loaded_or_not() {
        let (a, b) = (test("a", "2026-05-16"), test("b", "2026-06-02"));
        let all = library(&[a.clone(), b.clone()], &[]);
        let some = library(std::slice::from_ref(&a), &[b]);
        assert_eq!(all.heads(), some.heads());
        assert_eq!(some.site_of(&Id("b".to_owned())), Some(&a.site_id));
        assert_eq!(some.unread_of(Some(&a.site_id)), [Id("b".to_owned())]);
        assert_eq!(all.unread_of(None), []);
    }

    #[test]
    fn what_was_changed_since_it_was_asked_for_is_not_overwritten() {
        let entries = [test("a", "one"), test("b", "old"), test("c", "three")];
        let mut library = library(&[], &entries);
        let asked = library.unread_of(None);
        let loaded = vec![test("a", "one"), test("b", "two")];
        let taken = library.take_loaded(&asked, loaded.clone());
        let stale: Vec<bool> = taken.iter().map(|taken| taken.was_stale).collect();
        assert_eq!(stale, [false, true]);
        // The third could not be read.
        assert_eq!((library.tests.len(), library.unread.len()), (2, 0));
        library.tests[0].name = "typed since".to_owned();
        assert_eq!(library.take_loaded(&asked, loaded), []);
        assert_eq!(library.tests[0].name, "typed since");
    }
}
