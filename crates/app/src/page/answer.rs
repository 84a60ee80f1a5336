//! The screen of an answer: what the engine makes of the demo.

use super::parts::Parts;
use app::engine::{Answer, analyze};
use app::{demo, parts::parts};
use leptos::ev;
use leptos::prelude::*;

/// The screen.
#[component]
pub(super) fn Demo() -> impl IntoView {
    match analyze(&demo::pad(), None) {
        Ok(answer) => view! { <Answered answer/> }.into_any(),
        Err(problems) => view! {
            <h1>"What is wrong in the files"</h1>
            <pre>{document::problems::text(&problems)}</pre>
        }
        .into_any(),
    }
}

#[component]
fn Answered(answer: Answer) -> impl IntoView {
    view! {
        <h1>{answer.site}</h1>
        <p class="fine">"An invented pad, analysed on this device just now."</p>
        <Parts parts=parts(answer.blocks)/>
        <Json json=answer.json/>
    }
}

/// The answer in numbers, written only when somebody opens it: it is long.
#[component]
fn Json(json: String) -> impl IntoView {
    let (shown, show) = signal(false);
    let json = StoredValue::new(json);
    view! {
        <details on:toggle=move |_: ev::Event| show.set(true)>
            <summary>"The answer as JSON"</summary>
            {move || shown.get().then(|| view! { <pre id="json" tabindex="0">{json.get_value()}</pre> })}
        </details>
    }
}
