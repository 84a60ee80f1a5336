//! The report leaves the page: as the command writes it, in every way that there is; and the changes that it weighs.

use crate::looks::{SMALL, TABLET, THEMES, is_for_everybody, paint};
use crate::steps::{DEMO_RESULT, at_sites, fill, go, open_demo};
use browser::{Browser, Network, Screen, Served, folders, page};
use document::report::Order;
use serde_json::Value;
use std::process::Command;
use std::sync::Arc;

/// The report of the demo's second test.
const REPORT: &str = "#report/demo-2026-06-02";
const SHOWN: &str = "document.querySelector('#report-frame')?.contentDocument?.querySelector('h1')";
/// Keeps what goes to the downloads where a test finds it.
const DOWNLOADS: &str = "window.downloads = [];\
    const make = URL.createObjectURL.bind(URL);\
    URL.createObjectURL = (blob) => { window.blob = blob; return make(blob); };\
    HTMLAnchorElement.prototype.click = function () { window.downloads.push({ name: this.download, blob: window.blob }); };";

/// Opens the report of the demo and waits until it is shown.
fn at_the_report(served: &Served, screen: Screen) -> Browser {
    let browser = Browser::start(screen);
    browser.before_the_page(DOWNLOADS);
    browser.open(served.address());
    open_demo(&browser);
    go(&browser, REPORT, "#report-frame");
    browser.wait_until(SHOWN, "the report");
    browser
}

/// What went to the downloads last: its name, its kind and its text.
fn downloaded(browser: &Browser) -> [String; 3] {
    let last = browser.run_async(
        "const { name, blob } = window.downloads.at(-1); return [name, blob.type, await blob.text()];",
    );
    [0, 1, 2].map(|at| last[at].as_str().unwrap().to_owned())
}

/// What the command writes for the demo's second test, with options.
fn of_command(options: &[&str]) -> String {
    let out = folders::pictures().join("report-of-the-command.html");
    let _ = std::fs::remove_file(&out);
    let example = "examples/larkspur-lane";
    let status = Command::new(env!("CARGO"))
        .current_dir(folders::root())
        .args(["run", "--quiet", "--package", "headwright", "--target-dir"])
        .arg(folders::target())
        .args(["--", "report"])
        .args([
            format!("{example}/site.toml"),
            format!("{example}/2026-06-02.toml"),
        ])
        .arg("-o")
        .arg(&out)
        .args(options)
        .status()
        .unwrap();
    assert!(status.success());
    std::fs::read_to_string(out).unwrap()
}

/// Chooses in a list by the value.
fn choose(browser: &Browser, selector: &str, value: &str) {
    browser.run(&format!(
        "const list = document.querySelector({selector:?}); list.value = {value:?};\
         list.dispatchEvent(new Event('change', {{ bubbles: true }}));"
    ));
}

#[test]
fn the_report_of_the_page_is_that_of_the_command_byte_for_byte() {
    let served = Served::start(page());
    let browser = at_the_report(&served, Screen::DESK);
    let today = browser.run(
        "const now = new Date(); return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, '0')).join('-');",
    );
    let today = today.as_str().unwrap();
    browser.press("main button", "Save");
    let [name, kind, html] = downloaded(&browser);
    assert_eq!(
        (name, kind.as_str()),
        (format!("larkspur-lane-{today}.html"), "text/html")
    );
    assert!(html == of_command(&["--date", today]));
    // What is shown is what is handed over.
    let shown = browser.run("return document.querySelector('#report-frame').srcdoc;");
    assert!(shown.as_str().unwrap() == html);
    choose(&browser, "#report-language", "es");
    choose(&browser, "#report-paper", "letter");
    browser.wait_until(
        &format!("{SHOWN}?.innerText.includes('informe')"),
        "the Spanish report",
    );
    browser.press("main button", "Save");
    let [_, _, html] = downloaded(&browser);
    assert!(html == of_command(&["--date", today, "--language", "es", "--paper", "letter"]));
}

