//! The lines below the drawing, each with its parts, and the sheet in which a part is changed.

use super::super::ui::Sheet;
use super::super::words::circuit as words;
use super::Pad;
use super::form::PartFields;
use app::circuit::Shown;
use app::plumbing::{LineParts, PartEdit, PartForm, PartPlace, edited, lines};
use leptos::prelude::*;
use records::{Source, read_site};

/// The part that the form is open for.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Open {
    place: PartPlace,
    /// Whether it is not in the file yet.
    is_new: bool,
    pub(super) form: PartForm,
}

/// The lines.
#[component]
pub(super) fn LineList(
    pad: Pad,
    drawn: Memo<Option<Shown>>,
    text: Signal<String>,
    change: Callback<String>,
) -> impl IntoView {
    let count =
        Memo::new(move |_| drawn.with(|drawn| drawn.as_ref().map_or(0, |drawn| drawn.lines.len())));
    let stated = Memo::new(move |_| text.with(|text| lines(text)));
    let open = RwSignal::new(None::<Open>);
    let sheet = RwSignal::new(false);
    let edit = Callback::new(move |opened: Open| {
        open.set(Some(opened));
        sheet.set(true);
    });
    view! {
        <h3>{words::LINES}</h3>
        {move || (0..count.get()).map(|line| view! { <OneLine pad drawn stated line edit/> }).collect_view()}
        <PartSheet open sheet stated text change/>
    }
}

/// One line: what flows in it, whether it is shut, and its parts.
#[component]
fn OneLine(
    pad: Pad,
    drawn: Memo<Option<Shown>>,
    stated: Memo<Option<Vec<LineParts>>>,
    line: usize,
    edit: Callback<Open>,
) -> impl IntoView {
    let shown = Memo::new(move |_| drawn.with(|drawn| drawn.as_ref()?.lines.get(line).cloned()));
    let name = Memo::new(move |_| {
        shown.with(|line| {
            line.as_ref()
                .map(|line| line.name.clone())
                .unwrap_or_default()
        })
    });
    let values = move || {
        shown.with(|line| {
            line.as_ref()
                .map(|line| line.values.clone())
                .unwrap_or_default()
        })
    };
    let is_shut =
        Memo::new(move |_| shown.with(|line| line.as_ref().is_some_and(|line| line.is_shut)));
    let is_passed = move || shown.with(|line| line.as_ref().is_some_and(|line| line.is_passed));
    let parts = Memo::new(move |_| {
        shown.with(|line| {
            line.as_ref()
                .map(|line| line.parts.clone())
                .unwrap_or_default()
        })
    });
    let forms =
        move || stated.with(|lines| lines.as_ref()?.get(line).map(|line| line.parts.clone()));
    let part = move |(part, word): (usize, String)| {
        let form = untrack(forms).and_then(|forms| forms.get(part).cloned().flatten());
        let place = PartPlace { line, part };
        match form {
            Some(form) => {
                let opened = Open {
                    place,
                    is_new: false,
                    form,
                };
                let named = words::change(&word);
                view! { <li><button type="button" class="part" aria-label=named on:click=move |_| edit.run(opened.clone())>{word}</button></li> }.into_any()
            }
            None => view! { <li>{word}</li> }.into_any(),
        }
    };
    let add = move |_| {
        let place = PartPlace {
            line,
            part: parts.with_untracked(Vec::len),
        };
        edit.run(Open {
            place,
            is_new: true,
            form: new_part("pipe"),
        });
    };
    view! {
        <details class="line-parts" data-passed=move || is_passed().to_string()>
            <summary>{name} <span class="fine">" " {values}</span></summary>
            <div class="actions">
                <button type="button" aria-pressed=move || is_shut.get().to_string() on:click=move |_| pad.toggle(&name.get_untracked())>
                    {words::SHUT} <span class="unseen">": " {name}</span>
                </button>
                {move || stated.with(Option::is_some).then(|| view! {
                    <button type="button" on:click=add>{words::ADD_PART}</button>
                })}
            </div>
            <ol>{move || { stated.track(); parts.get().into_iter().enumerate().map(part).collect_view() }}</ol>
        </details>
    }
}

