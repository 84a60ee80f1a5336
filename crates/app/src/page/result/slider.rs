//! A slider with a button on either side: what is moved by a thumb, a key or a press.

use super::super::ui::Held;
use super::super::words::{Phrase, result as words};
use leptos::ev;
use leptos::prelude::*;

/// Between which places a slider moves, and by how much.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Way {
    pub(super) min: f64,
    pub(super) max: f64,
    /// What a key changes it by.
    pub(super) step: f64,
    /// What a press of a button changes it by.
    pub(super) press: f64,
}

/// The slider.
#[component]
pub(super) fn Slider(
    /// The id of the field.
    id: &'static str,
    /// What is moved.
    label: Phrase,
    /// Between which places.
    #[prop(into)]
    way: Signal<Way>,
    /// Where it stands.
    #[prop(into)]
    at: Signal<f64>,
    /// What is said of a place.
    #[prop(into)]
    says: Signal<String>,
    /// Takes another place.
    set: Callback<f64>,
) -> impl IntoView {
    let put = move |place: f64| {
        let Way { min, max, .. } = way.get_untracked();
        set.run(place.clamp(min, max.max(min)));
    };
    let moved = move |event: ev::Event| {
        if let Ok(place) = event_target_value(&event).parse() {
            put(place);
        }
    };
    let by = move |sign: f64| {
        Callback::new(move |()| put(at.get_untracked() + sign * way.get_untracked().press))
    };
    view! {
        <div class="field">
            <label for=id>{label} ": " <output for=id class="of-range">{says}</output></label>
            <div class="slider">
                <Held label=Signal::derive(move || words::less(label)) sign="−" act=by(-1.0)/>
                <input
                    id=id type="range" min=move || way.get().min max=move || way.get().max step=move || way.get().step
                    prop:value=move || at.get().to_string() aria-valuetext=says on:input=moved
                />
                <Held label=Signal::derive(move || words::more(label)) sign="+" act=by(1.0)/>
            </div>
        </div>
    }
}
