//! When a person is quietly reminded that a site has never left the device, or not for long: phones fall into pools.

use crate::library::{Id, Library, Moment, SiteRecord};
use std::collections::BTreeMap;

/// How a site last left the device.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct LastExport {
    /// When.
    pub moment: Moment,
    /// How many tests went with it.
    pub tests: usize,
}

/// Milliseconds after which changes that are nowhere else are worth a word: 7 days.
const LONG_MS: u64 = 7 * 24 * 60 * 60 * 1000;
/// Tests that are nowhere else and worth a word.
const MANY_TESTS: usize = 3;

/// Lists the sites to remind of.
///
/// # Inputs
/// What is kept; how a site last left the device, where it ever did; the moment.
pub fn due_sites(
    library: &Library,
    last: impl Fn(&Id) -> Option<LastExport>,
    now: Moment,
) -> Vec<&SiteRecord> {
    let mut tests: BTreeMap<&Id, (usize, Moment)> = BTreeMap::new();
    for test in library.tests.iter().filter(|test| test.deleted.is_none()) {
        let (count, changed) = tests.entry(&test.site_id).or_default();
        *count += 1;
        *changed = (*changed).max(test.changed);
    }
    let is_due = |site: &&SiteRecord| {
        let (count, changed) = tests.get(&site.id).copied().unwrap_or_default();
        let changed = changed.max(site.changed);
        let last = last(&site.id);
        let since = last.map_or(site.created, |last| last.moment);
        let is_changed = last.is_none_or(|last| changed > last.moment);
        let known = last.map_or(0, |last| last.tests);
        let is_old = now.0.saturating_sub(since.0) >= LONG_MS;
        is_changed && (is_old || count >= known + MANY_TESTS)
    };
    let kept = library.sites.iter().filter(|site| site.deleted.is_none());
    kept.filter(is_due).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::library::{Revision, TestRecord};

    const DAY_MS: u64 = LONG_MS / 7;

    fn id() -> Id {
        Id("a".to_owned())
    }

    fn library(tests: usize) -> Library {
        let site = SiteRecord {
            id: id(),
            name: "A".to_owned(),
            text: String::new(),
            created: Moment(0),
            changed: Moment(0),
            revision: Revision::default(),
            deleted: None,
            care: crate::library::Care::default(),
        };
        let test = |number: usize| TestRecord {
            id: Id(number.to_string()),
            site_id: id(),
            name: number.to_string(),
            head_text: String::new(),
            readings: None,
            changed: Moment(DAY_MS),
            revision: Revision::default(),
            open: false,
            deleted: None,
        };
        Library {
            sites: vec![site],
            tests: (0..tests).map(test).collect(),
            ..Library::default()
        }
    }

    #[test]
    fn a_week_or_three_tests_and_no_sooner() {
        let exported = |day: u64, tests| {
            Some(LastExport {
                moment: Moment(day * DAY_MS),
                tests,
            })
        };
        for (tests, last, day, due) in [
            (1, None, 6, false),
            (1, None, 7, true),
            (2, None, 1, false),
            (3, None, 1, true),
            (1, exported(2, 1), 30, false),
            (4, exported(0, 1), 2, true),
            (3, exported(0, 1), 2, false),
            (3, exported(0, 1), 7, true),
        ] {
            let now = Moment(day * DAY_MS);
            let library = library(tests);
            let found = due_sites(&library, |_| last, now);
            assert_eq!(!found.is_empty(), due, "{tests} {last:?} {day}");
        }
        let mut gone = library(9);
        gone.sites[0].deleted = Some(Moment(1));
        assert!(due_sites(&gone, |_| None, Moment(99 * DAY_MS)).is_empty());
    }
}
