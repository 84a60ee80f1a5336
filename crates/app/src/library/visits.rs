//! The visits to a site, in the order of time: when, at which speeds, how far each got, and what was found.

use super::{Id, Library, SiteRecord, TestRecord};
use crate::draft::{TestDraft, speeds_of};
use crate::lineup::lineup;
use crate::verdict::{State, Verdict, judged};
use document::units::Printing;
use records::{UnitSystem, read_site};

/// How far a visit got.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum VisitState {
    /// Nothing is read yet.
    Empty,
    /// It is still being done.
    Open,
    /// It is done.
    Done,
}

/// A visit.
#[derive(Clone, Debug, PartialEq)]
pub struct Visit {
    /// Its test.
    pub id: Id,
    /// What the test is called.
    pub name: String,
    /// The day and the time of day as the test file states them; the day is its name's where the file states none.
    pub when: Option<When>,
    /// How many rows are read.
    pub rows: usize,
    /// The lowest and the highest speed, rpm.
    pub speeds_rpm: Option<(f64, f64)>,
    /// How far it got.
    pub state: VisitState,
    /// Whether the others are held against it.
    pub is_baseline: bool,
    /// Whether its texts are a table that a screen can show.
    pub is_table: bool,
}

/// When a visit was.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct When {
    /// Such as `2026-05-16`.
    pub day: String,
    /// Such as `09:30`.
    pub time: Option<String>,
}

/// Finds the test that the others are held against: the one that the person named, else the earliest. With one test there
/// is nothing to hold against another.
pub fn baseline<'l>(library: &'l Library, site: &SiteRecord) -> Option<&'l TestRecord> {
    let mut tests = in_time_order(library, &site.id);
    if tests.len() < 2 {
        return None;
    }
    let named = site.care.baseline.as_ref();
    let at = named.and_then(|id| tests.iter().position(|(_, test)| test.id == *id));
    Some(tests.swap_remove(at.unwrap_or(0)).1)
}

fn in_time_order<'l>(library: &'l Library, site: &Id) -> Vec<(Option<When>, &'l TestRecord)> {
    let tests = library.tests_of(site).into_iter();
    let mut tests: Vec<_> = tests.map(|test| (when(test), test)).collect();
    // What states no day stands behind, by its name.
    tests.sort_by(|(a, one), (b, other)| {
        let key = |when: &Option<When>| (when.is_none(), when.clone());
        key(a).cmp(&key(b)).then_with(|| one.name.cmp(&other.name))
    });
    tests
}

fn when(test: &TestRecord) -> Option<When> {
    let stated = lineup(&test.head_text).ok().and_then(|head| head.date);
    if let Some(stated) = stated {
        let (day, time) = stated.split_once(['T', ' ']).unwrap_or((&stated, ""));
        let time: String = time.chars().take(5).collect();
        return Some(When {
            day: day.to_owned(),
            time: (!time.is_empty()).then_some(time),
        });
    }
    let day: String = test.name.chars().take(10).collect();
    super::is_day(&day).then_some(When { day, time: None })
}

/// Lists the visits to a site, the first one first.
pub fn visits(library: &Library, site: &SiteRecord) -> Vec<Visit> {
    let baseline = baseline(library, site).map(|test| &test.id);
    let visit = |(when, test): (Option<When>, &TestRecord)| {
        let draft = test.draft();
        let is_table = draft.is_ok();
        let (rows, speeds_rpm) = draft.map_or((0, None), |draft| of_readings(&draft));
        let state = match (test.open, rows) {
            (true, 0) => VisitState::Empty,
            (true, _) => VisitState::Open,
            (false, _) => VisitState::Done,
        };
        Visit {
            id: test.id.clone(),
            name: test.name.clone(),
            when,
            rows,
            speeds_rpm,
            state,
            is_baseline: baseline == Some(&test.id),
            is_table,
        }
    };
    let tests = in_time_order(library, &site.id);
    tests.into_iter().map(visit).collect()
}

/// How many rows hold a reading, and between which speeds the pump ran.
fn of_readings(draft: &TestDraft) -> (usize, Option<(f64, f64)>) {
    let is_read = |cells: &[String]| cells.iter().any(|cell| !cell.trim().is_empty());
    let rows = draft.rows.iter().filter(|row| is_read(&row.cells)).count();
    let mut read = draft.clone();
    read.rows.retain(|row| is_read(&row.cells));
    let running = speeds_of(&read).into_iter().filter(|speed| *speed > 0.0);
    let ends = running.fold(None, |ends: Option<(f64, f64)>, speed| {
        let (low, high) = ends.unwrap_or((speed, speed));
        Some((low.min(speed), high.max(speed)))
    });
    (rows, ends)
}

