//! Several windows of the page: a test is changed in one at a time, and the others follow.
//!
//! The window that has a test open holds a lock of the browser, which ends with the window whatever ends it. Another
//! may take the lock over. Where the browser has no locks, every window may write, and the store tells of conflicts.

use app::library::Id;
use leptos::prelude::window;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::BroadcastChannel;

const LOCK: &str = "headwright-open-";
const CHANNEL: &str = "headwright-tests";

/// How a lock is asked for.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Ask {
    /// Only if nobody holds it.
    IfFree,
    /// From whoever holds it.
    TakeOver,
}

/// A lock that is held as long as this lives.
pub(super) struct Held {
    let_go: js_sys::Function,
}

impl Drop for Held {
    fn drop(&mut self) {
        // Letting go of a promise cannot fail.
        let _ = self.let_go.call0(&JsValue::NULL);
    }
}

/// Asks for the lock of a test. `got` is told whether it is ours; `lost` is called when another window takes it over.
/// What is returned must be held on to.
pub(super) fn ask(id: &Id, ask: Ask, got: impl Fn(bool) + 'static, lost: impl FnOnce() + 'static) -> Option<Held> {
    let Some((locks, request)) = locks() else {
        got(true);
        return None;
    };
    let mut let_go = None;
    let held = js_sys::Promise::new(&mut |resolve, _| let_go = Some(resolve));
    let options = js_sys::Object::new();
    let key = match ask {
        Ask::IfFree => "ifAvailable",
        Ask::TakeOver => "steal",
    };
    let _ = js_sys::Reflect::set(&options, &JsValue::from_str(key), &JsValue::TRUE);
    let granted = Closure::<dyn FnMut(JsValue) -> JsValue>::new(move |lock: JsValue| {
        let is_ours = !lock.is_null();
        got(is_ours);
        if is_ours { held.clone().into() } else { JsValue::UNDEFINED }
    });
    let name = JsValue::from_str(&format!("{LOCK}{}", id.0));
    let asked = request.call3(&locks, &name, &options, granted.as_ref());
    wasm_bindgen_futures::spawn_local(async move {
        // The closure lives until the lock is gone.
        let _granted = granted;
        let asked = asked.ok().and_then(|asked| asked.dyn_into::<js_sys::Promise>().ok());
        if let Some(asked) = asked
            && wasm_bindgen_futures::JsFuture::from(asked).await.is_err()
        {
            lost();
        }
    });
    let_go.map(|let_go| Held { let_go })
}

fn locks() -> Option<(JsValue, js_sys::Function)> {
    let navigator = window().navigator();
    let locks = js_sys::Reflect::get(&navigator, &JsValue::from_str("locks")).ok()?;
    if locks.is_undefined() {
        return None;
    }
    let request = js_sys::Reflect::get(&locks, &JsValue::from_str("request")).ok()?;
    Some((locks, request.dyn_into().ok()?))
}

/// Tells the other windows that a test has changed.
pub(super) fn tell_changed(id: &Id) {
    if let Ok(channel) = BroadcastChannel::new(CHANNEL) {
        let _ = channel.post_message(&JsValue::from_str(&id.0));
        channel.close();
    }
}

/// Listens to what other windows change, as long as what is returned lives.
pub(super) struct Listening {
    channel: BroadcastChannel,
    _heard: Closure<dyn FnMut(web_sys::MessageEvent)>,
}

impl Drop for Listening {
    fn drop(&mut self) {
        self.channel.close();
    }
}

/// Calls back whenever another window tells that a test has changed.
pub(super) fn listen(mut heard: impl FnMut(Id) + 'static) -> Option<Listening> {
    let channel = BroadcastChannel::new(CHANNEL).ok()?;
    let heard = Closure::<dyn FnMut(web_sys::MessageEvent)>::new(move |event: web_sys::MessageEvent| {
        if let Some(id) = event.data().as_string() {
            heard(Id(id));
        }
    });
    channel.set_onmessage(Some(heard.as_ref().unchecked_ref()));
    Some(Listening { channel, _heard: heard })
}
