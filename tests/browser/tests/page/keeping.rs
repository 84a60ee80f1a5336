//! Nothing typed is lost: not by a reload, by a death of the browser, by a full or refused store, or by a wrong clock.

use crate::steps::{
    at_sites, fill, kept_tests, new_site, open_demo, settled, start_test, type_only,
};
use browser::{Browser, Screen, Served, folders, page};
use serde_json::json;

/// Waits until a reading of the first step holds a text.
fn holds(browser: &Browser, text: &str) {
    browser.wait_until(
        &format!("document.querySelector('#reading-0')?.value === {text:?}"),
        text,
    );
}

#[test]
fn a_reload_in_the_task_of_a_keystroke_loses_nothing() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    new_site(&browser, "Quarry Road");
    start_test(&browser);
    type_only(&browser, "#reading-0", "96.");
    settled(&browser);
    browser.run(
        "const field = document.querySelector('#reading-0'); field.value = '96.1';\
         field.dispatchEvent(new Event('input', { bubbles: true })); location.reload();",
    );
    holds(&browser, "96.1");
    // And it goes on from there.
    fill(&browser, "#reading-1", "2395");
    settled(&browser);
    browser.load_again();
    holds(&browser, "96.1");
    assert!(browser.holds("document.querySelector('#reading-1').value === '2395'"));
}

#[test]
fn a_browser_that_dies_in_the_middle_of_typing_loses_at_most_the_last_key() {
    const TYPED: &str = "1234567890123456789012345678901234567890";
    let served = Served::start(page());
    let profile = folders::target()
        .join("tmp")
        .join(format!("profile-{}", std::process::id()));
    let browser = Browser::start_in(Screen::PHONE, &profile);
    browser.open(served.address());
    new_site(&browser, "Quarry Road");
    start_test(&browser);
    fill(&browser, "#reading-0", "96.1");
    settled(&browser);
    // A quick typist; the note takes any text.
    browser.run(&format!(
        "const keys = [...{TYPED:?}]; const field = document.querySelector('#note'); field.value = ''; window.typed = 0;\
         const type = () => {{ field.value += keys[window.typed]; field.dispatchEvent(new Event('input', {{ bubbles: true }}));\
           window.typed += 1; if (window.typed < keys.length) setTimeout(type, 60); }}; type();"
    ));
    browser.wait_until("window.typed > 15", "typing");
    let typed = browser.run("return window.typed;").as_u64().unwrap();
    browser.kill();
    let browser = Browser::start_in(Screen::PHONE, &profile);
    browser.open(served.address());
    at_sites(&browser);
    let tests = kept_tests(&browser);
    let text = tests[0]["readings"]["text"].as_str().unwrap().trim_end();
    let note = text.rsplit(',').next().unwrap();
    drop(browser);
    let _ = std::fs::remove_dir_all(&profile);
    assert!(TYPED.starts_with(note), "{note}");
    let kept = u64::try_from(note.len()).unwrap();
    println!("typed at least {typed} keys, kept {kept}");
    assert!(kept + 1 >= typed, "typed {typed}, kept {kept}");
    assert!(text.contains("96.1"), "{text}");
}

#[test]
fn a_full_store_is_said_and_what_was_typed_is_kept_once_there_is_room() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    at_sites(&browser);
    // Before the first writing: the browser believes in the room that it found for half a minute.
    let origin = browser.run("return location.origin;");
    browser.command(
        "Storage.overrideQuotaForOrigin",
        &json!({ "origin": origin, "quotaSize": 1 }),
    );
    new_site(&browser, "Quarry Road");
    browser.wait_until(
        "document.querySelector('.banner [type=button]')",
        "a banner",
    );
    let said = browser.text(".banner").unwrap();
    assert!(said.contains("storage is full"), "{said}");
    start_test(&browser);
    fill(&browser, "#reading-0", "96.1");
    assert!(browser.holds("document.querySelector('.kept').dataset.kept === 'no'"));
    // The notes hold it meanwhile.
    browser.load_again();
    holds(&browser, "96.1");
    fill(&browser, "#reading-1", "2395");
    browser.wait_until(
        "document.querySelector('.banner [type=button]')",
        "the banner again",
    );
    browser.command(
        "Storage.overrideQuotaForOrigin",
        &json!({ "origin": origin }),
    );
    browser.press(".banner button", "Try again");
    browser.wait_until("!document.querySelector('.banner')", "no banner any more");
    settled(&browser);
    let text = kept_tests(&browser)[0]["readings"]["text"].clone();
    assert!(text.as_str().unwrap().contains("96.1,2395"), "{text}");
}

/// The readings of the one test that is kept, as the store has them.
fn kept_readings(browser: &Browser) -> String {
    let tests = kept_tests(browser);
    assert_eq!(tests.len(), 1, "tests");
    tests[0]["readings"]["text"].as_str().unwrap().to_owned()
}

/// What a browser does that lets a page keep nothing.
const NO_DATABASE: &str = "Object.defineProperty(window, 'indexedDB', { value: undefined });";
const NO_NOTES: &str = "Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } });";

#[test]
fn a_browser_that_keeps_nothing_says_so_and_the_page_works() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.before_the_page(&format!("{NO_DATABASE}{NO_NOTES}"));
    browser.open(served.address());
    open_demo(&browser);
    let said = browser.text(".banner").unwrap();
    assert!(said.contains("This browser keeps nothing"), "{said}");
    assert_eq!(browser.violations(), []);
    browser.run(
        "window.caught = []; HTMLAnchorElement.prototype.click = function () { window.caught.push(this.download); };",
    );
    browser.press(".banner button", "Export now");
    browser.wait_until("window.caught.length === 1", "a download");
    assert!(browser.complaints().is_empty());
}

