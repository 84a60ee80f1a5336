//! The program as the worker: it hears a question, answers it, and hears the next.

use app::work::Desk;
use app::work::queue::{Numbered, Said};
use js_sys::global;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{DedicatedWorkerGlobalScope, MessageEvent};

fn scope() -> Option<DedicatedWorkerGlobalScope> {
    global().dyn_into().ok()
}

/// Whether this run of the program is the worker.
pub(in crate::page) fn is_here() -> bool {
    scope().is_some()
}

fn say(said: &Said) {
    if let (Some(scope), Ok(text)) = (scope(), serde_json::to_string(said)) {
        // A page that is gone hears nothing, and needs nothing.
        let _ = scope.post_message(&JsValue::from_str(&text));
    }
}

/// Answers whatever is asked, as long as the page lives.
pub(in crate::page) fn serve() {
    std::panic::set_hook(Box::new(|panic| {
        let why = panic.to_string();
        say(&Said::Stopped { why });
    }));
    let mut desk = Desk::default();
    let heard = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
        let text = event.data().as_string().unwrap_or_default();
        if let Ok(Numbered { number, asked }) = serde_json::from_str(&text) {
            let answer = desk.answer(&asked);
            say(&Said::Done { number, answer });
        }
    });
    if let Some(scope) = scope() {
        scope.set_onmessage(Some(heard.as_ref().unchecked_ref()));
        // It is heard for as long as the worker lives.
        heard.forget();
        say(&Said::Ready);
    }
}
