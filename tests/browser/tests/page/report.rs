//! The report that is handed over, opened from a file as who is handed it opens it.

use crate::composed::{VISIT, composed, unheaded};
use browser::{Browser, Scheme, Screen, folders};
use document::html;
use document::report::{Letterhead, Paper, Report};
use records::Profile;
use std::fs;

/// The report of the visit with three faults, under a letterhead.
fn headed() -> Report {
    let profile = Profile {
        business: Some("An invented business".to_owned()),
        contact: vec!["1 Example Road".to_owned()],
        ..Profile::default()
    };
    let letterhead = Letterhead {
        profile,
        ..unheaded()
    };
    composed(VISIT, str::to_owned, letterhead)
}

/// Writes the report to a file and gives its address.
fn address(name: &str) -> String {
    let path = folders::pictures().join(format!("report-{name}.html"));
    fs::write(&path, html::page(&headed(), Paper::Letter)).unwrap();
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
