//! One reading: a large field, its unit, and what the engine says of it right below, with the mend one tap away.

use super::super::bench::{Bench, View};
use super::super::keeper::keeper;
use super::super::ui::unit_word;
use super::super::words::{Phrase, test as words};
use super::entry::Cursor;
use app::draft::{Edit, Place, Spot};
use app::verdict::{Doubt, State, Verdict};
use leptos::ev;
use leptos::prelude::*;

/// The field of a column in the row that is shown.
#[component]
pub(super) fn Reading(
    bench: Bench,
    cursor: Cursor,
    column: usize,
    /// Whether it is the last of the row.
    last: bool,
    /// Goes to the next step.
    next: Callback<()>,
) -> impl IntoView {
    let (id, verdict_id) = (format!("reading-{column}"), format!("verdict-{column}"));
    let place = move || Place {
        row: cursor.row.get(),
        spot: Spot::Cell(column),
    };
    let here = move || Place {
        row: cursor.row.get_untracked(),
        spot: Spot::Cell(column),
    };
    let of = move |view: &View| {
        view.columns
            .get(column)
            .map(|column| (words::column(&column.name), column.unit))
            .unwrap_or_default()
    };
    let named = Memo::new(move |_| bench.view.with(|view| of(view)));
    let text = Memo::new(move |_| bench.view.with(|view| view.text(place())));
    let verdict = Memo::new(move |_| bench.view.with(|view| view.verdict(place())));
    let typed = move |event: ev::Event| {
        bench.set(here(), event_target_value(&event));
        cursor.say_later(bench, here());
    };
    let key = move |event: ev::KeyboardEvent| {
        if event.key() == "Enter" {
            event.prevent_default();
            if last {
                next.run(());
            } else {
                super::super::ui::focus(&format!("reading-{}", column + 1));
            }
        }
    };
    let pasted = move |event: web_sys::ClipboardEvent| paste(bench, here(), &event);
    view! {
        <div class="reading" data-state=move || verdict.with(state_word)>
            <div class="row">
                <label for=id.clone()>{move || named.get().0}</label>
                <input
                    id=id class="big" type="text" inputmode="decimal" autocomplete="off" enterkeyhint="next"
                    aria-describedby=verdict_id.clone() prop:value=text
                    on:input=typed on:change=move |_| bench.seal() on:keydown=key on:paste=pasted
                />
                <span class="unit">{move || unit_word(named.get().1)}</span>
            </div>
            <div id=verdict_id><VerdictLine bench place=Signal::derive(place) verdict unit=Signal::derive(move || named.get().1)/></div>
        </div>
    }
}

/// Puts several cells in where several were copied; a single one goes its usual way.
pub(super) fn paste(bench: Bench, place: Place, event: &web_sys::ClipboardEvent) {
    let Some(text) = event
        .clipboard_data()
        .and_then(|data| data.get_data("text").ok())
    else {
        return;
    };
    if text.trim().contains(['\n', '\t', '\r']) {
        event.prevent_default();
        bench.edit(&Edit::Paste { place, text });
        bench.seal();
    }
}

/// The word of a state for the style sheet.
pub(in crate::page) fn state_word(verdict: &Verdict) -> &'static str {
    match verdict.state {
        State::Empty => "empty",
        State::NotANumber { .. } => "no-number",
        State::Fine => "fine",
        State::Doubted(_) => "doubted",
        State::Impossible(_) => "impossible",
    }
}

/// What a screen reader is told of a place.
pub(super) fn spoken(view: &View, place: Place) -> String {
    let verdict = view.verdict(place);
    match verdict.state {
        State::Empty => String::new(),
        State::Fine => verdict
            .expected
            .map_or_else(|| words::FITS.to_string(), |band| words::fits(&band.text)),
        State::NotANumber { says, .. } => says,
        State::Doubted(doubt) | State::Impossible(doubt) => {
            format!("{} {}", doubt.says, doubt.action)
        }
    }
}

