//! The views of a result: where the head is lost, the day, what if, and what changed since the baseline.

use crate::answer::of_command;
use crate::looks::{SMALL, TABLET, THEMES, is_for_everybody, paint};
use crate::steps::{DEMO_RESULT, fill, go, open_demo};
use browser::{Browser, Screen, Served, page};

/// Each view by the end of its names, and what is there once it is worked out.
pub(crate) const VIEWS: [(&str, &str); 4] = [
    ("lost", "#view-lost .shares"),
    ("day", "#view-day .figure svg"),
    ("what-if", "#view-what-if .verdict-now .answers"),
    ("since", "#view-since .figure svg"),
];

/// Opens the result of the demo's second test.
pub(crate) fn at_the_result(screen: Screen) -> (Served, Browser) {
    let served = Served::start(page());
    let browser = Browser::start(screen);
    browser.open(served.address());
    open_demo(&browser);
    go(&browser, DEMO_RESULT, ".answers");
    (served, browser)
}

/// Opens a view and waits for what it says.
pub(crate) fn open(browser: &Browser, view: &str) {
    let (_, there) = VIEWS.iter().find(|(name, _)| *name == view).unwrap();
    browser.run(&format!("document.querySelector('#tab-{view}').click();"));
    browser.wait_until(&format!("document.querySelector({there:?})"), view);
}

fn is_shown(view: &str) -> String {
    format!("document.querySelector('#view-{view}').checkVisibility()")
}

