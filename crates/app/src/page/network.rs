//! Whether the device has a network. Nothing depends on it but a word that takes the worry away.

use super::words::shell as words;
use leptos::ev;
use leptos::prelude::*;

/// Returns a signal that follows the device's network.
fn online() -> ReadSignal<bool> {
    let (online, set) = signal(window().navigator().on_line());
    for (event, now) in [("online", true), ("offline", false)] {
        let handle = window_event_listener_untyped(event, move |_: ev::Event| set.set(now));
        on_cleanup(move || handle.remove());
    }
    online
}

/// Says that there is no network, in a word and for a screen reader; with one there is nothing to say.
#[component]
pub(super) fn Badge() -> impl IntoView {
    let online = online();
    let state = move || if online.get() { "online" } else { "offline" };
    view! {
        <div role="status">
            <p class="badge" data-network=state title=words::OFFLINE_MORE hidden=move || online.get()>
                {words::OFFLINE}
            </p>
        </div>
    }
}
