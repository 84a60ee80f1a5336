//! Between the program and `update.js`: a new version of the page waits until no test is open.

use leptos::ev;
use leptos::prelude::*;
use wasm_bindgen::JsValue;
use web_sys::{CustomEvent, CustomEventInit};

/// The event that `update.js` listens for.
const EVENT: &str = "headwright:work";
/// The event that `update.js` sends when a version waits.
const WAITS: &str = "headwright:update-waits";

/// What a new version of the page would interrupt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Work {
    /// Nothing: a new version may take over.
    None,
    /// A test.
    Test,
}

impl Work {
    fn word(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::Test => "test",
        }
    }
}

/// Tells what is under way.
pub(super) fn tell(work: Work) {
    let detail = CustomEventInit::new();
    detail.set_detail(&JsValue::from_str(work.word()));
    if let Ok(event) = CustomEvent::new_with_event_init_dict(EVENT, &detail) {
        // A listener that fails tells the browser's console; the page goes on.
        let _ = document().dispatch_event(&event);
    }
}

/// Whether a new version waits.
pub(super) fn waiting() -> ReadSignal<bool> {
    let (waits, set) = signal(false);
    let handle = window_event_listener_untyped(WAITS, move |_: ev::Event| set.set(true));
    on_cleanup(move || handle.remove());
    waits
}
