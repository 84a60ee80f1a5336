//! The readings that are doubted or ruled on, each with what can be done about it.

use super::super::bench::Bench;
use super::super::test::{VerdictLine, state_word};
use super::super::ui::unit_word;
use super::super::words::{here, result as words, test as test_words};
use app::draft::{Place, Spot};
use document::names;
use leptos::prelude::*;

/// The list.
#[component]
pub(super) fn DoubtedReadings(bench: Bench) -> impl IntoView {
    let places = Memo::new(move |_| bench.view.with(|view| view.doubted()));
    let can_undo = Memo::new(move |_| bench.view.with(|view| view.can_undo));
    move || {
        let places = places.get();
        (!places.is_empty() || can_undo.get()).then(|| view! {
            <section aria-labelledby="doubted-title">
                <h2 id="doubted-title">{words::DOUBTED}</h2>
                <p class="note">{words::DOUBTED_LEAD}</p>
                {places.into_iter().map(|place| view! { <Doubtful bench place/> }).collect_view()}
                <div class="actions">
                    <button type="button" disabled=move || !can_undo.get() on:click=move |_| bench.undo()>{test_words::UNDO}</button>
                </div>
            </section>
        })
    }
}

#[component]
fn Doubtful(bench: Bench, place: Place) -> impl IntoView {
    let verdict = Memo::new(move |_| bench.view.with(|view| view.verdict(place)));
    let (name, typed, unit) = bench.view.with_untracked(|view| {
        let speed = view
            .rows
            .get(place.row)
            .map(|row| row.speed.clone())
            .unwrap_or_default();
        let (name, unit) = match place.spot {
            Spot::Cell(column) => view
                .columns
                .get(column)
                .map(|column| (names::column(&column.name, here()), column.unit)),
            _ => None,
        }
        .unwrap_or_else(|| (test_words::SPEED.said().to_lowercase(), "rpm"));
        (
            test_words::capital(&words::reading(&name, &speed)),
            view.text(place),
            unit,
        )
    });
    view! {
        <div class="reading" data-state=move || verdict.with(state_word)>
            <h3>{name}</h3>
            <p class="details-line">{words::typed(&typed, &unit_word(unit))}</p>
            <VerdictLine bench place=Signal::derive(move || place) verdict unit=Signal::derive(move || unit)/>
        </div>
    }
}