fn every_view_on(screen: Screen) {
    let (_served, browser) = at_the_result(screen);
    for (view, _) in VIEWS {
        open(&browser, view);
        for theme in THEMES {
            paint(&browser, theme);
            browser.run("scrollTo(0, 0);");
            is_for_everybody(&browser, &format!("result-{view}"), theme);
        }
    }
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn every_view_is_for_everybody_on_a_small_phone() {
    every_view_on(SMALL);
}

#[test]
fn every_view_is_for_everybody_on_a_phone() {
    every_view_on(Screen::PHONE);
}

#[test]
fn every_view_is_for_everybody_on_a_tablet() {
    every_view_on(TABLET);
}

#[test]
fn every_view_is_for_everybody_on_a_desk() {
    every_view_on(Screen::DESK);
}

#[test]
fn arrows_lead_from_view_to_view_and_what_was_opened_stays() {
    let (_served, browser) = at_the_result(Screen::DESK);
    browser.run("document.querySelector('#tab-answer').focus();");
    for (view, there) in VIEWS {
        browser.key("ArrowRight", "ArrowRight", 39);
        browser.wait_until(
            &format!(
                "document.activeElement?.id === 'tab-{view}' && {}",
                is_shown(view)
            ),
            view,
        );
        browser.wait_until(&format!("document.querySelector({there:?})"), view);
    }
    browser.key("ArrowRight", "ArrowRight", 39);
    browser.wait_until(&is_shown("answer"), "a ring");
    browser.key("End", "End", 35);
    browser.wait_until(&is_shown("since"), "the last one");
    assert!(browser.holds("document.querySelector('#view-day .figure svg')"));
}

#[test]
fn the_numbers_of_every_view_are_those_of_the_command_byte_for_byte() {
    let (_served, browser) = at_the_result(Screen::DESK);
    let both = ["2026-05-16.toml", "2026-06-02.toml"];
    let alone = &both[1..];
    for (view, of_command) in [
        ("lost", of_command("analyze", alone, &["--at", "3450 rpm"])),
        ("day", of_command("schedule", alone, &[])),
        ("since", of_command("track", &both, &[])),
    ] {
        open(&browser, view);
        let shown = browser.run(&format!(
            "return document.querySelector('#{view}-json').textContent;"
        ));
        assert_eq!(shown.as_str().unwrap(), of_command, "{view}");
    }
}

#[test]
fn the_head_is_told_at_the_speed_that_is_chosen() {
    let (_served, browser) = at_the_result(Screen::PHONE);
    open(&browser, "lost");
    let head = || browser.text("#view-lost .answers dd").unwrap();
    assert!(head().contains("3450 rpm"), "{}", head());
    browser.run(
        "const slider = document.querySelector('#lost-speed'); slider.value = 2000;\
         slider.dispatchEvent(new Event('input', { bubbles: true }));",
    );
    browser.wait_until(
        "document.querySelector('#view-lost .answers dd').innerText.includes('2000 rpm')",
        "the head at another speed",
    );
    let drawn = browser.text("#view-lost .drawn svg title").is_some()
        || browser
            .holds("document.querySelector('#view-lost .drawn svg').textContent.includes('2000')");
    assert!(drawn, "the drawing follows");
    let says = browser.text("#view-lost").unwrap();
    assert!(says.contains("Read next"), "{says}");
}

#[test]
fn numbers_tell_where_they_come_from() {
    let (_served, browser) = at_the_result(Screen::PHONE);
    for (view, _) in VIEWS {
        open(&browser, view);
        let pressed = browser.run(&format!(
            "const all = [...document.querySelectorAll('#view-{view} .answers button, #view-{view} td button')];\
             const one = all.find((one) => one.checkVisibility()); one?.click(); return all.length;"
        ));
        assert!(pressed.as_u64().unwrap() > 0, "{view}");
        browser.wait_until(
            "document.querySelector('dialog[open] #where-from-title')",
            view,
        );
        let says = browser.text("dialog[open]").unwrap();
        for word in ["How it is computed", "Source:", "Readings behind it"] {
            assert!(says.contains(word), "{view}: {says}");
        }
        assert_eq!(browser.violations(), [], "{view}");
        browser.picture(&format!("where-from-{view}"));
        browser.press("dialog[open] button", "Close");
        browser.wait_until("!document.querySelector('dialog[open]')", "a closed sheet");
    }
    // A limit of the answer names its rule.
    browser.run("document.querySelector('#tab-answer').click();");
    browser.run(
        "const tables = [...document.querySelectorAll('#view-answer .wide')];\
         tables.find((one) => one.ariaLabel === 'Limits').querySelector('td button').click();",
    );
    browser.wait_until(
        "document.querySelector('dialog[open] #where-from-title')",
        "a limit",
    );
    assert!(browser.text("dialog[open]").unwrap().contains("Source:"));
}

/// Moves a slider of "what if".
fn slide(browser: &Browser, id: &str, to: f64) {
    browser.run(&format!(
        "const slider = document.querySelector('#what-if-{id}'); slider.value = {to};\
         slider.dispatchEvent(new Event('input', {{ bubbles: true }}));"
    ));
}

const VERDICT: &str = "document.querySelector('#view-what-if .verdict-now').innerText";

#[test]
fn a_wider_return_a_clean_filter_and_a_dearer_hour_have_a_verdict() {
    let (_served, browser) = at_the_result(Screen::PHONE);
    open(&browser, "what-if");
    let keep = "[...document.querySelectorAll('#view-what-if button')].find((one) => one.innerText.startsWith('Keep this change'))";
    assert!(browser.holds(&format!("{keep}.disabled")));
    let before = browser.text("#view-what-if .verdict-now").unwrap();
    assert!(before.contains("a year"), "{before}");
    browser.run("document.querySelector('#what-if-bore').focus();");
    browser.key("ArrowRight", "ArrowRight", 39);
    browser.wait_until(
        &format!("{VERDICT}.includes('Returns in 2 in pipe')"),
        "the wider return",
    );
    browser.wait_until(&format!("!{keep}.disabled"), "something to keep");
    slide(&browser, "filter", 0.0);
    browser.wait_until(
        &format!("{VERDICT}.includes('a clean filter')"),
        "the clean filter",
    );
    let year = || {
        browser.run("return [...document.querySelectorAll('#view-what-if .verdict-now dt')].find((one) => one.innerText === 'A year').nextElementSibling.innerText;")
    };
    let cheap = year();
    slide(&browser, "price", 200.0);
    browser.wait_until(
        &format!("!{VERDICT}.includes({:?})", cheap.as_str().unwrap()),
        "another year",
    );
    slide(&browser, "turnover", 2.0);
    browser.wait_until(
        "document.querySelector('.verdict-now').getAttribute('aria-busy') === 'false'",
        "a verdict",
    );
    browser.press("#view-what-if summary", "The whole comparison");
    browser.wait_until(
        "document.querySelector('#view-what-if .whole .figure svg')",
        "the whole",
    );
    browser.picture("what-if-moved");
    assert_eq!(browser.violations(), []);
    browser.press("#view-what-if button", "Back to the pad as it is");
    browser.wait_until(&format!("{VERDICT} === {before:?}"), "the pad as it is");
}

#[test]
fn a_site_without_prices_asks_for_them_and_then_has_a_day() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    open_demo(&browser);
    go(&browser, "#edit/demo", "textarea");
    browser.run(
        "const area = document.querySelector('textarea');\
         area.value = area.value.replace(/\\[operation\\][^]*/, '');\
         area.dispatchEvent(new Event('input', { bubbles: true }));",
    );
    go(&browser, DEMO_RESULT, ".answers");
    browser.run("document.querySelector('#tab-day').click();");
    browser.wait_until(
        "document.querySelector('#view-day details.asked-of-day')?.open",
        "the form, opened",
    );
    browser.picture("day-asked");
    assert_eq!(browser.violations(), []);
    fill(&browser, "#day-turnovers", "often");
    browser.press("#view-day button", "Write it into the site file");
    browser.wait_until(
        "document.querySelector('#view-day .problem')",
        "what is wrong",
    );
    fill(&browser, "#day-turnovers", "1");
    fill(&browser, "#day-price", "0.24");
    browser.press("#view-day button", "Write it into the site file");
    browser.wait_until("document.querySelector('#view-day .figure svg')", "the day");
    assert!(browser.text("#view-day .answers").unwrap().contains("USD"));
    go(&browser, "#edit/demo", "textarea");
    let text = browser.run("return document.querySelector('textarea').value;");
    let text = text.as_str().unwrap();
    assert!(
        text.contains("tariff = [{ price = \"0.24 USD/kWh\" }]"),
        "{text}"
    );
    assert!(text.starts_with("# An invented pad"), "{text}");
}
