//! What is shown while the worker works, when it has died, and when there is no answer.

use super::super::browser;
use super::super::parts::{Asks, Parts};
use super::super::words::result as words;
use super::super::worker::Working;
use super::Subject;
use app::parts::Part;
use app::work::{Answer, Drawn, Refused, Told};
use leptos::prelude::*;

/// The numbers of an answer, as the command prints them.
pub(super) fn numbers_of(answer: &Answer) -> Option<String> {
    match answer {
        Answer::Numbers(json) => Some(json.clone()),
        Answer::Told(told) => Some(told.json.clone()),
        Answer::Lost(lost) => Some(lost.told.json.clone()),
        Answer::WhatIf(_)
        | Answer::Refused(_)
        | Answer::Planned(_)
        | Answer::Next(_)
        | Answer::FilterDue(_)
        | Answer::HandedOver(_) => None,
    }
}

/// Why an answer is none.
pub(super) fn refused(working: &Working) -> Option<Refused> {
    match working.answer.as_deref()? {
        Answer::Refused(refused) => Some(refused.clone()),
        _ => None,
    }
}

/// Says how the work stands: under way, ended by a fault, or without an answer.
#[component]
pub(in crate::page) fn Progress(
    working: ReadSignal<Working>,
    again: Callback<()>,
) -> impl IntoView {
    let is_waiting = Memo::new(move |_| working.with(|working| working.is_waiting));
    let died = Memo::new(move |_| working.with(|working| working.died.clone()));
    let refused = Memo::new(move |_| working.with(refused));
    view! {
        <p class="fine under-way" role="status">{move || if is_waiting.get() { words::WORKING.said() } else { "" }}</p>
        {move || died.get().map(|why| view! {
            <div class="finding" data-severity="error" role="alert">
                <p>{words::DIED}</p>
                {(!why.is_empty()).then(|| view! { <p class="fine">{why}</p> })}
                <div class="actions"><button type="button" on:click=move |_| again.run(())>{words::AGAIN}</button></div>
            </div>
        })}
        {move || refused.get().map(|refused| view! {
            <div class="finding" data-severity="warning">
                <p>{words::refused(&refused.says)}</p>
                {refused.hint.map(|hint| view! { <p class="do">{words::sentence(&hint)}</p> })}
            </div>
        })}
    }
}

/// The figures of an answer.
#[component]
pub(super) fn DrawnFigures(figures: Vec<Drawn>) -> impl IntoView {
    let figure = |drawn: Drawn| view! { <figure class="figure" data-quantity=drawn.name inner_html=drawn.svg></figure> };
    (!figures.is_empty()).then(|| {
        view! { <div class="drawn">{figures.into_iter().map(figure).collect_view()}</div> }
    })
}

/// The numbers of an answer, to be read or put with the downloads.
#[component]
pub(super) fn Numbers(
    /// The id of the element that holds them, and the name of the file.
    name: &'static str,
    working: ReadSignal<Working>,
) -> impl IntoView {
    let json = Memo::new(move |_| working.with(|working| numbers_of(working.answer.as_deref()?)));
    let has_numbers = Memo::new(move |_| json.with(Option::is_some));
    let keep = move |_| {
        let text = json.get_untracked().unwrap_or_default();
        browser::download(&format!("{name}.json"), text.as_bytes(), "application/json");
    };
    view! {
        <details hidden=move || !has_numbers.get()>
            <summary>{words::JSON}</summary>
            <div class="actions"><button type="button" on:click=keep>{words::COPY}</button></div>
            <pre id=name tabindex="0" role="region" aria-label=words::JSON>{move || json.get().unwrap_or_default()}</pre>
        </details>
    }
}

/// What is told: the sentences beside the figures, and below them the tables.
#[component]
pub(super) fn Telling(
    subject: Subject,
    told: Told,
    /// What stands below the sentences.
    #[prop(optional)]
    below: Option<AnyView>,
) -> impl IntoView {
    let (words, tables) = cut(told.parts);
    let answered = subject.bench.answered.get_untracked();
    let parts = move |parts: Vec<Part>| {
        answered.clone().map(|answered| {
            let ask = subject.ask;
            view! { <Parts parts asks=Asks { answered, ask }/> }
        })
    };
    view! {
        <div class="panes">
            <div class="first-heading">{parts(words)} {below}</div>
            <DrawnFigures figures=told.figures/>
        </div>
        <div class="numbers">{parts(tables)}</div>
    }
}

/// Cuts an answer before the heading of its first table.
fn cut(mut parts: Vec<Part>) -> (Vec<Part>, Vec<Part>) {
    let table = parts
        .iter()
        .position(|part| matches!(part, Part::Table { .. }));
    let mut at = table.unwrap_or(parts.len());
    if at > 1 && matches!(parts.get(at - 1), Some(Part::Heading(_))) {
        at -= 1;
    }
    let tables = parts.split_off(at);
    (parts, tables)
}

/// What is told, where an answer is words and figures.
pub(super) fn told(working: &Working) -> Option<Told> {
    match working.answer.as_deref()? {
        Answer::Told(told) => Some(told.clone()),
        _ => None,
    }
}
