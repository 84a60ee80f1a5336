//! The page in Spanish, switched in the middle of a test, and from right to left: every word follows, nothing is lost, and
//! nothing sticks out.

use crate::looks::{SCREENS, SMALL, THEMES, is_for_everybody, paint};
use crate::steps::{DEMO_RESULT, at_sites, fill, go, kept_tests, open_demo, settled, type_only};
use crate::views::{VIEWS, open};
use browser::{Browser, Screen, Served, page};
use std::path::Path;

/// A text of the catalogue that reads otherwise in Spanish: its fixed pieces, between which something is filled in.
struct Sentence {
    pieces: Vec<String>,
}

impl Sentence {
    fn of(text: &str) -> Self {
        let mut pieces = Vec::new();
        let mut rest = text;
        while let Some((before, after)) = rest.split_once('{') {
            pieces.push(before.to_owned());
            rest = after.split_once('}').map_or("", |(_, rest)| rest);
        }
        pieces.push(rest.to_owned());
        Self { pieces }
    }

    /// Whether it tells a sentence from what was filled in: a whole text does, a few letters between two places do not.
    fn is_telling(&self) -> bool {
        let words = self.pieces.iter().flat_map(|piece| piece.split(' '));
        let is_word = |word: &&str| word.len() > 2 && word.chars().all(char::is_alphabetic);
        self.pieces.len() == 1 || words.filter(is_word).count() > 1
    }

    /// Whether a text on the screen is this one, filled in.
    fn is(&self, text: &str) -> bool {
        let [first, middle @ ..] = self.pieces.as_slice() else {
            return false;
        };
        let Some((last, middle)) = middle.split_last() else {
            return text == first;
        };
        let Some(mut rest) = text
            .strip_prefix(first.as_str())
            .and_then(|rest| rest.strip_suffix(last.as_str()))
        else {
            return false;
        };
        for piece in middle {
            let Some((_, after)) = rest.split_once(piece.as_str()) else {
                return false;
            };
            rest = after;
        }
        true
    }
}

/// The English texts of the catalogue that read otherwise in Spanish.
fn english() -> Vec<Sentence> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../crates/document/languages/es.po");
    let catalogue = polib::po_file::parse(&path).unwrap();
    let texts = catalogue
        .messages()
        .filter(|message| message.msgid() != message.msgstr().unwrap());
    let sentences: Vec<Sentence> = texts.map(|message| Sentence::of(message.msgid())).collect();
    assert!(sentences.len() > 1000);
    sentences.into_iter().filter(Sentence::is_telling).collect()
}

/// Names of the invented pad and of a new site, which stand in their files in any language.
const NAMES: [&str; 4] = ["Larkspur Lane (invented)", "skimmer", "suction", "return"];

/// What a person sees, or is read out, on the screen as it stands; texts of files apart.
fn shown(browser: &Browser) -> Vec<String> {
    let texts = browser.run(
        "const apart = 'pre, textarea, script, style, [lang]:not(html)';\
         const texts = [];\
         const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);\
         for (let node = walk.nextNode(); node; node = walk.nextNode()) {\
           if (!node.parentElement.closest(apart) && node.parentElement.checkVisibility()) texts.push(node.data.trim());\
         }\
         for (const one of document.querySelectorAll('[aria-label], [title], [placeholder]'))\
           for (const name of ['aria-label', 'title', 'placeholder'])\
             if (one.checkVisibility() && one.hasAttribute(name) && !one.closest(apart)) texts.push(one.getAttribute(name).trim());\
         return [...new Set(texts)].filter((text) => text);",
    );
    let texts = texts.as_array().cloned().unwrap_or_default();
    texts
        .iter()
        .map(|text| text.as_str().unwrap().to_owned())
        .collect()
}

/// Holds that no text on the screen is English that has a Spanish.
fn is_spanish(browser: &Browser, english: &[Sentence], name: &str) {
    let left: Vec<String> = shown(browser)
        .into_iter()
        .filter(|text| !NAMES.contains(&text.as_str()))
        .filter(|text| english.iter().any(|sentence| sentence.is(text)))
        .collect();
    assert_eq!(left, Vec::<String>::new(), "English left on {name}");
}