#[test]
fn where_only_the_database_is_refused_the_notes_keep_what_was_typed() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.before_the_page(NO_DATABASE);
    browser.open(served.address());
    new_site(&browser, "Quarry Road");
    start_test(&browser);
    fill(&browser, "#reading-0", "96.1");
    browser.load_again();
    holds(&browser, "96.1");
}

#[test]
fn a_newer_page_s_store_is_not_touched() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(&format!(
        "{}/manifest.webmanifest",
        served.address().trim_end_matches('/')
    ));
    browser.run_async(
        "const request = indexedDB.open('headwright', 99);\
         await new Promise((done) => { request.onsuccess = done; }); request.result.close();",
    );
    browser.open(served.address());
    browser.wait_until(
        "document.querySelector('main [role=alert]')",
        "what is said",
    );
    let said = browser.text("main").unwrap();
    assert!(
        said.contains("A newer version of this page has been used here"),
        "{said}"
    );
    let version = browser.run_async(
        "return (await indexedDB.databases()).find(({ name }) => name === 'headwright').version;",
    );
    assert_eq!(version, 99);
}

#[test]
fn a_clock_that_was_set_back_is_said_and_loses_nothing() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    new_site(&browser, "Quarry Road");
    start_test(&browser);
    fill(&browser, "#reading-0", "96.1");
    settled(&browser);
    browser.before_the_page(
        "const Real = Date; const back = 20 * 365 * 86400000;\
         window.Date = class extends Real { constructor(...given) { if (given.length) super(...given); else super(Real.now() - back); }\
           static now() { return Real.now() - back; } };",
    );
    browser.load_again();
    holds(&browser, "96.1");
    fill(&browser, "#reading-1", "2395");
    settled(&browser);
    browser.load_again();
    holds(&browser, "96.1");
    assert!(browser.holds("document.querySelector('#reading-1').value === '2395'"));
    let kept = kept_readings(&browser);
    assert!(kept.contains("96.1,2395"), "{kept}");
    browser.run("location.hash = '#sites';");
    browser.wait_until(
        "document.querySelector('[data-note=clock]')",
        "what is said of the clock",
    );
    assert!(browser.text("[data-note=clock]").unwrap().contains("clock"));
}

#[test]
fn a_private_window_works_and_tells_that_it_forgets() {
    let served = Served::start(page());
    let browser = Browser::start_private(Screen::PHONE);
    browser.open(served.address());
    new_site(&browser, "Quarry Road");
    start_test(&browser);
    fill(&browser, "#reading-0", "96.1");
    settled(&browser);
    // As long as the window lives nothing is lost, and the help says what comes then.
    browser.load_again();
    holds(&browser, "96.1");
    let kept = kept_readings(&browser);
    assert!(kept.contains(",96.1,"), "{kept}");
    crate::steps::go(&browser, "#help", "main ul");
    let help = browser.text("main").unwrap();
    assert!(
        help.contains("In a private window nothing is kept"),
        "{help}"
    );
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn where_notes_find_no_room_and_nothing_is_promised_the_database_keeps_what_was_typed() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.before_the_page(
        "Storage.prototype.setItem = () => { throw new DOMException('no room', 'QuotaExceededError'); };\
         window.asked = 0; StorageManager.prototype.persist = async () => { window.asked += 1; return false; };",
    );
    browser.open(served.address());
    new_site(&browser, "Quarry Road");
    start_test(&browser);
    fill(&browser, "#reading-0", "96.1");
    settled(&browser);
    assert_eq!(browser.run("return window.asked;"), 1);
    browser.load_again();
    holds(&browser, "96.1");
    let kept = kept_readings(&browser);
    assert!(kept.contains(",96.1,"), "{kept}");
    assert!(browser.holds("!document.querySelector('.banner')"));
}

#[test]
fn of_two_windows_without_locks_neither_overwrites_the_other_unasked() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::DESK);
    // A window that is opened later needs it too.
    let no_locks = "Object.defineProperty(Navigator.prototype, 'locks', { value: undefined });";
    browser.before_the_page(no_locks);
    browser.open(served.address());
    new_site(&browser, "Quarry Road");
    start_test(&browser);
    fill(&browser, "#reading-0", "96.1");
    settled(&browser);
    let address = browser.run("return location.href;");
    let first = browser.window();
    browser.new_window();
    browser.before_the_page(no_locks);
    browser.open(address.as_str().unwrap());
    holds(&browser, "96.1");
    fill(&browser, "#reading-1", "2395");
    settled(&browser);
    let second = browser.window();
    browser.go_to(&first);
    type_only(&browser, "#reading-2", "10.66");
    browser.wait_until(
        "document.querySelector('.banner[role=alert]')",
        "what is said of the other window",
    );
    let said = browser.text(".banner[role=alert]").unwrap();
    assert!(said.contains("another window"), "{said}");
    let kept = kept_readings(&browser);
    assert!(kept.contains("96.1,2395,,"), "{kept}");
    // What was typed here stands here, and is kept once the person says so.
    assert!(browser.holds("document.querySelector('#reading-2').value === '10.66'"));
    browser.press(".banner button", "Try again");
    settled(&browser);
    let kept = kept_readings(&browser);
    assert!(kept.contains("96.1,,10.66"), "{kept}");
    browser.go_to(&second);
    assert!(browser.holds("document.querySelector('#reading-1').value === '2395'"));
}
