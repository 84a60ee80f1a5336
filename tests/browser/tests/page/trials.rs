//! Jobs as a person does them, each tap and each field counted.

use crate::steps::{at_sites, open_demo};
use browser::{Browser, Screen, Served, page};

/// A hand that counts what it does.
struct Hand<'a> {
    browser: &'a Browser,
    /// Taps, and fields that were typed in.
    actions: usize,
    taps: usize,
}

impl<'a> Hand<'a> {
    fn on(browser: &'a Browser) -> Self {
        Self {
            browser,
            actions: 0,
            taps: 0,
        }
    }

    /// Taps what says these words, once it is there.
    fn tap(&mut self, selector: &str, words: &str) {
        self.browser.wait_until(
            &format!(
                "[...document.querySelectorAll({selector:?})].some((one) => one.innerText.trim().startsWith({words:?}))"
            ),
            words,
        );
        let script = format!(
            "[...document.querySelectorAll({selector:?})].find((one) => one.innerText.trim().startsWith({words:?})).click();"
        );
        self.browser.run(&script);
        self.actions += 1;
        self.taps += 1;
    }

    /// Types into a field, once it is there.
    fn type_in(&mut self, selector: &str, text: &str) {
        let there = format!("document.querySelector({selector:?})");
        self.browser.wait_until(&there, selector);
        crate::steps::fill(self.browser, selector, text);
        self.actions += 1;
    }
}

/// Flow, power and filter pressure of an invented pad at the speeds that the page proposes by itself.
const READ: [[&str; 3]; 11] = [
    ["96.1", "2395", "18.7"],
    ["87.9", "1830", "15.4"],
    ["79.2", "1360", "12.5"],
    ["70.6", "985", "9.9"],
    ["61.6", "700", "7.7"],
    ["52.6", "485", "5.5"],
    ["43.8", "325", "3.8"],
    ["35.0", "216", "2.2"],
    ["26.2", "146", "1.2"],
    ["16.7", "108", "0.2"],
    ["7.0", "85", "0.0"],
];
/// From the list of sites to the result of a first test, by hand.
fn to_the_first_result(browser: &Browser) -> Hand<'_> {
    let mut hand = Hand::on(browser);
    hand.tap("main button", "New site");
    hand.type_in("#site-name", "Quarry Road");
    hand.tap("form button", "Make the site");
    hand.tap("main button", "New test");
    hand.tap("main button", "I have read them");
    hand.tap("main button", "To the steps");
    for (step, readings) in READ.iter().enumerate() {
        let heading = format!(
            "document.querySelector('#step-title')?.innerText.startsWith('Step {} ')",
            step + 1
        );
        browser.wait_until(&heading, "the step");
        for (field, text) in FIELDS.iter().zip(readings) {
            hand.type_in(field, text);
        }
        if step + 1 < READ.len() {
            hand.tap(".thumb-bar button", "Next step");
        }
    }
    hand.tap("main button", "End the test");
    hand.tap("main button", "To the result");
    browser.wait_until("document.querySelector('.answers')", "the answer");
    hand
}

/// Flow, power and filter pressure stand in these fields of a new site.
const FIELDS: [&str; 3] = ["#reading-0", "#reading-1", "#reading-3"];

#[test]
fn from_a_new_site_to_its_result_in_sixty_actions() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    at_sites(&browser);
    let hand = to_the_first_result(&browser);
    let answers = browser.text(".answers").unwrap();
    assert!(answers.contains("gpm at 3450 rpm"), "{answers}");
    println!("from a new site to its result: {} actions", hand.actions);
    assert!(hand.actions <= 60, "{} actions", hand.actions);
}

