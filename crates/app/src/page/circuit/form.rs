//! The form of one part: its kind, and what is asked of that kind.

use super::super::words::guided::IN_THE_TEXT;
use super::super::words::{circuit as words, here};
use super::parts::{Open, new_part};
use app::plumbing::{FieldKind, KINDS, PartField, PartForm, kind};
use document::names::{compound, name};
use leptos::ev;
use leptos::prelude::*;

/// The kind and its fields.
#[component]
pub(super) fn PartFields(open: RwSignal<Option<Open>>) -> impl IntoView {
    let key = Memo::new(move |_| {
        open.with(|open| {
            open.as_ref()
                .map(|open| open.form.kind.clone())
                .unwrap_or_default()
        })
    });
    let choose = move |event: ev::Event| {
        let chosen = event_target_value(&event);
        open.update(|open| {
            if let Some(open) = open {
                open.form = new_part(&chosen);
            }
        });
    };
    let option = move |key_of: &'static str| {
        view! { <option value=key_of prop:selected=move || key.with(|key| key == key_of)>{words::kind(key_of)}</option> }
    };
    view! {
        <div class="field">
            <label for="part-kind">{words::KIND}</label>
            <select id="part-kind" on:change=choose>{KINDS.map(|kind| option(kind.key)).collect_view()}</select>
        </div>
        {move || kind(&key.get()).map(|kind| {
            let fields = kind.fields.iter().map(|field| view! { <PartInput open field=*field/> });
            view! { <div class="side-by-side">{fields.collect_view()}</div> }
        })}
    }
}

/// What a word of the file is called.
fn word_of(key: &str, word: &str) -> String {
    let as_valve = (key == "valve").then(|| compound(&format!("{word} valve"), here()));
    let known = as_valve.flatten();
    known.unwrap_or_else(|| name(word, here()).into_owned())
}

#[component]
fn PartInput(open: RwSignal<Option<Open>>, field: PartField) -> impl IntoView {
    let id = format!("part-{}", field.key.replace('.', "-"));
    let form = move |ask: &dyn Fn(&PartForm) -> String| {
        open.with(|open| {
            open.as_ref()
                .map(|open| ask(&open.form))
                .unwrap_or_default()
        })
    };
    let typed = move || form(&|form| form.text(field.key).to_owned());
    let is_in_the_text = open.with_untracked(|open| {
        let form = open.as_ref().map(|open| &open.form);
        form.is_some_and(|form| form.in_the_text.iter().any(|key| key == field.key))
    });
    let set = move |text: String| {
        open.update(|open| {
            if let Some(open) = open {
                open.form.set(field.key, &text);
            }
        });
    };
    let (label, example) = words::field(field.key);
    let input = if is_in_the_text {
        view! { <p class="note">{IN_THE_TEXT}</p> }.into_any()
    } else if let FieldKind::OneOf(known) = field.kind {
        let now = untrack(typed);
        let mut options = vec![String::new()];
        options.extend(known().into_iter().map(str::to_owned));
        if !options.contains(&now) {
            options.push(now);
        }
        let option = move |value: String| {
            let is_chosen = {
                let value = value.clone();
                move || typed() == value
            };
            let word = if value.is_empty() {
                words::NOT_SAID.to_string()
            } else {
                word_of(field.key, &value)
            };
            view! { <option value=value prop:selected=is_chosen>{word}</option> }
        };
        view! {
            <select id=id.clone() on:change=move |event| set(event_target_value(&event))>
                {options.into_iter().map(option).collect_view()}
            </select>
        }
        .into_any()
    } else {
        view! {
            <input
                id=id.clone() type="text" autocomplete="off" autocapitalize="off" placeholder=example prop:value=typed
                on:input=move |event| set(event_target_value(&event))
            />
        }
        .into_any()
    };
    view! { <div class="field"><label for=id.clone()>{label}</label>{input}</div> }
}
