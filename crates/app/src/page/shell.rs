//! What stands around every screen: our name, the menu, the network, and whatever endangers what was typed.

use super::exporting::export_everything;
use super::help::Help;
use super::keeper::{Keeper, Opened, keeper};
use super::network::Badge;
use super::route::{self, Route, Screen};
use super::words::{Phrase, shell as words, speak};
use super::{
    editing::EditSite, guided::NewSite, preferences::Preferences, report, result, site,
    sites::Sites, test,
};
use leptos::prelude::*;

/// The whole page.
#[component]
pub(super) fn Shell() -> impl IntoView {
    let keeper = super::keeper::provide();
    route::provide();
    super::preferences::follow(keeper);
    super::undo::provide();
    let language = super::preferences::spoken(keeper);
    let update = super::update::waiting();
    move || {
        // What has the focus keeps it, for it comes again under its id.
        let focused = super::browser::focused();
        speak(language.get());
        if let Some(id) = focused {
            super::browser::focus_later(&id);
        }
        view! { <Around update/> }
    }
}

/// What is made anew where another language is chosen: everything that a person reads.
#[component]
fn Around(update: ReadSignal<bool>) -> impl IntoView {
    let (keeper, route) = (keeper(), route::route());
    let is_loaded = loaded(keeper, route);
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
        <Banners update/>
        <main id="main" tabindex="-1" data-width=move || width(&route.get())>
            <Show when=is_ready fallback=move || view! { <Opening/> }>
                {move || {
                    let to = route.get();
                    if is_loaded.get() { screen(to) } else { view! { <Opening/> }.into_any() }
                }}
            </Show>
        </main>
        <super::undo::UndoBar/>
    }
}

/// Whether the tests are loaded that the screen is of; where they are not, that is begun.
fn loaded(keeper: Keeper, route: Route) -> Memo<bool> {
    let site = move || {
        let to = route.get();
        keeper.opened.track();
        keeper
            .library
            .with_untracked(|library| to.site(library))
            .filter(|site| !keeper.has_tests(Some(site)))
    };
    Effect::new(move |_| {
        if let Some(site) = site() {
            keeper.with_tests(Some(site), Box::new(|| ()));
        }
    });
    Memo::new(move |_| {
        keeper.loads.track();
        site().is_none()
    })
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
fn Banners(update: ReadSignal<bool>) -> impl IntoView {
    let keeper = keeper();
    let (opened, trouble) = (keeper.opened, keeper.trouble);
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
fn MenuItem(to: Screen, word: Phrase) -> impl IntoView {
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
