//! Tells `update.js` whether a test is open: a new version of the page waits until none is.

use leptos::prelude::document;
use wasm_bindgen::JsValue;
use web_sys::{CustomEvent, CustomEventInit};

/// The event that `update.js` listens for.
const EVENT: &str = "headwright:work";

/// What a new version of the page would interrupt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Work {
    /// Nothing: a new version may take over.
    None,
}

impl Work {
    fn word(self) -> &'static str {
        match self {
            Self::None => "none",
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
