//! What stands around every screen: our name, the menu, the network.

use super::about::About;
use super::answer::Demo;
use super::network::Badge;
use super::screen::{self, Screen};
use leptos::prelude::*;

/// The whole page.
#[component]
pub(super) fn Shell() -> impl IntoView {
    let screen = screen::provide();
    view! {
        <header class="top">
            <p class="name">"Headwright"</p>
            <Badge/>
            <nav aria-label="Screens">
                {Screen::ALL.map(|to| view! { <MenuItem to screen/> }).collect_view()}
            </nav>
        </header>
        <main id="main" tabindex="-1">
            {move || match screen.get() {
                Screen::Demo => view! { <Demo/> }.into_any(),
                Screen::About => view! { <About/> }.into_any(),
            }}
        </main>
    }
}

#[component]
fn MenuItem(to: Screen, screen: RwSignal<Screen>) -> impl IntoView {
    let current = move || (screen.get() == to).then_some("page");
    view! {
        <button type="button" aria-current=current on:click=move |_| screen.set(to)>
            {to.word()}
        </button>
    }
}
