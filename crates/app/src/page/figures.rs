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
    let slots = only.iter().map(|quantity| {
        let svg = move || answered.with(|answered| {
            let figures = answered.as_ref()?.figures();
            let figure = figures.iter().find(|figure| figure.name.ends_with(quantity))?;
            figure.svg(size)
        });
        let svg = Memo::new(move |_| svg().unwrap_or_default());
        view! { <figure class="figure" data-quantity=*quantity hidden=move || svg.with(String::is_empty) inner_html=svg></figure> }
    });
    view! { <div class="figures">{slots.collect_view()}</div> }
}

/// Every quantity that has a figure.
pub(super) const ALL: &[&str] = &["flow", "power", "energy", "head"];
