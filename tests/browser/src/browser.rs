//! A browser with one window, asked in JavaScript.

use crate::axe::{self, Violation};
use crate::driver::Driver;
use crate::folders;
use crate::screen::{Scheme, Screen};
use crate::wire::{self, Refusal};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Duration;

/// Where the protocol keeps browsers.
const BROWSERS: &str = "/session";
/// How long something that must happen is waited for.
const PATIENCE: Duration = Duration::from_secs(30);
/// How long between two looks.
const PAUSE: Duration = Duration::from_millis(25);

/// A browser that ends with this value.
#[derive(Debug)]
pub struct Browser {
    driver: Driver,
    /// The path of its commands.
    path: String,
    /// The number of its process.
    process: u64,
    screen: Screen,
}

impl Browser {
    /// Starts a browser that knows nothing from before.
    pub fn start(screen: Screen) -> Self {
        Self::opened(screen, None)
    }

    /// Starts a browser that keeps what it knows in a folder, from which a later one goes on.
    pub fn start_in(screen: Screen, profile: &Path) -> Self {
        Self::opened(screen, Some(profile))
    }

    /// Starts a browser whose window is a private one.
    pub fn start_private(screen: Screen) -> Self {
        Self::with(screen, &screen.capabilities(&["--incognito".to_owned()]))
    }

    fn opened(screen: Screen, profile: Option<&Path>) -> Self {
        let folder = profile.map(|folder| format!("--user-data-dir={}", folder.display()));
        let more: Vec<String> = folder.into_iter().collect();
        Self::with(screen, &screen.capabilities(&more))
    }

    fn with(screen: Screen, asked: &Value) -> Self {
        let driver = Driver::start();
        let opened = wire::call(driver.port, "POST", BROWSERS, asked)
            .unwrap_or_else(|refusal| panic!("no browser: {refusal:?}"));
        let id = opened["sessionId"].as_str();
        let process = opened["capabilities"]["goog:processID"].as_u64();
        Self {
            path: format!("{BROWSERS}/{}", id.expect("a browser has an id")),
            process: process.expect("a browser is a process"),
            driver,
            screen,
        }
    }

    /// Ends the browser as a device without power does: without a word to it.
    pub fn kill(self) {
        let killed = Command::new("kill")
            .args(["-9", &self.process.to_string()])
            .status();
        assert!(
            killed.is_ok_and(|status| status.success()),
            "it was running"
        );
    }

    /// Ends the program that shows the window, as a device short of memory does; whoever asks that window gets no answer
    /// any more. The browser goes on.
    pub fn crash_window(&self) {
        // The program is gone before it can answer.
        let _ = self.ask(
            "POST",
            "/goog/cdp/execute",
            &json!({ "cmd": "Page.crash", "params": {} }),
        );
    }

    /// Closes the window that is asked without a word to its page; another must be asked then.
    pub fn close_window(&self) {
        let closed = self.ask("DELETE", "/window", &json!({}));
        assert!(closed.is_ok(), "the window was there: {closed:?}");
    }

    /// Runs a script in every page from now on, before the page's own.
    pub fn before_the_page(&self, script: &str) {
        self.command(
            "Page.addScriptToEvaluateOnNewDocument",
            &json!({ "source": script }),
        );
    }

    /// Presses a key where the focus is, and lets it go.
    pub fn key(&self, key: &str, code: &str, number: u32) {
        let text = if key == " " { " " } else { "" };
        for kind in ["keyDown", "keyUp"] {
            self.command(
                "Input.dispatchKeyEvent",
                &json!({ "type": kind, "key": key, "code": code, "windowsVirtualKeyCode": number, "text": text }),
            );
        }
    }

    fn ask(&self, method: &str, command: &str, body: &Value) -> Result<Value, Refusal> {
        let path = format!("{}{command}", self.path);
        wire::call(self.driver.port, method, &path, body)
    }

    fn tell(&self, command: &str, body: &Value) -> Value {
        self.ask("POST", command, body)
            .unwrap_or_else(|refusal| panic!("{command}: {} ({})", refusal.message, refusal.kind))
    }

    /// Opens an address.
    pub fn open(&self, address: &str) {
        self.tell("/url", &json!({ "url": address }));
    }

    /// Loads the page again.
    pub fn load_again(&self) {
        self.tell("/refresh", &json!({}));
    }

    /// Gives the name of the window that is asked.
    pub fn window(&self) -> String {
        let name = self.ask("GET", "/window", &json!({}));
        let name = name.unwrap_or_else(|refusal| panic!("no window: {refusal:?}"));
        name.as_str().expect("a window has a name").to_owned()
    }

    /// Opens another window, asks it from now on, and gives its name.
    pub fn new_window(&self) -> String {
        let made = self.tell("/window/new", &json!({ "type": "tab" }));
        let name = made["handle"]
            .as_str()
            .expect("a window has a name")
            .to_owned();
        self.go_to(&name);
        name
    }

    /// Asks another window from now on.
    pub fn go_to(&self, window: &str) {
        self.tell("/window", &json!({ "handle": window }));
    }

    /// Runs the body of a function and gives what it returns.
    pub fn run(&self, script: &str) -> Value {
        self.tell("/execute/sync", &json!({ "script": script, "args": [] }))
    }