#[test]
fn the_report_is_shown_in_its_own_style_and_runs_nothing() {
    let served = Served::start(page());
    let browser = at_the_report(&served, Screen::PHONE);
    let style = |of: &str| {
        browser.run(&format!(
            "const frame = document.querySelector('#report-frame');\
             return frame.contentWindow.getComputedStyle(frame.contentDocument.querySelector({of:?})).borderBottomWidth;"
        ))
    };
    assert_eq!(style("header"), "3px");
    assert_eq!(
        browser.run("return document.querySelector('#report-frame').getAttribute('sandbox');"),
        "allow-same-origin allow-modals"
    );
    // Its script would uncover the places that tell a number.
    let told = browser.run(
        "return [...document.querySelector('#report-frame').contentDocument.querySelectorAll('.told')].every((one) => one.hidden);",
    );
    assert_eq!(told, true);
    // No script in a frame is what the browser tells of; nothing else may be.
    let complaints = browser.complaints();
    let others: Vec<&String> = complaints
        .iter()
        .filter(|said| !said.contains("Blocked script execution in 'about:srcdoc'"))
        .collect();
    assert_eq!(others, Vec::<&String>::new());
}

#[test]
fn the_report_is_printed_and_shared_from_the_device() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.before_the_page(
        "navigator.canShare = (data) => data.files?.length === 1;\
         navigator.share = async (data) => { window.shared = data.files[0]; };",
    );
    browser.open(served.address());
    open_demo(&browser);
    go(&browser, REPORT, "#report-frame");
    browser.wait_until(SHOWN, "the report");
    browser.run(
        "document.querySelector('#report-frame').contentWindow.print = () => { window.printed = true; };",
    );
    browser.press("main button", "Print");
    assert!(browser.holds("window.printed"));
    browser.press("main button", "Share");
    browser.wait_until("window.shared", "the file");
    let shared = browser.run_async(
        "return [window.shared.type, await window.shared.text() === document.querySelector('#report-frame').srcdoc];",
    );
    assert_eq!(shared, serde_json::json!(["text/html", true]));
}

#[test]
fn the_report_needs_no_network() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    browser.wait_until(
        "navigator.serviceWorker.controller?.state === 'activated'",
        "a service worker",
    );
    open_demo(&browser);
    served.stop();
    browser.network(Network::Away);
    browser.load_again();
    go(&browser, REPORT, "#report-frame");
    browser.wait_until(SHOWN, "the report without a network");
    assert!(!browser.holds(
        "[...document.querySelectorAll('main button')].some((one) => one.innerText.includes('PDF'))"
    ));
}

#[test]
fn a_pdf_is_offered_where_the_server_makes_it_and_refusals_are_told() {
    let setter = |order: &[u8]| {
        let order: Order = serde_json::from_slice(order).map_err(|error| error.to_string())?;
        order.read().map_err(|problems| problems[0].to_string())?;
        if order.language.as_deref() == Some("es") {
            return Err("this one cannot be set".to_owned());
        }
        Ok(b"%PDF-of-ours".to_vec())
    };
    let served = Served::start_setting(page(), Arc::new(setter));
    let browser = at_the_report(&served, Screen::PHONE);
    let is_there = "[...document.querySelectorAll('main button')].some((one) => one.innerText === 'Save as PDF' && !one.disabled)";
    browser.wait_until(is_there, "the button");
    browser.press("main button", "Save as PDF");
    browser.wait_until("window.downloads.length === 1", "the PDF");
    let [name, kind, pdf] = downloaded(&browser);
    assert!(
        name.starts_with("larkspur-lane-") && name.ends_with(".pdf"),
        "{name}"
    );
    assert_eq!(
        (kind.as_str(), pdf.as_str()),
        ("application/pdf", "%PDF-of-ours")
    );
    choose(&browser, "#report-language", "es");
    browser.wait_until(
        &format!("{SHOWN}?.innerText.includes('informe')"),
        "Spanish",
    );
    browser.wait_until(is_there, "the button again");
    browser.press("main button", "Save as PDF");
    browser.wait_until("document.querySelector('main .problem')", "the refusal");
    let said = browser.text("main .problem").unwrap();
    assert_eq!(said, "This one cannot be set.");
    served.stop();
    browser.press("main button", "Save as PDF");
    browser.wait_until(
        "document.querySelector('main .problem')?.innerText.includes('does not answer')",
        "that nobody answers",
    );
}