pub(super) fn new_part(kind: &str) -> PartForm {
    PartForm {
        kind: kind.to_owned(),
        ..PartForm::default()
    }
}

/// The form of one part.
#[component]
fn PartSheet(
    open: RwSignal<Option<Open>>,
    sheet: RwSignal<bool>,
    stated: Memo<Option<Vec<LineParts>>>,
    text: Signal<String>,
    change: Callback<String>,
) -> impl IntoView {
    let problems = RwSignal::new(Vec::<String>::new());
    let title = Signal::derive(move || {
        let open = open.get();
        let line = open.as_ref().map(|open| open.place.line);
        let name = stated.with(|lines| Some(lines.as_ref()?.get(line?)?.name.clone()));
        words::part_of(&name.unwrap_or_default())
    });
    // What does not make sense is not written: the form stays open and says why.
    let write = move |edit: &PartEdit| match written(&text.get_untracked(), edit) {
        Ok(new) => {
            problems.set(Vec::new());
            change.run(new);
            true
        }
        Err(found) => {
            problems.set(found);
            false
        }
    };
    let done = move || {
        let Some(Open {
            place,
            is_new,
            form,
        }) = open.get_untracked()
        else {
            return;
        };
        let edit = if is_new {
            PartEdit::Add(place, form)
        } else {
            PartEdit::Change(place, form)
        };
        if write(&edit) {
            sheet.set(false);
        }
    };
    let remove = move |_| {
        if let Some(open) = open.get_untracked()
            && write(&PartEdit::Remove(open.place))
        {
            sheet.set(false);
        }
    };
    let shift = move |to: Option<usize>| {
        let (Some(at), Some(to)) = (open.get_untracked().map(|open| open.place), to) else {
            return;
        };
        if write(&PartEdit::Move(at, to)) {
            open.update(|open| {
                if let Some(open) = open {
                    open.place.part = to;
                }
            });
        }
    };
    let at =
        Memo::new(move |_| open.with(|open| open.as_ref().map(|open| (open.place, open.is_new))));
    let of = move || {
        let line = at.get()?.0.line;
        stated.with(|lines| Some(lines.as_ref()?.get(line)?.parts.len()))
    };
    let part = move || at.get().map_or(0, |(place, _)| place.part);
    let is_last = move || part() + 1 >= of().unwrap_or(0);
    Effect::new(move |_| {
        if sheet.get() {
            problems.set(Vec::new());
        }
    });
    view! {
        <Sheet open=sheet title id="part-title">
            <form on:submit=move |event| { event.prevent_default(); done(); }>
                <PartFields open/>
                <div id="part-problems" role="alert">
                    {move || problems.get().into_iter().map(|text| view! { <p class="problem">{text}</p> }).collect_view()}
                </div>
                <div class="actions">
                    <button type="submit" class="primary">{words::DONE}</button>
                    {move || at.get().is_some_and(|(_, is_new)| !is_new).then(|| view! {
                        <button type="button" disabled=move || part() == 0 on:click=move |_| shift(part().checked_sub(1))>{words::EARLIER}</button>
                        <button type="button" disabled=is_last on:click=move |_| shift(Some(part() + 1))>{words::LATER}</button>
                        <button type="button" class="danger" on:click=remove>{words::TAKE_OUT}</button>
                    })}
                </div>
                <p class="fine" role="status">{move || at.get().filter(|(_, is_new)| !is_new).map(|(place, _)| words::position(place.part, of().unwrap_or(0)))}</p>
            </form>
        </Sheet>
    }
}

/// The text after an edit, where it is a site file that is in order; else what is wrong with it.
fn written(text: &str, edit: &PartEdit) -> Result<String, Vec<String>> {
    let new = edited(text, edit).map_err(|error| vec![words::not_changed(&error)])?;
    let source = Source {
        name: "site.toml".to_owned(),
        text: new,
    };
    match read_site(&source) {
        Ok(_) => Ok(source.text),
        Err(problems) => Err(problems.iter().map(words::problem).collect()),
    }
}
