//! All steps so far, with the doubted ones marked; a tap goes there.

use super::super::bench::{Bench, Standing};
use super::super::words::test as words;
use super::entry::{Cursor, show};
use leptos::prelude::*;

/// The strip.
#[component]
pub(super) fn Strip(bench: Bench, cursor: Cursor) -> impl IntoView {
    let chips = Memo::new(move |_| {
        bench.view.with(|view| {
            let rows = view.rows.iter().enumerate();
            rows.map(|(row, typed)| (row, typed.speed.clone(), view.standing(row)))
                .collect::<Vec<_>>()
        })
    });
    let chip = move |(row, speed, standing): (usize, String, Standing)| {
        let (mark, word) = match standing {
            Standing::Empty => ("·", words::CHIP_EMPTY),
            Standing::Fine => ("✓", words::CHIP_FINE),
            Standing::Doubted => ("?", words::CHIP_DOUBTED),
        };
        let shown = if speed.trim().is_empty() {
            "–".to_owned()
        } else {
            speed.clone()
        };
        let named = if speed.trim().is_empty() {
            words::CHIP_NO_SPEED
        } else {
            &speed
        };
        let current = move || (cursor.row.get() == row).then_some("step");
        let go = move |_| {
            bench.seal();
            show(cursor, row);
        };
        view! {
            <li>
                <button
                    type="button" aria-current=current data-standing=word aria-label=words::chip(row, named, word) on:click=go
                >{shown}<span class="mark" aria-hidden="true">{mark}</span></button>
            </li>
        }
    };
    // The chip of the step that is shown is brought into view.
    Effect::new(move |_| {
        let (row, _) = (cursor.row.get(), chips.get());
        request_animation_frame(move || super::super::browser::bring_into_strip(row));
    });
    view! { <ol class="strip" id="strip">{move || chips.get().into_iter().map(chip).collect_view()}</ol> }
}
