//! When a person is quietly reminded that a site has never left the device, or not for long: phones fall into pools.

use crate::library::{Id, Library, Moment};

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

/// Whether to remind of a site.
///
/// # Inputs
/// What is kept; the site; how it last left the device, where it ever did; the moment.
pub fn is_due(library: &Library, site: &Id, last: Option<LastExport>, now: Moment) -> bool {
    let Some(record) = library.site(site) else {
        return false;
    };
    let tests = library.tests_of(site);
    let changes = tests.iter().map(|test| test.changed);
    let changed = changes.fold(record.changed, Moment::max);
    let since = last.map_or(record.created, |last| last.moment);
    let is_changed = last.is_none_or(|last| changed > last.moment);
    let known = last.map_or(0, |last| last.tests);
    let is_old = now.0.saturating_sub(since.0) >= LONG_MS;
    is_changed && (is_old || tests.len() >= known + MANY_TESTS)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::library::{Revision, SiteRecord, TestRecord};

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
            assert_eq!(
                is_due(&library(tests), &id(), last, now),
                due,
                "{tests} {last:?} {day}"
            );
        }
        assert!(!is_due(
            &library(9),
            &Id("b".to_owned()),
            None,
            Moment(99 * DAY_MS)
        ));
    }
}