/// Moves the filter to clean, and keeps that under a name.
fn keep_a_change(browser: &Browser, name: &str) {
    browser.run("document.querySelector('#tab-what-if').click();");
    browser.wait_until("document.querySelector('#what-if-filter')", "the sliders");
    browser.run(
        "const slider = document.querySelector('#what-if-filter'); slider.value = 0;\
         slider.dispatchEvent(new Event('input', { bubbles: true }));",
    );
    browser.wait_until(
        "document.querySelector('#change-name')?.value === 'A clean filter'",
        "a change to keep",
    );
    fill(browser, "#change-name", name);
    browser.press("#view-what-if button", "Keep this change");
}

/// What the store has of changes.
fn kept_changes(browser: &Browser) -> Vec<Value> {
    let kept = browser.run_async(
        "const request = indexedDB.open('headwright');\
         const database = await new Promise((done) => { request.onsuccess = () => done(request.result); });\
         const all = database.transaction('changes').objectStore('changes').getAll();\
         const found = await new Promise((done) => { all.onsuccess = () => done(all.result); });\
         database.close(); return found.map(({ json }) => JSON.parse(json).record);",
    );
    kept.as_array().cloned().unwrap_or_default()
}

#[test]
fn a_change_is_kept_weighed_deleted_and_brought_back() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.before_the_page(DOWNLOADS);
    browser.open(served.address());
    open_demo(&browser);
    go(&browser, DEMO_RESULT, ".answers");
    keep_a_change(&browser, " ");
    browser.wait_until(
        "document.querySelector('#view-what-if [role=alert]')",
        "that a name is missing",
    );
    fill(&browser, "#change-name", "Cleaned more often");
    browser.press("#view-what-if button", "Keep this change");
    browser.wait_until(
        "document.querySelector('#view-what-if .kept')?.innerText.includes('kept')",
        "that it is kept",
    );
    browser.press("#view-what-if button", "Keep this change");
    browser.wait_until(
        "document.querySelector('#view-what-if [role=alert]')?.innerText.includes('Another change is called')",
        "that its name is taken",
    );
    // It is tried out again by its name.
    browser.press("#view-what-if button", "Back to the pad as it is");
    choose(&browser, "#what-if-kept", "0");
    browser.wait_until(
        "document.querySelector('.verdict-now').innerText.includes('Cleaned more often')",
        "the verdict on the kept change",
    );
    assert!(!browser.holds("document.querySelector('#what-if-filter')"));
    // The report weighs it.
    go(&browser, REPORT, "#report-frame");
    browser.wait_until(SHOWN, "the report");
    assert!(
        !browser
            .holds("document.querySelector('#report-frame').srcdoc.includes('Cleaned more often')")
    );
    browser.press("main label", "Cleaned more often");
    browser.wait_until(
        "document.querySelector('#report-frame')?.srcdoc.includes('Cleaned more often')",
        "the report with the change",
    );
    // The site lists it, and lets it go and come back.
    go(&browser, "#site/demo", ".changes");
    browser.press(".changes button", "Export");
    let [name, _, text] = downloaded(&browser);
    assert_eq!(name, "cleaned-more-often.toml");
    assert!(text.contains("filter = \"clean\""), "{text}");
    browser.press(".changes button", "Delete");
    browser.wait_until("!document.querySelector('.changes')", "that it is gone");
    assert!(
        browser
            .text(".undo")
            .unwrap()
            .contains("Cleaned more often")
    );
    browser.press(".undo button", "Undo");
    browser.wait_until("document.querySelector('.changes')", "that it is back");
    std::thread::sleep(std::time::Duration::from_millis(300));
    browser.load_again();
    browser.wait_until("document.querySelector('.changes')", "that it is kept");
    let kept = kept_changes(&browser);
    assert_eq!(kept.len(), 1);
    assert_eq!(kept[0]["name"], "cleaned-more-often");
    assert_eq!(kept[0]["revision"], 3);
}

/// Gives a file to a field.
fn give(browser: &Browser, selector: &str, files: &[(&str, &[u8])]) {
    let files = serde_json::json!(files);
    browser.run(&format!(
        "const data = new DataTransfer();\
         for (const [name, bytes] of {files}) data.items.add(new File([new Uint8Array(bytes)], name));\
         const field = document.querySelector({selector:?}); field.files = data.files;\
         field.dispatchEvent(new Event('change', {{ bubbles: true }}));"
    ));
}

const PNG: &str = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg==";

