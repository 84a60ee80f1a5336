//! The report that is handed over, opened from a file as who is handed it opens it.

use browser::{Browser, Scheme, Screen, folders};
use document::html;
use document::report::{Letterhead, More, Paper, Report, Subject, report};
use document::units::Printing;
use operation::Asked;
use records::{CalendarDay, Profile, Source, TestFiles, read_pad};
use std::fs;
use std::path::Path;

/// Composes the report of the visit with three faults, under a letterhead.
fn composed() -> Report {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/larkspur-lane");
    let source = |name: &str| Source {
        name: name.to_owned(),
        text: fs::read_to_string(folder.join(name)).unwrap(),
    };
    let files = TestFiles {
        test: source("2026-06-02.toml"),
        readings: Some(source("2026-06-02.csv")),
    };
    let (site, tests) = read_pad(&source("site.toml"), &[files]).unwrap();
    let analysis = fieldtest::analyze(&site, &tests);
    let calibration = fieldtest::calibrate(&site, &tests, &analysis, 3450.0).ok();
    let plan = operation::plan(&site, &analysis, &Asked::default());
    let subject = Subject {
        site: &site,
        tests: &tests,
        analysis: &analysis,
        plan: plan.as_ref(),
        calibration: calibration.as_ref(),
        more: &More::default(),
        printing: Printing::english(site.units.unwrap_or_default()),
    };
    let letterhead = Letterhead {
        profile: Profile {
            business: Some("An invented business".to_owned()),
            contact: vec!["1 Example Road".to_owned()],
            ..Profile::default()
        },
        logo: None,
        date: CalendarDay {
            year: Some(2026),
            month: 11,
            day: 28,
        },
    };
    report(&subject, letterhead)
}

/// Writes the report to a file and gives its address.
fn address(name: &str) -> String {
    let path = folders::pictures().join(format!("report-{name}.html"));
    fs::write(&path, html::page(&composed(), Paper::Letter)).unwrap();
    format!("file://{}", path.display())
}

fn is_for_everybody_on(screen: Screen) {
    let browser = Browser::start(screen);
    browser.open(&address(screen.name));
    for scheme in [Scheme::Light, Scheme::Dark] {
        browser.like(scheme);
        browser.picture(&format!("report-{}", scheme.word()));
        assert_eq!(browser.violations(), [], "{scheme:?}");
        let sticks_out = "document.scrollingElement.scrollWidth > innerWidth";
        assert!(
            !browser.holds(sticks_out),
            "{scheme:?}: wider than the screen"
        );
    }
    // Its own policy stands in the way of nothing that it does.
    assert_eq!(browser.complaints(), Vec::<String>::new());
    let asked: Vec<String> = browser.requests();
    let elsewhere = asked.iter().filter(|address| !address.starts_with("file:"));
    assert_eq!(elsewhere.count(), 0, "{asked:?}");
}

#[test]
fn the_report_is_for_everybody_on_a_phone() {
    is_for_everybody_on(Screen::PHONE);
}

#[test]
fn the_report_is_for_everybody_on_a_desk() {
    is_for_everybody_on(Screen::DESK);
}

#[test]
fn a_mark_that_is_touched_is_told() {
    let browser = Browser::start(Screen::PHONE);
    browser.open(&address("touched"));
    let touched = browser.run(
        "const mark = [...document.querySelectorAll('.narrow circle')].find((one) => one.querySelector('title'));\
         mark.scrollIntoView({ block: 'center' });\
         const box = mark.getBoundingClientRect();\
         const place = { clientX: box.x + 2, clientY: box.y + 2, bubbles: true };\
         mark.dispatchEvent(new PointerEvent('click', place));\
         const says = mark.closest('figure').querySelector('.told').innerText;\
         return [says, mark.querySelector('title').textContent];",
    );
    assert_eq!(touched[0], touched[1]);
    assert!(touched[0].as_str().unwrap().contains(" at "), "{touched}");
}
