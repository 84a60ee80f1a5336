//! The figures of an answer, drawn into the page and coloured by its style sheets.

use app::answer::Answered;
use charts::Size;
use leptos::prelude::*;
use std::sync::Arc;

/// The figures, whenever the answer changes; narrow ones, which a phone shows as large as they are. The last test's come
/// first.
#[component]
pub(super) fn Figures(
    #[prop(into)] answered: Signal<Option<Arc<Answered>>>,
    size: Size,
    /// The quantities to draw; the others are left out.
    only: &'static [&'static str],
) -> impl IntoView {
    let figures = Memo::new(move |_| {
        answered.with(|answered| {
            let figures = answered.as_ref().map(|answered| answered.figures(only));
            figures.unwrap_or_default()
        })
    });
    let names = Memo::new(move |_| {
        figures.with(|figures| {
            let names = figures.iter().map(|figure| figure.name.clone());
            names.collect::<Vec<_>>()
        })
    });
    // A figure keeps its place in the document while what it shows changes.
    let slot = move |name: String| {
        let quantity = name.rsplit('-').next().unwrap_or_default().to_owned();
        // Most readings change some of the figures only: one that shows the same is not drawn again.
        let figure = Memo::new(move |_| {
            figures.with(|figures| figures.iter().find(|figure| figure.name == name).cloned())
        });
        let svg = move || {
            figure
                .with(|figure| figure.as_ref()?.svg(size))
                .unwrap_or_default()
        };
        view! { <figure class="figure" data-quantity=quantity inner_html=svg></figure> }
    };
    view! { <div class="figures"><For each=move || names.get() key=Clone::clone children=slot/></div> }
}

/// Every quantity that has a figure.
pub(super) const ALL: &[&str] = &["flow", "power", "energy", "head"];