#[test]
fn whose_report_it_is_stays_on_the_device_and_stands_on_the_report() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.before_the_page(DOWNLOADS);
    browser.open(served.address());
    open_demo(&browser);
    go(&browser, "#settings", "#profile-business");
    fill(&browser, "#profile-business", "An invented business");
    fill(&browser, "#profile-contact", "1 Example Road");
    give(&browser, "#profile-logo", &[("mark.gif", b"GIF89a")]);
    browser.wait_until(
        "document.querySelector('fieldset .problem')?.innerText.includes('neither PNG nor JPEG')",
        "that a logo is refused",
    );
    let png = records::base64::read(PNG).unwrap();
    give(&browser, "#profile-logo", &[("mark.png", &png)]);
    browser.wait_until(
        "document.querySelector('.logo img')?.naturalWidth === 1",
        "the logo",
    );
    assert!(!browser.holds("document.querySelector('fieldset .problem')"));
    std::thread::sleep(std::time::Duration::from_millis(300));
    go(&browser, REPORT, "#report-frame");
    browser.load_again();
    browser.wait_until(SHOWN, "the report");
    let head = browser.run(
        "const head = document.querySelector('#report-frame').contentDocument.querySelector('.business');\
         return [head.innerText, head.querySelector('img').naturalWidth];",
    );
    let said = head[0].as_str().unwrap();
    assert!(
        said.contains("An invented business") && said.contains("1 Example Road"),
        "{said}"
    );
    assert_eq!(head[1], 1);
    // The file of the command goes out and comes in.
    go(&browser, "#settings", "#profile-business");
    browser.run("document.querySelector('#profile-file').closest('details').open = true;");
    browser.press("fieldset button", "Put it with the downloads");
    let names = browser.run("return window.downloads.map(({ name }) => name);");
    assert_eq!(names, serde_json::json!(["profile.toml", "mark.png"]));
    let other = b"format = 1\nbusiness = \"Another business\"\nlanguage = \"es\"\n".as_slice();
    give(&browser, "#profile-file", &[("other.toml", other)]);
    browser.wait_until(
        "document.querySelector('#profile-business').value === 'Another business'",
        "the other profile",
    );
    go(&browser, REPORT, "#report-frame");
    browser.wait_until(
        &format!("{SHOWN}?.innerText.includes('informe')"),
        "the report in the language of the profile",
    );
}

fn new_screens_on(screen: Screen) {
    let served = Served::start_setting(page(), Arc::new(|_: &[u8]| Ok(Vec::new())));
    let browser = at_the_report(&served, screen);
    let in_every_theme = |name: &str| {
        for theme in THEMES {
            paint(&browser, theme);
            browser.run("scrollTo(0, 0);");
            is_for_everybody(&browser, name, theme);
        }
    };
    go(&browser, DEMO_RESULT, ".answers");
    keep_a_change(&browser, "Cleaned more often");
    browser.wait_until("document.querySelector('#what-if-kept')", "the kept change");
    in_every_theme("what-if-kept");
    go(&browser, "#site/demo", ".changes");
    in_every_theme("site-changes");
    go(&browser, "#settings", "#profile-business");
    let png = records::base64::read(PNG).unwrap();
    give(&browser, "#profile-logo", &[("mark.png", &png)]);
    browser.wait_until("document.querySelector('.logo img')", "the logo");
    browser.run("document.querySelector('#profile-file').closest('details').open = true;");
    in_every_theme("settings-profile");
    go(&browser, REPORT, "#report-frame");
    browser.wait_until(SHOWN, "the report");
    in_every_theme("report-screen");
}

#[test]
fn the_new_screens_are_for_everybody_on_a_small_phone() {
    new_screens_on(SMALL);
}

#[test]
fn the_new_screens_are_for_everybody_on_a_phone() {
    new_screens_on(Screen::PHONE);
}

#[test]
fn the_new_screens_are_for_everybody_on_a_tablet() {
    new_screens_on(TABLET);
}

#[test]
fn the_new_screens_are_for_everybody_on_a_desk() {
    new_screens_on(Screen::DESK);
}

#[test]
fn an_empty_list_of_sites_offers_no_report() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    at_sites(&browser);
    go(&browser, "#report/none", "h1");
    browser.wait_until("!document.querySelector('#report-frame')", "no report");
}