/// What was found at a visit, as a small mark shows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Found {
    /// Every reading fits.
    Fits,
    /// Readings are in doubt.
    Doubts {
        /// How many.
        readings: usize,
    },
    /// Nothing can be said: nothing is read, or a text must be mended first.
    Nothing,
}

/// Says what was found at a visit. This asks the engine.
pub fn found_in(site: &SiteRecord, test: &TestRecord) -> Found {
    let Ok(parsed) = read_site(&site.source()) else {
        return Found::Nothing;
    };
    let Ok(draft) = test.draft() else {
        return Found::Nothing;
    };
    let printing = Printing::english(UnitSystem::default());
    let verdicts = judged(&parsed, &draft, printing).verdicts;
    let of_rows = verdicts
        .rows
        .iter()
        .flat_map(|row| row.cells.iter().chain([&row.speed]));
    let is_read = of_rows.clone().any(|verdict| verdict.state != State::Empty);
    if !verdicts.problems.is_empty() || !is_read {
        return Found::Nothing;
    }
    let is_open = |verdict: &&Verdict| {
        !matches!(verdict.state, State::Empty | State::Fine)
            && verdict.ruling != Some(records::Verdict::Drop)
    };
    match of_rows.filter(is_open).count() {
        0 => Found::Fits,
        readings => Found::Doubts { readings },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::library::{KeptReadings, Moment};

    fn library() -> Library {
        let pad = crate::demo::pad();
        let site = SiteRecord::new(Id("s".to_owned()), pad.site.text, Moment(0));
        let tests = pad.tests.into_iter().map(|files| {
            let name = files.test.name.trim_end_matches(".toml").to_owned();
            TestRecord {
                id: Id(name.clone()),
                site_id: site.id.clone(),
                name,
                head_text: files.test.text,
                readings: files.readings.map(|source| KeptReadings {
                    file: source.name,
                    text: source.text,
                }),
                changed: Moment(0),
                revision: super::super::Revision::default(),
                open: false,
                deleted: None,
            }
        });
        Library {
            tests: tests.collect(),
            sites: vec![site],
            ..Library::default()
        }
    }

    #[test]
    fn visits_stand_in_the_order_of_time_whatever_they_are_called() {
        let mut library = library();
        library.tests[0].name = "zz".to_owned();
        let visits = visits(&library, &library.sites[0]);
        let days: Vec<&str> = visits
            .iter()
            .map(|visit| visit.when.as_ref().unwrap().day.as_str())
            .collect();
        assert_eq!(days, ["2026-05-16", "2026-06-02"]);
        assert!(visits[0].is_baseline && !visits[1].is_baseline);
        assert_eq!(visits[1].rows, 12);
        assert_eq!(visits[1].speeds_rpm, Some((600.0, 3450.0)));
        assert_eq!(
            visits[1].when.as_ref().unwrap().time.as_deref(),
            Some("14:10")
        );
    }

    #[test]
    fn a_person_names_the_baseline_and_one_visit_has_none() {
        let mut library = library();
        library.sites[0].care.baseline = Some(Id("2026-06-02".to_owned()));
        let named = baseline(&library, &library.sites[0]).unwrap();
        assert_eq!(named.name, "2026-06-02");
        // A test that is gone is none that others are held against.
        library.sites[0].care.baseline = Some(Id("gone".to_owned()));
        let first = baseline(&library, &library.sites[0]).unwrap();
        assert_eq!(first.name, "2026-05-16");
        library.tests.truncate(1);
        assert_eq!(baseline(&library, &library.sites[0]), None);
    }

    #[test]
    fn the_slips_of_the_second_visit_are_found() {
        let library = library();
        let (site, [first, second]) = (&library.sites[0], library.tests.as_slice()) else {
            panic!("two tests");
        };
        assert_eq!(found_in(site, first), Found::Fits);
        assert_eq!(found_in(site, second), Found::Doubts { readings: 3 });
        let empty = TestRecord {
            readings: None,
            head_text: String::new(),
            ..first.clone()
        };
        assert_eq!(found_in(site, &empty), Found::Nothing);
    }
}
