//! Small parts that several screens share.

use super::browser;
use super::route::{Screen, route};
use super::words::shell as words;
use leptos::html;
use leptos::prelude::*;

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
