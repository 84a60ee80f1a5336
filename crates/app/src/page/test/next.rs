//! What to read next, while the pump runs: the worker is asked when somebody wants to know, and again with each reading.

use super::super::bench::Bench;
use super::super::words::{language, next as words, result};
use super::super::worker::worked;
use app::engine::Pad;
use app::next::{Advice, Next};
use app::work::{Answer, Asked, Question, Room, Texts};
use leptos::ev;
use leptos::prelude::*;

/// The panel.
#[component]
pub(super) fn NextReading(bench: Bench) -> impl IntoView {
    let is_open = RwSignal::new(false);
    let (working, again) = worked(move || is_open.get().then(|| asked(bench)));
    let told = Memo::new(move |_| {
        working.with(|working| match working.answer.as_deref()? {
            Answer::Next(next) => Some(next.clone()),
            Answer::Refused(why) => Some(Next {
                advice: Vec::new(),
                first: Some((why.says.clone(), why.hint.clone().unwrap_or_default())),
            }),
            _ => None,
        })
    });
    let has_died = Memo::new(move |_| working.with(|working| working.died.is_some()));
    let toggled = move |event: ev::Event| is_open.set(super::super::ui::is_open(&event));
    view! {
        <details class="next-reading" on:toggle=toggled>
            <summary>{words::TITLE}</summary>
            <p class="fine">{words::LEAD}</p>
            {move || has_died.get().then(|| view! {
                <p class="problem">{result::DIED}</p>
                <div class="actions"><button type="button" on:click=move |_| again.run(())>{result::AGAIN}</button></div>
            })}
            {move || match told.get() {
                None => view! { <p class="note" role="status">{words::BUSY}</p> }.into_any(),
                Some(told) => view! { <Told told/> }.into_any(),
            }}
        </details>
    }
}

#[component]
fn Told(told: Next) -> impl IntoView {
    let Next { advice, first } = told;
    let nothing = (advice.is_empty() && first.is_none()).then(|| words::NOTHING.said());
    let first = first.map(|(says, action)| view! { <p>{says}</p> <p class="do">{action}</p> });
    let advised = |Advice { of, now, readings }: Advice| {
        view! {
            <h3>{words::of(&of, &now)}</h3>
            <ol>{readings.into_iter().map(|reading| view! { <li>{reading}</li> }).collect_view()}</ol>
        }
    };
    view! { {first} {advice.into_iter().map(advised).collect_view()} <p class="note">{nothing}</p> }
}

/// What the worker is asked: of the readings as they stand.
fn asked(bench: Bench) -> Asked {
    bench.answered.track();
    let (site, _) = bench.site.get_value();
    let pad = Pad {
        site: site.source(),
        tests: vec![bench.with_draft(|draft| draft.readable().files)],
    };
    Asked {
        pad: Texts::from(pad),
        units: Some(bench.printing().system.into()),
        language: language().tag().to_owned(),
        room: Room::Narrow,
        question: Question::Next,
    }
}
