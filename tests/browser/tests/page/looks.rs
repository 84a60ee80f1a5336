//! Every screen in every size and colour: nothing sticks out, and nobody is kept out.

use crate::steps::{DEMO_RESULT, at_sites, go, open_demo};
use browser::{Browser, Kind, Screen, Served, page};

/// The smallest phone that is thought of.
pub(crate) const SMALL: Screen = Screen {
    name: "small",
    width: 360,
    height: 780,
    kind: Kind::Phone,
};
/// A tablet held upright.
pub(crate) const TABLET: Screen = Screen {
    name: "tablet",
    width: 820,
    height: 1180,
    kind: Kind::Phone,
};
/// The colours, as the page's root names them.
pub(crate) const THEMES: [&str; 3] = ["light", "dark", "sun"];
/// The screens with the demo in the library, and what is there once each is shown.
pub(crate) const SCREENS: [(&str, &str, &str); 8] = [
    ("sites", "#sites", ".cards"),
    ("new-site", "#new-site", "#site-name"),
    ("site", "#site/demo", ".answers"),
    ("edit", "#edit/demo", "textarea"),
    ("test", "#test/demo-2026-06-02", "#reading-0"),
    ("result", DEMO_RESULT, ".figure svg"),
    ("settings", "#settings", "fieldset"),
    ("help", "#help", "main ul"),
];

/// Holds a screen to what every screen must be.
pub(crate) fn is_for_everybody(browser: &Browser, name: &str, theme: &str) {
    browser.picture(&format!("{name}-{theme}"));
    // What stands at the foot of the window covers nothing once the end of the screen is reached.
    browser.run("scrollTo(0, document.documentElement.scrollHeight);");
    assert_eq!(browser.violations(), [], "{name}, {theme}");
    let sticks_out = "document.scrollingElement.scrollWidth > innerWidth";
    assert!(
        !browser.holds(sticks_out),
        "{name}, {theme}: wider than the screen"
    );
    let small = browser.run(
        "return [...document.querySelectorAll('main button, main select, main input:not([type=checkbox]):not([type=radio]), nav button')]\
           .filter((one) => one.getClientRects().length && !one.closest('.unseen'))\
           .filter((one) => { const box = one.getBoundingClientRect(); return box.height < 47.5 || box.width < 47.5; })\
           .map((one) => one.outerHTML.slice(0, 120));",
    );
    assert_eq!(
        small,
        serde_json::json!([]),
        "{name}, {theme}: too small to be touched"
    );
}

pub(crate) fn paint(browser: &Browser, theme: &str) {
    browser.run(&format!(
        "document.documentElement.dataset.theme = {theme:?};"
    ));
}

fn every_screen_on(screen: Screen) {
    let served = Served::start(page());
    let browser = Browser::start(screen);
    browser.open(served.address());
    at_sites(&browser);
    for theme in THEMES {
        paint(&browser, theme);
        is_for_everybody(&browser, "empty", theme);
    }
    open_demo(&browser);
    for (name, fragment, there) in SCREENS {
        go(&browser, fragment, there);
        for theme in THEMES {
            paint(&browser, theme);
            is_for_everybody(&browser, name, theme);
        }
    }
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn every_screen_is_for_everybody_on_a_small_phone() {
    every_screen_on(SMALL);
}

#[test]
fn every_screen_is_for_everybody_on_a_phone() {
    every_screen_on(Screen::PHONE);
}

#[test]
fn every_screen_is_for_everybody_on_a_tablet() {
    every_screen_on(TABLET);
}

#[test]
fn every_screen_is_for_everybody_on_a_desk() {
    every_screen_on(Screen::DESK);
}

#[test]
fn the_stages_of_a_test_are_for_everybody() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    crate::steps::new_site(&browser, "Quarry Road");
    browser.press("main button", "New test");
    for (stage, there, on) in [
        ("cautions", ".cautions", "I have read them"),
        ("lineup", "#water-temperature", "To the steps"),
        ("first-step", "#reading-0", "End the test"),
        ("ending", "main [type=checkbox]", "To the result"),
    ] {
        browser.wait_until(&format!("document.querySelector({there:?})"), stage);
        for theme in THEMES {
            paint(&browser, theme);
            is_for_everybody(&browser, stage, theme);
        }
        browser.press("main button", on);
    }
}

#[test]
fn a_plan_what_comes_next_and_a_word_explained_are_for_everybody() {
    let served = Served::start(page());
    let browser = Browser::start(SMALL);
    browser.open(served.address());
    open_demo(&browser);
    let in_every_theme = |name: &str| {
        for theme in THEMES {
            paint(&browser, theme);
            is_for_everybody(&browser, name, theme);
        }
    };
    let look_at = |selector: &str| {
        browser.run(&format!(
            "document.querySelector({selector:?}).scrollIntoView();"
        ));
    };
    go(&browser, "#test/demo-2026-06-02", "#reading-0");
    browser.run("document.querySelector('.plan summary').click();");
    browser.press(".plan button", "Make the plan");
    browser.wait_until("document.querySelector('.plan .bands li')", "the plan");
    look_at(".plan");
    in_every_theme("plan");
    // Speeds that are read are ticked by their readings; a person ticks the others, and both are kept.
    let ticked = "document.querySelectorAll('.plan [type=checkbox]:checked').length";
    let before = browser.run(&format!("return {ticked};")).as_u64().unwrap();
    assert!(before > 0, "the pump at rest is read");
    browser.run("document.querySelector('.plan .ticks [type=checkbox]').click();");
    browser.load_again();
    browser.wait_until(
        "document.querySelector('.plan .bands li')",
        "the plan again",
    );
    browser.wait_until(&format!("{ticked} === {}", before + 1), "the ticks again");
    browser.run("document.querySelector('.next-reading summary').click();");
    browser.wait_until(
        "document.querySelector('.next-reading h3')",
        "what to read next",
    );
    look_at(".next-reading");
    in_every_theme("next");
    browser.press("main button", "Line-up");
    browser.wait_until("document.querySelector('.hint')", "a word to be explained");
    browser.run("document.querySelector('.with-unit .hint summary').click();");
    look_at(".hint[open]");
    in_every_theme("hint");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn colours_and_units_work_at_once_and_are_kept() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    open_demo(&browser);
    go(&browser, "#settings", "fieldset");
    browser.press("label", "Full sun");
    browser.wait_until(
        "document.documentElement.dataset.theme === 'sun'",
        "full sun",
    );
    browser.press("label", "m³/h, m, kPa");
    go(&browser, DEMO_RESULT, ".answers");
    assert!(browser.text(".answers").unwrap().contains("m³/h"));
    // Until the store has it, a reload would not.
    std::thread::sleep(std::time::Duration::from_millis(300));
    browser.load_again();
    browser.wait_until("document.querySelector('.answers')", "the answer");
    assert!(browser.holds("document.documentElement.dataset.theme === 'sun'"));
    assert!(browser.text(".answers").unwrap().contains("m³/h"));
}
