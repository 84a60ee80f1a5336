//! Our server in a thread of the test.

use crate::folders;
use server::listen::Door;
use server::page::Page;
use server::report::Setter;
use std::thread::JoinHandle;
use tokio::sync::oneshot;

/// A server that ends with this value.
#[derive(Debug)]
pub struct Served {
    address: String,
    port: u16,
    stop: Option<oneshot::Sender<()>>,
    thread: Option<JoinHandle<()>>,
}

/// Reads the page that `cargo xtask app` made.
pub fn page() -> Page {
    let folder = folders::target().join("app");
    let page = Page::of_folder(&folder).ok().flatten();
    page.expect("the page is not built; `cargo xtask app` does it, and so does `cargo xtask test`")
}

impl Served {
    /// Serves a page at a free port.
    pub fn start(page: Page) -> Self {
        Self::start_at(0, page)
    }

    /// Serves a page at a port, such as that of a server that was stopped.
    pub fn start_at(port: u16, page: Page) -> Self {
        Self::start_door(Door::open(port).expect("the port is free"), page)
    }

    /// Serves a page at a free port, with what sets its reports.
    pub fn start_setting(page: Page, setter: Setter) -> Self {
        let door = Door::open(0).expect("a port is free");
        Self::start_door(door.setting(Some(setter)), page)
    }

    fn start_door(door: Door, page: Page) -> Self {
        let (address, port) = (door.address(), door.port());
        let (stop, stopped) = oneshot::channel();
        let thread = std::thread::spawn(move || {
            let until = async { stopped.await.unwrap_or(()) };
            door.serve(page, until).expect("the page is served");
        });
        Self {
            address,
            port,
            stop: Some(stop),
            thread: Some(thread),
        }
    }

    /// Returns the address of the page.
    pub fn address(&self) -> &str {
        &self.address
    }

    /// Returns the port.
    pub fn port(&self) -> u16 {
        self.port
    }

    /// Stops the server: from now on nobody answers at its port.
    pub fn stop(mut self) {
        self.end();
    }

    fn end(&mut self) {
        if let Some(stop) = self.stop.take() {
            // It may have ended by itself; then there is nobody to tell.
            let _ = stop.send(());
        }
        if let Some(Err(panic)) = self.thread.take().map(JoinHandle::join)
            && !std::thread::panicking()
        {
            std::panic::resume_unwind(panic);
        }
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        self.end();
    }
}