    /// Runs the body of an asynchronous function and gives what it returns.
    pub fn run_async(&self, script: &str) -> Value {
        let script = format!("return (async () => {{ {script} }})();");
        self.run(&script)
    }

    /// Gives the text that is seen in the first element that a selector finds; nothing where there is none.
    pub fn text(&self, selector: &str) -> Option<String> {
        let script = format!("return document.querySelector({selector:?})?.innerText ?? null;");
        self.run(&script).as_str().map(str::to_owned)
    }

    /// Presses the first element that a selector finds and that says these words.
    pub fn press(&self, selector: &str, words: &str) {
        let script = format!(
            "const all = [...document.querySelectorAll({selector:?})];\
             const one = all.find((one) => one.innerText.trim() === {words:?});\
             one?.click(); return Boolean(one);"
        );
        assert_eq!(self.run(&script), json!(true), "no {selector} says {words}");
    }

    /// Waits until an expression is true, and says what was waited for if it never is.
    ///
    /// Patience is counted in looks, not by the clock: a machine that was held still for a while, and its clock not,
    /// has given the page no time.
    pub fn wait_until(&self, expression: &str, what: &str) {
        let script = format!("return Boolean({expression});");
        let looks = PATIENCE.as_millis() / PAUSE.as_millis();
        for _ in 0..looks {
            if self.run(&script) == json!(true) {
                return;
            }
            std::thread::sleep(PAUSE);
        }
        let picture = self.picture("waited-in-vain");
        panic!("{what}: not within {PATIENCE:?}; see {}", picture.display());
    }

    /// Whether an expression is true now, where a page is there to be asked.
    pub fn holds(&self, expression: &str) -> bool {
        let script = format!("return Boolean({expression});");
        let asked = self.ask(
            "POST",
            "/execute/sync",
            &json!({ "script": script, "args": [] }),
        );
        asked == Ok(json!(true))
    }

    /// Sends a command of the browser's own protocol.
    pub fn command(&self, name: &str, parameters: &Value) -> Value {
        self.tell(
            "/goog/cdp/execute",
            &json!({ "cmd": name, "params": parameters }),
        )
    }

    /// Makes the person like these colours.
    pub fn like(&self, scheme: Scheme) {
        let feature = json!({ "name": "prefers-color-scheme", "value": scheme.word() });
        self.command(
            "Emulation.setEmulatedMedia",
            &json!({ "features": [feature] }),
        );
    }

    /// Takes the device's network away, or gives it back.
    pub fn network(&self, network: Network) {
        let is_away = network == Network::Away;
        self.command("Network.enable", &json!({}));
        self.command(
            "Network.emulateNetworkConditions",
            &json!({ "offline": is_away, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1 }),
        );
    }

    /// Writes what is seen as a picture and says where.
    pub fn picture(&self, name: &str) -> PathBuf {
        let path = folders::pictures().join(format!("{name}-{}.png", self.screen.name));
        let taken = self.command("Page.captureScreenshot", &json!({ "format": "png" }));
        let bytes = decoded(taken["data"].as_str().expect("a picture is text"));
        std::fs::write(&path, bytes).expect("the picture can be written");
        path
    }

    /// Gives every address that the window asked for since this was asked last.
    pub fn requests(&self) -> Vec<String> {
        let entries = self.tell("/se/log", &json!({ "type": "performance" }));
        let address = |entry: &Value| {
            let message: Value = serde_json::from_str(entry["message"].as_str()?).ok()?;
            let message = &message["message"];
            (message["method"] == "Network.requestWillBeSent").then_some(())?;
            message["params"]["request"]["url"]
                .as_str()
                .map(str::to_owned)
        };
        entries
            .as_array()
            .into_iter()
            .flatten()
            .filter_map(address)
            .collect()
    }

    /// Gives every complaint of the window since this was asked last.
    pub fn complaints(&self) -> Vec<String> {
        let entries = self.tell("/se/log", &json!({ "type": "browser" }));
        let text = |entry: &Value| entry["message"].as_str().map(str::to_owned);
        entries
            .as_array()
            .into_iter()
            .flatten()
            .filter_map(text)
            .collect()
    }

    /// Gives what keeps people from using the page, by the rules of WCAG 2.2 A and AA.
    pub fn violations(&self) -> Vec<Violation> {
        axe::violations(self)
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        // The driver ends with its browser; where it is gone already, so is the browser.
        let _ = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| {
            wire::call(self.driver.port, "DELETE", &self.path, &json!({}))
        }));
    }
}

/// Whether the device has a network.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Network {
    /// It has.
    There,
    /// It has not.
    Away,
}

/// Reads base 64, of RFC 4648.
fn decoded(text: &str) -> Vec<u8> {
    let digit = |letter: u8| match letter {
        b'A'..=b'Z' => letter - b'A',
        b'a'..=b'z' => letter - b'a' + 26,
        b'0'..=b'9' => letter - b'0' + 52,
        b'+' => 62,
        _ => 63,
    };
    let letters: Vec<u8> = text.bytes().filter(|&letter| letter != b'=').collect();
    let group = |letters: &[u8]| {
        let bits = letters
            .iter()
            .fold(0_u32, |bits, &letter| bits << 6 | u32::from(digit(letter)));
        let bits = bits << (6 * (4 - letters.len()));
        bits.to_be_bytes()[1..letters.len()].to_vec()
    };
    letters.chunks(4).flat_map(group).collect()
}
