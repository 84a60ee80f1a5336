//! A new version of the page waits until no test is open.

use crate::steps::{fill, kept_tests, new_site, settled, start_test};
use browser::{Browser, Screen, Served, page};
use server::page::Page;

const THERE: &str = "document.querySelector('h1')?.innerText === 'Sites'";
const KEPT: &str = "navigator.serviceWorker.controller?.state === 'activated'";
/// Is lost when the page is loaded again.
const MARK: &str = "window.mark";
const LOOK_FOR_NEW: &str = "await (await navigator.serviceWorker.ready).update();";
const OPEN_TEST: &str =
    "document.dispatchEvent(new CustomEvent('headwright:work', { detail: 'test' }));";
const CLOSE_TEST: &str =
    "document.dispatchEvent(new CustomEvent('headwright:work', { detail: 'none' }));";

/// The page with a service worker of another version.
fn newer() -> Page {
    let page = page();
    let worker = page.file("service-worker.js").unwrap();
    let worker = String::from_utf8(worker.into_owned()).unwrap();
    let (before, rest) = worker.split_once("const VERSION = \"").unwrap();
    let newer = format!("{before}const VERSION = \"newer-{rest}");
    page.with("service-worker.js", newer.into_bytes())
}

/// A browser that keeps the page, which is then served in a newer version.
fn browser_then_newer() -> (Browser, Served) {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    browser.wait_until(KEPT, "a service worker");
    browser.wait_until(THERE, "the answer");
    browser.run("window.mark = true;");
    let port = served.port();
    served.stop();
    (browser, Served::start_at(port, newer()))
}

fn version(browser: &Browser) -> Vec<String> {
    let names = browser.run_async("return await caches.keys();");
    names
        .as_array()
        .unwrap()
        .iter()
        .map(|name| name.as_str().unwrap().to_owned())
        .collect()
}

#[test]
fn with_no_test_open_it_takes_over() {
    let (browser, _served) = browser_then_newer();
    browser.run_async(LOOK_FOR_NEW);
    browser.wait_until(&format!("!{MARK} && {THERE}"), "the page loaded again");
    browser.wait_until(KEPT, "the newer service worker");
    let names = version(&browser);
    assert!(
        names.len() == 1 && names[0].starts_with("headwright-newer-"),
        "{names:?}"
    );
}

#[test]
fn with_a_test_open_it_waits_for_its_end() {
    let (browser, _served) = browser_then_newer();
    browser.run(OPEN_TEST);
    let held = "return (await navigator.locks.query()).held.length;";
    assert_eq!(browser.run_async(held), 1);
    browser.run_async(LOOK_FOR_NEW);
    browser.run("navigator.serviceWorker.ready.then((found) => { window.found = found; });");
    browser.wait_until("window.found?.waiting", "a newer version that waits");
    // A message asks it to take over all the same, as a second window without a test would.
    browser.run("window.found.waiting.postMessage('no test is open');");
    std::thread::sleep(std::time::Duration::from_millis(500));
    assert!(browser.holds(&format!("{MARK} && window.found.waiting")));
    assert_eq!(version(&browser).len(), 2);
    browser.run(CLOSE_TEST);
    browser.wait_until(&format!("!{MARK} && {THERE}"), "the page loaded again");
}

#[test]
fn what_is_typed_while_a_newer_version_waits_is_there_in_it() {
    let (browser, _served) = browser_then_newer();
    new_site(&browser, "Quarry Road");
    start_test(&browser);
    fill(&browser, "#reading-0", "96.1");
    browser.run_async(LOOK_FOR_NEW);
    browser.wait_until(
        "document.querySelector('.banner')",
        "that a newer version waits",
    );
    // Typing goes on as if nothing were.
    fill(&browser, "#reading-1", "2395");
    settled(&browser);
    assert!(browser.holds(MARK));
    browser.run("history.back();");
    browser.wait_until(&format!("!{MARK}"), "the page loaded again");
    browser.wait_until(
        "document.querySelector('.visits .card')",
        "the site with its test",
    );
    let text = kept_tests(&browser)[0]["readings"]["text"].clone();
    assert!(text.as_str().unwrap().contains("96.1,2395"), "{text}");
}
