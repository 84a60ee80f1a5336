//! What the page computes is what the command computes.

use crate::steps::{DEMO_RESULT, go, open_demo};
use browser::{Browser, Screen, Served, folders, page};
use std::process::Command;

#[test]
fn the_demo_is_one_tap_away() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    open_demo(&browser);
    assert_eq!(
        browser.text("h1").as_deref(),
        Some("Larkspur Lane (invented)")
    );
    let answers = browser.text(".answers").unwrap();
    assert!(answers.contains("gpm at 3450 rpm"), "{answers}");
    assert_eq!(browser.complaints(), Vec::<String>::new());
}

#[test]
fn the_numbers_are_those_of_the_command_byte_for_byte() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::DESK);
    browser.open(served.address());
    open_demo(&browser);
    go(&browser, DEMO_RESULT, ".answers");
    browser.press("main summary", "The answer as JSON");
    browser.wait_until("document.querySelector('#json')", "the numbers");
    let shown = browser.run("return document.querySelector('#json').textContent;");
    let of_command = of_command("analyze", &["2026-06-02.toml"], &[]);
    assert_eq!(shown.as_str().unwrap(), of_command);
}

/// What a command prints as JSON for tests of the demo, with options.
pub(crate) fn of_command(command: &str, tests: &[&str], options: &[&str]) -> String {
    let example = "examples/larkspur-lane";
    let files = ["site.toml"].iter().chain(tests);
    let output = Command::new(env!("CARGO"))
        .current_dir(folders::root())
        .args(["run", "--quiet", "--package", "headwright", "--target-dir"])
        .arg(folders::target())
        .args(["--", command, "--json"])
        .args(files.map(|file| format!("{example}/{file}")))
        .args(options)
        .output()
        .unwrap();
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn nothing_leaves_the_origin() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    open_demo(&browser);
    browser.press("nav button", "Help");
    browser.wait_until(
        "document.querySelector('h1').innerText.startsWith('Help')",
        "the other screen",
    );
    let requests = browser.requests();
    assert!(
        requests.iter().any(|address| address.ends_with(".wasm")),
        "{requests:?}"
    );
    // The browser draws its own fields with pictures that stand in their addresses.
    let stays =
        |address: &str| address.starts_with(served.address()) || address.starts_with("data:");
    for address in &requests {
        assert!(stays(address), "{address}");
    }
    let timed =
        browser.run("return performance.getEntriesByType('resource').map((entry) => entry.name);");
    let timed = timed.as_array().unwrap();
    assert!(!timed.is_empty());
    for address in timed {
        let address = address.as_str().unwrap();
        assert!(stays(address), "{address}");
    }
}

#[test]
fn the_policy_lets_no_address_of_others_be_asked() {
    let served = Served::start(page());
    let other = Served::start(page());
    let browser = Browser::start(Screen::DESK);
    browser.open(served.address());
    let asked = format!(
        "return await fetch({:?}, {{ mode: 'no-cors' }}).then(() => 'sent', () => 'refused');",
        other.address()
    );
    assert_eq!(browser.run_async(&asked), "refused");
    let own = "return await fetch('./').then(() => 'sent', () => 'refused');";
    assert_eq!(browser.run_async(own), "sent");
}
