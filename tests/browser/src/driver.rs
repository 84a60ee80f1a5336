//! The program that drives the browser, one for each test, so that tests do not wait for each other.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};

/// What the driver says when it is ready, before the port.
const READY: &str = "started successfully on port ";

/// A driver that ends with this value.
#[derive(Debug)]
pub(crate) struct Driver {
    program: Child,
    pub(crate) port: u16,
}

impl Driver {
    /// Starts a driver at a free port.
    pub(crate) fn start() -> Self {
        let mut program = Command::new("chromedriver")
            .arg("--port=0")
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("ChromeDriver is needed; `cargo xtask test` says how it is installed");
        let said = program.stdout.take().expect("its output is ours");
        let port = BufReader::new(said)
            .lines()
            .map_while(Result::ok)
            .find_map(|line| port(&line));
        Self {
            program,
            port: port.expect("the driver says its port"),
        }
    }
}

fn port(line: &str) -> Option<u16> {
    let (_, rest) = line.split_once(READY)?;
    rest.trim_end_matches('.').parse().ok()
}

impl Drop for Driver {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.program.kill();
        let _ = self.program.wait();
    }
}
