//! The figures of an answer, drawn into the page and coloured by its style sheets.

use app::answer::Answered;
use charts::Size;
use leptos::prelude::*;
use std::sync::Arc;

/// The figures, whenever the answer changes; narrow ones, which a phone shows as large as they are.
#[component]
pub(super) fn Figures(
    #[prop(into)] answered: Signal<Option<Arc<Answered>>>,
    size: Size,
    /// The quantities to draw; the others are left out.
    only: &'static [&'static str],
) -> impl IntoView {
    // All of them at once: composing them is most of the work.
    let drawn = Memo::new(move |_| answered.with(|answered| draw(answered.as_deref(), size, only)));
    let slots = only.iter().enumerate().map(|(index, quantity)| {
        let svg = move || drawn.with(|drawn| drawn.get(index).cloned().unwrap_or_default());
        let svg = Memo::new(move |_| svg());
        view! { <figure class="figure" data-quantity=*quantity hidden=move || svg.with(String::is_empty) inner_html=svg></figure> }
    });
    view! { <div class="figures">{slots.collect_view()}</div> }
}

/// Draws the figure of each quantity; an empty text where it has none.
fn draw(answered: Option<&Answered>, size: Size, only: &[&str]) -> Vec<String> {
    let figures = answered.map(Answered::figures).unwrap_or_default();
    let of = |quantity: &&str| {
        figures
            .iter()
            .find(|figure| figure.name.ends_with(quantity))
    };
    let svg = |quantity| of(quantity).and_then(|figure| figure.svg(size));
    only.iter()
        .map(|quantity| svg(quantity).unwrap_or_default())
        .collect()
}

/// Every quantity that has a figure.
pub(super) const ALL: &[&str] = &["flow", "power", "energy", "head"];
