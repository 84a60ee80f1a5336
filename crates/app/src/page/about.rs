//! What the page is, where its data stay, and how it is kept on a phone.

use leptos::prelude::*;

/// The screen.
#[component]
pub(super) fn About() -> impl IntoView {
    view! {
        <h1>"About this page"</h1>
        <p>
            "A field-test bench for the circulation of a swimming pool: step the pump through its speeds, and see "
            "which readings to trust, where water is cheapest and which limit comes first."
        </p>
        <h2>"No signal needed"</h2>
        <p>
            "After the first visit the page works with the network off. It computes everything itself and sends "
            "nothing anywhere."
        </p>
        <h2>"On a phone"</h2>
        <p>
            "Open the page from its https address, and choose “Add to home screen” or “Install” in the menu of the "
            "browser."
        </p>
        <p class="fine">{concat!("Version ", env!("CARGO_PKG_VERSION"))}</p>
    }
}