/// Chooses a language on the screen of settings.
fn speak(browser: &Browser, tag: &str) {
    go(browser, "#settings", "#language-es");
    browser.run(&format!(
        "const one = document.querySelector('#language-{tag}'); one.focus(); one.click();"
    ));
    browser.wait_until(
        &format!("document.documentElement.lang === {tag:?} && document.activeElement.id === 'language-{tag}'"),
        tag,
    );
}

/// The invented pad in Spanish.
fn in_spanish(screen: Screen) -> (Served, Browser) {
    let served = Served::start(page());
    let browser = Browser::start(screen);
    browser.open(served.address());
    at_sites(&browser);
    open_demo(&browser);
    speak(&browser, "es");
    (served, browser)
}

fn every_screen_in_spanish_on(screen: Screen) {
    let english = english();
    let (_served, browser) = in_spanish(screen);
    let look = |name: &str| {
        browser.wait_until(
            "!document.querySelector('.under-way')?.innerText",
            "no work under way",
        );
        is_spanish(&browser, &english, name);
        for theme in THEMES {
            paint(&browser, theme);
            browser.run("scrollTo(0, 0);");
            is_for_everybody(&browser, &format!("es-{name}"), theme);
        }
    };
    for (name, fragment, there) in SCREENS {
        go(&browser, fragment, there);
        look(name);
    }
    go(&browser, DEMO_RESULT, ".answers");
    for (view, _) in VIEWS {
        open(&browser, view);
        look(&format!("result-{view}"));
    }
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn every_screen_is_spanish_and_for_everybody_on_a_small_phone() {
    every_screen_in_spanish_on(SMALL);
}

#[test]
fn every_screen_is_spanish_and_for_everybody_on_a_phone() {
    every_screen_in_spanish_on(Screen::PHONE);
}

#[test]
fn every_screen_is_spanish_and_for_everybody_on_a_desk() {
    every_screen_in_spanish_on(Screen::DESK);
}

/// Steps of an invented pad, with decimal commas; the third power is typed in kilowatts.
const STEPS: [[&str; 3]; 5] = [
    ["3450", "96,1", "2395"],
    ["2900", "80,4", "1431"],
    ["2300", "62,9", "0,742"],
    ["1700", "45,4", "345"],
    ["1100", "27,7", "151"],
];

#[test]
fn a_test_is_typed_in_spanish_and_the_language_switched_in_the_middle_of_it() {
    let english = english();
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser
        .before_the_page("Object.defineProperty(navigator, 'language', { get: () => 'es-AR' });");
    browser.open(served.address());
    // The first start follows the browser, and the choice can be found in any language.
    browser.wait_until(
        "document.querySelector('h1')?.innerText === 'Sitios'",
        "Spanish by itself",
    );
    assert!(browser.holds("document.querySelector('#language-es').checked"));
    is_spanish(&browser, &english, "the first start");
    browser.press("main button", "Nuevo sitio");
    browser.wait_until("document.querySelector('#site-name')", "the form");
    is_spanish(&browser, &english, "the form");
    fill(&browser, "#site-name", "Camino de la Cantera");
    browser.press("form button", "Crear el sitio");
    browser.wait_until("location.hash.startsWith('#site/')", "the site");
    browser.press("main button", "Nuevo ensayo");
    browser.wait_until("document.querySelector('.cautions')", "the cautions");
    is_spanish(&browser, &english, "the cautions");
    browser.press("main button", "Las he leído");
    browser.wait_until(
        "document.querySelector('#water-temperature')",
        "the line-up",
    );
    is_spanish(&browser, &english, "the line-up");
    browser.press("main button", "A los escalones");
    browser.wait_until("document.querySelector('#reading-0')", "the first step");
    for (index, step) in STEPS.iter().enumerate() {
        fill(&browser, "#speed", step[0]);
        fill(&browser, "#reading-0", step[1]);
        fill(&browser, "#reading-1", step[2]);
        is_spanish(&browser, &english, "a step");
        browser.press(".thumb-bar button", "Escalón siguiente");
        let heading = format!(
            "document.querySelector('#step-title').innerText.startsWith('Escalón {} ')",
            index + 2
        );
        browser.wait_until(&heading, "the next step");
    }
    // What is no number is told of in Spanish too.
    fill(&browser, "#speed", "600");
    fill(&browser, "#reading-1", "nada");
    is_spanish(&browser, &english, "a cell that is no reading");
    fill(&browser, "#reading-1", "");
    // Half a number, and the field is not left.
    type_only(&browser, "#reading-0", "11,");
    settled(&browser);
    let test = browser.run("return location.hash;");
    let test = test.as_str().unwrap();
    let before = kept_tests(&browser);
    for tag in ["en", "es-US", "es"] {
        speak(&browser, tag);
        go(&browser, test, "#reading-0");
        browser.run("document.querySelectorAll('.strip button')[5].click();");
        browser.wait_until(
            "document.querySelector('#speed').value === '600'",
            "the sixth step",
        );
        assert_eq!(
            browser.run("return document.querySelector('#reading-0').value;"),
            "11,",
            "{tag}"
        );
    }
    let texts = |tests: &[serde_json::Value]| -> Vec<String> {
        tests
            .iter()
            .map(|test| test["readings"]["text"].to_string())
            .collect()
    };
    assert_eq!(texts(&kept_tests(&browser)), texts(&before));
    is_spanish(&browser, &english, "the steps again");
    browser.press("main button", "Terminar el ensayo");
    is_spanish(&browser, &english, "the ending");
    browser.press("main button", "Al resultado");
    browser.wait_until("document.querySelector('.answers')", "the answer");
    is_spanish(&browser, &english, "the result");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn what_the_worker_answered_in_one_language_is_answered_anew_in_the_other() {
    let (_served, browser) = in_spanish(Screen::DESK);
    for (tag, word) in [
        ("es", "Renovaciones al día"),
        ("en", "Turnovers a day"),
        ("es", "Renovaciones al día"),
    ] {
        speak(&browser, tag);
        go(&browser, DEMO_RESULT, ".answers");
        open(&browser, "day");
        let says = browser.text("#view-day").unwrap();
        assert!(says.contains(word), "{tag}: {says}");
        let is_spanish =
            says.contains("en la mayor") || says.contains("Ahorra") || says.contains("Coste");
        assert_eq!(is_spanish, tag == "es", "{tag}: {says}");
    }
}

#[test]
fn a_number_tells_where_it_comes_from_in_spanish() {
    let english = english();
    let (_served, browser) = in_spanish(Screen::PHONE);
    go(&browser, DEMO_RESULT, ".answers");
    let places = browser
        .run("return document.querySelectorAll('#view-answer td button').length;")
        .as_u64()
        .unwrap();
    assert!(places > 20, "{places}");
    for place in [0, places / 3, places - 1] {
        browser.run(&format!(
            "document.querySelectorAll('#view-answer td button')[{place}].click();"
        ));
        browser.wait_until(
            "document.querySelector('dialog[open] h3')",
            "where it comes from",
        );
        is_spanish(&browser, &english, "where a number comes from");
        browser.press("dialog[open] button", "Cerrar");
        browser.wait_until("!document.querySelector('dialog[open]')", "closed");
    }
}

#[test]
fn from_right_to_left_nothing_sticks_out_and_figures_stay_as_they_are() {
    let (_served, browser) = in_spanish(SMALL);
    let look = |name: &str| {
        browser.run("document.documentElement.dir = 'rtl'; scrollTo(0, 0);");
        browser.picture(&format!("rtl-{name}"));
        let wide = browser.run("return [document.scrollingElement.scrollWidth, innerWidth];");
        // A phone draws what sticks out smaller, and so its window is wider then.
        assert_eq!(
            wide,
            serde_json::json!([SMALL.width, SMALL.width]),
            "{name}"
        );
        let out = browser.run(
            "return [...document.querySelectorAll('main *')]\
               .filter((one) => one.checkVisibility() && !one.closest('.wide, .strip, .unseen, svg, pre'))\
               .filter((one) => { const box = one.getBoundingClientRect(); return box.width > 0 && (box.left < -1 || box.right > innerWidth + 1); })\
               .map((one) => one.outerHTML.slice(0, 120));",
        );
        assert_eq!(out, serde_json::json!([]), "{name}");
        assert!(browser.holds("[...document.querySelectorAll('svg')].every((one) => getComputedStyle(one).direction === 'ltr')"), "{name}");
    };
    for (name, fragment, there) in SCREENS {
        go(&browser, fragment, there);
        look(name);
    }
    go(&browser, DEMO_RESULT, ".answers");
    for (view, _) in VIEWS {
        open(&browser, view);
        look(view);
    }
}
