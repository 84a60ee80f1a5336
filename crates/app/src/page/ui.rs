//! Small parts that several screens share.

use super::browser;
use super::route::{Screen, route};
use super::words::hints::{self, Word};
use super::words::shell as words;
use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use std::time::Duration;
use wasm_bindgen::JsCast;

/// A small “?” that opens what a word of the trade means, where it stands.
#[component]
pub(super) fn Hint(word: Word) -> impl IntoView {
    view! {
        <details class="hint">
            <summary aria-label=hints::ask(word)><span aria-hidden="true">"?"</span></summary>
            <p>{hints::means(word)}</p>
        </details>
    }
}

/// Whether what a fold tells of is open.
pub(super) fn is_open(event: &ev::Event) -> bool {
    let fold = event.current_target();
    let fold = fold.and_then(|fold| fold.dyn_into::<web_sys::Element>().ok());
    fold.is_some_and(|fold| fold.has_attribute("open"))
}

/// A button that goes up one level.
#[component]
pub(super) fn Back(to: Screen, #[prop(into)] word: String) -> impl IntoView {
    let route = route();
    view! {
        <p class="back">
            <button type="button" class="plain back" on:click=move |_| route.go(to.clone())>
                <span aria-hidden="true">"‹ "</span>{word}
            </button>
        </p>
    }
}

/// What is shown where a site or test is not there.
#[component]
pub(super) fn Gone() -> impl IntoView {
    view! {
        <h1>{words::GONE}</h1>
        <p>{words::GONE_MORE}</p>
        <Back to=Screen::Sites word=words::SITES/>
    }
}

/// A dialog over the screen: Escape closes it, and the focus comes back to where it was.
#[component]
pub(super) fn Sheet(
    /// Whether it is open.
    open: RwSignal<bool>,
    /// Its heading.
    #[prop(into)]
    title: Signal<String>,
    /// The id of its heading, by which it is named.
    id: &'static str,
    children: ChildrenFn,
) -> impl IntoView {
    let dialog: NodeRef<html::Dialog> = NodeRef::new();
    Effect::new(move |_| {
        let (is_open, Some(dialog)) = (open.get(), dialog.get()) else {
            return;
        };
        if is_open && !dialog.open() {
            // A dialog that cannot be shown over the page is shown in it.
            if dialog.show_modal().is_err() {
                dialog.show();
            }
            dialog.set_scroll_top(0);
        } else if !is_open && dialog.open() {
            dialog.close();
        }
    });
    view! {
        <dialog node_ref=dialog aria-labelledby=id on:close=move |_| open.set(false)>
            <h2 id=id>{title}</h2>
            {move || open.get().then(|| children())}
            <div class="actions">
                <button type="button" on:click=move |_| open.set(false)>{words::CLOSE}</button>
            </div>
        </dialog>
    }
}

/// A button that asks once more before it does what cannot be seen again.
#[component]
pub(super) fn AskFirst(
    /// Its word.
    #[prop(into)]
    word: String,
    /// What it asks.
    #[prop(into)]
    question: String,
    /// The word that does it.
    #[prop(into)]
    sure: String,
    /// What it does.
    act: Callback<()>,
) -> impl IntoView {
    let asking = RwSignal::new(false);
    let (question, sure) = (StoredValue::new(question), StoredValue::new(sure));
    view! {
        <Show
            when=move || asking.get()
            fallback={
                let word = word.clone();
                move || view! {
                    <button type="button" class="danger" on:click=move |_| asking.set(true)>{word.clone()}</button>
                }
            }
        >
            <div class="finding" role="group" data-severity="error">
                <p>{question.get_value()}</p>
                <div class="actions">
                    <button type="button" class="danger" on:click=move |_| { asking.set(false); act.run(()); }>
                        {sure.get_value()}
                    </button>
                    <button type="button" on:click=move |_| asking.set(false)>{words::CANCEL}</button>
                </div>
            </div>
        </Show>
    }
}

/// How long a button is held until it acts again by itself, and then between two acts.
const HOLD: Duration = Duration::from_millis(450);
const AGAIN: Duration = Duration::from_millis(90);

/// A button that acts again and again while it is held.
#[component]
pub(super) fn Held(
    /// Its name.
    label: Signal<String>,
    /// What is seen of it.
    sign: &'static str,
    /// What it does.
    act: Callback<()>,
    /// Called when it is let go.
    #[prop(optional)]
    ended: Option<Callback<()>>,
) -> impl IntoView {
    let waiting = StoredValue::new(None::<TimeoutHandle>);
    let going = StoredValue::new(None::<IntervalHandle>);
    let stop = move || {
        if let Some(timer) = waiting.try_update_value(Option::take).flatten() {
            timer.clear();
        }
        if let Some(timer) = going.try_update_value(Option::take).flatten() {
            timer.clear();
        }
    };
    let again = move || going.set_value(set_interval_with_handle(move || act.run(()), AGAIN).ok());
    let end = move || {
        let was_held = waiting.with_value(Option::is_some) || going.with_value(Option::is_some);
        stop();
        if let (true, Some(ended)) = (was_held, ended) {
            ended.run(());
        }
    };
    let press = move |event: ev::PointerEvent| {
        if event.button() == 0 {
            stop();
            act.run(());
            waiting.set_value(set_timeout_with_handle(again, HOLD).ok());
        }
    };
    // A press by keys has no pointer before it.
    let click = move |event: ev::MouseEvent| {
        if event.detail() == 0 {
            act.run(());
            if let Some(ended) = ended {
                ended.run(());
            }
        }
    };
    on_cleanup(stop);
    view! {
        <button
            type="button" class="held" aria-label=label on:pointerdown=press on:pointerup=move |_| end()
            on:pointerleave=move |_| end() on:pointercancel=move |_| end() on:click=click
            on:contextmenu=move |event| event.prevent_default()
        >{sign}</button>
    }
}

/// Calls the window after a screen whenever its name changes.
pub(super) fn titled(title: impl Fn() -> String + 'static) {
    Effect::new(move |_| super::route::title(&title()));
}

/// Says something for a screen reader that the eye sees elsewhere.
#[component]
pub(super) fn Said(#[prop(into)] text: Signal<String>) -> impl IntoView {
    view! { <p class="unseen" role="status" aria-live="polite">{text}</p> }
}

/// Goes to an element with the focus, once it is there.
pub(super) fn focus(id: &str) {
    browser::focus_later(id);
}

/// Writes a unit of a file as it is printed: m³/h for m3/h.
pub(super) fn unit_word(unit: &str) -> String {
    records::unit::Unit::find_any(unit).map_or_else(
        || unit.to_owned(),
        |unit| document::units::written(unit.name).to_owned(),
    )
}
