//! Whether the device has a network. Nothing depends on it but a word that takes the worry away.

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

/// Says whether there is a network, in a word and for a screen reader whenever it changes.
#[component]
pub(super) fn Badge() -> impl IntoView {
    let online = online();
    let word = move || if online.get() { "Online" } else { "No signal" };
    let state = move || if online.get() { "online" } else { "offline" };
    view! {
        <p class="badge" role="status" data-network=state title="Everything here works without a network.">
            {word}
        </p>
    }
}
