//! Deaths at random moments while somebody types: of the browser, of the program behind a window, of the window, of the worker. At
//! most the last key is missing afterwards, and what is kept is in order.
//!
//! How many and by which seed is told by the environment: a few in every run, a thousand when it is to be proven.

use crate::steps::{fill, new_site, settled, start_test};
use crate::worker::HOLD;
use browser::{Browser, Screen, Served, folders, page};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// How many deaths, where nothing else is asked for.
const FEW: u32 = 6;
/// After as many deaths of windows the browser starts afresh too: windows that crashed stay open until then.
const MOST_CRASHED: u32 = 20;

/// Draws whole numbers by a seed: SplitMix64, of G. Steele, D. Lea, C. Flood, "Fast splittable pseudorandom number
/// generators", OOPSLA 2014 (from memory).
struct Draws(u64);

impl Draws {
    fn draw(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    fn below(&mut self, end: u64) -> u64 {
        self.draw() % end
    }
}

/// What dies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Death {
    /// The whole browser, without a word to it.
    Browser,
    /// The program that shows the window.
    Program,
    /// The window.
    Window,
    /// The worker, while it is asked anew with each key; the window lives on until it is closed.
    Worker,
}

impl Death {
    fn drawn(draws: &mut Draws) -> Self {
        match draws.below(8) {
            0 => Self::Browser,
            1..=3 => Self::Program,
            4 | 5 => Self::Worker,
            _ => Self::Window,
        }
    }
}

fn asked(name: &str, else_: u32) -> u32 {
    let told = std::env::var(name).ok();
    told.map_or(else_, |told| told.parse().unwrap())
}

/// A browser with the test in its store, and the address of the test.
struct Scene {
    browser: Option<Browser>,
    profile: PathBuf,
    address: String,
    /// The window that lives on when the one with the test dies.
    home: String,
    crashed: u32,
}

impl Scene {
    fn set(served: &Served, profile: &Path) -> Self {
        let browser = Browser::start_in(Screen::PHONE, profile);
        browser.open(served.address());
        new_site(&browser, "Quarry Road");
        start_test(&browser);
        fill(&browser, "#reading-0", "96.1");
        settled(&browser);
        let address = browser.run("return location.href;");
        let address = address.as_str().unwrap().to_owned();
        browser.open("about:blank");
        Self {
            home: browser.window(),
            browser: Some(browser),
            profile: profile.to_owned(),
            address,
            crashed: 0,
        }
    }

    fn browser(&self) -> &Browser {
        self.browser.as_ref().unwrap()
    }

    /// Opens the test in a new window, where it can be typed in.
    fn open(&mut self) -> String {
        if self.browser.is_none() || self.crashed >= MOST_CRASHED {
            drop(self.browser.take());
            let browser = Browser::start_in(Screen::PHONE, &self.profile);
            self.home = browser.window();
            self.browser = Some(browser);
            self.crashed = 0;
        }
        let browser = self.browser();
        let window = browser.new_window();
        browser.before_the_page(HOLD);
        browser.open(&self.address);
        browser.wait_until(
            "document.querySelector('#note') && !document.querySelector('fieldset.bare').disabled",
            "the test",
        );
        window
    }

    fn die(&mut self, death: Death) {
        match death {
            Death::Browser => self.browser.take().unwrap().kill(),
            Death::Program => {
                let browser = self.browser();
                browser.crash_window();
                browser.go_to(&self.home);
                self.crashed += 1;
            }
            Death::Worker => {
                let browser = self.browser();
                browser.run("window.workers.forEach((worker) => worker.terminate());");
                std::thread::sleep(AFTER_THE_WORKER);
                assert!(browser.holds("document.querySelector('#stopped').hidden"));
                self.die(Death::Window);
            }
            Death::Window => {
                let browser = self.browser();
                browser.close_window();
                browser.go_to(&self.home);
            }
        }
    }
}

/// How long a window goes on after its worker.
const AFTER_THE_WORKER: Duration = Duration::from_millis(120);

/// Has the worker asked what to read next, which it is asked again with each key.
fn ask_the_worker(browser: &Browser) {
    browser.run("document.querySelector('.next-reading').open = true;");
    browser.wait_until("window.workers.length > 0", "a worker");
}

