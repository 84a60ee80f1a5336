//! A whole visit to a pad: a site, a test with a slip, a reload in the middle, no server, another device, two windows.

use crate::steps::{
    self, DEMO_RESULT, Step, fill, go, kept_tests, new_site, next, open_demo, settled, start_test,
    type_only, type_step,
};
use browser::{Browser, Screen, Served, page};

/// Eleven steps of an invented pad, from the top downwards. The fourth power is typed in kilowatts.
const STEPS: [Step; 11] = [
    ["3450", "96.1", "2395", "10.66", "18.7", "12.6"],
    ["3200", "89.7", "1906", "8.58", "15.9", "11.1"],
    ["2900", "80.4", "1431", "6.46", "12.9", "9.2"],
    ["2600", "71.9", "1.042", "4.86", "10.3", "7.7"],
    ["2300", "62.9", "742", "3.63", "8.1", "6.3"],
    ["2000", "53.8", "515", "2.70", "5.7", "5.0"],
    ["1700", "45.4", "345", "2.06", "4.0", "4.0"],
    ["1400", "36.4", "226", "1.58", "2.3", "3.1"],
    ["1100", "27.7", "151", "1.25", "1.3", "2.3"],
    ["850", "19.7", "113", "1.07", "0.3", "1.9"],
    ["600", "11.4", "93", "0.96", "0.0", "1.6"],
];
const SLIP: usize = 3;

#[test]
fn a_slip_is_caught_at_its_field_and_mended_with_one_tap() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    new_site(&browser, "Quarry Road");
    start_test(&browser);
    for (index, step) in STEPS.iter().enumerate() {
        type_step(&browser, step);
        if index == SLIP {
            let state = "document.querySelector('#reading-1').closest('.reading').dataset.state";
            browser.wait_until(
                &format!("{state} === 'doubted' || {state} === 'impossible'"),
                "a doubt",
            );
            browser.press("#verdict-1 button", "Take 1042 W");
            browser.wait_until(
                "document.querySelector('#reading-1').value === '1042'",
                "the mend",
            );
            browser.wait_until(&format!("{state} === 'fine'"), "no doubt any more");
        }
        if index + 1 < STEPS.len() {
            next(&browser, index + 2);
        }
    }
    settled(&browser);
    let tests = kept_tests(&browser);
    let [test] = tests.as_slice() else {
        panic!("{} tests", tests.len());
    };
    let readings = test["readings"]["text"].as_str().unwrap();
    let rows: Vec<String> = STEPS
        .iter()
        .map(|step| format!("{},", step.join(",")))
        .collect();
    let expected = rows.join("\n").replace("1.042", "1042") + "\n";
    assert_eq!(readings.split_once('\n').unwrap().1, expected);
    // The figures stand beside the steps, and the result has an answer.
    browser.wait_until(
        "document.querySelectorAll('.figure svg').length >= 3",
        "the figures",
    );
    browser.press("main button", "End the test");
    browser.press("main button", "To the result");
    browser.wait_until("document.querySelector('.answers')", "the answer");
    let answers = browser.text(".answers").unwrap();
    assert!(
        answers.contains("All 55 readings fit together."),
        "{answers}"
    );
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn a_reload_in_the_middle_of_a_number_loses_no_key_and_neither_does_a_dead_server() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    new_site(&browser, "Quarry Road");
    start_test(&browser);
    type_step(&browser, &STEPS[0]);
    next(&browser, 2);
    fill(&browser, "#speed", STEPS[1][0]);
    // Half a number, and the field is not left: what counts is each key.
    type_only(&browser, "#reading-0", "89.");
    settled(&browser);
    browser.load_again();
    resumed(&browser);
    browser.wait_until(
        "navigator.serviceWorker.controller?.state === 'activated'",
        "a service worker",
    );
    served.stop();
    browser.load_again();
    resumed(&browser);
}

/// The test is where it was left, in the field and in the store.
fn resumed(browser: &Browser) {
    browser.wait_until("document.querySelector('#reading-0')", "the steps");
    browser.run("document.querySelectorAll('.strip button')[1].click();");
    browser.wait_until(
        "document.querySelector('#speed').value === '3200'",
        "the second step",
    );
    assert_eq!(
        browser.run("return document.querySelector('#reading-0').value;"),
        "89."
    );
    let kept = kept_tests(browser);
    let readings = kept[0]["readings"]["text"].as_str().unwrap();
    assert!(
        readings.ends_with("3450,96.1,2395,10.66,18.7,12.6,\n3200,89.,,,,,\n"),
        "{readings}"
    );
}

