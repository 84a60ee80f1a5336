//! What goes into the report: tests, kept changes, language, paper; and whose it is.

use super::super::keeper::keeper;
use super::super::route::{Screen, route};
use super::super::words::{Phrase, report as words};
use super::Wanted;
use app::library::Id;
use leptos::prelude::*;

/// The choices.
#[component]
pub(super) fn Choices(wanted: Wanted, own: Id) -> impl IntoView {
    let (keeper, route) = (keeper(), route());
    let site = wanted.site.get_value();
    let (tests, changes) = keeper.library.with_untracked(|library| {
        let tests = library.tests_of(&site).into_iter();
        let tests = tests.map(|test| (test.id.clone(), test.name.clone()));
        let changes = library.changes_of(&site).into_iter();
        let changes = changes.map(|change| (change.id.clone(), change.title()));
        (tests.collect::<Vec<_>>(), changes.collect::<Vec<_>>())
    });
    let business = keeper
        .settings
        .with_untracked(|settings| settings.profile.clone().unwrap_or_default().profile());
    let business = business.business.unwrap_or_else(|| words::NOBODYS.into());
    view! {
        {(tests.len() > 1).then(|| view! {
            <Ticks legend=words::TESTS more=words::TESTS_MORE of=tests chosen=wanted.tests own=Some(own)/>
        })}
        {(!changes.is_empty()).then(|| view! {
            <Ticks legend=words::CHANGES more=Phrase::NONE of=changes chosen=wanted.changes own=None/>
        })}
        <div class="side-by-side">
            <OneOf id="report-language" label=words::LANGUAGE of=words::LANGUAGES.to_vec() chosen=wanted.language/>
            <OneOf id="report-paper" label=words::PAPER of=words::papers() chosen=wanted.paper/>
        </div>
        <h2>{words::WHOSE}</h2>
        <p>{business}</p>
        <div class="actions">
            <button type="button" on:click=move |_| route.go(Screen::Settings)>{words::SET_UP}</button>
        </div>
    }
}

/// A tick for each of several.
#[component]
fn Ticks(
    legend: Phrase,
    /// What is said of it; empty where it says itself.
    more: Phrase,
    of: Vec<(Id, String)>,
    chosen: RwSignal<Vec<Id>>,
    /// The one that is in it anyhow.
    own: Option<Id>,
) -> impl IntoView {
    let tick = move |(id, name): (Id, String)| {
        let is_own = own.as_ref() == Some(&id);
        let shown = id.clone();
        let choose = move |is_chosen: bool| {
            chosen.update(|chosen| {
                chosen.retain(|other| *other != id);
                if is_chosen {
                    chosen.push(id.clone());
                }
            });
        };
        view! {
            <label class="choice">
                <input
                    type="checkbox" disabled=is_own prop:checked=move || chosen.with(|chosen| chosen.contains(&shown))
                    on:change=move |event| choose(event_target_checked(&event))
                />
                {name}
            </label>
        }
    };
    view! {
        <fieldset>
            <legend>{legend}</legend>
            {(more != Phrase::NONE).then(|| view! { <p class="fine">{more}</p> })}
            <div class="choices">{of.into_iter().map(tick).collect_view()}</div>
        </fieldset>
    }
}

/// A list of which one is chosen, each a word and what is read of it.
#[component]
pub(in crate::page) fn OneOf(
    id: &'static str,
    label: Phrase,
    of: Vec<(&'static str, &'static str)>,
    #[prop(into)] chosen: RwSignal<String>,
) -> impl IntoView {
    let now = chosen.get_untracked();
    let option = |(word, name): (&'static str, &'static str)| {
        view! { <option value=word selected=word == now>{name}</option> }
    };
    view! {
        <div class="field">
            <label for=id>{label}</label>
            <select id=id on:change=move |event| chosen.set(event_target_value(&event))>
                {of.into_iter().map(option).collect_view()}
            </select>
        </div>
    }
}