#[test]
fn from_a_new_site_to_a_report_in_hand_in_sixty_actions() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.before_the_page(
        "const make = URL.createObjectURL.bind(URL);\
         URL.createObjectURL = (blob) => { window.inHand = blob; return make(blob); };",
    );
    browser.open(served.address());
    at_sites(&browser);
    let mut hand = to_the_first_result(&browser);
    hand.tap("main button", "Hand over a report");
    let is_ready = "[...document.querySelectorAll('main button')].some((one) => one.innerText === 'Save' && !one.disabled)";
    browser.wait_until(is_ready, "the report");
    hand.tap("main button", "Save");
    browser.wait_until("window.inHand", "the report in hand");
    let report = browser.run_async("return await window.inHand.text();");
    let report = report.as_str().unwrap();
    assert!(
        report.contains("<h1>Quarry Road: pool pump report</h1>"),
        "{report:.400}"
    );
    println!(
        "from a new site to a report in hand: {} actions",
        hand.actions
    );
    assert!(hand.actions <= 60, "{} actions", hand.actions);
}

#[test]
fn a_person_new_to_it_is_told_the_next_step_until_the_first_result() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    at_sites(&browser);
    let next = |number: usize, name: &str| {
        browser.wait_until(
            &format!(
                "[...document.querySelectorAll('.way li')].findIndex((one) => one.dataset.state === 'next') === {}",
                number - 1
            ),
            name,
        );
        assert_eq!(browser.violations(), [], "{name}");
    };
    // The invented pad is one tap away, and is no step of the way.
    open_demo(&browser);
    browser.run("location.hash = '#sites';");
    at_sites(&browser);
    next(1, "make a site");
    browser.press(".way button", "Make a site");
    browser.wait_until("document.querySelector('#site-name')", "the form");
    crate::steps::fill(&browser, "#site-name", "Quarry Road");
    browser.press("form button", "Make the site");
    browser.wait_until("location.hash.startsWith('#site/')", "the site");
    browser.run("location.hash = '#sites';");
    next(2, "start a test");
    browser.press(".way button", "Start a test");
    crate::steps::start_test(&browser);
    let told = || browser.text(".on-the-way").unwrap_or_default();
    assert!(told().starts_with("Step 3 of 5"), "{}", told());
    for (step, readings) in READ.iter().take(5).enumerate() {
        for (field, text) in FIELDS.iter().zip(readings) {
            crate::steps::fill(&browser, field, text);
        }
        let way = ["4 more", "3 more", "2 more", "One more", "Step 5 of 5"][step];
        assert!(told().contains(way), "{}", told());
        if step < 4 {
            crate::steps::next(&browser, step + 2);
        }
    }
    browser.press("main button", "End the test");
    browser.press("main button", "To the result");
    browser.wait_until("document.querySelector('.answers')", "the answer");
    browser.run("location.hash = '#sites';");
    at_sites(&browser);
    browser.wait_until("!document.querySelector('.way')", "no path any more");
}

/// The example's pad as it was at its baseline, and again with its filter loaded: what the circuit takes more is told.
#[test]
fn why_flow_is_low_is_found_in_six_taps() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    open_demo(&browser);
    browser.run("location.hash = '#sites';");
    at_sites(&browser);
    let mut hand = Hand::on(&browser);
    hand.tap("#sites .card", "Larkspur Lane");
    hand.tap("main button", "The whole result");
    // What changed since the baseline, or that nothing did which these meters could see …
    hand.tap("[role=tab]", "Since the baseline");
    browser.wait_until(
        "document.querySelector('#view-since .answers')",
        "what changed since",
    );
    let since = browser.text("#view-since .answers").unwrap();
    assert!(!since.is_empty());
    // … and which line takes most of what the pump gives.
    hand.tap("[role=tab]", "Where the head is lost");
    browser.wait_until(
        "document.querySelector('#view-lost .shares li')",
        "the shares",
    );
    let most = browser.text("#view-lost .shares .line").unwrap();
    println!("why flow is low: {} taps; {most} takes most", hand.taps);
    assert!(hand.taps <= 6, "{} taps", hand.taps);
}
