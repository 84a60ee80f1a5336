//! The page in a real browser.
//!
//! [`Served`] is our server in a thread, [`Browser`] a Chromium of its own for one test: it is asked in JavaScript and
//! answers in JSON. Both end with the test, however it ends. The browser is driven by the WebDriver protocol, which
//! is JSON over HTTP and needs no library.

// A helper of tests has nobody to hand an error to: it stops the test and says why.
#![allow(
    clippy::missing_panics_doc,
    clippy::panic,
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "everything here is called from tests alone"
)]

mod axe;
mod browser;
mod driver;
pub mod folders;
mod screen;
mod served;
mod wire;

pub use axe::Violation;
pub use browser::{Browser, Network};
pub use screen::{Kind, Scheme, Screen};
pub use served::{Served, page};
