//! The circuit: its lines are shut and opened by finger and by key, and its parts are edited in the site's text.

use crate::steps::{fill, go, open_demo};
use browser::{Browser, Screen, Served, page};

const PRESSED: &str =
    "document.querySelector('.drawing [data-line=\"2\"]').getAttribute('aria-pressed')";

fn at_the_circuit(screen: Screen) -> (Served, Browser) {
    let served = Served::start(page());
    let browser = Browser::start(screen);
    browser.open(served.address());
    open_demo(&browser);
    browser.wait_until("document.querySelector('.drawing svg')", "the drawing");
    (served, browser)
}

fn answers(browser: &Browser) -> String {
    browser.text(".circuit .answers").unwrap()
}

#[test]
fn a_tap_shuts_a_line_and_the_flows_follow() {
    let (_served, browser) = at_the_circuit(Screen::PHONE);
    let before = answers(&browser);
    assert!(before.contains("is met first"), "{before}");
    browser.run("document.querySelector('.drawing [data-line=\"2\"] .target rect, .drawing [data-line=\"2\"] .target').dispatchEvent(new MouseEvent('click', { bubbles: true }));");
    browser.wait_until(&format!("{PRESSED} === 'true'"), "a shut line");
    assert_ne!(answers(&browser), before);
    assert_eq!(browser.violations(), []);
    // The same by its button in the list.
    browser.run("document.querySelectorAll('.line-parts [aria-pressed]')[2].click();");
    browser.wait_until(&format!("{PRESSED} === 'false'"), "an open line");
    assert_eq!(answers(&browser), before);
}

#[test]
fn enter_and_space_do_what_a_tap_does_and_the_focus_stays() {
    let (_served, browser) = at_the_circuit(Screen::DESK);
    browser.run("document.querySelector('.drawing [data-line=\"2\"]').focus();");
    let has_focus = "document.activeElement?.dataset?.line === '2'";
    browser.key("Enter", "Enter", 13);
    browser.wait_until(
        &format!("{PRESSED} === 'true' && {has_focus}"),
        "a shut line",
    );
    browser.key(" ", "Space", 32);
    browser.wait_until(
        &format!("{PRESSED} === 'false' && {has_focus}"),
        "an open line",
    );
}

#[test]
fn another_speed_is_solved_at_once_and_a_held_button_goes_on() {
    let (_served, browser) = at_the_circuit(Screen::PHONE);
    let before = answers(&browser);
    browser.run(
        "const slider = document.querySelector('#circuit-speed'); slider.value = 2000;\
         slider.dispatchEvent(new Event('input', { bubbles: true }));",
    );
    browser.wait_until(
        "document.querySelector('.circuit output').value.startsWith('2000')",
        "the speed",
    );
    assert_ne!(answers(&browser), before);
    browser.run(
        "document.querySelector('.slider .held').dispatchEvent(new PointerEvent('pointerdown', { bubbles: true, button: 0 }));",
    );
    browser.wait_until(
        "parseInt(document.querySelector('.circuit output').value) <= 1800",
        "slower and slower",
    );
    browser.run("document.querySelector('.slider .held').dispatchEvent(new PointerEvent('pointerup', { bubbles: true }));");
    let speed = browser.run("return document.querySelector('.circuit output').value;");
    std::thread::sleep(std::time::Duration::from_millis(400));
    assert_eq!(
        browser.run("return document.querySelector('.circuit output').value;"),
        speed
    );
}

#[test]
fn a_part_is_changed_in_the_text_and_nothing_else_is() {
    let (_served, browser) = at_the_circuit(Screen::PHONE);
    browser.run("for (const line of document.querySelectorAll('.line-parts')) line.open = true;");
    let before = answers(&browser);
    browser.run("document.querySelectorAll('.line-parts')[2].querySelector('.part').click();");
    browser.wait_until(
        "document.querySelector('dialog[open] #part-length')",
        "the form",
    );
    assert_eq!(browser.violations(), []);
    fill(&browser, "#part-length", "far");
    browser.press("dialog button", "Done");
    browser.wait_until(
        "document.querySelector('#part-problems .problem')",
        "why not",
    );
    fill(&browser, "#part-length", "152 ft");
    browser.press("dialog button", "Done");
    browser.wait_until("!document.querySelector('dialog[open]')", "a closed form");
    browser.wait_until(
        "document.querySelectorAll('.line-parts')[2].innerText.includes('152 ft')",
        "the longer pipe",
    );
    assert_ne!(answers(&browser), before);
    go(&browser, "#edit/demo", "textarea");
    let text = browser.run("return document.querySelector('textarea').value;");
    let example =
        std::fs::read_to_string(browser::folders::root().join("examples/larkspur-lane/site.toml"))
            .unwrap();
    let expected = example.replacen("length = \"52 ft\"", "length = \"152 ft\"", 1);
    assert_eq!(text.as_str(), Some(expected.as_str()));
}