#[test]
fn what_one_device_exports_another_takes_in() {
    let served = Served::start(page());
    let first = Browser::start(Screen::PHONE);
    first.open(served.address());
    open_demo(&first);
    // The download is caught on its way.
    first.run(
        "window.caught = []; const make = URL.createObjectURL;\
         URL.createObjectURL = (blob) => { window.blob = blob; return make(blob); };\
         HTMLAnchorElement.prototype.click = function () { window.caught.push(this.download); };",
    );
    first.press("main button", "Export");
    first.wait_until("window.caught.length === 1", "a download");
    let bundle = first.run_async(
        "const bytes = new Uint8Array(await window.blob.arrayBuffer());\
         return { name: window.caught[0], bytes: [...bytes] };",
    );
    let second = Browser::start(Screen::PHONE);
    second.open(served.address());
    steps::at_sites(&second);
    second.run(&format!(
        "const given = {bundle}; const file = new File([new Uint8Array(given.bytes)], given.name);\
         const data = new DataTransfer(); data.items.add(file);\
         const input = document.querySelector('#import-file'); input.files = data.files;\
         input.dispatchEvent(new Event('change', {{ bubbles: true }}));"
    ));
    second.wait_until(
        "location.hash.startsWith('#site/')",
        "the site on the other device",
    );
    second.wait_until("document.querySelector('.answers')", "its answer");
    assert_eq!(second.text("h1").as_deref(), Some("Larkspur Lane"));
    let texts = |browser: &Browser| {
        let mut texts: Vec<String> = kept_tests(browser)
            .iter()
            .map(|test| format!("{}\n{}", test["head_text"], test["readings"]["text"]))
            .collect();
        texts.sort();
        texts
    };
    assert_eq!(texts(&first), texts(&second));
    assert_eq!(texts(&first).len(), 2);
}

#[test]
fn a_second_window_reads_only_until_it_takes_over() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::DESK);
    browser.open(served.address());
    new_site(&browser, "Quarry Road");
    start_test(&browser);
    fill(&browser, "#reading-0", "96.1");
    settled(&browser);
    let address = browser
        .run("return location.href;")
        .as_str()
        .unwrap()
        .to_owned();
    let first = browser.window();
    let second = browser.new_window();
    browser.open(&address);
    browser.wait_until(
        "document.querySelector('#reading-0')?.value === '96.1'",
        "the same test",
    );
    browser.wait_until(
        "document.querySelector('fieldset.bare').disabled",
        "a screen to read",
    );
    browser.go_to(&first);
    fill(&browser, "#reading-1", "2395");
    settled(&browser);
    browser.go_to(&second);
    browser.wait_until(
        "document.querySelector('#reading-1').value === '2395'",
        "what the first typed",
    );
    browser.press("main button", "Go on here");
    browser.wait_until(
        "!document.querySelector('fieldset.bare').disabled",
        "a screen to type in",
    );
    fill(&browser, "#reading-2", "10.66");
    settled(&browser);
    browser.go_to(&first);
    browser.wait_until(
        "document.querySelector('fieldset.bare').disabled",
        "the first to be read only",
    );
    browser.wait_until(
        "document.querySelector('#reading-2').value === '10.66'",
        "what the second typed",
    );
    let kept = kept_tests(&browser);
    assert!(
        kept[0]["readings"]["text"]
            .as_str()
            .unwrap()
            .ends_with("3450,96.1,2395,10.66,,,\n")
    );
}

#[test]
fn a_column_of_a_spreadsheet_fills_the_steps_below() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::DESK);
    browser.open(served.address());
    new_site(&browser, "Quarry Road");
    start_test(&browser);
    browser.run(
        "const data = new DataTransfer(); data.setData('text/plain', '3450\\t96.1\\n3200\\t89.7\\n2900\\t80.4');\
         document.querySelector('#reading-0').focus();\
         document.querySelector('#reading-0').dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }));",
    );
    browser.wait_until(
        "document.querySelectorAll('.strip li').length === 3",
        "three steps",
    );
    settled(&browser);
    browser.press("main button", "Undo");
    browser.wait_until(
        "document.querySelectorAll('.strip li').length === 1",
        "one step again",
    );
}

#[test]
fn a_number_tells_where_it_comes_from_and_escape_closes_what_it_tells() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    open_demo(&browser);
    go(&browser, DEMO_RESULT, ".numbers td button");
    browser
        .run("const number = document.querySelector('.numbers td button'); number.focus(); number.click();");
    browser.wait_until(
        "document.querySelector('dialog[open] table')",
        "what is told",
    );
    let told = browser.text("dialog[open]").unwrap();
    for word in [
        "flow A: calibration",
        "Q² = s² · (N² − N₀²)",
        "JCGM 100:2008",
        "left out",
    ] {
        assert!(told.contains(word), "{word}: {told}");
    }
    assert_eq!(browser.violations(), []);
    browser.command(
        "Input.dispatchKeyEvent",
        &serde_json::json!({ "type": "keyDown", "key": "Escape", "code": "Escape", "windowsVirtualKeyCode": 27 }),
    );
    browser.wait_until("!document.querySelector('dialog[open]')", "a closed dialog");
    assert!(browser.holds("document.activeElement.matches('.numbers td button')"));
}

#[test]
fn a_doubted_reading_is_confirmed_or_left_out_on_the_result() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    open_demo(&browser);
    go(&browser, DEMO_RESULT, ".verdict");
    browser.press(".reading button", "Take 223 W");
    browser.press(".reading button", "Leave it out");
    let ruled = || {
        let tests = kept_tests(&browser);
        let test = tests
            .iter()
            .find(|test| test["name"] == "2026-06-02")
            .unwrap()
            .clone();
        (
            test["head_text"]
                .as_str()
                .unwrap()
                .contains("say = \"drop\""),
            test["readings"]["text"]
                .as_str()
                .unwrap()
                .contains("1400,35.1,223,"),
        )
    };
    assert_eq!(ruled(), (true, true));
}
