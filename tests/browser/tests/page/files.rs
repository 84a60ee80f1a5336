//! Files come in by a drop, and what cannot be taken in is said; a site goes out by the share sheet.

use crate::steps::{at_sites, go, kept_tests, open_demo};
use browser::{Browser, Screen, Served, folders, page};

/// Drops files on the page.
fn drop_files(browser: &Browser, files: &[(&str, Vec<u8>)]) {
    let files = serde_json::json!(files);
    browser.run(&format!(
        "const data = new DataTransfer();\
         for (const [name, bytes] of {files}) data.items.add(new File([new Uint8Array(bytes)], name));\
         const place = document.querySelector('main');\
         place.dispatchEvent(new DragEvent('dragover', {{ dataTransfer: data, bubbles: true, cancelable: true }}));\
         place.dispatchEvent(new DragEvent('drop', {{ dataTransfer: data, bubbles: true, cancelable: true }}));"
    ));
}

fn example(name: &str) -> Vec<u8> {
    std::fs::read(folders::root().join("examples/larkspur-lane").join(name)).unwrap()
}

fn on_the_sites() -> (Served, Browser) {
    let served = Served::start(page());
    let browser = Browser::start(Screen::DESK);
    browser.open(served.address());
    at_sites(&browser);
    (served, browser)
}

#[test]
fn the_files_of_a_site_are_dropped_together() {
    let (_served, browser) = on_the_sites();
    let files = ["site.toml", "2026-05-16.toml", "2026-05-16.csv"];
    drop_files(&browser, &files.map(|name| (name, example(name))));
    browser.wait_until("document.querySelector('.answers')", "the answer");
    assert_eq!(browser.text("h1").as_deref(), Some("Larkspur Lane"));
    assert_eq!(kept_tests(&browser).len(), 1);
}

#[test]
fn readings_are_dropped_on_their_site() {
    let (_served, browser) = on_the_sites();
    open_demo(&browser);
    drop_files(&browser, &[("2026-07-01.csv", example("2026-05-16.csv"))]);
    browser.wait_until(
        "[...document.querySelectorAll('.cards .title')].some((title) => title.innerText === '2026-07-01')",
        "the new test",
    );
}

#[test]
fn what_is_no_file_of_the_page_is_refused_in_words() {
    let (_served, browser) = on_the_sites();
    let mut broken = b"PK\x03\x04".to_vec();
    broken.extend([7; 60]);
    // An archive without a file: only the end of the table of contents.
    let mut foreign = b"PK\x05\x06".to_vec();
    foreign.extend([0; 18]);
    for (name, bytes) in [
        ("broken.zip", broken),
        ("foreign.zip", foreign),
        ("photo.jpg", vec![255; 40]),
    ] {
        drop_files(&browser, &[(name, bytes)]);
        browser.wait_until(
            &format!("document.querySelector('.drop .problem')?.innerText.startsWith('{name} was not taken in')"),
            name,
        );
    }
    assert_eq!(browser.text("h1").as_deref(), Some("Sites"));
    assert_eq!(browser.violations(), []);
}

#[test]
fn a_site_file_of_a_newer_format_is_kept_and_says_what_it_needs() {
    let (_served, browser) = on_the_sites();
    let text = String::from_utf8(example("site.toml")).unwrap();
    let newer = text.replacen("format = 1", "format = 99", 1);
    drop_files(&browser, &[("site.toml", newer.clone().into_bytes())]);
    browser.wait_until("document.querySelector('.problems')", "what is wrong");
    let said = browser.text(".problems").unwrap();
    assert!(said.contains("format"), "{said}");
    let kept = browser.run_async(
        "const request = indexedDB.open('headwright');\
         const database = await new Promise((done) => { request.onsuccess = () => done(request.result); });\
         const all = database.transaction('sites').objectStore('sites').getAll();\
         const found = await new Promise((done) => { all.onsuccess = () => done(all.result); });\
         database.close(); return JSON.parse(found[0].json).record.text;",
    );
    assert_eq!(kept.as_str(), Some(newer.as_str()));
}

#[test]
fn a_device_with_a_share_sheet_gets_the_bundle_in_it() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.before_the_page(
        "navigator.canShare = (data) => data.files?.length === 1;\
         navigator.share = async (data) => { window.shared = data.files[0]; };",
    );
    browser.open(served.address());
    open_demo(&browser);
    browser.press("main button", "Share");
    browser.wait_until("window.shared", "the file");
    let file = browser.run_async(
        "const start = new Uint8Array(await window.shared.slice(0, 2).arrayBuffer());\
         return [window.shared.name, window.shared.type, ...start];",
    );
    assert_eq!(file[1], "application/zip");
    assert!(file[0].as_str().unwrap().ends_with(".zip"), "{file}");
    assert_eq!((&file[2], &file[3]), (&80.into(), &75.into()));
}

#[test]
fn several_tests_are_answered_together() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    open_demo(&browser);
    go(&browser, crate::steps::DEMO_RESULT, ".answers");
    assert_eq!(
        browser.run("return document.querySelectorAll('.answers').length;"),
        1
    );
    browser.press(".beside-tests label", "2026-05-16");
    browser.wait_until(
        "document.querySelectorAll('h2.title').length === 2",
        "both tests",
    );
    let first = browser.text("h2.title").unwrap();
    assert!(first.contains("2026-06-02"), "the last one first: {first}");
    let figures = "[...document.querySelectorAll('.figure svg')].length";
    browser.wait_until(&format!("{figures} >= 8"), "the figures of both");
    // A number of the earlier test tells where it comes from.
    browser.run(
        "const region = [...document.querySelectorAll('.wide')].find((one) => one.getAttribute('aria-label').endsWith('test 2026-05-16'));\
         region.querySelector('td button').click();",
    );
    browser.wait_until(
        "document.querySelector('dialog[open] table')",
        "what is told",
    );
    assert_eq!(browser.violations(), []);
    browser.load_again();
    browser.wait_until(
        "document.querySelectorAll('h2.title').length === 2",
        "both tests again",
    );
}
