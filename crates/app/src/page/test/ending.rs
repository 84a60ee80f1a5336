//! The end of a test: everything back as found, then the result.

use super::super::bench::Bench;
use super::super::route::{Screen, route};
use super::super::words::{Phrase, test as words};
use super::{Stage, go};
use leptos::prelude::*;

/// The screen.
#[component]
pub(super) fn Ending(bench: Bench, stage: RwSignal<Stage>) -> impl IntoView {
    let route = route();
    let finish = move |_| {
        bench.set_open(false);
        route.replace(Screen::Result(bench.id.get_value()));
    };
    let tick =
        |word: Phrase| view! { <label class="choice"><input type="checkbox"/>{word}</label> };
    view! {
        <h2>{words::ENDING}</h2>
        <p class="note">{words::ENDING_LEAD}</p>
        <fieldset>
            <legend class="unseen">{words::ENDING}</legend>
            {words::TICKS.map(tick).collect_view()}
        </fieldset>
        <div class="thumb-bar">
            <button type="button" class="before" on:click=move |_| go(stage, Stage::Steps)>{words::BACK_TO_STEPS}</button>
            <button type="button" class="primary" on:click=finish>{words::TO_RESULT}</button>
        </div>
    }
}
