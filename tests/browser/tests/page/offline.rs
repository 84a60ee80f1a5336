//! With no server the page opens as before, and it does so by its service worker.

use browser::{Browser, Network, Screen, Served, page};

const THERE: &str = "document.querySelector('h1')?.innerText === 'Sites'";
const KEPT: &str = "navigator.serviceWorker.controller?.state === 'activated'";

#[test]
fn the_page_opens_again_without_a_server() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    browser.wait_until(KEPT, "a service worker");
    served.stop();
    browser.load_again();
    browser.wait_until(THERE, "the answer without a server");
}

#[test]
fn without_its_service_worker_it_does_not() {
    let served = Served::start(page().without("service-worker.js"));
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    browser.wait_until(THERE, "the answer with a server");
    served.stop();
    browser.load_again();
    browser.wait_until(
        "document.URL.startsWith('chrome-error:')",
        "the browser's own complaint",
    );
    assert!(!browser.holds(THERE));
}

#[test]
fn every_file_is_kept() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    browser.wait_until(KEPT, "a service worker");
    let kept = browser.run_async(
        "const [name] = await caches.keys();\
         const kept = await (await caches.open(name)).keys();\
         return kept.map(({ url }) => new URL(url).pathname.slice(1));",
    );
    let mut kept: Vec<String> = kept
        .as_array()
        .unwrap()
        .iter()
        .map(|name| name.as_str().unwrap().to_owned())
        .collect();
    kept.sort();
    let page = page();
    let is_packed = |name: &str| name.ends_with(".br") || name.ends_with(".gz");
    let mut expected: Vec<String> = page
        .names()
        .filter(|name| !is_packed(name) && *name != "service-worker.js")
        .map(|name| {
            if name == "index.html" {
                String::new()
            } else {
                name.to_owned()
            }
        })
        .collect();
    expected.sort();
    assert_eq!(kept, expected);
}

#[test]
fn the_badge_follows_the_network() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    browser.wait_until(THERE, "the answer");
    // With a network there is nothing to say.
    let says = "document.querySelector('.badge').checkVisibility()";
    assert!(!browser.holds(says));
    browser.network(Network::Away);
    browser.wait_until(says, "the word");
    assert_eq!(browser.text(".badge").as_deref(), Some("No signal"));
    browser.network(Network::There);
    browser.wait_until(&format!("!{says}"), "no word again");
}
