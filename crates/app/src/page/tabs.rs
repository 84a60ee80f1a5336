//! Several windows of the page: what one changes in a test, the others are told.

use app::library::Id;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::BroadcastChannel;

const CHANNEL: &str = "headwright-tests";

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
    let heard =
        Closure::<dyn FnMut(web_sys::MessageEvent)>::new(move |event: web_sys::MessageEvent| {
            if let Some(id) = event.data().as_string() {
                heard(Id(id));
            }
        });
    channel.set_onmessage(Some(heard.as_ref().unchecked_ref()));
    Some(Listening {
        channel,
        _heard: heard,
    })
}
