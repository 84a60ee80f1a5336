//! What a person does on the page, as short words for the tests.

use browser::Browser;

/// The demo's second test, which holds three slips.
pub(crate) const DEMO_RESULT: &str = "#result/demo-2026-06-02";

/// Waits until the list of sites is there.
pub(crate) fn at_sites(browser: &Browser) {
    browser.wait_until(
        "document.querySelector('h1')?.innerText === 'Sites'",
        "the list of sites",
    );
}

/// Puts the invented pad into the library and opens it.
pub(crate) fn open_demo(browser: &Browser) {
    at_sites(browser);
    browser.press("main button", "Look at an invented pad");
    browser.wait_until("document.querySelector('.answers')", "the demo's answer");
}

/// Goes to a screen by its fragment and waits for something on it.
pub(crate) fn go(browser: &Browser, fragment: &str, there: &str) {
    browser.run(&format!("location.hash = {fragment:?};"));
    browser.wait_until(
        &format!("document.querySelector({there:?})"),
        &format!("{there} on {fragment}"),
    );
}

/// Types a text into a field, key by key as the page hears it, and leaves the field.
pub(crate) fn fill(browser: &Browser, selector: &str, text: &str) {
    type_only(browser, selector, text);
    browser.run(&format!(
        "document.querySelector({selector:?}).dispatchEvent(new Event('change', {{ bubbles: true }}));"
    ));
}

/// Types a text into a field and stays in it.
pub(crate) fn type_only(browser: &Browser, selector: &str, text: &str) {
    let found = browser.run(&format!(
        "const field = document.querySelector({selector:?}); if (!field) return false;\
         field.focus(); field.value = '';\
         for (const key of {text:?}) {{\
           field.value += key; field.dispatchEvent(new Event('input', {{ bubbles: true }}));\
         }} return true;"
    ));
    assert_eq!(found, true, "no field {selector}");
}

/// Makes a site by the form.
pub(crate) fn new_site(browser: &Browser, name: &str) {
    at_sites(browser);
    browser.press("main button", "New site");
    browser.wait_until("document.querySelector('#site-name')", "the form");
    fill(browser, "#site-name", name);
    browser.press("form button", "Make the site");
    browser.wait_until("location.hash.startsWith('#site/')", "the site");
}

/// Starts a test and goes to its first step.
pub(crate) fn start_test(browser: &Browser) {
    browser.press("main button", "New test");
    browser.wait_until("document.querySelector('.cautions')", "the cautions");
    browser.press("main button", "I have read them");
    browser.wait_until(
        "document.querySelector('#water-temperature')",
        "the line-up",
    );
    browser.press("main button", "To the steps");
    browser.wait_until("document.querySelector('#reading-0')", "the first step");
}

/// A step: speed, flow, power, current, filter pressure, inlet vacuum.
pub(crate) type Step = [&'static str; 6];

/// Types one step on the row that is shown.
pub(crate) fn type_step(browser: &Browser, step: &Step) {
    fill(browser, "#speed", step[0]);
    for (column, text) in step[1..].iter().enumerate() {
        fill(browser, &format!("#reading-{column}"), text);
    }
}

/// Goes to the next step.
pub(crate) fn next(browser: &Browser, number: usize) {
    browser.press(".thumb-bar button", "Next step");
    let heading =
        format!("document.querySelector('#step-title').innerText.startsWith('Step {number} ')");
    browser.wait_until(&heading, "the next step");
}

/// What stands in the store: every test that is kept, as the page wrote it.
pub(crate) fn kept_tests(browser: &Browser) -> Vec<serde_json::Value> {
    let kept = browser.run_async(
        "const request = indexedDB.open('headwright');\
         const database = await new Promise((done, failed) => { request.onsuccess = () => done(request.result); request.onerror = failed; });\
         const all = database.transaction('tests').objectStore('tests').getAll();\
         const found = await new Promise((done) => { all.onsuccess = () => done(all.result); });\
         database.close(); return found.map(({ json }) => json);",
    );
    let texts = kept.as_array().cloned().unwrap_or_default();
    let record = |text: &serde_json::Value| {
        let whole: serde_json::Value = serde_json::from_str(text.as_str().unwrap()).unwrap();
        whole["record"].clone()
    };
    texts.iter().map(record).collect()
}

/// Waits until everything that was typed is in the store.
pub(crate) fn settled(browser: &Browser) {
    browser.wait_until(
        "document.querySelector('.kept')?.dataset.kept === 'yes'",
        "everything kept",
    );
}
