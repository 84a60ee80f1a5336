//! The list of sites: what is kept, newest first; a search; and every way to get a first site.

use super::browser;
use super::exporting::export_everything;
use super::first_steps::WholeWay;
use super::importing::{ImportBox, bring_back, open_demo};
use super::keeper::{keeper, last_export};
use super::preferences::Languages;
use super::route::{Screen, route};
use super::ui::titled;
use super::words::sites as words;
use app::backup;
use app::library::{Card, Id, Shelf, Which, beyond_the_clock};
use leptos::prelude::*;

/// The screen.
#[component]
pub(super) fn Sites() -> impl IntoView {
    let (keeper, route) = (keeper(), route());
    let (today, _) = browser::date_and_time();
    let shelf = Memo::new(move |_| keeper.library.with(|library| Shelf::of(library, &today)));
    let is_empty = Memo::new(move |_| shelf.with(Shelf::is_empty));
    titled(|| words::TITLE.to_string());
    view! {
        <h1>{words::TITLE}</h1>
        {move || is_empty.get().then(|| view! { <Languages/> })}
        <Clock/>
        <WholeWay/>
        <Reminder/>
        <Show when=move || !is_empty.get()><List shelf/></Show>
        <div class="actions">
            <button type="button" class="primary" on:click=move |_| route.go(Screen::NewSite)>{words::NEW}</button>
            <button type="button" on:click=move |_| open_demo(keeper, route)>{words::DEMO}</button>
            {move || (!is_empty.get()).then(|| view! {
                <button type="button" on:click=move |_| export_everything(keeper)>{words::EXPORT_ALL}</button>
            })}
        </div>
        {move || is_empty.get().then(|| view! { <p class="note">{words::EMPTY_MORE}</p> })}
        <ImportBox open=None/>
        <DeletedSites/>
    }
}

/// A line where the device's clock stands before the last change: names and the order of the list follow it.
#[component]
fn Clock() -> impl IntoView {
    let keeper = keeper();
    let last = move || {
        keeper
            .library
            .with(|library| beyond_the_clock(library, browser::now()))
    };
    move || {
        last().map(|last| {
            let (today, then) = (browser::day_of(browser::now()), browser::day_of(last));
            view! { <p class="finding" data-severity="warning" data-note="clock">{words::clock(&today, &then)}</p> }
        })
    }
}

/// A quiet line where sites are nowhere but here.
#[component]
fn Reminder() -> impl IntoView {
    let keeper = keeper();
    let due = move || {
        keeper.library.with(|library| {
            let sites = backup::due_sites(library, last_export, browser::now());
            let names = sites.into_iter().map(|site| site.name.clone());
            names.collect::<Vec<_>>()
        })
    };
    move || {
        let names = due();
        (!names.is_empty())
            .then(|| view! { <p class="note" role="note">{words::reminder(&names)}</p> })
    }
}

/// How many sites are shown at first, and how many more at each wish: enough for an eye, and quickly there.
const AT_ONCE: usize = 60;

/// The sites that a search finds, those put away apart.
#[component]
fn List(shelf: Memo<Shelf>) -> impl IntoView {
    let search = RwSignal::new(String::new());
    let which = RwSignal::new(Which::Active);
    let most = RwSignal::new(AT_ONCE);
    let found = Memo::new(move |_| {
        shelf.with(|shelf| {
            let found = search.with(|search| shelf.found(search, which.get()));
            let shown = found.iter().take(most.get()).map(|card| (*card).clone());
            (shown.collect::<Vec<_>>(), found.len())
        })
    });
    let archived = Memo::new(move |_| shelf.with(Shelf::archived));
    let typed = move |event| {
        most.set(AT_ONCE);
        search.set(event_target_value(&event));
    };
    let choice = move |to: Which, word: String| {
        let choose = move |_| {
            most.set(AT_ONCE);
            which.set(to);
        };
        view! { <button type="button" aria-pressed=move || (which.get() == to).to_string() on:click=choose>{word}</button> }
    };
    let left = move || found.with(|(shown, all)| all.saturating_sub(shown.len()));
    view! {
        <div class="field">
            <label for="search">{words::SEARCH}</label>
            <input id="search" type="search" autocomplete="off" on:input=typed/>
        </div>
        {move || (archived.get() > 0).then(|| view! {
            <div class="segments" role="group" aria-label=words::WHICH>
                {choice(Which::Active, words::ACTIVE.to_string())}
                {choice(Which::Archived, words::archived(archived.get()))}
            </div>
        })}
        <ul class="cards" id="sites">
            <For each=move || found.with(|(shown, _)| shown.clone()) key=Card::clone children=move |card| view! { <SiteCard card/> }/>
        </ul>
        <p role="status" class="note">{move || found.with(|(_, all)| *all == 0).then(|| words::NOTHING_FOUND.said())}</p>
        {move || (left() > 0).then(|| view! {
            <div class="actions">
                <button type="button" on:click=move |_| most.update(|most| *most += AT_ONCE)>{words::more(left())}</button>
            </div>
        })}
    }
}

#[component]
fn SiteCard(card: Card) -> impl IntoView {
    let route = route();
    let id = card.id;
    let tests = card.last.as_ref().map_or_else(
        || words::NO_TEST.to_string(),
        |last| words::last_test(last, card.tests),
    );
    let state = card
        .is_open
        .then(|| view! { <span class="state" data-open="true">{words::UNDER_WAY}</span> });
    let due = card.due.map(|due| {
        view! { <span class="state" data-due=due.has_come().to_string()>{words::due(&due)}</span> }
    });
    view! {
        <li>
            <button type="button" class="card" on:click=move |_| route.go(Screen::Site(id.clone()))>
                <span class="title">{card.name}</span>
                <span class="line">{tests}</span>
                {state}
                {due}
            </button>
        </li>
    }
}

/// What was deleted here and can be brought back.
#[component]
fn DeletedSites() -> impl IntoView {
    let keeper = keeper();
    let deleted = Memo::new(move |_| {
        keeper.library.with(|library| {
            let gone = library.sites.iter().filter(|site| site.deleted.is_some());
            gone.map(|site| (site.id.clone(), site.name.clone()))
                .collect::<Vec<_>>()
        })
    });
    let row = move |(id, name): (Id, String)| {
        view! {
            <li>
                {name} " "
                <button type="button" on:click=move |_| bring_back(keeper, &id)>{words::BRING_BACK}</button>
            </li>
        }
    };
    move || {
        let rows = deleted.get();
        (!rows.is_empty()).then(|| view! {
            <details><summary>{words::DELETED}</summary><ul>{rows.into_iter().map(row).collect_view()}</ul></details>
        })
    }
}
