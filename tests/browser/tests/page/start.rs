//! How the page starts, what it says when it stops, and what a phone needs to keep it.

use browser::{Browser, Screen, Served, page};
use serde_json::json;

const STOPPED: &str = "!document.querySelector('#stopped').hidden";

#[test]
fn a_phone_may_install_it() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    browser.wait_until("navigator.serviceWorker.controller", "a service worker");
    let found = browser.command("Page.getAppManifest", &json!({}));
    assert_eq!(found["errors"], json!([]));
    let hindrances = browser.command("Page.getInstallabilityErrors", &json!({}));
    assert_eq!(hindrances["installabilityErrors"], json!([]));
}

#[test]
fn every_icon_has_the_size_that_it_claims() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    let sizes = browser.run_async(
        "const link = document.querySelector('link[rel=manifest]').href;\
         const { icons } = await (await fetch(link)).json();\
         return await Promise.all(icons.filter(({ type }) => type === 'image/png').map(async ({ src, sizes }) => {\
           const picture = await createImageBitmap(await (await fetch(new URL(src, link))).blob());\
           return [sizes, `${picture.width}x${picture.height}`];\
         }));",
    );
    let sizes = sizes.as_array().unwrap();
    assert_eq!(sizes.len(), 3);
    for size in sizes {
        assert_eq!(size[0], size[1]);
    }
}

#[test]
fn a_program_that_cannot_start_says_so() {
    let whole = page();
    let module = whole
        .names()
        .find(|name| name.ends_with(".wasm"))
        .unwrap()
        .to_owned();
    let served = Served::start(whole.with(&module, b"no module".to_vec()));
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    browser.wait_until(STOPPED, "the notice");
    let said = browser.text("#stopped").unwrap();
    assert!(
        said.contains("Your readings are kept; export them."),
        "{said}"
    );
}

#[test]
fn a_bug_of_the_program_uncovers_the_notice() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    browser.wait_until(
        "document.querySelector('h1')?.innerText === 'Sites'",
        "the page",
    );
    assert!(!browser.holds(STOPPED));
    // A document that makes no elements is none that the program can go on with.
    browser.run("document.createElement = () => { throw new Error('broken on purpose'); };");
    browser.run("for (const button of document.querySelectorAll('nav button')) button.click();");
    browser.wait_until(STOPPED, "the notice");
    let why = browser.run("return document.querySelector('#stopped-why').textContent;");
    assert!(why.as_str().unwrap().contains("panicked at"), "{why}");
}
