//! What stands around every screen: our name, the menu, the network, and whatever endangers what was typed.

use super::exporting::export_everything;
use super::help::Help;
use super::keeper::{Opened, keeper};
use super::network::Badge;
use super::route::{self, Screen};
use super::words::shell as words;
use super::{
    editing::EditSite, guided::NewSite, preferences::Preferences, report, result, site,
    sites::Sites, test,
};
use leptos::prelude::*;

/// The whole page.
#[component]
pub(super) fn Shell() -> impl IntoView {
    let keeper = super::keeper::provide();
    let route = route::provide();
    super::preferences::follow(keeper);
    super::undo::provide();
    let is_ready = move || !matches!(keeper.opened.get(), Opened::Opening | Opened::Shut(_));
    view! {
        <a class="skip" href="#main" on:click=move |event| { event.prevent_default(); super::ui::focus("main"); }>
            {words::SKIP}
        </a>
        <header class="top">
            <p class="name">{words::NAME}</p>
            <div class="states"><Badge/></div>
            <nav aria-label=words::MENU>
                <MenuItem to=Screen::Sites word=words::SITES/>
                <MenuItem to=Screen::Settings word=words::SETTINGS/>
                <MenuItem to=Screen::Help word=words::HELP/>
            </nav>
        </header>
        <Banners/>
        <main id="main" tabindex="-1" data-width=move || width(&route.get())>
            <Show when=is_ready fallback=move || view! { <Opening/> }>
                {move || screen(route.get())}
            </Show>
        </main>
        <super::undo::UndoBar/>
    }
}

/// Screens of text and forms are held to a width that can be read; those with figures use the whole.
fn width(screen: &Screen) -> &'static str {
    match screen {
        Screen::NewSite | Screen::Settings | Screen::Help => "narrow",
        _ => "full",
    }
}

fn screen(screen: Screen) -> AnyView {
    match screen {
        Screen::Sites => view! { <Sites/> }.into_any(),
        Screen::NewSite => view! { <NewSite/> }.into_any(),
        Screen::Site(id) => view! { <site::SiteScreen id/> }.into_any(),
        Screen::EditSite(id) => view! { <EditSite id/> }.into_any(),
        Screen::Test(id) => view! { <test::TestScreen id/> }.into_any(),
        Screen::Result(id) => view! { <result::ResultScreen id/> }.into_any(),
        Screen::Report(id) => view! { <report::ReportScreen id/> }.into_any(),
        Screen::Settings => view! { <Preferences/> }.into_any(),
        Screen::Help => view! { <Help/> }.into_any(),
    }
}

/// What is shown until the store is open, or where it cannot be.
#[component]
fn Opening() -> impl IntoView {
    let opened = keeper().opened;
    move || {
        match opened.get() {
        Opened::Shut(error) => view! {
            <h1>{words::NAME}</h1>
            <div class="finding" data-severity="error" role="alert">
                <p>{words::shut(&error)}</p>
                <div class="actions">
                    <button type="button" class="primary" on:click=move |_| super::browser::load_again()>
                        {words::LOAD_AGAIN}
                    </button>
                </div>
            </div>
        }
        .into_any(),
        _ => view! { <p role="status">{words::OPENING}</p> }.into_any(),
    }
    }
}

/// What endangers what was typed, above every screen.
#[component]
fn Banners() -> impl IntoView {
    let keeper = keeper();
    let (opened, trouble) = (keeper.opened, keeper.trouble);
    let update = super::update::waiting();
    view! {
        {move || matches!(opened.get(), Opened::Memory(_)).then(|| view! {
            <div class="banner" data-weight="error" role="status">
                <p>{words::MEMORY}</p>
                <button type="button" on:click=move |_| export_everything(keeper)>{words::EXPORT_NOW}</button>
            </div>
        })}
        {move || trouble.get().map(|error| view! {
            <div class="banner" data-weight="error" role="alert">
                <p>{words::trouble(&error)}</p>
                <button type="button" on:click=move |_| export_everything(keeper)>{words::EXPORT_NOW}</button>
                <button type="button" on:click=move |_| keeper.try_again()>{words::TRY_AGAIN}</button>
            </div>
        })}
        {move || update.get().then(|| view! {
            <div class="banner" role="status"><p>{words::UPDATE}</p></div>
        })}
    }
}

#[component]
fn MenuItem(to: Screen, word: &'static str) -> impl IntoView {
    let route = route::route();
    let shown = to.clone();
    let current = move || {
        let is_here = match route.get() {
            Screen::Settings | Screen::Help => route.get() == shown,
            _ => shown == Screen::Sites,
        };
        is_here.then_some("page")
    };
    view! {
        <button type="button" aria-current=current on:click=move |_| route.go(to.clone())>{word}</button>
    }
}