/// Types into the note like a quick thumb, a key every 25 to 85 milliseconds, until it dies.
fn type_on(browser: &Browser, text: &str, seed: u64) {
    browser.run(&format!(
        "const keys = [...{text:?}]; const field = document.querySelector('#note');\
         window.typed = 0; let at = {};\
         const type = () => {{\
           field.value = window.typed === 0 ? keys[0] : field.value + keys[window.typed];\
           field.dispatchEvent(new Event('input', {{ bubbles: true }})); window.typed += 1;\
           at = (at * 1103515245 + 12345) % 2147483648;\
           if (window.typed < keys.length) setTimeout(type, 25 + at % 60); }};\
         type();",
        seed % 2_147_483_648
    ));
}

/// What a page found: the note, and whether all that is kept is in order.
fn found(browser: &Browser) -> String {
    let told = browser.run_async(
        "const request = indexedDB.open('headwright');\
         const database = await new Promise((done, failed) => { request.onsuccess = () => done(request.result); request.onerror = failed; });\
         const all = async (place) => { const asked = database.transaction(place).objectStore(place).getAll();\
           return new Promise((done, failed) => { asked.onsuccess = () => done(asked.result); asked.onerror = failed; }); };\
         const aside = await all('aside');\
         const both = database.transaction(['tests', 'entries']);\
         const [kept, listed] = await Promise.all(['tests', 'entries'].map((place) => new Promise((done, failed) => {\
           const asked = both.objectStore(place).getAll(); asked.onsuccess = () => done(asked.result); asked.onerror = failed; })));\
         const [test, entry] = [kept[0].json, listed[0]].map((text) => JSON.parse(text).record);\
         const versions = [...await all('tests'), ...await all('sites')].map(({ json }) => JSON.parse(json).version);\
         database.close();\
         const entries = JSON.stringify(entry) === JSON.stringify(Object.fromEntries(Object.keys(entry).map((key) => [key, test[key]])));\
         return { aside: aside.length, versions, entries, revisions: [test.revision, entry.revision], note: document.querySelector('#note').value,\
           reading: document.querySelector('#reading-0').value, banner: document.querySelector('.banner')?.innerText ?? '' };",
    );
    assert_eq!(told["aside"], 0, "{told}");
    assert_eq!(told["versions"], serde_json::json!([1, 1]), "{told}");
    assert_eq!(told["entries"], true, "{told}");
    assert_eq!(told["reading"], "96.1", "{told}");
    assert_eq!(told["banner"], "", "{told}");
    told["note"].as_str().unwrap().to_owned()
}

#[test]
fn kills_at_random_moments_lose_at_most_the_last_key() {
    let (kills, seed) = (
        asked("HEADWRIGHT_KILLS", FEW),
        asked("HEADWRIGHT_KILLS_SEED", 1),
    );
    let served = Served::start(page());
    let profile = folders::target()
        .join("tmp")
        .join(format!("kills-{}", std::process::id()));
    let mut scene = Scene::set(&served, &profile);
    let mut draws = Draws(u64::from(seed));
    let mut before = String::new();
    let mut missing = [0_u32; 2];
    let mut deaths = std::collections::BTreeMap::<String, u32>::new();
    for kill in 0..kills {
        scene.open();
        let death = Death::drawn(&mut draws);
        if death == Death::Worker {
            ask_the_worker(scene.browser());
        }
        let text = format!("kill {kill} of seed {seed}: 123456789 123456789 123456789 123456789");
        type_on(scene.browser(), &text, draws.draw());
        std::thread::sleep(Duration::from_millis(draws.below(900)));
        let typed = scene.browser().run("return window.typed;");
        let typed = usize::try_from(typed.as_u64().unwrap()).unwrap();
        scene.die(death);
        scene.open();
        let note = found(scene.browser());
        let kept = if note == before && !text.starts_with(&note) {
            0
        } else {
            note.len()
        };
        assert!(
            kept == 0 || text.starts_with(&note),
            "kill {kill}, {death:?}: {note:?} is not what was typed"
        );
        assert!(
            kept + 1 >= typed,
            "kill {kill} of seed {seed}, {death:?}: typed at least {typed} keys, kept {kept}"
        );
        missing[usize::from(kept < typed)] += 1;
        *deaths.entry(format!("{death:?}")).or_default() += 1;
        before = note;
        // The window that looked is closed; the next one types.
        scene.die(Death::Window);
        if kill % 50 == 49 {
            println!("{} kills: {deaths:?}", kill + 1);
        }
    }
    drop(scene);
    let _ = std::fs::remove_dir_all(&profile);
    println!(
        "{kills} kills of seed {seed}, {deaths:?}: every key kept in {}, the last one missing in {}",
        missing[0], missing[1]
    );
}
