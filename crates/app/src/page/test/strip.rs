//! All steps so far, with the doubted ones marked; a tap goes there.

use super::super::bench::{Bench, Standing};
use super::super::words::{Phrase, test as words};
use super::entry::{Cursor, show};
use leptos::prelude::*;

/// The strip.
#[component]
pub(super) fn Strip(bench: Bench, cursor: Cursor) -> impl IntoView {
    let chips = Memo::new(move |_| {
        bench.view.with(|view| {
            let rows = view.rows.iter().enumerate();
            rows.map(|(row, typed)| (typed.speed.clone(), view.standing(row)))
                .collect::<Vec<_>>()
        })
    });
    let chip = move |row: usize| {
        let chip = Memo::new(move |_| {
            let none = || (String::new(), Standing::Empty);
            chips.with(|chips| chips.get(row).cloned().unwrap_or_else(none))
        });
        let mark = move || marked(chip.with(|chip| chip.1)).0;
        let key = move || marked(chip.with(|chip| chip.1)).1;
        let word = move || marked(chip.with(|chip| chip.1)).2;
        let shown = move || {
            let speed = chip.with(|chip| chip.0.trim().to_owned());
            if speed.is_empty() {
                "–".to_owned()
            } else {
                speed
            }
        };
        let named = move || {
            let speed = chip.with(|chip| chip.0.clone());
            let speed = if speed.trim().is_empty() {
                words::CHIP_NO_SPEED.said()
            } else {
                &speed
            };
            words::chip(row, speed, word())
        };
        let current = move || (cursor.row.get() == row).then_some("step");
        let go = move |_| {
            bench.seal();
            show(cursor, row);
        };
        view! {
            <li>
                <button
                    type="button" aria-current=current data-standing=key aria-label=named on:click=go
                >{shown}<span class="mark" aria-hidden="true">{mark}</span></button>
            </li>
        }
    };
    // The chip of the step that is shown is brought into view.
    let count = Memo::new(move |_| chips.with(Vec::len));
    Effect::new(move |_| {
        let (row, _) = (cursor.row.get(), count.get());
        request_animation_frame(move || super::super::browser::bring_into_strip(row));
    });
    view! { <ol class="strip" id="strip">{move || (0..count.get()).map(chip).collect_view()}</ol> }
}

/// The mark of a step, the word for the style sheet, and the one for the person.
fn marked(standing: Standing) -> (&'static str, &'static str, Phrase) {
    match standing {
        Standing::Empty => ("·", "empty", words::CHIP_EMPTY),
        Standing::Fine => ("✓", "fits", words::CHIP_FINE),
        Standing::Doubted => ("?", "doubted", words::CHIP_DOUBTED),
    }
}
