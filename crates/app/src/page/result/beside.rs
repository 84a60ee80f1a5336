//! The other tests of the site, of which any may be part of the answer.

use super::super::bench::Bench;
use super::super::browser;
use super::super::keeper::keeper;
use super::super::words::result as words;
use app::library::Id;
use leptos::prelude::*;

/// Where it is remembered which other tests stand beside one.
const BESIDE_KEY: &str = "headwright-beside/";

/// The other tests of the site, each with a tick for being part of the answer.
#[component]
pub(super) fn Beside(bench: Bench) -> impl IntoView {
    let (keeper, own) = (keeper(), bench.id.get_value());
    let site = bench.site.with_value(|(site, _)| site.id.clone());
    let others: Vec<(Id, String)> = keeper.library.with_untracked(|library| {
        let tests = library.tests_of(&site).into_iter();
        let others = tests.filter(|test| test.id != own);
        others
            .map(|test| (test.id.clone(), test.name.clone()))
            .collect()
    });
    let key = StoredValue::new(format!("{BESIDE_KEY}{}", own.0));
    let kept = browser::remembered(&key.get_value()).unwrap_or_default();
    let kept: Vec<Id> = others
        .iter()
        .filter(|(id, _)| kept.split(' ').any(|word| word == id.0))
        .map(|(id, _)| id.clone())
        .collect();
    if !kept.is_empty() {
        bench.choose_beside(kept);
    }
    let choose = move |id: &Id, is_chosen: bool| {
        let mut chosen = bench.beside.get_untracked();
        chosen.retain(|other| other != id);
        if is_chosen {
            chosen.push(id.clone());
        }
        let words: Vec<&str> = chosen.iter().map(|id| id.0.as_str()).collect();
        browser::remember(&key.get_value(), &words.join(" "));
        bench.choose_beside(chosen);
    };
    let tick = move |(id, name): (Id, String)| {
        let is_chosen = {
            let id = id.clone();
            move || bench.beside.with(|beside| beside.contains(&id))
        };
        view! {
            <label class="choice">
                <input type="checkbox" prop:checked=is_chosen on:change=move |event| choose(&id, event_target_checked(&event))/>
                {name}
            </label>
        }
    };
    (!others.is_empty()).then(|| {
        view! {
            <fieldset class="beside-tests">
                <legend>{words::BESIDE}</legend>
                <div class="choices">{others.into_iter().map(tick).collect_view()}</div>
            </fieldset>
        }
    })
}