/// What the engine says, and what can be done about it with one tap.
#[component]
pub(in crate::page) fn VerdictLine(
    bench: Bench,
    place: Signal<Place>,
    verdict: Memo<Verdict>,
    unit: Signal<&'static str>,
) -> impl IntoView {
    let shows_first = keeper().settings;
    move || {
        let verdict = verdict.get();
        let state = state_word(&verdict);
        match verdict.state {
            State::Empty => {
                let band = verdict.expected.filter(|_| shows_first.with(|settings| settings.show_band_first));
                band.map(|band| view! { <p class="verdict">{words::expected(&band.text)}</p> }).into_any()
            }
            State::Fine => {
                let ruled = verdict.ruling.map(|say| view! { <Ruled bench place say/> });
                let text = verdict.expected.map_or_else(|| words::FITS.to_string(), |band| words::fits(&band.text));
                match ruled {
                    Some(ruled) => ruled.into_any(),
                    None => view! { <p class="verdict" data-state=state><span class="sign" aria-hidden="true">"✓"</span>{text}</p> }.into_any(),
                }
            }
            State::NotANumber { says, accept } => view! {
                <p class="verdict" data-state=state><span class="sign" aria-hidden="true">"✎"</span>{says}</p>
                <Mend bench place accept unit/>
            }
            .into_any(),
            State::Doubted(doubt) | State::Impossible(doubt) => view! { <Doubted bench place doubt unit state/> }.into_any(),
        }
    }
}

#[component]
fn Doubted(
    bench: Bench,
    place: Signal<Place>,
    doubt: Doubt,
    unit: Signal<&'static str>,
    state: &'static str,
) -> impl IntoView {
    let sign = if state == "impossible" { "✕" } else { "?" };
    view! {
        <p class="verdict" data-state=state><span class="sign" aria-hidden="true">{sign}</span>{doubt.says}</p>
        <p class="details-line">{doubt.action}</p>
        <div class="actions">
            <TakeInstead bench place accept=doubt.accept unit/>
            <Rule bench place say=Some(records::Verdict::Confirmed) word=words::IT_IS_RIGHT/>
            <Rule bench place say=Some(records::Verdict::Drop) word=words::LEAVE_OUT/>
        </div>
    }
}

#[component]
fn Mend(
    bench: Bench,
    place: Signal<Place>,
    accept: Option<String>,
    unit: Signal<&'static str>,
) -> impl IntoView {
    accept
        .is_some()
        .then(|| view! { <div class="actions"><TakeInstead bench place accept unit/></div> })
}

/// Takes the mend in place of what was typed, which Undo brings back.
#[component]
fn TakeInstead(
    bench: Bench,
    place: Signal<Place>,
    accept: Option<String>,
    unit: Signal<&'static str>,
) -> impl IntoView {
    accept.map(|accept| {
        let word = words::take(&accept, &unit_word(unit.get_untracked()));
        let take = move |_| {
            bench.seal();
            bench.set(place.get_untracked(), accept.clone());
            bench.seal();
        };
        view! { <button type="button" class="primary" on:click=take>{word}</button> }
    })
}

/// Rules on a reading.
#[component]
fn Rule(
    bench: Bench,
    place: Signal<Place>,
    say: Option<records::Verdict>,
    word: Phrase,
) -> impl IntoView {
    let rule = move |_| {
        bench.edit(&Edit::Rule {
            place: place.get_untracked(),
            say,
        });
        bench.seal();
    };
    view! { <button type="button" on:click=rule>{word}</button> }
}

#[component]
fn Ruled(bench: Bench, place: Signal<Place>, say: records::Verdict) -> impl IntoView {
    let word = match say {
        records::Verdict::Confirmed => words::RULED_RIGHT,
        records::Verdict::Drop => words::RULED_OUT,
    };
    view! {
        <p class="verdict">{word}</p>
        <div class="actions"><Rule bench place say=None word=words::TAKE_BACK/></div>
    }
}
