//! The reports that are tested and timed: an example's visit, composed as the command composes it. Here, in the benchmark beside,
//! and in the tests of the browser.

#![allow(
    clippy::unwrap_used,
    dead_code,
    reason = "what is missing stops a test, and each that takes this in needs a part of it"
)]

use document::report::{Letterhead, More, Report, Subject, report};
use document::units::Printing;
use operation::Asked;
use records::{CalendarDay, Profile, Source, TestFiles, read_pad};
use std::fs;
use std::path::Path;

/// A visit of an example: the folder and the tests.
pub(crate) const VISIT: (&str, &[&str]) = ("larkspur-lane", &["2026-06-02"]);

/// Reads an example as a command would, its site file changed on the way.
pub(crate) fn composed(
    (name, tests): (&str, &[&str]),
    change: impl Fn(&str) -> String,
    letterhead: Letterhead,
) -> Report {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../examples")
        .join(name);
    let source = |name: &str| Source {
        name: name.to_owned(),
        text: fs::read_to_string(folder.join(name)).unwrap(),
    };
    let mut site = source("site.toml");
    site.text = change(&site.text);
    let tests = tests.iter().map(|test| TestFiles {
        test: source(&format!("{test}.toml")),
        readings: Some(source(&format!("{test}.csv"))),
    });
    let (site, tests) = read_pad(&site, &tests.collect::<Vec<_>>()).unwrap();
    let mut analysis = fieldtest::analyze(&site, &tests);
    let top = analysis
        .tests
        .last()
        .unwrap()
        .steps
        .last()
        .unwrap()
        .speed_rpm;
    let calibration = fieldtest::calibrate(&site, &tests, &analysis, top).ok();
    if let Some(calibration) = &calibration {
        analysis.add_findings(calibration.findings.clone());
    }
    let plan = operation::plan(&site, &analysis, &Asked::default());
    let subject = Subject {
        site: &site,
        tests: &tests,
        analysis: &analysis,
        plan: plan.as_ref(),
        calibration: calibration.as_ref(),
        more: &More::default(),
        printing: Printing {
            system: site.units.unwrap_or_default(),
            language: letterhead.profile.language.unwrap_or_default(),
        },
    };
    report(&subject, letterhead)
}

/// Nobody's letterhead, on the day of the reports.
pub(crate) fn unheaded() -> Letterhead {
    Letterhead {
        profile: Profile::default(),
        logo: None,
        date: CalendarDay {
            year: Some(2026),
            month: 11,
            day: 28,
        },
    }
}
