//! The list of sites: what is kept, newest first; a search; and every way to get a first site.

use super::browser;
use super::exporting::export_everything;
use super::importing::{ImportBox, bring_back, open_demo};
use super::keeper::{keeper, last_export};
use super::route::{Screen, route};
use super::ui::titled;
use super::words::sites as words;
use app::backup;
use app::library::{Id, Library, SiteRecord, beyond_the_clock, by_last_change, found};
use leptos::prelude::*;

/// The screen.
#[component]
pub(super) fn Sites() -> impl IntoView {
    let (keeper, route) = (keeper(), route());
    let search = RwSignal::new(String::new());
    let is_empty = Memo::new(move |_| {
        keeper
            .library
            .with(|library| by_last_change(library).is_empty())
    });
    titled(|| words::TITLE.to_owned());
    view! {
        <h1>{words::TITLE}</h1>
        <Clock/>
        <Reminder/>
        <Show when=move || is_empty.get() fallback=move || view! { <List search/> }><Empty/></Show>
        <div class="actions">
            <button type="button" class="primary" on:click=move |_| route.go(Screen::NewSite)>{words::NEW}</button>
            <button type="button" on:click=move |_| open_demo(keeper, route)>{words::DEMO}</button>
            {move || (!is_empty.get()).then(|| view! {
                <button type="button" on:click=move |_| export_everything(keeper)>{words::EXPORT_ALL}</button>
            })}
        </div>
        <ImportBox open=None/>
        <DeletedSites/>
    }
}

#[component]
fn Empty() -> impl IntoView {
    view! {
        <section class="card" aria-labelledby="empty-title">
            <h2 id="empty-title">{words::EMPTY_TITLE}</h2>
            <ol>{words::EMPTY_STEPS.map(|step| view! { <li>{step}</li> }).collect_view()}</ol>
            <p>{words::EMPTY_MORE}</p>
        </section>
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
            let now = browser::now();
            let is_due =
                |site: &&SiteRecord| backup::is_due(library, &site.id, last_export(&site.id), now);
            let sites = by_last_change(library).into_iter().filter(is_due);
            sites.map(|site| site.name.clone()).collect::<Vec<_>>()
        })
    };
    move || {
        let names = due();
        (!names.is_empty())
            .then(|| view! { <p class="note" role="note">{words::reminder(&names)}</p> })
    }
}

/// A site as its card shows it.
#[derive(Clone, PartialEq)]
struct Card {
    id: Id,
    name: String,
    tests: String,
    is_open: bool,
}

fn cards(library: &Library, search: &str) -> Vec<Card> {
    let card = |site: &SiteRecord| {
        let tests = library.tests_of(&site.id);
        Card {
            id: site.id.clone(),
            name: site.name.clone(),
            tests: tests.last().map_or_else(
                || words::NO_TEST.to_owned(),
                |last| words::last_test(&last.name, tests.len()),
            ),
            is_open: tests.iter().any(|test| test.open),
        }
    };
    found(library, search).into_iter().map(card).collect()
}

#[component]
fn List(search: RwSignal<String>) -> impl IntoView {
    let (keeper, route) = (keeper(), route());
    let shown = Memo::new(move |_| {
        keeper
            .library
            .with(|library| search.with(|search| cards(library, search)))
    });
    let card = move |card: Card| {
        let id = card.id.clone();
        let state = card
            .is_open
            .then(|| view! { <span class="state" data-open="true">{words::UNDER_WAY}</span> });
        view! {
            <li>
                <button type="button" class="card" on:click=move |_| route.go(Screen::Site(id.clone()))>
                    <span class="title">{card.name}</span>
                    <span class="line">{card.tests}</span>
                    {state}
                </button>
            </li>
        }
    };
    view! {
        <div class="field">
            <label for="search">{words::SEARCH}</label>
            <input id="search" type="search" autocomplete="off" on:input=move |event| search.set(event_target_value(&event))/>
        </div>
        <ul class="cards">{move || shown.get().into_iter().map(card).collect_view()}</ul>
        <p role="status" class="note">{move || shown.with(Vec::is_empty).then_some(words::NOTHING_FOUND)}</p>
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
