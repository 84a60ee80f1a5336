//! A store with hundreds of sites: the list, its search, and what is put away, duplicated, deleted and brought back.

use crate::steps::{at_sites, go, kept_tests, new_site, open_demo};
use browser::{Browser, Screen, Served, page};
use serde_json::Value;

/// Fills the store as a person of many years has it: as many sites with as many tests, each as large as the demo's.
const FILL: &str = "
  const request = indexedDB.open('headwright');
  const database = await new Promise((done, failed) => { request.onsuccess = () => done(request.result); request.onerror = failed; });
  const all = (place) => new Promise((done) => { const asked = database.transaction(place).objectStore(place).getAll(); asked.onsuccess = () => done(asked.result); });
  const [site] = await all('sites');
  const [test] = await all('tests');
  const writing = database.transaction(['sites', 'tests'], 'readwrite');
  const sites = writing.objectStore('sites'), tests = writing.objectStore('tests');
  for (let at = 0; at < SITES; at += 1) {
    const envelope = JSON.parse(site.json);
    Object.assign(envelope.record, { id: `site-${at}`, name: `Pad ${at} of Quarry Road`, changed: 1e12 + at });
    sites.put({ ...site, id: `site-${at}`, json: JSON.stringify(envelope) }, `site-${at}`);
    for (let visit = 0; visit < TESTS; visit += 1) {
      const id = `site-${at}-test-${visit}`;
      const envelope = JSON.parse(test.json);
      Object.assign(envelope.record, { id, site_id: `site-${at}`, name: `20${10 + visit}-0${1 + at % 9}-1${visit % 9}`, changed: 1e12 + at });
      tests.put({ ...test, id, json: JSON.stringify(envelope) }, id);
    }
  }
  await new Promise((done, failed) => { writing.oncomplete = done; writing.onerror = failed; });
  database.close();
";

/// Notes when the list is there, and which records are read whole until then.
const LISTED: &str = "
  const seen = new MutationObserver(() => { if (document.querySelector('#sites .card') && !window.listed) window.listed = performance.now(); });
  seen.observe(document, { childList: true, subtree: true });
  window.read = {};
  for (const name of ['get', 'getAll']) {
    const plain = IDBObjectStore.prototype[name];
    IDBObjectStore.prototype[name] = function (...given) {
      window.read[this.name] = (window.read[this.name] ?? 0) + 1;
      return plain.apply(this, given);
    };
  }
";

/// How many entries are kept.
fn entries(browser: &Browser) -> u64 {
    let count = in_the_store(
        browser,
        "const asked = writing.objectStore('entries').count(); asked.onsuccess = () => { window.told = asked.result; };",
    );
    count.as_u64().unwrap()
}

/// Does something in the store, in one transaction that is called `writing`, and gives what it leaves in `window.told`.
fn in_the_store(browser: &Browser, script: &str) -> Value {
    browser.run_async(&format!(
        "const request = indexedDB.open('headwright');\
         const database = await new Promise((done, failed) => {{ request.onsuccess = () => done(request.result); request.onerror = failed; }});\
         const writing = database.transaction(['tests', 'entries'], 'readwrite'); {script}\
         await new Promise((done, failed) => {{ writing.oncomplete = done; writing.onerror = failed; }});\
         database.close(); return window.told ?? null;"
    ))
}

/// How long the list takes from the start of the page, and a search from its key to its result, in milliseconds.
const SEARCH: &str = "
  const field = document.querySelector('#search');
  const times = [];
  for (const text of ['Pad 4', 'Pad 499', '2015-03', 'nothing like it', '', 'quarry 77', 'pad 477']) {
    const start = performance.now();
    field.value = text;
    field.dispatchEvent(new Event('input', { bubbles: true }));
    await Promise.resolve();
    await new Promise((done) => queueMicrotask(done));
    document.body.getBoundingClientRect();
    times.push(performance.now() - start);
    await new Promise((done) => setTimeout(done, 50));
  }
  return times;
";

#[test]
fn five_hundred_sites_are_listed_from_their_entries_and_searched() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    open_demo(&browser);
    browser.wait_until(
        "document.querySelectorAll('.visits li').length === 2",
        "the visits",
    );
    std::thread::sleep(std::time::Duration::from_millis(500));
    browser.run_async(&FILL.replace("SITES", "500").replace("TESTS", "10"));
    // The browser has the program compiled after a first visit; the list is what is measured.
    browser.before_the_page(LISTED);
    browser.run("location.hash = '#sites';");
    let list = || {
        browser.load_again();
        browser.wait_until("window.listed", "the list");
        browser.run("return window.listed;").as_f64().unwrap()
    };
    // What filled the store wrote no entries: they are made from the records once.
    let anew = list();
    assert_eq!(entries(&browser), 5002);
    let mut listed: Vec<f64> = (0..3).map(|_| list()).collect();
    // From then on the list reads entries and no test.
    assert_eq!(browser.run("return window.read.tests ?? 0;"), 0);
    listed.sort_by(f64::total_cmp);
    let shown = "document.querySelectorAll('#sites li').length";
    assert_eq!(browser.run(&format!("return {shown};")), 60);
    browser.press("main button", "Show more (441 left)");
    browser.wait_until(&format!("{shown} === 120"), "more sites");
    let times: Vec<f64> = browser
        .run_async(SEARCH)
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(Value::as_f64)
        .collect();
    browser.wait_until(&format!("{shown} === 1"), "the one that was searched for");
    println!(
        "500 sites with 10 tests each, milliseconds: listed after {listed:.0?}, with the entries made anew \
         {anew:.0?}; searched in {times:.1?}"
    );
    assert_eq!(browser.violations(), []);
}

