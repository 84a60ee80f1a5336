//! The way to the first own test: five steps, where on it the person is, and what comes next.
//!
//! It is read from what is kept, so that nothing has to be remembered: the invented pad does not count.

use crate::library::{Id, Library, SiteRecord, TestRecord};

/// The id of the pad that the page carries; what is done at it is play.
pub const DEMO: &str = "demo";
/// Steps after which the readings give laws to speak of: fewer speeds are answered, but with wide intervals.
pub const ENOUGH_STEPS: usize = 5;

/// A step of the way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Step {
    /// Make a site.
    Site,
    /// Start a test there.
    Test,
    /// Read the first speed.
    Read,
    /// Step on, to enough speeds.
    StepOn,
    /// End the test and read what it says.
    Result,
}

impl Step {
    /// All of them, in their order.
    pub const ALL: [Self; 5] = [
        Self::Site,
        Self::Test,
        Self::Read,
        Self::StepOn,
        Self::Result,
    ];
}

/// Where on the way a person is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    /// What comes next.
    pub next: Step,
    /// The site that it is done at, once there is one.
    pub site: Option<Id>,
    /// The test, once there is one.
    pub test: Option<Id>,
    /// Speeds that are still to be read.
    pub speeds_left: usize,
}

/// Says where on the way a person is; `None` once a test of their own has come to its end.
pub fn way(library: &Library) -> Option<Way> {
    let is_own = |site: &&SiteRecord| site.deleted.is_none() && site.id.0 != DEMO;
    let sites: Vec<&SiteRecord> = library.sites.iter().filter(is_own).collect();
    let mut tests: Vec<(&TestRecord, usize)> = Vec::new();
    for test in &library.tests {
        let is_at_own = sites.iter().any(|site| site.id == test.site_id);
        if is_at_own && test.deleted.is_none() {
            if !test.open {
                return None;
            }
            tests.push((test, speeds_read(test)));
        }
    }
    // Who has made sites and tests already needs no path, and it costs nothing to say so.
    let Some(site) = sites.first() else {
        return Some(Way {
            next: Step::Site,
            site: None,
            test: None,
            speeds_left: ENOUGH_STEPS,
        });
    };
    let furthest = tests.into_iter().max_by_key(|(_, speeds)| *speeds);
    let next = match furthest {
        None => Step::Test,
        Some((_, 0)) => Step::Read,
        Some((_, speeds)) if speeds < ENOUGH_STEPS => Step::StepOn,
        Some(_) => Step::Result,
    };
    Some(Way {
        next,
        site: Some(furthest.map_or(&site.id, |(test, _)| &test.site_id).clone()),
        test: furthest.map(|(test, _)| test.id.clone()),
        speeds_left: ENOUGH_STEPS.saturating_sub(furthest.map_or(0, |(_, speeds)| speeds)),
    })
}

/// How many running speeds of a test hold a reading.
fn speeds_read(test: &TestRecord) -> usize {
    let Ok(mut draft) = test.draft() else {
        return 0;
    };
    draft
        .rows
        .retain(|row| row.cells.iter().any(|cell| !cell.trim().is_empty()));
    let mut speeds = crate::draft::speeds_of(&draft);
    speeds.retain(|speed| *speed > 0.0);
    speeds.sort_by(f64::total_cmp);
    speeds.dedup();
    speeds.len()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draft::TestDraft;
    use crate::library::Moment;
    use records::{UnitSystem, read_site};

    fn site(id: &str) -> SiteRecord {
        let text = "format = 1\nname = \"A\"\n[pump]\nspeed = { max = \"3450 rpm\" }\n";
        SiteRecord::new(Id(id.to_owned()), text.to_owned(), Moment(0))
    }

    /// A test with as many speeds read.
    fn test(site: &SiteRecord, speeds: usize) -> TestRecord {
        let parsed = read_site(&site.source()).unwrap();
        let mut draft = TestDraft::new("2026-11-28", &parsed, UnitSystem::Us);
        for speed in 0..=speeds {
            let edit = crate::draft::Edit::AddRow {
                speed: format!("{}", 1000 + 100 * speed),
            };
            draft = draft.edited(&edit).unwrap();
        }
        for row in 0..speeds {
            draft.rows[row].cells[0] = "40".to_owned();
        }
        TestRecord::new(Id(format!("t{speeds}")), site.id.clone(), &draft, Moment(0))
    }

    fn next(sites: &[SiteRecord], tests: &[TestRecord]) -> Option<(Step, usize)> {
        let library = Library {
            sites: sites.to_vec(),
            tests: tests.to_vec(),
            ..Library::default()
        };
        way(&library).map(|way| (way.next, way.speeds_left))
    }

    #[test]
    fn each_step_follows_from_what_is_kept() {
        let own = site("a");
        let sites = std::slice::from_ref(&own);
        assert_eq!(next(&[], &[]), Some((Step::Site, 5)));
        assert_eq!(next(&[site(DEMO)], &[]), Some((Step::Site, 5)));
        assert_eq!(next(sites, &[]), Some((Step::Test, 5)));
        for (speeds, expected) in [
            (0, (Step::Read, 5)),
            (1, (Step::StepOn, 4)),
            (4, (Step::StepOn, 1)),
            (5, (Step::Result, 0)),
        ] {
            assert_eq!(next(sites, &[test(&own, speeds)]), Some(expected));
        }
        let done = TestRecord {
            open: false,
            ..test(&own, 5)
        };
        assert_eq!(next(sites, &[done]), None);
    }

    #[test]
    fn a_test_at_the_invented_pad_is_play() {
        let demo = site(DEMO);
        let done = TestRecord {
            open: false,
            ..test(&demo, 5)
        };
        assert_eq!(next(&[demo], &[done]), Some((Step::Site, 5)));
    }
}
