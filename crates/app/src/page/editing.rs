//! A site file as its questions and as its text, side by side: what is changed in one shows in the other, and every
//! keystroke is kept.

use super::browser;
use super::guided::Questions;
use super::keeper::{Keeper, keeper};
use super::problems::Problems;
use super::route::{Screen, route};
use super::ui::{Back, Gone, titled};
use super::words::{guided as guided_words, site as words};
use app::guided::{Form, edited, form_of};
use app::library::{Id, SiteRecord};
use leptos::html;
use leptos::prelude::*;
use records::{Source, UnitSystem, read_site};

/// The screen.
#[component]
pub(super) fn EditSite(id: Id) -> impl IntoView {
    let keeper = keeper();
    let site = keeper
        .library
        .with_untracked(|library| library.site(&id).cloned());
    match site {
        None => view! { <Gone/> }.into_any(),
        Some(site) => view! { <Editor site/> }.into_any(),
    }
}

#[component]
fn Editor(site: SiteRecord) -> impl IntoView {
    let (keeper, route) = (keeper(), route());
    titled(|| words::EDIT_TITLE.to_string());
    let text = RwSignal::new(site.text.clone());
    let form = RwSignal::new(form_of(&site.text, UnitSystem::default()));
    let to = Screen::Site(site.id.clone());
    let id = StoredValue::new(site.id.clone());
    let change = Callback::new(move |new: String| {
        if text.with_untracked(|text| *text != new) {
            text.set(new.clone());
            keep_text(keeper, &id.get_value(), new);
        }
    });
    let typed = Callback::new(move |new: String| {
        form.set(form_of(&new, UnitSystem::default()));
        change.run(new);
    });
    view! {
        <Back to=to.clone() word=site.name/>
        <h1>{words::EDIT_TITLE}</h1>
        <div class="panes">
            <section aria-labelledby="form-title">
                <h2 id="form-title">{words::FORM}</h2>
                <FormOfText text form change/>
            </section>
            <section class="beside" aria-labelledby="text-title">
                <h2 id="text-title">{words::TEXT}</h2>
                <TextEditor text typed/>
            </section>
        </div>
        <div class="actions">
            <button type="button" class="primary" on:click=move |_| route.go(to.clone())>{words::DONE}</button>
        </div>
    }
}

/// Keeps the text of a site file, and calls the site as it says.
pub(super) fn keep_text(keeper: Keeper, id: &Id, text: String) {
    let Some(site) = keeper
        .library
        .with_untracked(|library| library.site(id).cloned())
    else {
        return;
    };
    let name = form_of(&text, UnitSystem::default()).map(|form| form.name);
    let name = name.filter(|name| !name.trim().is_empty());
    keeper.put_site(SiteRecord {
        name: name.unwrap_or_else(|| site.name.clone()),
        text,
        changed: browser::now(),
        ..site
    });
}

/// The questions, as long as the text is in order.
#[component]
fn FormOfText(
    text: RwSignal<String>,
    form: RwSignal<Option<Form>>,
    change: Callback<String>,
) -> impl IntoView {
    let is_there = Memo::new(move |_| form.with(Option::is_some));
    move || {
        let start = form.get_untracked().filter(|_| is_there.get());
        let Some(start) = start else {
            return view! { <p class="note" role="status">{words::FORM_GONE}</p> }.into_any();
        };
        let answers = RwSignal::new(start);
        // From the text into the form …
        Effect::new(move |_| {
            if let Some(new) = form.get()
                && answers.with_untracked(|answers| *answers != new)
            {
                answers.set(new);
            }
        });
        // … and from the form into the text; what the text says already changes nothing.
        Effect::new(move |before: Option<()>| {
            let new = answers.with(|answers| text.with_untracked(|text| edited(text, answers)));
            if let (Some(()), Ok(new)) = (before, new) {
                change.run(new);
            }
        });
        let choose = Callback::new(move |units| answers.update(|answers| answers.units = units));
        view! {
            <div class="field">
                <label for="site-name">{guided_words::NAME}</label>
                <input
                    id="site-name" type="text" autocomplete="off" maxlength="80"
                    prop:value=move || answers.with(|answers| answers.name.clone())
                    on:input=move |event| answers.update(|answers| answers.name = event_target_value(&event))
                />
            </div>
            <Questions form=answers choose/>
        }
        .into_any()
    }
}

/// The text with what is wrong in it.
#[component]
fn TextEditor(text: RwSignal<String>, typed: Callback<String>) -> impl IntoView {
    let area: NodeRef<html::Textarea> = NodeRef::new();
    let problems = Memo::new(move |_| {
        let source = Source {
            name: "site.toml".to_owned(),
            text: text.get(),
        };
        read_site(&source).err().unwrap_or_default()
    });
    let go = Callback::new(move |(line, column): (usize, usize)| {
        let Some(area) = area.get_untracked() else {
            return;
        };
        let (start, end) = text.with_untracked(|text| span(text, line, column));
        let _ = area.focus();
        let _ = area.set_selection_range(start, end);
        scroll_to(&area, line);
    });
    view! {
        <p class="fine" id="text-help">{words::TEXT_HELP}</p>
        <Problems problems=Signal::derive(move || problems.get()) go/>
        <p class="note">{move || problems.with(Vec::is_empty).then(|| words::IN_ORDER.said())}</p>
        <textarea
            node_ref=area rows="28" spellcheck="false" autocapitalize="off" autocomplete="off"
            aria-labelledby="text-title" aria-describedby="text-help"
            prop:value=move || text.get()
            on:input=move |event| typed.run(event_target_value(&event))
        ></textarea>
    }
}

/// The part of a text from a place to the end of its line, in the units that a browser counts in.
fn span(text: &str, line: usize, column: usize) -> (u32, u32) {
    let units = |text: &str| text.encode_utf16().count();
    let mut start = 0;
    for (index, row) in text.split('\n').enumerate() {
        if index + 1 >= line {
            let before: String = row.chars().take(column.saturating_sub(1)).collect();
            let (from, to) = (start + units(&before), start + units(row));
            return (
                u32::try_from(from).unwrap_or(0),
                u32::try_from(to).unwrap_or(0),
            );
        }
        start += units(row) + 1;
    }
    (0, 0)
}

/// Brings a line of a text area into its upper third.
fn scroll_to(area: &web_sys::HtmlTextAreaElement, line: usize) {
    let lines = area.value().split('\n').count().max(1);
    let line = i32::try_from(line).unwrap_or(0);
    let height = area.scroll_height() / i32::try_from(lines).unwrap_or(1);
    area.set_scroll_top((line - 6).max(0) * height);
}