#[test]
fn what_a_list_shows_is_made_anew_where_it_is_missing_old_or_wrong() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    open_demo(&browser);
    browser.wait_until(
        "document.querySelectorAll('.visits li').length === 2",
        "the visits",
    );
    std::thread::sleep(std::time::Duration::from_millis(500));
    browser.run("location.hash = '#sites';");
    let line = || {
        browser.load_again();
        browser.wait_until("document.querySelector('#sites .line')", "the card");
        browser.text("#sites .line").unwrap()
    };
    let right = line();
    assert!(right.contains("2026-06-02"), "{right}");
    let entry = "const entries = writing.objectStore('entries'); const id = 'demo-2026-06-02';\
        const written = { version: 1, record: { id, site_id: 'demo', name: '2031-01-01', changed: 1, revision: 1, open: false } };";
    for spoilt in [
        "entries.clear();",
        "entries.put('no entry', id);",
        "written.version = 0; entries.put(JSON.stringify(written), id);",
        "entries.delete(id); written.record.id = 'gone'; entries.put(JSON.stringify(written), 'gone');",
    ] {
        in_the_store(&browser, &format!("{entry}{spoilt}"));
        assert_eq!(line(), right, "{spoilt}");
    }
    // One that reads well and says something else gives way to its record once that is loaded.
    in_the_store(
        &browser,
        &format!("{entry} entries.put(JSON.stringify(written), id);"),
    );
    assert!(line().contains("2031-01-01"));
    browser.press("#sites .card", &browser.text("#sites .card").unwrap());
    browser.wait_until(
        "document.querySelectorAll('.visits li').length === 2",
        "the visits",
    );
    let visits = browser.text(".visits").unwrap();
    assert!(!visits.contains("2031"), "{visits}");
    std::thread::sleep(std::time::Duration::from_millis(300));
    browser.run("location.hash = '#sites';");
    assert_eq!(line(), right);
    // No text of a test was touched.
    let kept = kept_tests(&browser);
    assert!(kept.iter().all(|test| test["revision"] == 1), "{kept:?}");
}

#[test]
fn visits_say_when_and_what_was_found_and_one_is_the_baseline() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    open_demo(&browser);
    browser.wait_until(
        "document.querySelectorAll('.visits .found').length === 2",
        "the marks",
    );
    let visits = browser.text(".visits").unwrap();
    for said in [
        "600–3450 rpm",
        "3 readings in doubt",
        "Every reading fits",
        "Baseline",
        "14:10",
    ] {
        assert!(visits.contains(said), "{said}: {visits}");
    }
    let baseline = "[...document.querySelectorAll('.visits .card')].findIndex((card) => card.innerText.includes('Baseline'))";
    // The last visit stands first, and the first one is the baseline until a person says otherwise.
    assert_eq!(browser.run(&format!("return {baseline};")), 1);
    browser.run(
        "const choice = document.querySelector('#baseline'); choice.value = 'demo-2026-06-02';\
         choice.dispatchEvent(new Event('change', { bubbles: true }));",
    );
    browser.wait_until(&format!("{baseline} === 0"), "the other baseline");
    browser.run(
        "const day = document.querySelector('#return-on'); day.value = '2001-02-03';\
         day.dispatchEvent(new Event('change', { bubbles: true }));",
    );
    browser.wait_until(
        "document.querySelector('main [data-due=true]')",
        "that it is due",
    );
    std::thread::sleep(std::time::Duration::from_millis(300));
    browser.run("location.hash = '#sites';");
    at_sites(&browser);
    browser.load_again();
    browser.wait_until(
        "document.querySelector('#sites [data-due=true]')",
        "the card that is due",
    );
    assert!(
        browser
            .text("#sites")
            .unwrap()
            .contains("Due for return since 3 February 2001")
    );
    assert_eq!(browser.violations(), []);
}

#[test]
fn what_is_deleted_or_put_away_comes_back_with_one_tap() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    new_site(&browser, "Quarry Road");
    let cards = "document.querySelectorAll('#sites li').length";
    browser.press(
        "main summary",
        "Bring in tests, duplicate, put away, delete",
    );
    browser.press("main button", "Duplicate without its tests");
    browser.wait_until(
        "document.querySelector('h1').innerText === 'Quarry Road-2'",
        "the copy",
    );
    browser.press(
        "main summary",
        "Bring in tests, duplicate, put away, delete",
    );
    browser.press("main button", "Put away");
    at_sites(&browser);
    browser.wait_until(&format!("{cards} === 1"), "one site");
    assert_eq!(browser.violations(), []);
    browser.press(".undo button", "Undo");
    browser.wait_until(&format!("{cards} === 2"), "both sites");
    // A site with a test, deleted and brought back; then the test alone.
    open_demo(&browser);
    browser.press(
        "main summary",
        "Bring in tests, duplicate, put away, delete",
    );
    browser.press("main button", "Delete the site");
    browser.press("main .danger", "Delete");
    at_sites(&browser);
    browser.wait_until(&format!("{cards} === 2"), "without the demo");
    browser.press(".undo button", "Undo");
    browser.wait_until(&format!("{cards} === 3"), "with the demo");
    go(&browser, crate::steps::DEMO_RESULT, ".answers");
    browser.press("main button", "Delete the test");
    browser.press("main .danger", "Delete");
    browser.wait_until(
        "document.querySelectorAll('.visits li').length === 1",
        "one visit",
    );
    browser.press(".undo button", "Undo");
    browser.wait_until(
        "document.querySelectorAll('.visits li').length === 2",
        "both visits",
    );
    std::thread::sleep(std::time::Duration::from_millis(300));
    let deleted = kept_tests(&browser);
    assert!(
        deleted.iter().all(|test| test["deleted"].is_null()),
        "{deleted:?}"
    );
}
